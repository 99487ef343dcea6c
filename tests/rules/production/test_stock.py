"""How many of a batch lie on the shelf for whoever plans: as counted, and what became of it since. Worked out by hand."""

from datetime import date

import pytest

from generator.records.lots import Blocked, Lot
from generator.rules.production.stock import BatchStock, stock_of
from tests.fixtures.prints import BATCH, printed_catalogue, with_production
from tests.fixtures.production import RELEASED, batch, depot, recall, row
from tests.fixtures.tiny import CLIP, KNOB

DAY = date(2026, 11, 28)


def event(what, count, on="2026-03-01", **more):
    return {"what": what, "on": on, "by": "keeper", **({"on_shelf": count} if what == "counted" else {"count": count}), **more}


def scrapped(count, on="2026-03-01"):
    return event("scrapped", count, on, why="bent")


def stock(*events, rows=(), count=10, day=DAY):
    (found,) = stock_of(KNOB, depot(*rows, batches={"B-1": batch(count, events=[*RELEASED, *events])}), day, ())
    return found


def moved(found):
    return found.counted, found.remains, found.issued, found.returned, found.scrapped


ON, OFF = row("2026-04-01", "B-1", 2), row("2026-04-02", off="B-1", removed=2)
CASES = {
    "nobody has counted": ([], [ON], (None, 8, 0, 0, 0)),
    "counted as it should": ([event("counted", 10)], [], (10, 10, 0, 0, 0)),
    "counted fewer": ([event("counted", 7)], [], (7, 7, 0, 0, 0)),
    "counted, then issued": ([event("counted", 10), event("issued", 3)], [], (10, 7, 3, 0, 0)),
    "counted fewer, then issued": ([event("counted", 7), event("issued", 3)], [], (7, 4, 3, 0, 0)),
    "issued, counted, some of it back": ([event("issued", 3), event("counted", 7), event("returned", 2)], [], (7, 9, 0, 2, 0)),
    "counted, then scrapped": ([event("counted", 10), scrapped(4)], [], (10, 6, 0, 0, 4)),
    "scrapped before the count is none since": ([scrapped(4), event("counted", 6)], [], (6, 6, 0, 0, 0)),
    "counted, then fitted": ([event("counted", 10)], [ON], (10, 8, 2, 0, 0)),
    "what came off and was scrapped left no shelf": ([event("counted", 10), scrapped(2, "2026-04-03")], [ON, OFF], (10, 8, 2, 0, 0)),
    "more was scrapped than came off": ([event("counted", 10), scrapped(3, "2026-04-03")], [ON, OFF], (10, 7, 2, 0, 1)),
    "the newest count tells": ([event("counted", 9), event("issued", 1), event("counted", 5, "2026-05-01"), event("issued", 2, "2026-05-02")], [], (5, 3, 2, 0, 0)),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_a_shelf_is_its_newest_count_and_what_went_since(case):
    events, rows, told = CASES[case]
    found = stock(*events, rows=rows)
    assert moved(found) == told
    assert not found.is_overdrawn


def test_who_counted_and_when_is_told_with_the_batch():
    """The batches of this file were released by a word that does not hold, those of the printed depot by one that does."""
    assert stock(event("counted", 10)) == BatchStock(
        batch="B-1", revision="A", counted=10, on=date(2026, 3, 1), by="keeper", remains=10, least=10, most=10, is_stopped=True,
    )  # fmt: skip
    assert stock() == BatchStock(batch="B-1", revision="A", counted=None, on=None, by=None, remains=10, least=10, most=10, is_stopped=True)
    assert stock_of(KNOB, printed_catalogue(), DAY, ()) == (
        BatchStock(batch=BATCH, revision="A", counted=4, on=date(2026, 2, 20), by="fitter", remains=4, least=4, most=4),
    )  # fmt: skip


def test_what_was_released_and_never_counted_is_stock_too():
    good = printed_catalogue()
    told = good.production.batches[BATCH]
    uncounted = told.model_copy(update={"events": told.events[:2]})
    (found,) = stock_of(KNOB, with_production(good, batches={BATCH: uncounted}), DAY, ())
    assert (found.counted, found.remains, found.is_stopped) == (None, 4, False)
    waits = told.model_copy(update={"events": told.events[:1]})
    assert stock_of(KNOB, with_production(good, batches={BATCH: waits}), DAY, ()) == ()


def test_what_is_not_written_down_yet_by_the_day_does_not_count():
    events = event("counted", 10), event("issued", 3, "2026-05-01"), scrapped(2, "2026-06-01")
    assert moved(stock(*events, day=date(2026, 3, 1))) == (10, 10, 0, 0, 0)
    assert moved(stock(*events, day=date(2026, 5, 31))) == (10, 7, 3, 0, 0)
    assert moved(stock(*events, day=date(2026, 6, 1))) == (10, 5, 3, 0, 2)


def test_pieces_that_may_be_on_the_shelf_or_in_a_hand_leave_a_span_to_plan_with():
    """Three were issued and two fitted since: out of hands, or off the shelf without a word."""
    found = stock(event("counted", 10), event("issued", 3), rows=[row("2026-04-01", "B-1", 2)])
    assert (found.least, found.most, found.remains) == (5, 7, 7)


def test_where_more_went_than_was_counted_the_number_is_no_good():
    found = stock(event("counted", 2), event("issued", 5))
    assert (found.is_overdrawn, found.remains) == (True, 0)


def named(*, day=DAY, recalls=None, lots=None, **batches):
    return [(each.batch, each.is_stopped) for each in stock_of(KNOB, depot(batches={name.replace("_", "-"): each for name, each in batches.items()}, recalls=recalls, lots=lots), day, ())]


REJECTED = {"what": "rejected", "on": "2026-02-01", "by": "keeper", "why": "cracks"}


def test_what_must_not_be_taken_is_marked_and_what_waits_for_its_release_is_no_stock():
    assert named(B_1=batch(), B_2=batch(part=CLIP)) == [("B-1", named(B_1=batch())[0][1])]
    assert named(B_1=batch(events=[])) == []
    assert named(B_1=batch(events=[event("counted", 10)])) == [("B-1", False)]  # somebody counted it: it lies there
    assert named(B_1=batch(events=[*RELEASED, REJECTED])) == [("B-1", True)]
    assert named(B_1=batch(events=[]), recalls={"R-1": recall(lot="L-1")}) == [("B-1", True)]
    blocked = Lot(material="petg", supplier_lot="S", events=(Blocked(what="blocked", on=date(2026, 5, 1), by="keeper", why="wet"),))
    assert named(B_1=batch(), lots={"L-1": blocked}) == [("B-1", True)]


def test_of_what_is_gone_nothing_lies_there_unless_a_count_says_otherwise():
    assert named(B_1=batch(events=[*RELEASED, scrapped(10)])) == []
    assert [each for each, _ in named(B_1=batch(events=[*RELEASED, scrapped(10), event("counted", 0)]))] == ["B-1"]
    assert named(B_1=batch(1, events=[*RELEASED])) != []
