"""What can lie on the shelf is what some history of the pieces, one by one, leaves there; held against all of them.

Each piece walks shelf, hand, vehicle, drawer, bin; the records are what an observer writes down of that. A second judge tries, piece by
piece and in any order within a day, every history that leaves the same records.
"""

from collections import Counter
from datetime import date, timedelta
from functools import cache

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from generator.rules.production.ledger import ledger
from tests.fixtures.production import RELEASED, adds_up, batch, depot, row

FIRST = date(2026, 2, 1)
MOVES = {
    "issued": [("shelf", "hand")],
    "returned": [("hand", "shelf")],
    "fitted": [("shelf", "vehicle"), ("hand", "vehicle")],
    "removed": [("vehicle", "drawer")],
    "scrapped": [("shelf", "bin"), ("hand", "bin"), ("drawer", "bin")],
}
WRITTEN = ("issued", "returned", "scrapped")
"""Events of the batch's record, which stand in their order; the others are lines, of which only the day is known."""


@st.composite
def lives(draw):
    """Of a few pieces: what was written down of their days, and how many really lay there in the end."""
    pieces = ["shelf"] * draw(st.integers(1, 5))
    told, day = [], 0
    for _ in range(draw(st.integers(0, 8))):
        day += draw(st.integers(0, 1))
        what = draw(st.sampled_from([*MOVES, "counted"]))
        if what == "counted":
            told.append((day, what, pieces.count("shelf")))
            continue
        moved = 0
        for _ in range(draw(st.integers(1, 3))):
            ways = [(origin, to) for origin, to in MOVES[what] if origin in pieces]
            if ways:
                origin, to = draw(st.sampled_from(ways))
                pieces[pieces.index(origin)] = to
                moved += 1
        if moved:
            told.append((day, what, moved))
    return len(pieces), tuple(told), pieces.count("shelf")


def moved(pieces, what):
    """Every way in which one piece can make that move."""
    for origin, to in MOVES[what]:
        if origin in pieces:
            rest = list(pieces)
            rest.remove(origin)
            yield tuple(sorted([*rest, to]))


def every_way(count, told):
    """How many can lie there in the end: all histories of single pieces that leave these records."""
    states = {("shelf",) * count}
    for day in sorted({day for day, _, _ in told}):
        written = tuple((what, n) for on, what, n in told if on == day and what in (*WRITTEN, "counted"))
        lines = Counter({what: sum(n for on, of, n in told if on == day and of == what) for what in ("fitted", "removed")})
        states = {after for each in states for after in _day(each, written, lines["fitted"], lines["removed"])}
    return {each.count("shelf") for each in states}


@cache
def _day(pieces, written, fitted, removed):
    if not written and not fitted and not removed:
        return frozenset({pieces})
    found = set()
    for what, left in (("fitted", (written, fitted - 1, removed)), ("removed", (written, fitted, removed - 1))):
        if min(left[1:]) >= 0:
            found |= {after for each in moved(pieces, what) for after in _day(each, *left)}
    if written:
        what, n = written[0]
        if what == "counted":
            found |= _day(pieces, written[1:], fitted, removed) if pieces.count("shelf") == n else frozenset()
        else:
            states = {pieces}
            for _ in range(n):
                states = {after for each in states for after in moved(each, what)}
            found |= {after for each in states for after in _day(each, written[1:], fitted, removed)}
    return frozenset(found)


def balance_of(count, told):
    """What the program makes of the same records."""
    events, rows = [], []
    for day, what, n in told:
        on = (FIRST + timedelta(days=day)).isoformat()
        if what == "counted":
            events.append({"what": what, "on": on, "by": "keeper", "on_shelf": n})
        elif what in WRITTEN:
            events.append({"what": what, "on": on, "by": "keeper", "count": n, **({"why": "bent"} if what == "scrapped" else {})})
        else:
            rows.append(row(on, "B-1", n) if what == "fitted" else row(on, off="B-1", removed=n))
    return ledger(depot(*rows, batches={"B-1": batch(count, events=[*RELEASED, *events])}).production).balances["B-1"]


def is_exact(told):
    """But for days on which a count stands amidst pieces fitted, scrapped or come off."""
    by_day = {day: {what for on, what, _ in told if on == day} for day, _, _ in told}
    return not any("scrapped" in each and ({"fitted"} & each) and ({"counted", "removed"} & each) for each in by_day.values())


@given(lives())
def test_the_least_and_the_most_are_those_of_every_history_of_the_pieces(life):
    count, told, lay = life
    can, balance = every_way(count, told), balance_of(count, told)
    assert lay in can
    assert balance.least <= min(can) <= max(can) <= balance.most
    if is_exact(told):
        assert (balance.least, balance.most) == (min(can), max(can))
    assert not balance.is_overdrawn
    assert balance.short == ()


@given(lives())
def test_no_true_count_is_doubted(life):
    """Whatever the pieces did, a count of what lay there agrees with records that miss nothing."""
    count, told, _ = life
    assert all(each.found == each.expected for each in balance_of(count, told).counts)


@given(lives())
def test_no_piece_is_lost_between_the_places_of_the_books(life):
    count, told, _ = life
    balance = balance_of(count, told)
    assert adds_up(balance)
    assert balance.out >= 0
    assert balance.shelf + balance.out + balance.removed + balance.on_vehicles == count - sum(n for _, what, n in told if what == "scrapped")


@given(lives())
def test_after_a_count_alone_it_is_what_was_counted(life):
    count, told, lay = life
    day = max((on for on, _, _ in told), default=0) + 1
    balance = balance_of(count, (*told, (day, "counted", lay)))
    assert (balance.least, balance.most) == (lay, lay)


@given(lives(), st.integers(1, 5))
def test_what_is_issued_after_a_count_leaves_the_shelf_whatever_was_fitted_before_it(life, n):
    count, told, lay = life
    assume(lay >= n)
    day = max((on for on, _, _ in told), default=0) + 1
    balance = balance_of(count, (*told, (day, "counted", lay), (day, "issued", n)))
    assert (balance.least, balance.most) == (lay - n, lay - n)


# By hand: printed 48, one scrapped, 9 fitted, counted 38, 4 fitted since; then what somebody does on day 30.
THEN = ((0, "scrapped", 1), (5, "fitted", 9), (10, "counted", 38), (20, "fitted", 4))
CASES = {
    "nothing": ((), (34, 34)),
    "all that lay there issued": (((30, "issued", 34),), (0, 0)),
    "one issued": (((30, "issued", 1),), (33, 33)),
    "one, then four": (((30, "issued", 1), (30, "issued", 4)), (29, 29)),
    "fifteen in all": (((30, "issued", 1), (30, "issued", 4), (30, "issued", 10)), (19, 19)),
    "counted and issued on one day": (((30, "counted", 34), (30, "issued", 3)), (31, 31)),
    "scrapped": (((30, "scrapped", 5),), (29, 29)),
    "issued, and fitted the day after": (((30, "issued", 4), (31, "fitted", 4)), (26, 30)),
    "issued, and fitted on that day": (((30, "issued", 4), (30, "fitted", 4)), (26, 30)),
    "issued, fitted, and counted as it was of these": (((30, "issued", 4), (31, "fitted", 4), (32, "counted", 30)), (30, 30)),
    "issued, fitted, and counted as it was of others": (((30, "issued", 4), (31, "fitted", 4), (32, "counted", 26)), (26, 26)),
    "issued and brought back": (((30, "issued", 9), (31, "returned", 2)), (27, 27)),
    "issued, scrapped": (((30, "issued", 9), (31, "scrapped", 5)), (20, 25)),
    "came off and scrapped": (((30, "removed", 2), (31, "scrapped", 2)), (32, 34)),
    "more fitted than were issued": (((30, "issued", 2), (31, "fitted", 5)), (27, 29)),
}


@pytest.mark.parametrize("case", CASES)
def test_what_is_left_since_a_count(case):
    then, expected = CASES[case]
    balance = balance_of(48, (*THEN, *then))
    assert (balance.least, balance.most) == expected
    assert balance.least <= balance.shelf <= balance.most
    assert all(each.found == each.expected for each in balance.counts)


WRONG = {
    "more issued than lay there": (((30, "issued", 35),), True, 0),
    "issued twice what lay there": (((30, "issued", 20), (31, "issued", 20)), True, 0),
    "more fitted than lay there": (((30, "issued", 10), (31, "fitted", 36)), True, 0),
    "and counted since": (((30, "issued", 35), (31, "counted", 6)), False, 6),
}


@pytest.mark.parametrize("case", WRONG)
def test_more_gone_than_was_counted_is_known_as_such_until_the_next_count(case):
    then, is_overdrawn, left = WRONG[case]
    balance = balance_of(48, (*THEN, *then))
    assert (balance.is_overdrawn, balance.least, balance.most) == (is_overdrawn, left, left)
    assert bool(balance.short) == ("fitted" not in case)


@pytest.mark.parametrize(("counted", "then", "left"), [(30, 0, 30), (30, 5, 25), (45, 0, 45), (45, 44, 1), (0, 0, 0)])
def test_a_count_that_contradicts_the_rest_is_right_from_then_on(counted, then, left):
    """Thirty-eight should lie there; whoever counts is believed, and the difference is told."""
    told = (*THEN[:2], (10, "counted", counted), *(((20, "issued", then),) if then else ()))
    balance = balance_of(48, told)
    assert (balance.least, balance.most, balance.counts[0].expected) == (left, left, 38)
