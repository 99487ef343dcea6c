"""What changed lately, where no commits tell it: cases from the side of a depot that keeps its catalogue in a plain folder."""

from dataclasses import replace
from datetime import date, datetime

import pytest

from generator.records.batches import Batch
from generator.records.machines import CouponProperty, Coupons, Machine, Qualification
from generator.records.parts import Stock
from generator.records.prints import PrintRun
from generator.records.requests import Request, Wanted
from generator.rules.lately import Fact, Lately, LatelyChange
from generator.rules.lately_by_days import lately_by_days, told_since
from tests.fixtures.production import batch, depot, recall, row
from tests.fixtures.tiny import CLIP, KNOB

KNOB_FOLDER = "parts/EX-0001-lid-knob"


def told(catalogue, *days: str, **how):
    """By day, newest first: about, what, name and all else that a fact says; only of these days where some are given."""
    found = lately_by_days(catalogue, **how)
    assert found.by_days
    every = {change.day.isoformat(): [" ".join(map(str, fact.as_plain().values())) for fact in change.facts] for change in found.changes}
    return {day: every.get(day, []) for day in days} if days else every


def test_events_stand_on_their_own_days_and_never_bear_them_again():
    found = told(depot())
    assert list(found) == sorted(found, reverse=True)
    assert found["2026-10-01"] == [f"part event parts/EX-0003-hose-clip trial opened {CLIP}", "request new coat-hook"]
    assert found["2026-01-05"] == [f"batch new B-1 10 {KNOB}"]
    assert found["2026-01-10"] == [f"batch event B-1 released {KNOB}"]
    assert len(found["2025-02-21"]) == 3  # each part's screening was judged on that day


def test_lines_of_a_day_are_pieces_and_not_lines_by_part():
    other = {"B-1": batch(), "B-2": batch(part=CLIP)}
    lines = [row("2026-02-01", "B-1", 2), row("2026-02-01", "B-1", 1, position="left"), row("2026-02-01", "B-2"), row("2026-02-02", off="B-1", removed=4)]
    found = told(depot(*lines, batches=other), "2026-02-01", "2026-02-02")
    assert found == {
        "2026-02-01": [f"list fitted 3 {KNOB}", f"list fitted 1 {CLIP}"],
        "2026-02-02": [f"list removed 4 {KNOB}"],
    }


def test_pieces_of_a_batch_that_nobody_can_read_are_counted_and_belong_to_no_part():
    assert told(depot(row("2026-02-01", "B-9", 2), row("2026-02-01", off="B-1")), "2026-02-01") == {"2026-02-01": ["list fitted 2", f"list removed 1 {KNOB}"]}


def test_a_recall_of_a_batch_is_told_of_its_part_and_one_of_a_lot_of_none():
    found = told(depot(recalls={"RC-1": recall(lifted="2026-06-03", batch="B-1"), "RC-2": recall(lot="L-1"), "RC-3": recall(batch="B-9")}))
    assert found["2026-06-01"] == [f"recall event RC-1 called back B-1 {KNOB}", "recall event RC-2 called back L-1", "recall event RC-3 called back B-9"]
    assert found["2026-06-03"] == [f"recall event RC-1 lifted B-1 {KNOB}"]


def test_requests_machines_recorded_prints_and_counts_are_dated_too():
    on = date(2026, 3, 3)
    request = Request(
        on=on, by="fitter", name="x", what_it_does="x", fleet="A1", yearly_demand=1, stops_without="x",
        also_wanted=(Wanted(on=date(2026, 3, 4), by="fitter", yearly_demand=1),),
    )  # fmt: skip
    coupons = Coupons(on=date(2026, 3, 4), property=CouponProperty.DENSITY, values=(1.0,), by="fitter")
    machine = Machine(name="x", maker="bench", qualifications=(Qualification(material="petg", qualified_on=on, valid_until=date(2027, 1, 1), by="fitter", coupons=(coupons,)),))
    run = PrintRun(on=on, part=KNOB, revision="A", maker="bench", count=1, minutes=60)
    base = depot()
    parts = tuple(
        replace(each, part=each.part.model_copy(update={"stock": Stock(place="A", on_shelf=7, counted_on=on)})) if each.number == CLIP else each for each in base.parts
    )
    whole = replace(
        base, parts=parts, prints=(run, run, run.model_copy(update={"part": "EX-9999"})), requests={"R-1": request}, production=replace(base.production, machines={"M-1": machine})
    )
    assert told(whole, "2026-03-03", "2026-03-04") == {
        "2026-03-03": [
            f"part counted parts/EX-0003-hose-clip 7 {CLIP}", f"part run {KNOB_FOLDER} {KNOB}", "machine qualified M-1 petg", "request new R-1",
        ],
        "2026-03-04": ["machine coupons M-1", "request voice R-1"],
    }  # fmt: skip


def test_nothing_dated_tells_nothing():
    bare = replace(depot(batches={}, lots={}), parts=(), requests={})
    found = lately_by_days(bare)
    assert (found.changes, found.is_cut, found.by_days) == ((), False, True)


def test_in_whichever_order_records_are_read_the_same_is_told():
    lines = [row("2026-02-01", "B-1", 2), row("2026-02-01", "B-2"), row("2026-02-01", off="B-2")]
    batches = {"B-1": batch(), "B-2": batch(part=CLIP)}
    there = depot(*lines, batches=batches)
    back = replace(depot(*reversed(lines), batches=dict(reversed(batches.items()))), parts=tuple(reversed(there.parts)))
    for most in (10_000, 3, 1):
        assert lately_by_days(there, most) == lately_by_days(back, most)


@pytest.mark.parametrize(("most", "days", "is_cut"), [(3, 3, False), (2, 2, True), (1, 1, True)])
def test_of_too_much_the_oldest_days_are_left_out_whole_and_that_is_said(most, days, is_cut):
    bare = replace(depot(batches={f"B-{n}": _ended(f"2026-01-0{n}") for n in (1, 2, 3)}), parts=(), requests={})
    found = lately_by_days(bare, most)
    assert ([each.day.day for each in found.changes], found.is_cut) == ([3, 2, 1][:days], is_cut)


def test_a_day_is_never_told_in_part_even_where_it_is_all_there_is():
    many = replace(depot(batches={f"B-{n}": _ended("2026-01-01") for n in range(9)} | {"B-99": _ended("2026-01-02")}), parts=(), requests={})
    assert {day: len(facts) for day, facts in told(many, most=4).items()} == {"2026-01-02": 1}
    one = replace(depot(batches={f"B-{n}": _ended("2026-01-01") for n in range(9)}), parts=(), requests={})
    found = lately_by_days(one, 4)
    assert ([len(each.facts) for each in found.changes], found.is_cut) == ([9], False)


def _ended(day: str) -> Batch:
    return batch(events=[]).model_copy(update={"ended": datetime.fromisoformat(f"{day} 12:00")})


def test_until_the_day_since_which_records_are_kept_their_own_days_tell_it_and_commits_after():
    clip = "parts/EX-0003-hose-clip"
    late = Fact(about="part", what="event", name=clip, event="trial opened", on="2026-10-01", part=CLIP)
    commits = Lately(changes=(
        LatelyChange(commit="c", day=date(2026, 12, 3), facts=(late, Fact(about="batch", what="new", name="B-1"))),
        LatelyChange(commit="b", day=date(2026, 11, 28), facts=(Fact(about="list", what="changed", name="makers"),)),
        LatelyChange(commit="a", day=date(2026, 11, 1), facts=(late,)),
    ))  # fmt: skip
    days = lately_by_days(depot())
    found = told_since(commits, days, date(2026, 11, 28))
    assert found.until == date(2026, 11, 28)
    assert (found.changes[0], found.by_days, found.is_cut) == (commits.changes[0], False, False)
    assert not any(each.commit for each in found.changes[1:]), "what was committed until then is no past"
    rest = {each.day.isoformat(): [(fact.about, fact.what) for fact in each.facts] for each in found.changes[1:]}
    assert rest["2026-10-01"] == [("request", "new")], "what came late is told once, under its commit's day"
    assert "2026-01-05" not in rest  # the batch B-1 is told by its commit, and no day is left empty
    assert ("batch", "event") in rest["2026-01-10"]
    assert told_since(commits, days, date(2026, 1, 4)).changes[:3] == commits.changes
    assert max(each.day for each in told_since(Lately(), days, date(2026, 1, 9)).changes) <= date(2026, 1, 9)


def test_that_older_commits_are_missing_is_told_only_where_they_would_count():
    change = LatelyChange(commit="c", day=date(2026, 12, 3), facts=(Fact(about="list", what="changed", name="makers"),))
    cut, days = Lately(changes=(change,), is_cut=True), lately_by_days(depot())
    assert told_since(cut, days, date(2026, 11, 28)).is_cut
    assert not told_since(cut, days, date(2026, 12, 3)).is_cut
