"""Where a piece that is looked for may be though no line names its batch: too few places and one stays on a vehicle, too many and nobody looks."""

import pytest

from generator.records.fitted import Why
from generator.rules.production.suspects import suspects_of
from tests.fixtures.production import batch, depot, row
from tests.fixtures.tiny import KNOB

LEVER = "EX-0002"
BATCHES = {"B-1": batch(), "B-2": batch(), "B-3": batch(part=LEVER)}


def came_off(sits, off, *more, looked_for=("B-1",)):
    found = suspects_of(depot(sits, off, *more, batches=BATCHES), looked_for).came_off
    assert all((each.batch, each.spot.vehicle) == ("", off.vehicle) for each in found)
    return bool(found)


@pytest.mark.parametrize(
    ("here", "gone", "is_one"),
    [("left", "left", True), ("left", " LEFT ", True), ("left", "right", False), ("left", "", True), ("", "right", True), ("", "", True)],
)
def test_a_piece_without_a_batch_that_came_off_may_be_the_one_that_sits_at_its_position(here, gone, is_one):
    assert came_off(row("2026-02-01", "B-1", position=here), row("2026-03-01", removed=1, position=gone)) == is_one


@pytest.mark.parametrize(("day", "is_one"), [("2026-02-02", True), ("2026-02-01", False), ("2026-01-31", False)])
def test_it_went_on_before_it_came_off(day, is_one):
    assert came_off(row("2026-02-01", "B-1"), row(day, removed=1)) == is_one


def test_it_is_of_the_place_where_the_batch_sits():
    on, off = row("2026-02-01", "B-1"), "2026-03-01"
    assert came_off(on, row(off, removed=1))
    assert not came_off(on, row(off, removed=1, vehicle="12"))
    assert not came_off(on, row(off, removed=1, place="door"))
    assert not came_off(row("2026-02-01", "B-1", 2), row(off, off="B-1", removed=1))  # that one is known
    assert not came_off(on, row(off, removed=1), looked_for=("B-2",))


@pytest.mark.parametrize(("instead", "is_one"), [("", True), ("B-2", True), ("B-3", False), ("B-77", True)])
def test_what_went_on_instead_was_of_its_kind_as_far_as_anybody_knows(instead, is_one):
    assert came_off(row("2026-02-01", "B-1"), row("2026-03-01", instead, removed=1)) == is_one


def test_of_a_batch_without_a_record_nobody_knows_the_kind():
    on = row("2026-02-01", "B-78", as_found=True)
    assert came_off(on, row("2026-03-01", "B-3", removed=1), looked_for=("B-78",))


def sitting(*rows, **more):
    return [each.spot.vehicle for each in suspects_of(depot(*rows, batches=BATCHES), ["B-1"], **more).sitting]


def test_an_unknown_piece_is_looked_at_where_the_part_fits_and_where_nobody_says_what_fits():
    there, roof = row("2026-02-01", "B-77", as_found=True), row("2026-02-01", "B-77", vehicle="12", place="roof", as_found=True)
    assert sitting(there, roof, row("2026-02-01", "B-2", vehicle="13")) == ["11", "12"]
    assert [each.batch for each in suspects_of(depot(there, batches=BATCHES), ["B-3"]).sitting] == []  # no lever fits in the cab
    assert [each.batch for each in suspects_of(depot(there, batches=BATCHES), ["B-3"], part=KNOB).sitting] == ["B-77"]
    assert [each.batch for each in suspects_of(depot(there, batches=BATCHES), ["B-3"], of_any_part=True).sitting] == ["B-77"]


@pytest.mark.parametrize(
    ("looked_for", "instead", "why", "more", "is_one"),
    [
        ("B-1", "", Why.WORN, {}, True), ("B-1", "B-2", Why.WORN, {}, True), ("B-1", "B-3", Why.WORN, {}, False), ("B-1", "B-3", Why.WRONG, {}, True),
        ("B-1", "B-79", Why.WORN, {}, True), ("B-1", "B-3", Why.WORN, {"of_any_part": True}, True), ("B-3", "", Why.WORN, {}, False),
        ("B-3", "", Why.WRONG, {}, True), ("B-77", "", Why.WRONG, {}, False),
    ],
)  # fmt: skip
def test_an_unknown_piece_that_came_off_lies_somewhere_and_may_be_one(looked_for, instead, why, more, is_one):
    off = row("2026-03-01", instead, off="B-77", why=why, as_found=True)
    known = row("2026-02-01", "B-2", vehicle="14"), row("2026-03-01", off="B-2", vehicle="14", why=why)
    found = suspects_of(depot(off, row("2026-03-02", removed=1), *known, batches=BATCHES), [looked_for], **more).lying
    assert [each.batch for each in found] == (["B-77"] if is_one else [])


def test_without_anything_that_is_looked_for_there_is_nothing_to_look_at():
    there = depot(row("2026-02-01", "B-77", as_found=True), batches=BATCHES)
    assert suspects_of(there, []).is_empty
    assert suspects_of(depot(row("2026-02-01", "B-77", place="roof", as_found=True), batches=BATCHES), []).is_empty
    assert suspects_of(there, ["B-77"]).is_empty  # that one is known
    assert suspects_of(there, [], part=KNOB).count == suspects_of(there, [], of_any_part=True).count == 1
