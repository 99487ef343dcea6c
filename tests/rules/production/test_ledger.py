"""Where each piece of a batch is by the books, in a few small histories worked out by hand; random ones stand in test_balances.py and test_lying.py."""

from datetime import date, timedelta

import pytest

from generator.rules.production.ledger import (
    Moved,
    balance_of,
    balances_on,
    fitted_by_day,
    issued,
    ledger,
    moved_by_day,
    moved_days,
    sitting_on,
)
from tests.fixtures.production import RELEASED, batch, depot, recall, row


def on(day):
    return date(2026, 2, day)


def event(what, count, day, **more):
    said = {"on_shelf": count} if what == "counted" else {"count": count}
    return {"what": what, "on": on(day).isoformat(), "by": "keeper", **said, **({"why": "bent"} if what == "scrapped" else {}), **more}


def balance(*events, rows=(), count=10, day=None):
    return ledger(depot(*rows, batches={"B-1": batch(count, events=[*RELEASED, *events])}).production, day).balances["B-1"]


def places(found):
    return {name: getattr(found, name) for name in ("scrapped", "on_vehicles", "removed", "out", "shelf")}


MOVED = Moved({on(1): 3, on(3): 2}, {on(2): 2}, {on(3): 1})


def test_what_went_and_came_is_counted_up_to_the_end_of_a_day():
    days = (None, on(1), on(2), on(3))
    assert [MOVED.went(day) for day in days] == [5, 3, 3, 5]
    assert [MOVED.drawn(day) for day in days] == [4, 3, 3, 4]  # one of those of the third day had come off before
    assert [MOVED.came(day) for day in days] == [2, 0, 2, 2]
    assert MOVED.loose == {on(2): 2, on(3): -1}
    assert Moved({on(1): 3}, {on(1): 2}).loose == {on(1): 2}
    assert Moved({}, {on(1): 2}, {on(1): 1}).loose == {on(1): 1}


def test_a_day_knows_nothing_of_what_moved_later():
    assert MOVED.until(on(2)) == Moved({on(1): 3}, {on(2): 2}, {})
    assert MOVED.until(on(3)) == MOVED
    assert MOVED.until(None) is MOVED


def test_each_piece_is_in_one_place():
    moved = [row("2026-02-03", "B-1", 4), row("2026-02-05", off="B-1", removed=2)]
    assert places(balance(rows=moved)) == {"scrapped": 0, "on_vehicles": 2, "removed": 2, "out": 0, "shelf": 6}
    given = [event("issued", 5, 2), event("returned", 1, 4), event("scrapped", 1, 6)]
    assert places(balance(*given)) == {"scrapped": 1, "on_vehicles": 0, "removed": 0, "out": 4, "shelf": 5}
    assert places(balance(*given, rows=moved)) == {"scrapped": 1, "on_vehicles": 2, "removed": 1, "out": 0, "shelf": 6}
    assert places(balance(*given, rows=moved, day=on(2))) == {"scrapped": 0, "on_vehicles": 0, "removed": 0, "out": 5, "shelf": 5}
    assert places(balance(*given, rows=moved, day=on(6))) == places(balance(*given, rows=moved))
    assert places(balance(*given, rows=moved, day=on(5)))["scrapped"] == 0
    assert places(balance(*given, rows=moved, day=on(3))) == {"scrapped": 0, "on_vehicles": 4, "removed": 0, "out": 1, "shelf": 5}


def test_what_was_fitted_came_out_of_hands_and_what_comes_back_leaves_them():
    fitted = row("2026-02-03", "B-1", 2)
    found = balance(event("issued", 5, 2), event("returned", 1, 4), rows=[fitted])
    assert (places(found)["out"], places(found)["shelf"], found.least, found.most) == (2, 6, 4, 6)  # or both off the shelf
    found = balance(event("issued", 1, 2), event("issued", 1, 4), rows=[fitted])
    assert (places(found)["out"], places(found)["shelf"]) == (1, 7)  # one of the two came off the shelf


@pytest.mark.parametrize(
    ("events", "rows", "is_overdrawn"),
    [
        ([event("counted", 5, 2), event("scrapped", 5, 3)], [], False),
        ([event("counted", 5, 2), event("scrapped", 6, 3)], [], True),
        ([event("counted", 5, 2), event("issued", 5, 3)], [], False),
        ([event("counted", 5, 2), event("issued", 6, 3)], [], True),
        ([event("counted", 5, 2)], [row("2026-02-03", "B-1", 5)], False),
        ([event("counted", 5, 2)], [row("2026-02-03", "B-1", 6)], True),
        ([event("counted", 5, 2), event("issued", 6, 3), event("counted", 3, 4)], [], False),  # counted again
        ([event("scrapped", 4, 3)], [row("2026-02-03", "B-1", 6)], False),
        ([event("scrapped", 5, 3)], [row("2026-02-03", "B-1", 6)], True),
    ],
)
def test_more_went_than_there_can_have_been_since_the_newest_count(events, rows, is_overdrawn):
    assert balance(*events, rows=rows).is_overdrawn is is_overdrawn


def test_the_newest_count_is_that_of_the_last_day_and_of_one_day_the_last_written():
    found = balance(event("counted", 9, 8), event("counted", 7, 5), event("counted", 8, 8))
    assert [(each.on, each.found, each.event) for each in found.counts] == [(on(5), 7, 2), (on(8), 9, 1), (on(8), 8, 3)]
    assert (found.newest.on, found.newest.found, found.newest.event) == (on(8), 8, 3)
    assert balance().newest is None
    first_right = balance(event("counted", 10, 2), event("counted", 7, 5))
    assert (first_right.least, first_right.most) == (7, 7)
    assert balance(event("counted", 9, 8), event("counted", 7, 5)).newest.on == on(8)


@pytest.mark.parametrize(
    ("events", "rows", "more", "lies", "at_hand", "left"),
    [
        ([], [], 0, 10, 10, 10),
        ([event("issued", 3, 2)], [], 0, 7, 10, 10),
        ([event("counted", 12, 2)], [], 2, 12, 12, 10),
        ([event("counted", 7, 2)], [], -3, 10, 10, 10),  # the others lie somewhere
        ([event("counted", 7, 2), event("scrapped", 7, 3)], [], -3, 3, 3, 3),
        ([event("counted", 0, 2), event("issued", 4, 3)], [], -6, 6, 10, 10),
        ([event("counted", 10, 2), event("issued", 3, 3)], [row("2026-02-05", "B-1", 2)], 0, 7, 8, 8),
        ([event("scrapped", 9, 2)], [row("2026-02-01", "B-1", 2)], 0, 0, 0, -1),  # more is told of than was printed
        ([event("scrapped", 9, 2), event("counted", 1, 3)], [row("2026-02-01", "B-1", 2)], 1, 1, 1, -1),
    ],
)
def test_how_many_to_look_for_on_the_shelf_and_in_hands(events, rows, more, lies, at_hand, left):
    found = balance(*events, rows=rows)
    assert (found.more, found.lies, found.at_hand, found.left) == (more, lies, at_hand, left)


def test_a_count_that_differs_tells_the_nearest_that_can_have_lain_there():
    for counted, expected in ((5, 7), (7, 7), (8, 8), (9, 9), (10, 9)):  # three issued and two fitted that day: of these, or off the shelf
        rows = [row("2026-02-05", "B-1", 2)]
        (count,) = balance(event("issued", 1, 3), event("counted", counted, 5), rows=rows).counts
        assert (count.least, count.most) == (8 - 1, 9)
        assert count.expected == expected


@pytest.mark.parametrize(
    ("events", "rows", "is_about"),
    [
        ([], [], True),
        ([event("scrapped", 2, 2)], [], False),
        ([event("issued", 2, 2)], [], True),
        ([], [row("2026-02-01", "B-1", 2)], True),
        ([], [row("2026-02-01", "B-1", 2), row("2026-02-02", off="B-1", removed=2)], True),
        ([event("scrapped", 2, 3)], [row("2026-02-01", "B-1", 2), row("2026-02-02", off="B-1", removed=2)], False),
        ([event("scrapped", 2, 2), event("counted", 1, 3)], [], True),
        ([event("scrapped", 3, 2)], [], True),  # more than can be
    ],
)
def test_a_piece_is_about_as_long_as_any_place_has_one(events, rows, is_about):
    assert balance(*events, rows=rows, count=2).is_about is is_about


ROWS = (
    row("2026-02-03", "B-1", 2, position="left"), row("2026-02-05", "B-2", vehicle="12"), row("2026-02-05", off="B-1", position="left"),
    row("2026-02-08", off="B-1", position="left"), row("2026-02-09", "B-1", vehicle="12"),
)  # fmt: skip


@pytest.mark.parametrize("call", [1, 3, 4, 6, 9, 20])
def test_what_sat_where_on_a_day_is_what_the_lines_up_to_it_say_whenever_something_was_called_back(call):
    batches = {"B-1": batch(), "B-2": batch()}
    production = depot(*ROWS, batches=batches, recalls={"RC-1": recall(on(call).isoformat(), "2026-02-21", lot="L-1")}).production
    for day in (on(1) + timedelta(days=after) for after in range(-1, 22)):
        alone = depot(*(each for each in ROWS if each.day <= day), batches=batches).production
        assert sitting_on(production, day) == ledger(alone).sitting == ledger(production, day).sitting, day
    assert sitting_on(production) == ledger(production).sitting
    assert sitting_on(depot(recalls=production.recalls).production, on(call)) == {}


def test_one_batch_is_reckoned_as_all_are():
    production = depot(*ROWS, batches={"B-1": batch(events=[*RELEASED, event("scrapped", 1, 6)]), "B-2": batch(), "B-3": batch()}).production
    for day in (None, on(4), on(5), on(8)):
        assert {name: balance_of(name, production, day) for name in production.batches} == balances_on(production, day)
    assert [each.on for each in moved_days(production)] == [on(3), on(5), on(8), on(9)]
    assert fitted_by_day(production) == {"B-1": {on(3): 2, on(9): 1}, "B-2": {on(5): 1}}


def test_what_was_found_or_seen_to_come_off_is_counted_where_no_other_line_says_so():
    rows = row("2026-02-03", off="B-1", as_found=True), row("2026-02-04", off="B-77", as_found=True), row("2026-02-05", off="B-1")
    moved = moved_by_day(depot(*rows, batches={"B-1": batch(1)}).production)
    assert moved["B-1"] == Moved({on(3): 1}, {on(3): 1, on(5): 0}, {})  # nobody saw the second: it is told, and counts for nothing
    assert moved["B-77"] == Moved({on(4): 1}, {on(4): 1}, {})
    again = row("2026-02-02", "B-1"), row("2026-02-03", off="B-1"), row("2026-02-04", "B-1", vehicle="12", as_found=True)
    assert moved_by_day(depot(*again, batches={"B-1": batch(1)}).production)["B-1"].again == {on(4): 1}
    seen = (*again[:2], row("2026-02-04", off="B-1", vehicle="12", as_found=True))  # it had gone on there without a word
    assert moved_by_day(depot(*seen, batches={"B-1": batch(1)}).production)["B-1"].again == {on(4): 1}
    plain = (*again[:2], row("2026-02-04", "B-1", vehicle="12"))
    assert moved_by_day(depot(*plain, batches={"B-1": batch(1)}).production)["B-1"].again == {}


def test_what_was_issued_less_what_came_back():
    events = batch(events=[*RELEASED, event("issued", 5, 2), event("returned", 2, 3), event("scrapped", 1, 4), event("counted", 9, 5)]).events
    assert (issued(events), issued(events[:2]), issued(())) == (3, 5, 0)
