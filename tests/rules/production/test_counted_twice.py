"""A part's record and its batches tell of one shelf on one day: what both can mean is no problem, and all else is told."""

from dataclasses import replace
from datetime import date, datetime

import pytest

from generator.pages.problems.said import one_line
from generator.pages.problems.said import said as problem_said
from generator.pages.wording import wording
from generator.records.parts import Stock
from generator.rules.production.counted_twice import twice_counted, whole_count
from tests.fixtures.production import RELEASED, batch, depot, recall, row
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


def whole(on_shelf, batches, *rows, on=DAY, day="2026-11-30", recalls=None, **stock):
    catalogue = depot(*rows, batches=batches, recalls=recalls)
    part = catalogue.folder(KNOB).part
    counted_on = date.fromisoformat(on) if on else None
    told_of = Stock(place="drawer", on_shelf=on_shelf, counted_on=counted_on, **stock) if on_shelf is not None else None
    return whole_count(part.model_copy(update={"stock": told_of}), catalogue, date.fromisoformat(day))


EARLIER, LATER = batch(events=[*RELEASED, counted(4, "2026-11-02")]), batch(events=[*RELEASED, counted(4, "2026-11-20")])


@pytest.mark.parametrize(
    ("found", "batches", "contradicts", "is_no_number"),
    [
        (4, {"B-1": EARLIER}, False, False),
        (3, {"B-1": EARLIER}, True, False),  # the later count stands, and may find fewer
        (5, {"B-1": EARLIER}, True, True),  # more than can be
        (14, {"B-1": EARLIER, "B-2": batch()}, False, False),
        (15, {"B-1": EARLIER, "B-2": batch()}, True, True),
        (3, {"B-1": FOUR}, True, True),  # of one day neither stands
        (5, {"B-1": FOUR}, True, True),
        (26, {"B-1": LATER}, False, False),  # all of it was counted since
        (26, {"B-1": LATER, "B-2": batch()}, True, True),  # not all of it
        (26, {"B-1": LATER, "B-2": batch(events=[*RELEASED, {"what": "scrapped", "on": "2026-02-01", "by": "keeper", "count": 10, "why": "bent"}])}, False, False),
        (9, {"B-1": EARLIER, "B-2": LATER}, False, False),
    ],
)
def test_a_count_of_the_whole_is_a_number_to_plan_with_unless_it_cannot_be(found, batches, contradicts, is_no_number):
    count = whole(found, batches)
    assert (count.contradicts, count.is_no_number) == (contradicts, is_no_number)


def test_what_the_counts_say_is_told_batch_by_batch():
    count = whole(9, {"B-3": EARLIER, "B-1": EARLIER, "B-2": FOUR, "B-4": LATER, "B-5": batch(3)})
    assert (count.earlier, count.same_day, count.batches) == (("B-1", "B-3"), {"B-2": 4}, frozenset({"B-1", "B-2", "B-3", "B-4", "B-5"}))
    assert (count.found, count.on, count.stands, count.is_settled) == (9, date(2026, 11, 3), False, False)
    assert (count.least, count.most) == (12, 4 + 4 + 4 + 10 + 3)  # B-4 and B-5 may have lain there with all of theirs
    assert whole(4, {"B-1": EARLIER}).stands
    again = batch(events=[*RELEASED, counted(4, "2026-11-02"), counted(3, "2026-11-20")])
    assert (whole(4, {"B-1": again, "B-2": EARLIER}).earlier, whole(4, {"B-1": again, "B-2": EARLIER}).least) == (("B-2",), 4)
    assert whole(5, {"B-1": batch(events=[*RELEASED, counted(0)])}).is_no_number


def test_batches_are_told_by_their_numbers_whichever_was_printed_first():
    late = {"started": datetime.fromisoformat("2026-01-06 08:00"), "ended": datetime.fromisoformat("2026-01-06 12:00")}
    assert whole(9, {"B-1": EARLIER.model_copy(update=late), "B-2": EARLIER}).earlier == ("B-1", "B-2")
    (found,) = told(9, {"B-1": FOUR.model_copy(update=late), "B-2": FOUR})
    assert (list(found["batches"]), found["counted"]) == (["B-1", "B-2"], 8)


def test_what_only_later_counts_contradict_is_told_of_no_batch():
    assert told(26, {"B-1": LATER, "B-2": batch()}) == []
    catalogue = depot(batches={"B-1": FOUR})
    parts = tuple(replace(each, part=None) for each in catalogue.parts)
    assert list(twice_counted(replace(catalogue, parts=parts))) == []


def test_what_went_after_a_count_of_that_day_lay_there_when_both_counted():
    issued = {"what": "issued", "on": DAY, "by": "keeper", "count": 2}
    count = whole(4, {"B-1": batch(events=[*RELEASED, counted(4), issued])})
    assert (count.least, count.most, count.contradicts) == (4, 4, False)


def test_what_is_stopped_may_have_been_left_out():
    assert whole(4, {"B-1": EARLIER, "B-2": EARLIER}).least == 8
    assert whole(4, {"B-1": EARLIER, "B-2": EARLIER}, recalls={"RC-1": recall(batch="B-2")}).least == 4
    rejected = batch(events=[*RELEASED, counted(4, "2026-11-02"), REJECTED | {"on": "2026-11-03"}])
    assert whole(4, {"B-1": EARLIER, "B-2": rejected}).least == 4


def test_a_count_speaks_of_its_label_and_of_what_was_printed_by_its_day():
    other = EARLIER.model_copy(update={"revision": "B"})
    assert whole(4, {"B-1": EARLIER, "B-2": other}).batches == {"B-1"}
    assert whole(4, {"B-1": EARLIER, "B-2": other}, revision="B").batches == {"B-2"}
    for ended, is_meant in (("2026-11-03 23:00", True), ("2026-11-04 01:00", False)):
        late = batch().model_copy(update={"ended": datetime.fromisoformat(ended)})
        assert ("B-2" in whole(4, {"B-1": EARLIER, "B-2": late}).batches) is is_meant


def test_of_a_count_to_come_of_none_and_of_batches_that_nobody_counted_there_is_nothing_to_say():
    assert whole(4, {"B-1": EARLIER}, day=DAY) is not None
    assert whole(4, {"B-1": EARLIER}, day="2026-11-02") is None
    assert whole(4, {"B-1": EARLIER}, on=None) is None
    assert whole(None, {"B-1": EARLIER}) is None
    assert whole(4, {"B-1": batch()}) is None
    assert whole(4, {"B-1": LATER}, day="2026-11-19") is None  # counted after that day
