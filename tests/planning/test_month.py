"""What is dated in a month, from the reader's side: its edges, what is not known, and what it saved, reckoned by hand."""

import csv
import json
from dataclasses import replace
from datetime import date
from decimal import Decimal

from generator.pages.reports.plain import csv_of, plain_of
from generator.planning.month import month_report, months
from generator.planning.months import Month
from generator.planning.saving.rows import Instead, SavedRow, Savings, Unknown
from generator.reading.catalogue import read_catalogue
from generator.records.approvals import Approval
from generator.records.batches import Batch
from generator.records.fitted import FittedRow, Why
from generator.records.machines import Machine
from generator.records.parts import Assembly
from generator.records.production import Production
from generator.records.recalls import CalledBack, Lifted, Recall
from tests.fixtures.tiny import CLIP, DEPOT, KNOB, sheets

FEBRUARY, TODAY = Month(2028, 2), date(2028, 6, 1)
CATALOGUE = read_catalogue(DEPOT)
SHEETS = sheets(DEPOT)[0]
TEXT = {"approved_as": "text", "fingerprint": "0" * 64, "revision": "A"}
SCOPE = [{"fleet": "A1", "vehicles": ["11"], "places": ["cab"]}]


def batch(*events, count=10, part=KNOB, started="2028-02-03 08:00", ended="2028-02-03 10:30", grams=50.0, machine="M-1"):
    plain = {
        "part": part, "revision": "A", "printed_as": "spares print: 1\n", "fingerprint": "0" * 64, "count": count, "machine": machine,
        "printed_by": "fitter", "lots": ["L-1"], "started": started, "ended": ended, "grams": grams, "events": events,
    }  # fmt: skip
    return Batch.model_validate_json(json.dumps(plain))


def row(day, batch="", count=1, *, off="", why=Why.WORN, removed=0):
    gone = removed or (1 if off else 0)
    return FittedRow(
        day=date.fromisoformat(day), fleet="A1", vehicle="11", place="cab", position="", batch=batch, count=count if batch else 0, removed_batch=off,
        removed=gone, why=why if gone else None, by="fitter", row="", file="fitted/2028.csv", line=2,
    )  # fmt: skip


def report(batches=None, rows=(), *, month=FEBRUARY, day=TODAY, listed=SHEETS, recalls=None):
    machine = Machine.model_validate_json('{"name": "Bench one", "maker": "bench"}')
    production = Production(batches=batches or {}, fitted=tuple(rows), machines={"M-1": machine}, recalls=recalls or {})
    return month_report(month, listed, replace(CATALOGUE, production=production), day)


def approved(*events):
    """The knob with these events alone."""
    plain = {"route": "customer", "events": [{"by": "keeper", "reference": "L-1"} | each for each in events]}
    approval = Approval.model_validate_json(json.dumps(plain))
    return tuple(replace(each, folder=replace(each.folder, approval=approval)) for each in SHEETS if each.number == KNOB)


def test_a_month_has_its_first_and_its_last_day():
    assert [(str(m), m.first, m.last) for m in (FEBRUARY, Month(2027, 2), Month(2027, 12))] == [
        ("2028-02", date(2028, 2, 1), date(2028, 2, 29)),
        ("2027-02", date(2027, 2, 1), date(2027, 2, 28)),
        ("2027-12", date(2027, 12, 1), date(2027, 12, 31)),
    ]
    assert (Month(2027, 12).following, Month(2028, 1).before) == (Month(2028, 1), Month(2027, 12))


def test_what_lies_at_its_edges_is_in_it_and_nothing_beside():
    found = report({"B-1": batch()}, [row(day, "B-1") for day in ("2028-01-31", "2028-02-01", "2028-02-29", "2028-03-01")])
    assert [(each.number, each.count) for each in found.fitted] == [(KNOB, 2)]
    assert found.is_over
    so_far = report({"B-1": batch()}, [row("2028-02-01", "B-1"), row("2028-02-29", "B-1")], day=date(2028, 2, 28))
    assert ([each.count for each in so_far.fitted], so_far.is_over, so_far.until) == ([1], False, date(2028, 2, 28))
    assert report(day=date(2028, 2, 29)).is_over
    assert report().is_empty


def test_a_run_over_midnight_counts_where_it_ended():
    over = batch(started="2028-01-31 22:00", ended="2028-02-01 04:00")
    assert [(each.batches, each.minutes) for each in report({"B-1": over}).prints] == [(1, 360)]
    assert report({"B-1": over}, month=Month(2028, 1)).prints == ()


def test_prints_by_machine_and_what_nobody_weighed():
    batches = {"B-1": batch(), "B-2": batch(count=3, grams=None), "B-3": batch(machine="M-9", grams=None)}
    found = [(each.machine, each.batches, each.pieces, each.grams, each.unweighed, each.minutes) for each in report(batches).prints]
    assert found == [("M-1", 2, 13, 50.0, 1, 300.0), ("M-9", 1, 10, 0.0, 1, 150.0)]


def test_scrap_and_verdicts_count_on_their_own_day():
    events = (
        {"what": "scrapped", "on": "2028-02-04", "by": "fitter", "count": 2, "why": "Corner lifted"},
        {"what": "scrapped", "on": "2028-02-05", "by": "fitter", "count": 1, "why": "corner lifted"},
        {"what": "scrapped", "on": "2028-03-01", "by": "fitter", "count": 4, "why": "corner lifted"},
        {"what": "released", "on": "2028-02-06", "by": "keeper"},
        {"what": "rejected", "on": "2028-03-06", "by": "keeper", "why": "cracks"},
    )
    found = report({"B-1": batch(*events)})
    assert found.scrap_by_reason == {"Corner lifted": 3}
    # Nothing was measured and no text of the print agrees with an approval: that release is none.
    assert [(each.batch, each.released, each.holds, each.by) for each in found.judged] == [("B-1", True, False, "keeper")]


def test_what_came_off_of_no_batch_or_an_unknown_one_is_no_parts_failure():
    rows = [
        row("2028-02-10", "B-1", off="B-2", why=Why.BROKEN), row("2028-02-11", off="B-1", why=Why.WORN), row("2028-02-11", off="B-1", why=Why.CAMPAIGN),
        row("2028-02-12", "B-9", off="B-9", why=Why.BROKEN), replace(row("2028-02-13", "B-1", removed=3), removed_batch=""),
    ]  # fmt: skip
    found = report({"B-1": batch(), "B-2": batch(part=CLIP)}, rows)
    assert found.failures == {KNOB: 1, CLIP: 1}
    told = [(each.number, each.has_batch, each.why.value, each.count) for each in found.removed]
    assert told == [
        (KNOB, True, "worn", 1), (KNOB, True, "campaign", 1), (CLIP, True, "broken", 1), (None, True, "broken", 1), (None, False, "worn", 3),
    ]  # fmt: skip
    assert [(each.number, each.count) for each in found.fitted] == [(KNOB, 2), (None, 1)]


def priced(price=90.0, mass=10.0):
    def one(each):
        part = each.folder.part.model_copy(update={"assembly": Assembly(name="Flap", price=price)})
        return replace(each, mass_g=mass, folder=replace(each.folder, part=part))

    return tuple(one(each) if each.number == KNOB else each for each in SHEETS)


def test_what_was_fitted_saved_by_hand():
    # The bench asks 0.1 a gram and nothing else: 10 g are 1.00, whatever the count of the batch; three of one visit stand for one assembly: 90 - 3 × 1.
    rows = [row("2028-02-10", "B-1", count=3), row("2028-02-10", "B-2", count=2), row("2028-02-10", "B-9", count=4)]
    found = report({"B-1": batch(), "B-2": batch(part=CLIP)}, rows, listed=priced()).savings
    told = [(number, each.pieces, each.before, each.own, each.saved) for number, each in found.by_part.items()]
    assert told == [(KNOB, 3, Decimal("90.00"), Decimal("3.00"), Decimal("87.00"))]
    assert [(each.number, each.pieces, each.why) for each in found.unpriced_for] == [(CLIP, 2, Unknown.PRICE), (None, 4, Unknown.BATCH)]


def test_what_an_order_costs_is_shared_by_its_pieces():
    makers = {"bench": CATALOGUE.makers["bench"].model_copy(update={"price": CATALOGUE.makers["bureau"].price})}
    machine = Machine.model_validate_json('{"name": "M", "maker": "bench"}')
    production = Production(batches={"B-1": batch(count=5)}, fitted=(row("2028-02-10", "B-1", count=2),), machines={"M-1": machine})
    found = month_report(FEBRUARY, priced(), replace(CATALOGUE, production=production, makers=makers), TODAY).savings
    assert found.total == 90 - 2 * (30 + 5 * 5) // 5  # the bureau: 30 an order, 0.5 a gram


def test_a_loss_is_told_and_a_wrong_piece_takes_one_back():
    found = report({"B-1": batch()}, [row("2028-02-10", "B-1", count=3), row("2028-02-11", off="B-1", why=Why.WRONG)], listed=priced(price=0.25)).savings
    assert [(each.pieces, each.saved) for each in found.by_part.values()] == [(2, Decimal("-2.00"))]  # the assembly of that day is taken back with it
    alone = report({"B-1": batch()}, [row("2028-02-11", off="B-1", why=Why.WRONG)], listed=priced()).savings
    assert alone.total == -89.0
    assert report({"B-1": batch()}, [row("2028-02-10", "B-1")], listed=priced(mass=None)).savings.unpriced_for[0].why is Unknown.PRICE
    # Of a machine that nobody knows the cheapest offer counts; the knob's makers are its record's.
    assert report({"B-1": batch(machine="M-9")}, [row("2028-02-10", "B-1")], listed=priced()).savings.total == 89.0


def test_events_by_what_they_do():
    listed = approved(
        {"what": "customer acceptance refused", "on": "2028-02-01", "reason": "loose"}, {"what": "approval refused", "on": "2028-02-02", "reason": "loose"},
        {"what": "approved", "on": "2028-02-10", "scope": SCOPE, "valid_until": "2029-01-01"} | TEXT, {"what": "withdrawn", "on": "2028-02-29", "reason": "cracks"},
        {"what": "renewed", "on": "2028-03-01", "valid_until": "2030-01-01"},
    )  # fmt: skip
    found = report(listed=listed)
    told = [[(each.on.day, each.what, each.by) for each in steps] for steps in (found.given, found.refused, found.ended, found.lapsed)]
    assert told == [
        [(10, "approved", "keeper")],
        [(1, "customer acceptance refused", "keeper"), (2, "approval refused", "keeper")],
        [(29, "withdrawn", "keeper")],
        [],
    ]


def lapsed(*events, month=FEBRUARY, day=TODAY):
    until = {"what": "approved", "on": "2027-02-10", "scope": SCOPE} | TEXT
    return [(str(each.on), each.what) for each in report(listed=approved(until | events[0], *events[1:]), month=month, day=day).lapsed]


def test_a_lapse_counts_on_the_first_day_without():
    assert lapsed({"valid_until": "2028-01-31"}) == [("2028-02-01", "approval")]
    assert lapsed({"valid_until": "2028-02-28"}) == [("2028-02-29", "approval")]
    assert lapsed({"valid_until": "2028-02-29"}) == []
    assert lapsed({"valid_until": "2028-02-29"}, month=Month(2028, 3)) == [("2028-03-01", "approval")]
    assert lapsed({"valid_until": "2028-02-28"}, day=date(2028, 2, 28)) == []
    assert lapsed({"valid_until": "2028-02-28"}, day=date(2028, 2, 29)) == [("2028-02-29", "approval")]


def test_what_was_renewed_or_ended_by_then_did_not_lapse_and_what_was_renewed_later_did():
    renewed = {"what": "renewed", "valid_until": "2029-02-10", "approved_on": "2027-02-10"}
    assert lapsed({"valid_until": "2028-02-10"}, renewed | {"on": "2028-02-10"}) == []
    assert lapsed({"valid_until": "2028-02-10"}, renewed | {"on": "2028-02-11"}) == [("2028-02-11", "approval")]
    assert lapsed({"valid_until": "2028-02-10"}, {"what": "withdrawn", "on": "2028-02-01", "reason": "cracks"}) == []
    assert lapsed({"valid_until": "2028-02-10"}, {"what": "withdrawn", "on": "2028-02-20", "reason": "cracks"}) == [("2028-02-11", "approval")]
    newer = {"what": "approved", "on": "2028-02-05", "scope": SCOPE, "valid_until": "2029-01-01"} | TEXT
    assert lapsed({"valid_until": "2028-02-10"}, newer) == []


def test_every_month_since_the_first_dated_thing_newest_first():
    production = Production(batches={"B-1": batch()}, fitted=(row("2028-04-01", "B-1"), row("2028-09-01", "B-1")))
    bare = replace(CATALOGUE, parts=(), production=production)
    assert [str(each) for each in months(bare, date(2028, 5, 1))] == ["2028-05", "2028-04", "2028-03", "2028-02"]
    assert [str(each) for each in months(replace(bare, production=Production()), date(2028, 5, 1))] == ["2028-05"]


def test_recalls_of_a_month_and_those_that_stand_tell_what_is_about_at_its_end():
    """Called on 10 February with three on vehicles; one comes off on 2 March; lifted on 5 April."""
    rows = (row("2028-02-08", "B-1", 3), row("2028-03-02", off="B-1"))
    called = CalledBack(what="called back", on=date(2028, 2, 10), by="keeper", why="cracks")
    lifted = Lifted(what="lifted", on=date(2028, 4, 5), by="keeper", why="holds")
    made = {"B-1": batch({"what": "released", "on": "2028-02-05", "by": "keeper"})}

    def told(number):
        found = report(made, rows, month=Month(2028, number), recalls={"RC-0001": Recall(batch="B-1", events=(called, lifted))}).recalls
        return [(each.what, each.on_vehicles, each.put_by, each.came_off) for each in found]

    assert [told(each) for each in (1, 2, 3, 4, 5)] == [[], [("called back", 3, 7, 0)], [("stands", 2, 7, 1)], [("lifted", 2, 7, 1)], []]
    assert not report(recalls={"RC-0001": Recall(lot="L-9", events=(called,))}, month=Month(2028, 5)).is_empty
    assert Month(2028, 2) in months(replace(CATALOGUE, parts=(), production=Production(recalls={"R": Recall(lot="L-9", events=(called,))})), TODAY)


def test_the_table_says_of_each_price_what_it_is_of():
    of = {"month": FEBRUARY, "fleet": "A1"}
    knob = SavedRow(**of, number=KNOB, batch="B-1", pieces=3, before=Decimal("90.00"), bought=2, instead=Instead.ASSEMBLY, own=Decimal("1.00"))
    clips = [SavedRow(**of, number=CLIP, batch=f"B-{own}", pieces=pieces, bought=pieces, before=Decimal("9.00"), instead=Instead.PART, own=Decimal(own)) for pieces, own in ((1, "2.00"), (-1, "1.00"))]
    found = replace(report(), savings=Savings(rows=(knob, *clips), unpriced_rows=()))
    rows = [each for each in csv.DictReader(csv_of(found).decode("utf-8-sig").splitlines()) if each["section"] == "savings"]
    told = [tuple(each[key] for key in ("pieces", "bought", "before_each", "own_each", "before_total", "own_total", "saved_total")) for each in rows]
    assert told == [("3", "2", "90.00", "1.00", "180.00", "3.00", "177.00"), ("0", "0", "9.00", "", "0.00", "1.00", "-1.00")]
    assert plain_of(found)["savings"]["lines"][0] == {
        "number": KNOB, "pieces": 3, "bought": 2, "before_each": "90.00", "own_each": "1.00", "before_total": "180.00", "own_total": "3.00", "saved_total": "177.00",
    }  # fmt: skip
