"""Nobody has said the batch: is a piece of one that is stopped about? On a shelf, in a hand, on a vehicle, in a drawer."""

from dataclasses import replace
from datetime import date
from random import Random

import pytest

from generator.rules.facts.fields import PieceFacts
from generator.rules.production.ledger import ledger
from generator.rules.production.piece import of_any
from tests.fixtures.production import RELEASED, adds_up, batch, depot, row
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
    return {"what": "scrapped", "on": on, "by": "fitter", "count": count, "why": "tried"}


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


@pytest.mark.parametrize("piece", [CALLED, BLOCKED, REJECTED, VOID, ASKED])
def test_what_a_count_found_beyond_the_books_is_about(piece):
    """By the books both were fitted, came off and were scrapped; somebody counted one on the shelf since."""
    counted = {"what": "counted", "on": "2026-03-05", "by": "fitter", "on_shelf": 1}
    found = told(piece, [ON, OFF], scrapped(2), counted)
    assert (found.piece, found.piece_batches, found.piece_left) == ("choose", ("B-1",), "1")


ISSUED = {"what": "issued", "on": "2026-02-01", "by": "fitter", "count": 1}


@pytest.mark.parametrize(
    ("rows", "events", "how_many", "about"),
    [
        ([], [], "2 × B-1", ("2", None, None)),
        ([], [ISSUED], "2 × B-1", ("2", None, None)),
        ([], [scrapped(1)], "1 × B-1", ("1", None, None)),
        ([ON], [], "2 × B-1", (None, "2", None)),
        ([ON, OFF], [], "2 × B-1", (None, None, "2")),
        ([ON, OFF], [scrapped(1)], "1 × B-1", (None, None, "1")),
        ([row("2026-02-01", "B-1")], [], "2 × B-1", ("1", "1", None)),
        ([], [scrapped(2), {"what": "counted", "on": "2026-03-05", "by": "fitter", "on_shelf": 1}], "1 × B-1", ("1", None, None)),
        ([], [scrapped(2), scrapped(1)], "B-1", (None, None, None)),
    ],
)
@pytest.mark.parametrize("piece", [PRINTED, replace(PRINTED, piece_same="no"), replace(PRINTED, piece_asked=("machine not qualified",))])
def test_as_long_as_one_that_nobody_has_released_is_about_the_batch_is_asked(piece, rows, events, how_many, about):
    found = told(piece, rows, *events)
    assert (found.piece, found.piece_unreleased, found.piece_batches) == ("unreleased", (how_many,), ())
    assert (found.piece_left, found.piece_on_vehicles, found.piece_off) == about


@pytest.mark.parametrize(("rows", "events"), [([], [scrapped(2)]), ([], [scrapped(1), scrapped(1)]), ([ON, OFF], [scrapped(2)])])
def test_what_was_never_released_and_is_scrapped_is_not_about(rows, events):
    assert told(PRINTED, rows, *events) == PieceFacts(piece="any")


def test_what_was_never_released_and_is_called_back_is_stopped():
    found = told(replace(CALLED, piece_released="printed"))
    assert (found.piece, found.piece_batches, found.piece_unreleased) == ("choose", ("B-1",), ())


def of_both(stopped, *, gone=False, revision="A"):
    """Of a batch that is stopped and one that waits; gone: nothing of the first is left."""
    events = [scrapped(2)] if gone else []
    catalogue = depot(batches={"B-1": batch(2, events=events), "B-2": batch(8, events=[], revision=revision)})
    return of_any(KNOB, "A", catalogue, DAY, {"B-1": stopped, "B-2": PRINTED})


def test_where_one_is_stopped_and_one_waits_both_are_named():
    found = of_both(CALLED)
    assert (found.piece, found.piece_batches, found.piece_unreleased, found.piece_left) == ("choose", ("B-1",), ("8 × B-2",), "10")
    waits = of_both(CALLED, gone=True)
    assert (waits.piece, waits.piece_batches, waits.piece_left) == ("unreleased", ("B-1",), "8"), "who reads one takes the other for good"


def test_one_of_another_revision_has_another_label():
    assert of_both(GOOD, revision="B") == PieceFacts(piece="any")
    assert of_both(CALLED, revision="B").piece_unreleased == ()


def test_one_that_is_still_being_printed_comes_off_the_plate_before_the_next_copy():
    catalogue = depot(batches={"B-1": batch(2, events=[])})
    assert of_any(KNOB, "A", catalogue, date(2026, 1, 4), {"B-1": PRINTED}).piece_unreleased == ("2 × B-1",)


def is_about(count, events):
    """A second judge: pieces in a row, each where it is; which of them it is that a line speaks of, the kindest for whoever fits."""
    pieces = ["shelf"] * count
    for what in events:
        wanted = {"on": ("shelf",), "off": ("on",), "scrap": ("off", "shelf")}[what]
        at = next(pieces.index(each) for each in wanted if each in pieces)
        pieces[at] = {"on": "on", "off": "off", "scrap": "scrap"}[what]
    return any(each != "scrap" for each in pieces)


@pytest.mark.parametrize("seed", range(40))
def test_a_second_judge_finds_the_same_about(seed):
    dice, rows, events, told_of = Random(seed), [], [], []
    count, shelf, on, off = dice.randint(1, 4), 0, 0, 0
    shelf = count
    for day in range(1, dice.randint(2, 14)):
        can = ["on"] * bool(shelf) + ["off"] * bool(on) + ["scrap"] * (2 * bool(shelf or off))
        if not can:
            break
        what = dice.choice(can)
        told_of.append(what)
        shelf -= what == "on" or (what == "scrap" and not off)
        off += (what == "off") - (what == "scrap" and off > 0)
        on += (what == "on") - (what == "off")
        on_day = f"2026-02-{day:02}"
        if what == "scrap":
            events.append(scrapped(1, on_day))
        else:
            rows.append(row(on_day, "B-1") if what == "on" else row(on_day, off="B-1"))
    catalogue = depot(*rows, batches={"B-1": batch(count, events=events)})
    found = of_any(KNOB, "A", catalogue, DAY, {"B-1": PRINTED})
    assert (found.piece == "unreleased") == is_about(count, told_of), told_of


def test_one_that_was_printed_otherwise_is_stopped_wherever_it_is():
    other = replace(GOOD, piece_same="no")
    for rows in ([], [ON], [ON, OFF]):
        assert (told(other, rows).piece, told(other, rows).piece_batches) == ("choose", ("B-1",))
    assert told(other, [ON, OFF], scrapped(2)).piece == "any"


def test_more_than_can_be_of_one_that_only_asks_is_about_too():
    assert told(ASKED, [ON], scrapped(1)).piece == "choose"


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
    assert adds_up(balance)
    assert (balance.removed, balance.shelf) == (max(2 - scrap, 0), 3 - max(scrap - 2, 0))
    before = ledger(depot(ON, OFF, batches={"B-1": batch(5, events=[scrapped(scrap, "2026-01-08"), *RELEASED])}).production).balances["B-1"]
    assert (before.removed, before.shelf) == (2, 3 - scrap)
