"""Where are the pieces of a lot that may be more of one that is called back? Told apart from those that are."""

import pytest

from generator.records.lots import Lot
from generator.rules.production.asking_beside import beside_of
from tests.fixtures.production import batch, depot, recall, row

CALL = {"RC-0001": recall(lot="L-1")}
ON = (row("2026-03-01", "B-2", 2), row("2026-03-01", "B-2", vehicle="12"))


def told(number="Lot S1", recalls=CALL, lots=("L-2",), more=(), lot="L-1"):
    own = {"L-1": Lot(material="petg", supplier_lot="S1"), "L-2": Lot(material="petg", supplier_lot=number), **dict(more)}
    return beside_of(lot, depot(*ON, batches={"B-2": batch(lots=lots)}, recalls=recalls, lots=own).production)


def figures(found):
    return found.pieces, found.vehicles, found.off_vehicles


@pytest.mark.parametrize("number", ["Lot S1", "s1", "S1-B"])
def test_its_pieces_are_found_on_vehicles_and_off_them(number):
    """Though no batch of the lot that is called back is written down."""
    found = told(number)
    assert figures(found) == (3, 2, 7)
    assert found.lots == {"B-2": ("L-2",)}
    assert [(each.kind, each.count) for each in found.elsewhere] == [("shelf", 7)]


@pytest.mark.parametrize(
    "found",
    [
        {"number": "S2"},
        {"recalls": {}},
        {"recalls": {"RC-0001": recall(lifted="2026-07-01", lot="L-1")}},
        {"lots": ("L-1", "L-2")},  # called back itself
        {"lot": "L-2"},
        {"lot": None},
    ],
)
def test_nothing_is_listed_beside_what_nothing_asks_for(found):
    assert told(**found).is_empty


def test_a_batch_of_two_such_lots_is_listed_once():
    found = told(lots=("L-2", "L-3"), more={"L-3": Lot(material="petg", supplier_lot="S1 rest")}.items())
    assert figures(found) == (3, 2, 7)
    assert found.lots == {"B-2": ("L-2", "L-3")}
