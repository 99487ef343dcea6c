"""Lot → vehicles and vehicle → lots tell the same, whatever has happened; and the counts are those of the ledger."""

from collections import Counter
from dataclasses import replace
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.rules.production.ledger import ledger
from generator.rules.production.tracing import (
    as_people_count,
    of_all,
    of_batch,
    of_lot,
    of_machine,
    of_part,
    of_vehicle,
    revisions_of,
)
from tests.fixtures.production import batch, depot, row
from tests.fixtures.tiny import CLIP, KNOB
from tests.rules.production.test_balances import NAMES, lines

LOTS = ("L-1", "L-2", "L-3")
VEHICLES = (("A1", "11"), ("A1", "12"), ("A1", "13"))


@st.composite
def histories(draw):
    of_lots = st.lists(st.sampled_from(LOTS), min_size=1, max_size=2, unique=True).map(tuple)
    batches = {name: batch(6, part=draw(st.sampled_from([KNOB, CLIP])), lots=draw(of_lots)) for name in NAMES}
    return draw(st.lists(lines(), max_size=14)), batches


@given(histories())
def test_lot_to_vehicles_is_vehicles_to_lot(history):
    rows, batches = history
    production = depot(*rows, batches=batches).production
    there = {(lot, vehicle) for lot in LOTS for vehicle in of_lot(production, lot).vehicles}
    back = {(lot, vehicle) for vehicle in VEHICLES for lot in of_vehicle(production, *vehicle).lots}
    assert there == back


@given(histories())
def test_the_counts_are_those_of_the_ledger(history):
    rows, batches = history
    production = depot(*rows, batches=batches).production
    found = ledger(production)
    for name in batches:
        assert of_batch(production, name).on_vehicles == found.balances[name].on_vehicles
        again = sum(found.balances[name].moved.again.values())  # came off, and sits on a vehicle again
        assert sum(each.count for each in of_batch(production, name).came_off) == found.balances[name].removed + again
    assert of_all(production).on_vehicles == sum(each.on_vehicles for each in found.balances.values())
    by_part = Counter({number: of_part(production, number).on_vehicles for number in (KNOB, CLIP)})
    assert by_part.total() == of_machine(production, "bench-1").on_vehicles == of_all(production).on_vehicles
    assert sum(of_vehicle(production, *each).on_vehicles for each in VEHICLES) == of_all(production).on_vehicles


def test_each_way_in_knows_its_own_alone():
    production = depot(
        row("2026-02-01", "B-1", 2, position="left"),
        row("2026-02-03", "B-1", position="left", off="B-1"),
        row("2026-02-02", "B-2", vehicle="12"),
        row("2026-02-04", removed=1, vehicle="12"),
        batches={"B-1": batch(lots=("L-1", "L-2")), "B-2": batch(lots=("L-2",), revision="B")},
    ).production
    assert of_lot(production, "L-1").vehicles == (("A1", "11"),)
    assert of_lot(production, "L-2").vehicles == (("A1", "11"), ("A1", "12"))
    assert of_lot(production, "L-3").batches == {}
    assert list(of_part(production, KNOB, "B").batches) == ["B-2"]
    assert of_machine(production, "bench-2").carried == ()
    (sits,) = of_vehicle(production, "A1", "11").carried
    assert (sits.count, sits.since.isoformat(), sits.spot.position, sits.part, sits.revision) == (2, "2026-02-03", "left", KNOB, "A")
    (off,) = of_vehicle(production, "A1", "12").came_off
    assert (off.batch, off.part, off.count) == ("", None, 1)
    assert of_vehicle(production, "A1", "14").carried == ()


def test_a_batch_without_a_record_is_found_where_it_sits():
    production = depot(row("2026-02-01", "B-9")).production
    assert [each.spot.vehicle for each in of_batch(production, "B-9").carried] == ["11"]
    assert [each.part for each in of_vehicle(production, "A1", "11").carried] == [None]


def test_vehicles_stand_in_the_order_of_their_numbers():
    production = depot(row("2026-02-01", "B-1", vehicle="101"), row("2026-02-01", "B-1", vehicle="14")).production
    assert of_batch(production, "B-1").vehicles == (("A1", "14"), ("A1", "101"))


RAN = batch().model_copy(update={"started": datetime.fromisoformat("2026-01-05 22:00"), "ended": datetime.fromisoformat("2026-01-07 06:00")})


@pytest.mark.parametrize(
    ("since", "until", "is_meant"),
    [
        (None, None, True), ("2026-01-05", "2026-01-05", True), ("2026-01-06", "2026-01-06", True), ("2026-01-07", "2026-01-07", True),
        ("2026-01-07", None, True), ("2026-01-08", None, False), (None, "2026-01-05", True), (None, "2026-01-04", False),
    ],
)  # fmt: skip
def test_what_a_machine_spoilt_was_on_it_on_any_of_these_days(since, until, is_meant):
    ran = tuple(each and date.fromisoformat(each) for each in (since, until))
    production = depot(row("2026-02-01", "B-1"), batches={"B-1": RAN}).production
    for found in (of_machine(production, "bench-1", ran=ran), of_lot(production, "L-1", ran=ran)):
        assert (list(found.batches), found.on_vehicles) == ((["B-1"], 1) if is_meant else ([], 0))
    assert of_machine(production, "bench-2", ran=ran).batches == of_lot(production, "L-2", ran=ran).batches == {}


def test_what_came_off_is_told_with_its_day_its_reason_and_what_went_on_instead():
    first, second = row("2026-03-01", "B-2", off="B-1", position="left", by="keeper"), row("2026-03-05", off="B-2", position="left")
    production = depot(row("2026-02-01", "B-1", position="left"), first, second, batches={"B-1": batch(), "B-2": batch(part=CLIP), "B-3": batch()}).production
    (one,) = of_batch(production, "B-1").came_off
    assert (one.on, one.spot.position, one.part, one.count, one.why, one.by, one.instead) == (date(2026, 3, 1), "left", KNOB, 1, first.why, "keeper", "B-2")
    assert first.why
    assert [(each.batch, each.instead) for each in of_vehicle(production, "A1", "11").came_off] == [("B-1", "B-2"), ("B-2", "")]
    assert set(of_vehicle(production, "A1", "11").batches) == {"B-1", "B-2"}
    assert of_vehicle(production, "A1", "11").carried == ()
    assert of_part(production, KNOB).came_off == (one,)


def test_only_what_sat_there_can_have_come_off():
    """Of three that a line takes off, one sat there: two more would be looked for that never were."""
    on, off = row("2026-02-01", "B-1"), row("2026-03-01", off="B-1", removed=3)
    production = depot(on, off, row("2026-03-02", off="B-9"), row("2026-03-03", removed=2, why=off.why)).production
    assert [(each.batch, each.count) for each in of_all(production).came_off] == [("B-1", 1), ("", 2)]


def test_what_came_off_of_several_batches_stands_by_its_day():
    rows = row("2026-02-01", "B-1"), row("2026-02-01", "B-2", vehicle="12")
    off = row("2026-03-05", off="B-1"), row("2026-03-01", off="B-2", vehicle="12")
    production = depot(*rows, *off, batches={"B-1": batch(), "B-2": batch()}).production
    assert [each.batch for each in of_lot(production, "L-1").came_off] == ["B-2", "B-1"]


def test_a_batch_without_a_record_tells_nothing_of_others():
    rows = row("2026-02-01", "B-9", 2), row("2026-02-01", "B-1", vehicle="12"), row("2026-03-01", off="B-9"), row("2026-03-01", off="B-1", vehicle="12"), row("2026-03-02", "B-1", vehicle="13")
    found = of_batch(depot(*rows).production, "B-9")
    assert [(each.spot.vehicle, each.part, each.revision, each.count) for each in found.carried] == [("11", None, None, 1)]
    assert [(each.spot.vehicle, each.batch, each.part) for each in found.came_off] == [("11", "B-9", None)]
    assert (found.batches, found.balances) == ({}, {})
    known = of_batch(depot(*rows).production, "B-1")
    assert (list(known.batches), list(known.balances)) == (["B-1"], ["B-1"])


def test_pieces_stand_by_fleet_vehicle_place_position_and_batch():
    at = [("B2", "21", "cab", ""), ("A1", "101", "cab", ""), ("A1", "14", "door", ""), ("A1", "14", "cab", "window 10"), ("A1", "14", "cab", "window 2")]
    rows = [row("2026-02-01", name, fleet=fleet, vehicle=vehicle, place=place, position=where) for fleet, vehicle, place, where in at for name in ("B-2", "B-1")]
    production = depot(*rows, batches={"B-1": batch(20), "B-2": batch(20)}).production
    told = [(each.spot.fleet, each.spot.vehicle, each.spot.place, each.spot.position, each.batch) for each in of_all(production).carried]
    assert told == [(*spot, name) for spot in reversed(at) for name in ("B-1", "B-2")]
    assert [(each.spot.position, each.batch) for each in of_lot(production, "L-1").carried] == [(spot[3], name) for spot in reversed(at) for name in ("B-1", "B-2")]
    assert sorted(["10", "a10", "a2", "2", "a"], key=as_people_count) == ["a", "a2", "a10", "2", "10"]
    assert sorted(["right", "0", "left", "left 2"], key=as_people_count) == ["left", "left 2", "right", "0"]


def test_the_last_day_counts_also_where_a_position_was_written_in_other_letters():
    production = depot(row("2026-02-01", "B-1", position="left"), row("2026-02-09", "B-1", position="Left")).production
    assert [(each.count, each.since) for each in of_all(production).carried] == [(2, date(2026, 2, 9))]


def test_lots_of_what_sits_are_told_once_and_of_what_came_off_not():
    rows = row("2026-02-01", "B-1"), row("2026-02-01", "B-2"), row("2026-02-01", "B-3"), row("2026-03-01", off="B-3")
    batches = {"B-1": batch(lots=("L-7", "L-3", "L-6", "L-1")), "B-2": batch(lots=("L-1", "L-5", "L-4")), "B-3": batch(lots=("L-2",))}
    assert of_vehicle(depot(*rows, batches=batches).production, "A1", "11").lots == ("L-1", "L-3", "L-4", "L-5", "L-6", "L-7")


def test_every_revision_that_somebody_wrote_down_is_known():
    catalogue = depot(batches={"B-1": batch(revision="C"), "B-2": batch(part=CLIP, revision="Z")})
    folder = catalogue.folder(KNOB)
    others = tuple(each for each in catalogue.parts if each.number != KNOB)

    def known(**change):
        return revisions_of(KNOB, replace(catalogue, parts=(*others, replace(folder, **change))))

    newer = folder.part.model_copy(update={"revision": "D"})
    assert known(part=newer) == {"A", "C", "D"}  # A: what its approval speaks of
    assert known(part=newer, approval=None) == {"C", "D"}
    assert known(part=None, approval=None) == {"C"}
    assert revisions_of("EX-9999", catalogue) == set()
