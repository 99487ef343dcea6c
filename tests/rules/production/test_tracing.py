"""Lot → vehicles and vehicle → lots tell the same, whatever has happened; and the counts are those of the ledger."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from generator.rules.production.ledger import ledger
from generator.rules.production.tracing import of_all, of_batch, of_lot, of_machine, of_part, of_vehicle
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
