"""Which positions are one, mistyped, and which are two? From the side of who types in gloves."""

from dataclasses import replace

import pytest

from generator.rules.production.near_positions import is_near, near_positions
from tests.fixtures.production import batch, depot, row
from tests.fixtures.tiny import CLIP


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("window 2", "window2"), ("window 2", "window-2"), ("windwo 2", "window 2"), ("windo 2", "window 2"), ("windoww 2", "window 2"), ("winbow 2", "window 2"),
        ("left, third window", "left third window"), ("left, thrid window", "left, third window"), ("fenster 12", "fesnter 12"), ("owindw", "window"),
    ],
)  # fmt: skip
def test_a_slip_is_near(one, other):
    if one == "owindw":
        assert not is_near(one, other)  # two slips
        return
    assert is_near(one, other)
    assert is_near(other, one)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("window 2", "window 3"), ("window 2", "window 12"), ("window 2", "window"), ("left", "right"), ("east", "west"), ("seat a", "seat b"), ("window 2a", "window 2b"),
        ("left window", "right window"), ("front left window", "left window"), ("upper", "lower"), ("window 2", "window 2"), ("", "window"), ("thrid windwo", "third window"),
    ],
)  # fmt: skip
def test_two_places_are_not(one, other):
    assert not is_near(one, other)
    assert not is_near(other, one)


STANDS = [row("2026-02-01", "B-1", position="Window 2"), row("2026-02-01", "B-1", position="window 3", vehicle="12"), row("2026-02-01", "B-2", position="cover 2")]


@pytest.mark.parametrize(
    ("new", "near"),
    [
        (row("2026-03-01", "B-1", position="windwo 2"), "Window 2"),
        (row("2026-03-01", "B-1", position="windwo 2", vehicle="14"), "Window 2"),  # of another vehicle of the fleet
        (row("2026-03-01", off="B-1", position="windwo 3", vehicle="12"), "window 3"),
        (row("2026-03-01", "B-1", position="window  2"), None),
        (row("2026-03-01", "B-1", position="window 3"), None),  # known in the fleet
        (row("2026-03-01", "B-1", position="window 4"), None),
        (row("2026-03-01", "B-1"), None),
        (row("2026-03-01", "B-1", position="windwo 2", place="door"), None),
        (row("2026-03-01", "B-1", position="cvoer 2"), None),  # another part's
        (row("2026-03-01", "B-2", position="cvoer 2"), "cover 2"),
    ],
)
def test_a_new_position_is_asked_about_where_a_known_one_is_near(new, near):
    production = depot(*STANDS, batches={"B-1": batch(), "B-2": batch(part=CLIP)}).production
    told = list(near_positions([replace(new, file="week.csv", line=7)], production))
    assert [dict(each.facts)["near"] for each in told] == ([near] if near else [])
    assert all((each.where.file, each.where.line) == ("week.csv", 7) for each in told)
