"""The label names a batch of which, by the records, no piece can be in a hand: is the label wrong, or the records?"""

from dataclasses import replace
from datetime import date

import pytest

from generator.pages.wording import wording
from generator.rules.facts.case import Copy
from generator.rules.production.piece import of_any, of_batches
from generator.rules.sheet import sheet
from generator.rules.verdicts import Verdict
from tests.fixtures.production import RELEASED, batch, depot, row
from tests.fixtures.tiny import KNOB

DAY = date(2026, 11, 28)
ON = row("2026-02-01", "B-1", 2)
OFF = row("2026-03-01", off="B-1", removed=2)


def happened(what, count, on="2026-03-02", **more):
    return {"what": what, "on": on, "by": "fitter", "count": count, **more}


def scrapped(count, on="2026-03-02"):
    return happened("scrapped", count, on, why="tried")


def counted(on_shelf):
    return {"what": "counted", "on": "2026-03-05", "by": "fitter", "on_shelf": on_shelf}


def told(rows=(), *events, count=2):
    return depot(*rows, batches={"B-1": batch(count, events=[*RELEASED, *events])})


def piece_of(catalogue):
    return of_batches(KNOB, "A", None, catalogue, DAY)["B-1"]


@pytest.mark.parametrize(
    ("rows", "events", "says"),
    [
        ([ON], [], "Printed: 2. Of these on vehicles: 2."),
        ([ON, OFF], [], "Printed: 2. Of these taken off and not scrapped: 2."),
        ([ON, replace(OFF, removed=1)], [], "Printed: 2. Of these on vehicles: 1. Of these taken off and not scrapped: 1."),
        ([ON, OFF], [scrapped(2)], "Printed: 2. Of these scrapped: 2."),
        ([], [scrapped(2)], "Printed: 2. Of these scrapped: 2."),
        ([replace(ON, count=1)], [scrapped(1)], "Printed: 2. Of these on vehicles: 1. Of these scrapped: 1."),
        ([replace(ON, count=3)], [], "Printed: 2. Of these on vehicles: 3."),
        ([], [happened("issued", 2), scrapped(2, "2026-03-03")], "Printed: 2. Of these scrapped: 2."),
    ],
)
def test_a_piece_of_a_batch_of_which_none_is_left_asks_and_says_where_they_are(rows, events, says):
    catalogue = told(rows, *events)
    found = piece_of(catalogue)
    assert found.piece == "none left"
    facts = replace(sheet(catalogue.parts[0], None, catalogue, Copy(DAY, 30)).grounds[0].permits[0], **vars(found))
    assert wording("en")("steps.piece.failed", **facts.text).endswith(says)


@pytest.mark.parametrize(
    ("rows", "events"),
    [
        ([], []),
        ([replace(ON, count=1)], []),
        ([], [happened("issued", 2)]),
        ([ON], [counted(1)]),  # one more than the books say
        ([ON, OFF], [scrapped(2), counted(1)]),
        ([], [happened("issued", 2, "2026-03-01"), happened("returned", 1), scrapped(1, "2026-03-03")]),
        ([replace(ON, count=1)], [happened("issued", 1, "2026-02-02"), scrapped(1)][:1]),
    ],
)
def test_as_long_as_one_may_lie_there_it_is_known(rows, events):
    assert piece_of(told(rows, *events)).piece == "known"


def test_it_asks_and_says_what_the_piece_may_be():
    catalogue = told([ON])
    ground = sheet(catalogue.parts[0], None, catalogue, Copy(DAY, 30)).grounds[0]
    steps = {each.step.id: each.outcome for each in ground.of_piece("B-1", DAY).steps}
    assert steps["piece"] == "failed"
    assert ground.of_piece("B-1", DAY).verdict >= Verdict.ASK_FIRST
    for language, words in (("en", ("label", "written down")), ("de", ("Etikett", "aufgeschrieben")), ("da", ("etiketten", "skrevet ned"))):
        text = wording(language).term("piece", "none left")
        assert all(each in text for each in words), text


def test_it_is_no_batch_that_is_stopped():
    """Who has not said the batch is asked for none that is all on the vehicles."""
    catalogue = told([ON])
    sound = replace(piece_of(catalogue), piece_released="released", piece_revision="own", piece_same="yes", piece_asked=())
    assert sound.piece == "none left"
    assert of_any(KNOB, "A", catalogue, DAY, {"B-1": sound}).piece == "any"
