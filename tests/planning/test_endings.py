"""What is said of a place when a paper ends: the worst first, and what ends sooner."""

from dataclasses import replace
from datetime import date

import pytest

from generator.planning.endings import Then, ending, rows_of
from generator.planning.rests import Rest
from generator.rules.facts.fields import OPEN
from generator.rules.fire.rows import FireAnswer
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import KNOB, sheets
from tests.rules.cases import tiny

FIT, ASK, NO = Verdict.FIT_IT, Verdict.ASK_FIRST, Verdict.DO_NOT_FIT
(REPORT,), (CERTIFICATE,) = (tiny().materials["petg"].fire_tests, tiny().materials["petg"].certificates)
LAST, SOONER = date(2027, 9, 30), date(2027, 1, 1)


@pytest.fixture
def sheet(depot):
    return next(each for each in sheets(depot)[0] if each.number == KNOB)


def rest(sheet, *, now=FIT, then=NO, papers_then=NO, permit=None, answer=None):
    """The knob in the cab, to be fitted today; its report ends on the last of September 2027."""
    ground = sheet.grounds[0]
    facts = replace(ground.permits[0], permit_until=permit)
    rows = tuple(replace(row, answer=answer or row.answer) for row in ground.fire.rows)
    ground = replace(ground, permits=(facts,), fire=replace(ground.fire, rows=rows))
    return Rest(sheet, ground, names_it=True, papers_now=FIT, papers_then=papers_then, now=now, then=then)


def lasting(rest, fire_until):
    facts = replace(rest.ground.permits[0], fire_until=fire_until)
    return replace(rest, ground=replace(rest.ground, permits=(facts,)))


def test_the_report_names_the_tests_that_it_answers_there_and_a_certificate_none(sheet):
    assert "T01" in [row.wanted.method.test for row in rows_of(rest(sheet), REPORT)]
    assert rows_of(rest(sheet), CERTIFICATE) == ()
    assert rows_of(rest(sheet), REPORT.model_copy(update={"sha256": "9" * 64})) == ()


def test_when_it_ends_the_part_is_as_it_is_judged_then(sheet):
    assert ending(rest(sheet), REPORT) == (Then.UNFIT, LAST)
    assert ending(rest(sheet, then=ASK, papers_then=ASK), REPORT) == (Then.ASK, LAST)


def test_a_permit_that_ends_sooner_is_told_instead(sheet):
    assert ending(rest(sheet, permit=SOONER), REPORT) == (Then.BEFORE, SOONER)
    assert ending(rest(sheet, permit=LAST), REPORT) == (Then.UNFIT, LAST)


def test_where_another_paper_answers_nothing_is_lost(sheet):
    spare = rest(sheet, then=FIT, papers_then=FIT)
    assert ending(lasting(spare, date(2027, 10, 1)), REPORT) == (Then.SPARE, None)
    assert ending(lasting(spare, OPEN), REPORT) == (Then.SPARE, None)


def test_another_paper_that_lasts_no_longer_is_told_with_its_day(sheet):
    spare = rest(sheet, then=FIT, papers_then=FIT)
    assert ending(lasting(spare, LAST), REPORT) == (Then.TOGETHER, LAST)
    assert ending(lasting(spare, SOONER), REPORT) == (Then.TOGETHER, SOONER)


def test_a_paper_without_end_never_ends(sheet):
    open_ended = REPORT.model_copy(update={"valid_until": None, "open_ended": True})
    assert ending(rest(sheet), open_ended) == (Then.NEVER, None)


def test_what_is_not_to_be_fitted_anyway_loses_nothing_by_it(sheet):
    assert ending(rest(sheet, now=NO), REPORT) == (Then.ALREADY, None)


def test_a_report_that_fails_there_is_said_to_whatever_else_is(sheet):
    assert ending(rest(sheet, now=NO, answer=FireAnswer.FAILS), REPORT) == (Then.AGAINST, None)
