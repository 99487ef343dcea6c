"""A part's record and its batches tell of one shelf on one day: what both can mean is no problem, and all else is told."""

from dataclasses import replace
from datetime import date

import pytest

from generator.pages.problems.said import one_line
from generator.pages.problems.said import said as problem_said
from generator.pages.wording import wording
from generator.records.parts import Stock
from generator.rules.production.counted_twice import twice_counted
from tests.fixtures.production import RELEASED, batch, depot, row
from tests.fixtures.tiny import KNOB

DAY = "2026-11-03"


def counted(n, on=DAY):
    return {"what": "counted", "on": on, "by": "keeper", "on_shelf": n}


def told(on_shelf, batches, *rows, revision=None, on=DAY):
    catalogue = depot(*rows, batches=batches)
    stock = Stock(place="drawer", on_shelf=on_shelf, counted_on=date.fromisoformat(on), revision=revision)
    parts = tuple(replace(each, part=each.part.model_copy(update={"stock": stock})) if each.number == KNOB else each for each in catalogue.parts)
    return [dict(each.facts) | {"file": each.where.file} for each in twice_counted(replace(catalogue, parts=parts))]


REJECTED = {"what": "rejected", "on": "2026-02-01", "by": "keeper", "why": "cracks"}
FOUR = batch(events=[*RELEASED, counted(4)])
CASES = {
    "the same": (4, {"B-1": FOUR}, True),
    "more": (26, {"B-1": FOUR}, False),
    "fewer": (3, {"B-1": FOUR}, False),
    "the sum of two": (9, {"B-1": FOUR, "B-2": batch(events=[*RELEASED, counted(5)])}, True),
    "as many as another can hold": (14, {"B-1": FOUR, "B-2": batch()}, True),
    "more than another can hold": (15, {"B-1": FOUR, "B-2": batch()}, False),
    "as if the other held none": (4, {"B-1": FOUR, "B-2": batch()}, True),
    "without what is rejected": (4, {"B-1": FOUR, "B-2": batch(events=[*RELEASED, REJECTED, counted(5)])}, True),
    "with what is rejected": (9, {"B-1": FOUR, "B-2": batch(events=[*RELEASED, REJECTED, counted(5)])}, True),
    "a later day, more than can lie there": (26, {"B-1": batch(events=[*RELEASED, counted(4, "2026-11-02")])}, False),
    "a later day, fewer than should": (3, {"B-1": batch(events=[*RELEASED, counted(4, "2026-11-02")])}, False),
    "a later day, as many as should": (4, {"B-1": batch(events=[*RELEASED, counted(4, "2026-11-02")])}, True),
    "a day before, whatever it says": (26, {"B-1": batch(events=[*RELEASED, counted(4, "2026-11-20")])}, True),
    "counted twice on that day": (6, {"B-1": batch(events=[*RELEASED, counted(4), counted(6)])}, True),
    "counted again since": (4, {"B-1": batch(events=[*RELEASED, counted(4), counted(1, "2026-11-20")])}, True),
    "another label": (26, {"B-1": FOUR.model_copy(update={"revision": "B"})}, True),
    "no batch counted": (26, {"B-1": batch()}, True),
}


@pytest.mark.parametrize("case", CASES)
def test_two_counts_of_one_day_agree_or_are_told(case):
    on_shelf, batches, agree = CASES[case]
    found = told(on_shelf, batches)
    assert bool(found) != agree
    assert all(each["file"].endswith("/part.yml") and each["found"] == on_shelf for each in found)


def test_what_moved_since_makes_no_difference():
    assert told(4, {"B-1": FOUR}, row("2026-11-20", "B-1", 3)) == []
    assert told(4, {"B-1": batch(events=[*RELEASED, counted(4), {"what": "issued", "on": "2026-11-04", "by": "keeper", "count": 2}])}) == []


def test_what_is_told_says_by_which_count_the_stock_goes_and_one_number_is_no_span():
    catalogue = depot(batches={"B-1": batch(events=[*RELEASED, counted(3, "2026-11-02")])})

    def said(on_shelf, batches):
        stock = Stock(place="drawer", on_shelf=on_shelf, counted_on=date.fromisoformat(DAY))
        books = depot(batches=batches)
        parts = tuple(replace(each, part=each.part.model_copy(update={"stock": stock})) if each.number == KNOB else each for each in catalogue.parts)
        (found,) = twice_counted(replace(books, parts=parts))
        return f"{one_line(found, wording('en'))} {problem_said(found, wording('en'))}"

    three = batch(events=[*RELEASED, counted(3, "2026-11-02")])
    later = said(5, {"B-1": three})
    assert "it can be 3" in later
    assert "3 to 3" not in later
    assert "goes by part.yml, which was counted later" in later
    spread = said(2, {"B-1": three, "B-2": batch()})
    assert "it can be 3 to 13" in spread
    still_later = said(40, {"B-1": three, "B-2": batch(events=[*RELEASED, counted(4, "2026-11-20")])})
    assert "goes by the batches, and nothing is ordered until then" in still_later
    assert "goes by the batches, and nothing is ordered until then" in said(9, {"B-1": FOUR})
