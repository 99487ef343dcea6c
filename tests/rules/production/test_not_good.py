"""What must not stay on a vehicle, and what nobody can say of whether it may."""

from datetime import date

import pytest

from generator.records.lots import Blocked, Lot
from generator.rules.production.not_good import against, against_each, by_vehicle, not_good
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
