"""Whoever looks for what was called back is sent to every place that carried it, to each shelf and hand, and to nothing else. Worked out by hand."""

from datetime import date

from generator.records.lots import Blocked, Lot
from generator.rules.production.recalling import (
    Elsewhere,
    Visit,
    first_call,
    reach_of,
    same_thing,
    standing_of,
    stopping_still,
)
from tests.fixtures.production import RELEASED, batch, depot, recall, row
from tests.fixtures.tiny import CLIP, KNOB

CALL, DAY = "2026-06-01", date(2026, 6, 30)


def event(what, count=1, on="2026-05-01", **more):
    return {"what": what, "on": on, "by": "keeper", **({"on_shelf": count} if what == "counted" else {"count": count}), **more}


def reach(*rows, batches=None, of=None):
    return of_recall(of or recall(CALL, lot="L-1"), *rows, batches=batches)


def of_recall(called, *rows, batches=None):
    production = depot(*rows, batches=batches, recalls={"RC-0001": called}).production
    return reach_of(called, production)


def visits(found):
    return [(each.site.fleet, each.site.vehicle, each.site.place, each.sat, each.sits) for each in found.visits]


def test_what_sat_there_when_it_was_called_back_is_a_visit_even_where_it_came_off_the_same_day():
    found = reach(
        row("2026-02-01", "B-1", 2, vehicle="11"), row("2026-05-31", off="B-1", removed=2, vehicle="11"),  # off on the day before
        row("2026-02-01", "B-1", vehicle="12"), row(CALL, off="B-1", vehicle="12"),
        row("2026-02-01", "B-1", 2, vehicle="13"), row("2026-06-02", off="B-1", vehicle="13"),
    )  # fmt: skip
    assert visits(found) == [("A1", "13", "cab", 2, 1), ("A1", "12", "cab", 1, 0)]
    assert (found.vehicles, found.left, found.visited, found.sits) == ((("A1", "13"), ("A1", "12")), (("A1", "13"),), 1, 1)


def test_what_went_on_by_the_day_of_the_call_or_since_is_a_visit_too():
    found = reach(row(CALL, "B-1", vehicle="11"), row("2026-06-09", "B-1", 2, vehicle="12"), row("2026-06-10", "B-1", vehicle="11"))
    assert visits(found) == [("A1", "11", "cab", 2, 2), ("A1", "12", "cab", 2, 2)]
    assert visits(reach(row(CALL, "B-1"), row("2026-06-05", off="B-1"))) == [("A1", "11", "cab", 1, 0)]


def test_a_call_that_was_written_first_tells_which_day_counts():
    called = recall(CALL, lot="L-1", lifted="2026-06-20")
    assert visits(of_recall(called, row("2026-02-01", "B-1"), row("2026-06-10", off="B-1"))) == [("A1", "11", "cab", 1, 0)]
    assert first_call(called).on == first_call(called.model_copy(update={"events": called.events[::-1]})).on == date(2026, 6, 1)
    never = called.model_copy(update={"events": called.events[1:]})  # lifted, and nobody wrote that it was called back
    assert visits(of_recall(never, row("2026-02-01", "B-1"))) == [("A1", "11", "cab", 1, 1)]


def test_vehicles_to_visit_come_first_then_by_fleet_number_and_place():
    found = reach(
        row("2026-02-01", "B-1", fleet="B2", vehicle="21"),
        row("2026-02-01", "B-1", vehicle="101"), row("2026-02-01", "B-1", vehicle="14", place="door"), row("2026-02-01", "B-1", vehicle="14"),
        row("2026-02-01", "B-1", vehicle="11"), row("2026-06-02", off="B-1", vehicle="11"),
    )  # fmt: skip
    assert [each[:3] for each in visits(found)] == [
        ("A1", "14", "cab"), ("A1", "14", "door"), ("A1", "101", "cab"), ("B2", "21", "cab"), ("A1", "11", "cab"),
    ]  # fmt: skip
    assert found.vehicles == (("A1", "14"), ("A1", "101"), ("B2", "21"), ("A1", "11"))
    assert found.visited == 1


def test_a_place_counts_all_its_positions_and_what_is_not_called_back_counts_nowhere():
    found = reach(
        row("2026-02-01", "B-1", position="left"), row("2026-02-01", "B-1", 2, position="right"), row("2026-02-01", "B-2", position="right"),
        row("2026-02-01", "B-2", vehicle="12"), row("2026-06-02", off="B-2", vehicle="12"),
        batches={"B-1": batch(), "B-2": batch(lots=("L-2",))},
    )  # fmt: skip
    assert visits(found) == [("A1", "11", "cab", 3, 3)]
    assert [(each.batch, each.spot.position, each.count) for each in found.spots] == [("B-1", "left", 1), ("B-1", "right", 2)]
    assert found.batches == ("B-1",)
    assert (found.elsewhere, found.scrapped) == ((Elsewhere(kind="shelf", batch="B-1", count=7),), ())


def test_the_shelf_and_the_hands_are_looked_through_batch_by_batch():
    """B-1: 10 printed, 3 issued, 5 counted where 7 should lie. B-2: 4 printed, 3 counted more than that. B-3: all of it sits on a vehicle."""
    issued = event("issued", 2, to="bay 4"), event("issued", 1, to="bay 2"), event("issued", 1, to="bay 4"), event("returned", 1)
    found = reach(
        row("2026-02-01", "B-3", 2),
        batches={
            "B-2": batch(4, events=[*RELEASED, event("counted", 7, on="2026-05-03")]),
            "B-1": batch(10, events=[*RELEASED, *issued, event("counted", 5, on="2026-05-02")]),
            "B-3": batch(2),
        },
    )
    assert found.elsewhere == (
        Elsewhere(kind="shelf", batch="B-1", count=7, more=-2, on=date(2026, 5, 2)),
        Elsewhere(kind="out", batch="B-1", count=3, to="bay 4; bay 2"),
        Elsewhere(kind="shelf", batch="B-2", count=7, more=3, on=date(2026, 5, 3)),
    )
    assert (found.shelf, found.out, found.off, found.sits, found.to_find) == (14, 3, 0, 2, 19)
    assert (found.about("B-1"), found.about("B-2"), found.about("B-3"), found.about("B-4")) == (10, 7, 2, 0)


def test_what_came_off_stands_in_the_order_of_vehicles_and_what_was_scrapped_is_not_looked_for():
    rows = [row("2026-02-01", name, vehicle=vehicle) for name, vehicle in (("B-1", "101"), ("B-2", "14"), ("B-3", "11"))]
    off = [row("2026-06-02", off=name, vehicle=vehicle) for name, vehicle in (("B-1", "101"), ("B-2", "14"), ("B-3", "11"))]
    scrapped = event("scrapped", on="2026-06-03", why="called back")
    found = reach(*rows, *off, batches={"B-1": batch(1), "B-2": batch(1), "B-3": batch(1, events=[*RELEASED, scrapped])})
    assert [(each.kind, each.batch, each.count) for each in found.elsewhere] == [("came_off", "B-2", 1), ("came_off", "B-1", 1)]
    assert [each.batch for each in found.scrapped] == ["B-3"]
    assert (found.off, found.to_find, found.about("B-1"), found.about("B-3")) == (2, 2, 1, 0)


def test_of_pieces_that_nobody_can_tell_apart_the_first_vehicle_tells_the_order():
    """Of B-1 one came off 11 and one off 101, and one of them was scrapped; B-2 came off 14."""
    rows = [row("2026-02-01", name, vehicle=vehicle) for name, vehicle in (("B-1", "11"), ("B-1", "101"), ("B-2", "14"))]
    off = [row("2026-06-02", off=name, vehicle=vehicle) for name, vehicle in (("B-1", "11"), ("B-1", "101"), ("B-2", "14"))]
    one = event("scrapped", on="2026-06-03", why="called back")
    found = reach(*rows, *off, batches={"B-1": batch(2, events=[*RELEASED, one]), "B-2": batch(1)})
    assert [(each.batch, [spot.site.vehicle for spot in each.off.spots]) for each in found.elsewhere] == [("B-1", ["11", "101"]), ("B-2", ["14"])]


def test_a_batch_without_a_record_is_known_by_its_lines_alone():
    called = recall(CALL, batch="B-77")
    on, off = row("2026-02-01", "B-77"), row("2026-02-02", off="B-77")
    found = of_recall(called, on)
    assert (found.batches, found.unrecorded, visits(found)) == (("B-77",), ("B-77",), [("A1", "11", "cab", 1, 1)])
    assert of_recall(called, off).unrecorded == ("B-77",)  # somebody had it in hand
    assert of_recall(called, row("2026-02-01", "B-1")).batches == ()
    known = of_recall(recall(CALL, batch="B-1"), row("2026-02-01", "B-1"))
    assert (known.batches, known.unrecorded) == (("B-1",), ())


def test_a_thing_is_called_back_once_however_often_somebody_asks():
    lot, part = recall(CALL, lot="L-1"), recall(CALL, part=KNOB, revision="A")
    recalls = {"RC-0004": lot, "RC-0003": lot, "RC-0001": recall(CALL, lot="L-1", lifted="2026-06-20"), "RC-0002": recall(CALL, lot="L-2"), "RC-0005": part}
    production = depot(recalls=recalls).production
    assert standing_of(recall("2026-06-25", lot="L-1"), production, DAY) == "RC-0003"
    assert standing_of(recall("2026-06-10", lot="L-1"), production, date(2026, 6, 19)) == "RC-0001"  # not lifted by then
    assert standing_of(recall("2026-06-25", lot="L-9"), production, DAY) is None
    assert standing_of(part, production, DAY) == "RC-0005"
    others = recall(batch="B-1"), recall(part=KNOB, revision="B"), recall(part=CLIP, revision="A"), lot
    assert [same_thing(part, other) for other in (part, *others)] == [True, False, False, False, False]


def blocked(on="2026-05-01", why="wet"):
    return Lot(material="petg", supplier_lot="S", events=(Blocked(what="blocked", on=date.fromisoformat(on), by="keeper", why=why),))


def still(called, **more):
    production = depot(recalls={"RC-0001": called, **more.pop("recalls", {})}, **more).production
    return [(each.recall, each.lot, each.on.isoformat(), each.by, each.why, batches) for each, batches in stopping_still("RC-0001", called, production, DAY)]


def test_lifting_a_recall_is_told_what_goes_on_stopping_its_batches():
    """Who takes them for good by the lifting alone would fit what another recall or a block keeps back."""
    called = recall(CALL, lot="L-1")
    batches = {"B-2": batch(lots=("L-1", "L-2")), "B-1": batch(), "B-3": batch(lots=("L-2",))}
    free = Lot(material="petg", supplier_lot="S1")
    assert still(called, batches=batches) == []
    assert still(called, batches=batches, lots={"L-1": free, "L-2": blocked()}) == [(None, "L-2", "2026-05-01", "keeper", "wet", ("B-2",))]
    assert still(called, batches=batches, recalls={"RC-0002": recall("2026-06-03", part=KNOB, revision="A")}) == [
        ("RC-0002", None, "2026-06-03", "keeper", "cracks", ("B-1", "B-2")),
    ]
    assert still(called, batches=batches, recalls={"RC-0002": recall(batch="B-3")}) == []


def test_a_block_of_the_lot_itself_is_told_once_also_where_nothing_was_printed_from_it():
    called, own = recall(CALL, lot="L-1"), (None, "L-1", "2026-05-01", "keeper", "wet")
    assert still(called, lots={"L-1": blocked()}) == [(*own, ("B-1",))]
    assert still(called, batches={}, lots={"L-1": blocked()}) == [(*own, ())]
    assert still(called, batches={}, lots={"L-2": blocked()}) == []
    assert still(recall(CALL, batch="B-1"), batches={}, lots={"L-1": blocked()}) == []


def test_a_visit_is_told_by_what_sat_and_what_sits():
    (visit,) = reach(row("2026-02-01", "B-1")).visits
    assert visit == Visit(site=visit.site, sat=1, sits=1)
    assert tuple(visit.site) == ("A1", "11", "cab")
