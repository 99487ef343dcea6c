"""Nobody has said the batch: is a piece of one that is stopped about? On a shelf, in a hand, on a vehicle, in a drawer."""

from dataclasses import replace
from datetime import date

import pytest

from generator.rules.facts.fields import PieceFacts
from generator.rules.production.ledger import ledger
from generator.rules.production.piece import of_any
from tests.fixtures.production import RELEASED, batch, depot, row
from tests.fixtures.tiny import KNOB

DAY = date(2026, 11, 28)
GOOD = PieceFacts(piece="known", piece_released="released", piece_revision="own", piece_same="yes")
CALLED = replace(GOOD, piece_recalled_on=date(2026, 10, 12), piece_recall="RC-1")
BLOCKED = replace(GOOD, piece_recalled_on=date(2026, 10, 12), piece_lot="L-1")
REJECTED = replace(GOOD, piece_released="rejected")
VOID = replace(GOOD, piece_released="void")
PRINTED = replace(GOOD, piece_released="printed")
ASKED = replace(GOOD, piece_asked=("machine not qualified",))
ON = row("2026-02-01", "B-1", 2)
OFF = row("2026-03-01", off="B-1", removed=2)


def scrapped(count, on="2026-03-02"):
    return {"what": "scrapped", "on": on, "by": "fitter", "count": count, "why": "x"}


def told(piece, rows=(), *events, count=2, rewritten=()):
    catalogue = depot(*rows, batches={"B-1": batch(count, events=[*RELEASED, *events]), "B-2": batch(5)})
    production = replace(catalogue.production, rewritten=frozenset(rewritten))
    return of_any(KNOB, "A", replace(catalogue, production=production), DAY, {"B-1": piece, "B-2": GOOD})


@pytest.mark.parametrize("piece", [CALLED, BLOCKED, REJECTED, VOID])
@pytest.mark.parametrize(
    ("rows", "scrap", "about"),
    [
        ([], [], ("2", None, None)),
        ([ON], [], (None, "2", None)),
        ([ON, OFF], [], (None, None, "2")),
        ([ON, OFF], [1], (None, None, "1")),
        ([ON, replace(OFF, removed=1)], [1], (None, "1", None)),
        ([ON, OFF], [2], None),
        ([ON, OFF], [1, 1], None),
        ([], [2], None),
    ],
)
def test_as_long_as_one_that_is_stopped_is_about_the_batch_is_asked(piece, rows, scrap, about):
    found = told(piece, rows, *map(scrapped, scrap))
    if about is None:
        assert found == PieceFacts(piece="any")
    else:
        assert (found.piece, found.piece_batches) == ("choose", ("B-1",))
        assert (found.piece_left, found.piece_on_vehicles, found.piece_off) == about
        assert found.piece_recalls == (("RC-1",) if piece is CALLED else ())


def test_of_one_that_nobody_has_judged_what_left_the_shelf_is_about():
    assert told(PRINTED).piece == "any"
    assert told(PRINTED, [ON]).piece == "choose"
    assert told(PRINTED, [], {"what": "issued", "on": "2026-02-01", "by": "fitter", "count": 1}).piece == "choose"


def test_what_was_fitted_of_one_that_only_asks_has_been_asked_about():
    assert told(ASKED).piece == "choose"
    assert told(ASKED, [ON]).piece == "any"


def test_more_than_can_be_is_about():
    """Nine scrapped of ten, two of them on a vehicle all the same: the sum of a slip is not nothing."""
    assert told(CALLED, [ON], scrapped(1), count=2).piece == "choose"
    assert told(CALLED, [ON], scrapped(2), count=2).piece == "choose"


def test_of_a_record_that_says_less_than_it_did_nobody_knows():
    assert told(GOOD, [ON], rewritten=["B-1"]).piece is None
    assert told(GOOD, [], scrapped(2), rewritten=["B-1"]).piece == "any"


@pytest.mark.parametrize("scrap", [1, 2, 3])
def test_what_came_off_and_was_scrapped_is_in_one_place(scrap):
    """Of five, two went on and came off: what is scrapped after that is taken to be these, so that more is left to look for."""
    balance = ledger(depot(ON, OFF, batches={"B-1": batch(5, events=[*RELEASED, scrapped(scrap)])}).production).balances["B-1"]
    assert balance.adds_up
    assert (balance.removed, balance.shelf) == (max(2 - scrap, 0), 3 - max(scrap - 2, 0))
    before = ledger(depot(ON, OFF, batches={"B-1": batch(5, events=[scrapped(scrap, "2026-01-08"), *RELEASED])}).production).balances["B-1"]
    assert (before.removed, before.shelf) == (2, 3 - scrap)
