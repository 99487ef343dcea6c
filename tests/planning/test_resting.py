"""What rests on each paper of a material, and what happens there when the paper ends."""

from dataclasses import replace
from datetime import date

import pytest

from generator.planning.resting import Then, resting
from generator.rules.facts.fields import OPEN
from generator.rules.fire.rows import Answer
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import KNOB, sheets
from tests.rules.cases import tiny

REPORT, CERTIFICATE = "documents/petg-fire.txt", "documents/petg-certificate.txt"
MATERIALS = tiny().materials
LAST = date(2027, 9, 30)


@pytest.fixture
def knob(depot):
    """One place, to be fitted; the approval, the certificate and every row end on days that a test sets."""
    sheet = next(each for each in sheets(depot)[0] if each.number == KNOB)
    return replace(sheet, grounds=sheet.grounds[:1], judgements=(_judged(sheet.judgements[0], Verdict.FIT_IT),))


def _judged(judgement, verdict):
    return replace(judgement, verdict=verdict)


def with_ends(sheet, *, permit=OPEN, certificate=OPEN, fire=LAST, answer=Answer.PASSES):
    ground = sheet.grounds[0]
    facts = replace(ground.permits[0], permit_until=permit, certificate_until=certificate, fire_until=fire)
    last = date.max if fire is OPEN else fire
    rows = tuple(replace(row, until=last, answer=answer) for row in ground.fire.rows)
    return replace(sheet, grounds=(replace(ground, permits=(facts,), fire=replace(ground.fire, rows=rows)),))


def then(sheet, file=REPORT):
    (rests,) = resting([sheet], MATERIALS)[file]
    return rests.then, rests.on


def test_each_paper_knows_the_places_and_tests_that_rest_on_it(knob):
    found = resting([knob], MATERIALS)
    assert set(found) == {REPORT, CERTIFICATE}
    (rests,) = found[REPORT]
    assert (rests.sheet.number, rests.ground.fleet, rests.ground.place) == (KNOB, "A1", "cab")
    assert [row.wanted.method.test for row in rests.rows] == ["T01", "T10.03", "T12"]
    assert found[CERTIFICATE][0].rows == ()


def test_when_it_ends_the_part_is_not_to_be_fitted(knob):
    assert then(with_ends(knob)) == (Then.ENDS, LAST)


def test_what_ends_sooner_is_told_instead(knob):
    assert then(with_ends(knob, permit=date(2027, 1, 1))) == (Then.BEFORE, date(2027, 1, 1))
    assert then(with_ends(knob, certificate=date(2027, 2, 2))) == (Then.BEFORE, date(2027, 2, 2))
    assert then(with_ends(knob), CERTIFICATE) == (Then.BEFORE, LAST)


def test_a_paper_without_end_ends_nothing(knob):
    assert then(with_ends(knob, fire=OPEN)) == (Then.NEVER, None)


def test_where_it_is_not_to_be_fitted_anyway_nothing_lapses(knob):
    sheet = with_ends(knob)
    unfit = replace(sheet, judgements=(_judged(sheet.judgements[0], Verdict.DO_NOT_FIT),))
    assert then(unfit) == (Then.UNFIT, None)


def test_a_paper_that_fails_speaks_against_the_part(knob):
    assert then(with_ends(knob, answer=Answer.FAILS)) == (Then.AGAINST, None)


def test_what_it_answers_only_by_asking_is_known(knob):
    (rests,) = resting([with_ends(knob, answer=Answer.ASKS)], MATERIALS)[REPORT]
    assert rests.asks
    (rests,) = resting([with_ends(knob)], MATERIALS)[REPORT]
    assert not rests.asks


def test_of_two_documents_the_one_that_lasts_longer_ends_nothing_by_itself(knob):
    """The certificate ends on the last day of 2027; what it answers together with ends sooner."""
    sheet = with_ends(knob, certificate=date(2027, 3, 3), fire=OPEN)
    assert then(sheet, CERTIFICATE) == (Then.BEFORE, date(2027, 3, 3))
    assert then(with_ends(knob, certificate=date(2027, 12, 31), fire=OPEN), CERTIFICATE) == (Then.ENDS, date(2027, 12, 31))
