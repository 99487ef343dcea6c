"""What must not stay on a vehicle, and what nobody can say of whether it may."""

from dataclasses import replace
from datetime import date

import pytest

from generator.records.lots import Blocked, Lot
from generator.rules.production.not_good import Against, against, against_each, by_vehicle, not_good
from tests.fixtures.prints import BATCH, printed_catalogue, with_production
from tests.fixtures.production import RELEASED, batch, depot, recall, row
from tests.fixtures.tiny import CLIP, KNOB

DAY = date(2026, 11, 25)
REJECTED = [{"what": "rejected", "on": "2026-01-11", "by": "specialist", "why": "Corners lifted"}]
BLOCKED = Lot(material="petg", supplier_lot="S2", events=(Blocked(what="blocked", on=date(2026, 5, 1), by="keeper", why="wet"),))
BATCHES = {
    "B-1": batch(),
    "B-2": batch(lots=("L-2",)),
    "B-3": batch(events=[*RELEASED, *REJECTED]),
    "B-4": batch(events=[]),
    "B-5": batch(part=CLIP),
}
LOTS = {"L-1": Lot(material="petg", supplier_lot="S1"), "L-2": BLOCKED}


@pytest.mark.parametrize(
    ("name", "recalls", "why"),
    [
        ("B-1", {}, None),
        ("B-1", {"R-1": recall(batch="B-1")}, "called back"),
        ("B-1", {"R-1": recall(part=KNOB, revision="A")}, "called back"),
        ("B-1", {"R-1": recall(lot="L-1")}, "called back"),
        ("B-1", {"R-1": recall(batch="B-1", lifted="2026-07-01")}, None),
        ("B-1", {"R-1": recall(batch="B-1", lifted="2026-12-01")}, "called back"),
        ("B-1", {"R-1": recall(batch="B-5")}, None),
        ("B-2", {}, "blocked"),
        ("B-2", {"R-1": recall(lot="L-2")}, "called back"),
        ("B-3", {}, "rejected"),
        ("B-3", {"R-1": recall(batch="B-3")}, "called back"),
        ("B-4", {}, "printed"),
        ("B-9", {}, "unknown"),
        ("b-1", {}, "unknown"),
    ],
)
def test_the_most_urgent_is_told(name, recalls, why):
    catalogue = depot(batches=BATCHES, recalls=recalls, lots=LOTS)
    speaks = against(name, catalogue, DAY)
    assert (speaks.why if speaks else None) in {why, "void" if why is None else why}
    assert (speaks.recall if speaks else None) == ("R-1" if why == "called back" else None)


def test_it_stands_with_its_part_spot_by_spot_and_what_has_no_record_with_all_that_fit_there():
    catalogue = depot(
        row("2026-02-01", "B-2", position="left"),
        row("2026-02-01", "B-3", 2, position="right"),
        row("2026-02-02", "B-9", vehicle="12"),
        row("2026-02-03", "B-2", vehicle="12", position="left"),
        row("2026-02-04", "", 0, vehicle="12", position="left", off="B-2"),
        batches=BATCHES, lots=LOTS,
    )  # fmt: skip
    found = not_good(catalogue, against_each(catalogue, DAY))
    fits = {part.number for part, _ in catalogue.fitting("A1", "cab")}
    assert set(found) == fits | {KNOB}
    told = [(each.carried.spot.vehicle, each.carried.spot.position, each.carried.batch, each.against.why) for each in found[KNOB]]
    assert sorted(told) == [("11", "left", "B-2", "blocked"), ("11", "right", "B-3", "rejected"), ("12", "", "B-9", "unknown")]
    assert sorted(by_vehicle(found[KNOB])) == [(("A1", "11"), 3, True), (("A1", "12"), 1, False)]


def test_a_depot_without_lines_has_none():
    assert not_good(depot(batches=BATCHES, lots=LOTS), {}) == {}


@pytest.mark.parametrize(("why", "comes_off"), [("called back", True), ("blocked", True), ("rejected", True), ("void", False), ("printed", False), ("unknown", False)])
def test_what_is_stopped_comes_off_and_the_rest_is_asked_about(why, comes_off):
    assert Against(why=why).is_stopped is comes_off


def test_of_two_recalls_the_first_is_told():
    recalls = {"R-2": recall(batch="B-2"), "R-1": recall(lot="L-2")}
    assert against("B-2", depot(batches=BATCHES, recalls=recalls, lots=LOTS), DAY) == Against(why="called back", recall="R-1")
    assert against("B-2", depot(batches=BATCHES, recalls={"R-1": recall(batch="B-2")}, lots=LOTS), DAY) == Against(why="called back", recall="R-1")


def test_a_good_batch_is_on_no_list():
    good = printed_catalogue()
    assert against(BATCH, good, DAY) is None
    fitted = row("2026-03-01", BATCH, line=2), row("2026-03-02", "B-9", vehicle="12", line=3)
    sits = with_production(good, fitted=fitted)
    speaking = against_each(sits, DAY)
    assert speaking == {BATCH: None, "B-9": Against(why="unknown")}
    assert {each.carried.batch for own in not_good(sits, speaking).values() for each in own} == {"B-9"}


def test_a_batch_with_a_record_stands_with_its_own_part_alone():
    catalogue = depot(row("2026-02-01", "B-2"), batches=BATCHES, lots=LOTS)
    assert list(not_good(catalogue, against_each(catalogue, DAY))) == [KNOB]
    elsewhere = depot(row("2026-02-01", "B-5"), batches=BATCHES, lots=LOTS)  # a clip does not go there: it is one all the same
    assert list(not_good(elsewhere, against_each(elsewhere, DAY))) == [CLIP]


def test_a_vehicle_with_one_that_must_come_off_is_such_whatever_else_it_carries():
    first, second = row("2026-02-01", "B-2", position="a"), row("2026-02-01", "B-4", position="b")
    for one, other in ((first, second), (replace(first, position="b"), replace(second, position="a"))):
        catalogue = depot(one, other, batches=BATCHES, lots=LOTS)
        assert list(by_vehicle(not_good(catalogue, against_each(catalogue, DAY))[KNOB])) == [(("A1", "11"), 2, True)]
