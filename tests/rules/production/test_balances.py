"""Whatever is written down, every piece is somewhere, and only there; what cannot be is told. Over random histories."""

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.records.fitted import FileGap
from generator.records.problems import Severity
from generator.rules.production.balances import balance_problems, unread_since
from generator.rules.production.ledger import ledger
from generator.rules.production.on_vehicles import row_problems
from tests.fixtures.production import RELEASED, adds_up, batch, depot, row
from tests.fixtures.tiny import CLIP, KNOB

NAMES = ("B-1", "B-2", "B-3")
DAYS = st.integers(0, 6).map(lambda after: (date(2026, 2, 1) + timedelta(days=after)).isoformat())
POSITIONS = st.sampled_from(["", "left", "right"])


@st.composite
def lines(draw):
    """A line that anybody could have typed: right, wrong, or only in the wrong order."""
    on, off = draw(st.sampled_from([*NAMES, ""])), draw(st.sampled_from([*NAMES, "", ""]))
    return row(
        draw(DAYS),
        on,
        draw(st.integers(1, 3)),
        off=off,
        removed=draw(st.integers(1, 3)) if off else 0 if on else 1,
        vehicle=draw(st.sampled_from(["11", "12"])),
        place=draw(st.sampled_from(["cab", "door"])),
        position=draw(POSITIONS),
        as_found=draw(st.sampled_from([False, False, False, True])),
    )


@st.composite
def events(draw):
    found = [{"what": "released", "on": "2026-01-10", "by": "keeper"}]
    for what in draw(st.lists(st.sampled_from(["scrapped", "issued", "returned", "counted"]), max_size=4)):
        more = {"on_shelf": draw(st.integers(0, 6))} if what == "counted" else {"count": draw(st.integers(1, 3))}
        more |= {"why": "bent"} if what == "scrapped" else {}
        found.append({"what": what, "on": draw(DAYS), "by": "keeper", **more})
    return sorted(found, key=lambda each: each["on"])


@st.composite
def histories(draw):
    batches = {name: batch(draw(st.integers(1, 6)), events=draw(events())) for name in NAMES}
    return draw(st.lists(lines(), max_size=14)), batches


def is_possible(record):
    """Whether its own events tell of no more pieces than were printed; else that is told of the record."""
    scrap = out = 0
    for each in record.events:
        scrap += each.count if each.what == "scrapped" else 0
        out += each.count if each.what == "issued" else -each.count if each.what == "returned" else 0
        if out < 0 or scrap + out > record.count:
            return False
    return True


def of(history):
    rows, batches = history
    return depot(*rows, batches=batches)


@given(histories())
def test_every_piece_is_somewhere_and_only_there(history):
    catalogue = of(history)
    found = ledger(catalogue.production)
    sitting = Counter()
    for there in found.sitting.values():
        assert all(count > 0 for count in there.values())
        sitting.update(there)
    for name, balance in found.balances.items():
        assert adds_up(balance)
        assert balance.on_vehicles == sitting[name]
        assert balance.removed >= 0


@given(histories(), st.booleans())
def test_no_place_holds_less_than_nothing_or_more_than_there_are(history, is_found):
    rows, batches = history
    rows = [replace(each, as_found=each.as_found or is_found) for each in rows]
    for balance in ledger(depot(*rows, batches=batches).production).balances.values():
        found = sum(each.found for each in balance.counts)  # a count may find more than was printed
        assert 0 <= balance.least <= balance.most <= balance.printed + found + balance.moved.came(None)
        assert balance.out >= 0
        assert not balance.counts or balance.lies >= balance.least
        assert all(0 <= count <= balance.moved.on[day] for day, count in balance.moved.again.items())


@given(histories())
def test_what_somebody_found_so_keeps_no_build_from_its_pages(history):
    rows, batches = history
    problems = row_problems(depot(*(replace(each, as_found=True) for each in rows), batches=batches))
    assert [each for each in problems if each.severity is Severity.ERROR] == []


@given(histories())
def test_where_more_is_told_of_than_was_printed_somebody_is_told(history):
    catalogue = of(history)
    over = {name for name, balance in ledger(catalogue.production).balances.items() if balance.left < 0}
    over = {name for name in over if is_possible(catalogue.production.batches[name])}
    told = {dict(each.facts)["batch"] for each in row_problems(catalogue) if each.code == "FITTED07"}
    told |= {name for name, each in balance_problems(catalogue.production) if each.code == "BAL02"}
    assert over <= told


@given(histories())
def test_where_nothing_is_told_no_vehicle_carries_more_than_it_can(history):
    catalogue = of(history)
    if any(each.severity is Severity.ERROR for each in row_problems(catalogue)) or any(each.as_found for each in catalogue.production.fitted):
        return
    at = Counter()
    for spot, there in ledger(catalogue.production).sitting.items():
        at[spot[:3]] += sum(there.values())
    assert all(count <= 2 and place == "cab" for (_, _, place), count in at.items())


@given(histories(), st.randoms(use_true_random=False))
def test_the_order_of_lines_makes_no_difference_to_where_pieces_are(history, chance):
    catalogue = of(history)
    mixed = list(catalogue.production.fitted)
    chance.shuffle(mixed)
    other = depot(*mixed, batches=catalogue.production.batches)
    one, two = ledger(catalogue.production), ledger(other.production)
    assert one.balances == two.balances
    assert codes(catalogue) == codes(other)


@pytest.mark.parametrize(
    "moved",
    [
        [row("2026-02-01", NAMES[0], 2), row("2026-02-01", off=NAMES[0], removed=1, as_found=True), row("2026-02-01", off=NAMES[0], removed=2)],
        [
            row("2026-02-01", NAMES[0], 1, position="left"),
            row("2026-02-01", NAMES[0], 1, position="right"),
            row("2026-02-01", off=NAMES[0], removed=1),
            row("2026-02-02", off=NAMES[0], removed=1, position="right"),
        ],
    ],
    ids=["seen and unseen", "off two positions"],
)
def test_lines_of_one_day_tell_the_same_in_every_order(moved):
    batches = {NAMES[0]: batch(6, events=[{"what": "released", "on": "2026-01-10", "by": "keeper"}])}
    told = [(ledger(each.production), codes(each)) for each in (depot(*mixed, batches=batches) for mixed in permutations(moved))]
    assert all(each == told[0] for each in told)


def codes(catalogue):
    """What is told of removals and of what sits where; which of two lines took the last piece is by chance."""
    return Counter(each.code for each in row_problems(catalogue) if each.code in ("FITTED05", "FITTED06"))


@given(histories(), DAYS)
def test_a_day_knows_only_what_was_then(history, text):
    catalogue = of(history)
    day = date.fromisoformat(text)
    then = depot(*(each for each in catalogue.production.fitted if each.day <= day), batches=catalogue.production.batches)
    assert ledger(catalogue.production, day).sitting == ledger(then.production).sitting


COUNTED = {
    "as it should": ([("counted", 8)], [row("2026-02-01", "B-1", 2)], []),
    "one too few": ([("counted", 7)], [row("2026-02-01", "B-1", 2)], ["BAL01 counted other"]),
    "one too many": ([("counted", 9)], [row("2026-02-01", "B-1", 2)], ["BAL01 counted other"]),
    "fitted after the count": ([("counted", 10)], [row("2026-04-01", "B-1", 2)], []),
    "fitted on the day of the count": ([("counted", 8)], [row("2026-03-01", "B-1", 2)], []),
    "fitted on that day, after the count": ([("counted", 10)], [row("2026-03-01", "B-1", 2)], []),
    "fitted on that day, one before and one after": ([("counted", 9)], [row("2026-03-01", "B-1"), row("2026-03-01", "B-1")], []),
    "fitted on that day, and one too few": ([("counted", 7)], [row("2026-03-01", "B-1", 2)], ["BAL01 counted other"]),
    "counted, then issued": ([("counted", 10), ("issued", 2)], [], []),
    "counted, then issued, and one too few": ([("counted", 9), ("issued", 1)], [], ["BAL01 counted other"]),
    "counted, then scrapped": ([("counted", 10), ("scrapped", 2)], [], []),
    "counted, and what came back after": ([("issued", 3), ("counted", 7), ("returned", 3)], [], []),
    "counted twice on a day": ([("counted", 10), ("issued", 4), ("counted", 6)], [], []),
    "issued before the count, fitted on that day": ([("issued", 2), ("counted", 8)], [row("2026-03-01", "B-1", 2)], []),
    "issued before the count, and counted as if not": ([("issued", 2), ("counted", 10)], [row("2026-03-01", "B-1", 2)], ["BAL01 counted other"]),
    "scrapped what came off": ([("scrapped", 2), ("counted", 8)], [row("2026-02-01", "B-1", 2), row("2026-02-02", off="B-1", removed=2)], []),
    "scrapped of the shelf, since some came off": ([("scrapped", 2), ("counted", 6)], [row("2026-02-01", "B-1", 2), row("2026-02-02", off="B-1", removed=2)], []),
    "scrapped all, since all came off": ([("scrapped", 10)], [row("2026-02-01", "B-1", 10, vehicle="12"), row("2026-02-02", off="B-1", removed=10, vehicle="12")], []),
    "scrapped before it came off": ([("scrapped", 9)], [row("2026-02-01", "B-1", 2), row("2026-03-02", off="B-1", removed=2)], ["BAL02 more gone than printed"]),
    "more than there can be is an error of the record, and told there": ([("scrapped", 4), ("counted", 8)], [], []),
    "as many as there can be, and others were fitted": ([("scrapped", 4), ("counted", 6)], [row("2026-02-01", "B-1", 2)], ["BAL01 counted other"]),
    "issued and not fitted yet": ([("issued", 3), ("counted", 7)], [], []),
    "issued, two of them fitted": ([("issued", 3), ("counted", 7)], [row("2026-03-01", "B-1", 2)], []),
    "issued, two of them fitted the next day": ([("issued", 3), ("counted", 7)], [row("2026-03-02", "B-1", 2)], []),
    "two fitted before, and three issued": ([("issued", 3), ("counted", 5)], [row("2026-02-01", "B-1", 2)], []),
    "two fitted before, and counted as if they were of those issued later": ([("issued", 3), ("counted", 7)], [row("2026-02-01", "B-1", 2)], ["BAL01 counted other"]),
    "issued, and others fitted off the shelf": ([("issued", 3), ("counted", 5)], [row("2026-03-01", "B-1", 2)], []),
    "issued and back again": ([("issued", 3), ("returned", 1), ("counted", 8)], [], []),
    "lost and written off": ([("scrapped", 1), ("counted", 9)], [], []),
    "came off, and is not on the shelf again": (
        [("counted", 8)], [row("2026-02-01", "B-1", 2), row("2026-02-02", off="B-1", removed=2)], [],
    ),
    "scrapped what sits on a vehicle": ([("scrapped", 9)], [row("2026-02-01", "B-1", 2)], ["BAL02 more gone than printed"]),
}  # fmt: skip


@pytest.mark.parametrize("case", COUNTED)
def test_a_count_is_held_against_what_was_written_down(case):
    said, rows, expected = COUNTED[case]
    events_ = [{"what": "released", "on": "2026-01-10", "by": "keeper"}]
    for what, number in said:
        more = {"on_shelf": number} if what == "counted" else {"count": number}
        events_.append({"what": what, "on": "2026-03-01", "by": "keeper", **more, **({"why": "bent"} if what == "scrapped" else {})})
    catalogue = depot(*rows, batches={"B-1": batch(events=events_)})
    assert [f"{each.code} {each.key}" for _, each in balance_problems(catalogue.production)] == expected


def test_a_rejected_batch_that_sits_on_vehicles_is_told_until_it_is_off():
    rejected = {"B-1": batch(events=[
        {"what": "released", "on": "2026-01-10", "by": "keeper"}, {"what": "rejected", "on": "2026-03-01", "by": "keeper", "why": "tried"},
    ])}  # fmt: skip
    on, off = row("2026-02-01", "B-1"), row("2026-03-02", off="B-1")
    assert [each.code for _, each in balance_problems(depot(on, batches=rejected).production)] == ["BAL03"]
    assert list(balance_problems(depot(on, off, batches=rejected).production)) == []


def test_pieces_of_other_parts_do_not_count_for_a_place():
    catalogue = depot(row("2026-02-01", "B-1", 2), row("2026-02-01", "B-2"), batches={"B-1": batch(part=KNOB), "B-2": batch(part=CLIP)})
    assert all(each.code != "FITTED06" for each in row_problems(catalogue))


def test_from_the_first_year_that_nobody_can_read_nothing_is_said_of_counts():
    """A line that cannot be read may tell of the one that is missing."""
    counted = [{"what": "counted", "on": f"{year}-03-01", "by": "keeper", "on_shelf": count} for year, count in ((2026, 9), (2027, 8))]
    catalogue = depot(row("2026-02-01", "B-2"), batches={"B-1": batch(events=[*RELEASED, *counted])})

    def told(*gaps):
        production = replace(catalogue.production, gaps=tuple(gaps), fitted_years=frozenset({2026, 2027}))
        return unread_since(production), [int(str(dict(each.facts)["on"])[:4]) for name, each in balance_problems(production) if name == "B-1"]

    assert told() == (10_000, [2026, 2027])
    assert told(FileGap(file="fitted/2026.csv", why="less")) == (10_000, [2026, 2027])
    assert told(FileGap(file="fitted/2028.csv", why="unread")) == (2028, [2026, 2027])
    assert told(FileGap(file="fitted/2027.csv", why="unread")) == (2027, [2026])
    assert told(FileGap(file="fitted/2027.csv", why="unread"), FileGap(file="fitted/2026.csv", why="unread")) == (2026, [])
    assert told(FileGap(file="fitted/lines.csv", why="unread")) == (1, [])  # of what year, nobody knows


def test_pieces_that_went_are_told_at_the_event_that_took_too_many():
    def told(*events, rows=(), count=10):
        record = batch(count, events=[*RELEASED, *({"on": "2026-03-01", "by": "keeper", **each} for each in events)])
        return [(each.code, each.key, each.path, {key: value for key, value in each.facts if key != "on"}) for _, each in balance_problems(depot(*rows, batches={"B-1": record}).production)]

    scrap, issue = {"what": "scrapped", "count": 9, "why": "bent"}, {"what": "issued", "count": 4}
    over = ("BAL02", "more gone than printed", ("events", 1, "count"), {"scrap": 9, "fitted": 2, "printed": 10})
    assert told(scrap, scrap | {"count": 1}, rows=[row("2026-02-01", "B-1", 2)]) == [over]  # once, at the first
    fitted, back = [row("2026-02-01", "B-1", 2)], {"what": "returned", "count": 2}
    assert [each[:3] for each in told(issue | {"count": 2}, scrap, rows=fitted)] == []  # what was fitted was issued: the record contradicts itself
    assert [each[:3] for each in told(issue | {"count": 2}, scrap, back, rows=fitted) if each[0] == "BAL02"] == [("BAL02", "more gone than printed", ("events", 3, "count"))]
    since = [row("2026-03-05", "B-1", 2)]
    assert [each[:3] for each in told(scrap, issue | {"count": 1, "on": "2026-03-06"}, rows=since) if each[0] == "BAL02"] == [("BAL02", "more gone than printed", ("events", 2, "count"))]
    more = [row("2026-02-01", "B-1", 12)]  # told at its line
    assert [each for each in told({"what": "counted", "on_shelf": 0}, rows=more) if each[0] == "BAL02"] == []
    assert told({"what": "counted", "on_shelf": 3}, issue) == [
        ("BAL01", "counted other", ("events", 1, "on_shelf"), {"found": 3, "expected": 10}),
        ("BAL01", "issued other", ("events", 2, "count"), {"count": 4, "most": 3}),
    ]  # fmt: skip
    later = scrap | {"count": 4, "on": "2026-04-01"}  # written first, and of a later day
    assert [each[:3] for each in told(later, {"what": "counted", "on_shelf": 8})] == [("BAL01", "counted other", ("events", 2, "on_shelf"))]
    rejected = {"what": "rejected", "why": "cracks", "on": "2026-03-05"}
    assert told(rejected, rows=[row("2026-02-01", "B-1", 2)]) == [("BAL03", "rejected and fitted", ("events", 1), {"count": 2, "batch": "B-1"})]


def test_of_a_year_without_a_file_nothing_is_said_of_counts_where_lines_are_kept():
    """The lines that are missing tell of the pieces that are, and that is told (unsaid.py)."""
    counted = {"what": "counted", "on": "2026-03-01", "by": "keeper", "on_shelf": 8}
    batches = {"B-1": batch(events=[*RELEASED, counted])}
    old = row("2025-11-03", "B-2", file="fitted/2025.csv")
    assert list(balance_problems(depot(old, batches=batches).production)) == []
    there = replace(depot(old, batches=batches).production, fitted_years=frozenset({2026}))
    assert [each.key for _, each in balance_problems(there)] == ["counted other"]
    assert [each.key for _, each in balance_problems(depot(batches=batches).production)] == ["counted other"]
