"""Gaps between bodies against what they were built with; ± 0.05 mm is what walls are measured to."""

import numpy as np
import pytest

from generator.geometry.gaps import measured_gap
from tests.geometry.solids import box, cylinder, moved, refined, revolved, soup, together, turned_inside_out

TURN = np.array([[0.36, 0.48, -0.8], [-0.8, 0.6, 0.0], [0.48, 0.64, 0.6]])


def plates(gap, width=30.0):
    return together(box(30, width, 3), moved(box(30, width, 3), by=(0, 0, 3 + gap)))


@pytest.mark.parametrize("gap", [0.05, 0.2, 0.35, 0.5, 2.0, 25.0])
@pytest.mark.parametrize("as_file", [lambda mesh: mesh, soup, lambda mesh: moved(mesh, TURN, (300.0, -200.0, 90.0))])
def test_two_plates_with_a_known_gap(gap, as_file):
    found = measured_gap(as_file(plates(gap)))
    assert found.width_mm == pytest.approx(gap, abs=0.001)


def test_its_place_is_between_the_two():
    x, y, z = measured_gap(plates(0.4)).at
    assert (0 < x < 30, 0 < y < 30) == (True, True)
    assert z == pytest.approx(3.2, abs=0.001)


def test_a_pin_in_its_hole():
    """A pin of 8 mm in a ring of 8.6: 0.3 mm on each side, less what the facets take (chords of 96 sides: 0.002 mm)."""
    ring = revolved([(4.3, 0), (8, 0), (8, 10), (4.3, 10)], 96)
    pin = moved(cylinder(4, 14, 96), by=(0, 0, -2))
    assert measured_gap(together(ring, pin)).width_mm == pytest.approx(0.3, abs=0.01)


def test_what_is_narrow_only_here_is_told_of_the_narrow():
    """A stair of two steps above a plate: 0.3 mm over a tenth of it, 5 mm elsewhere."""
    step = together(moved(box(27, 30, 3), by=(0, 0, 8)), moved(box(3, 30, 7.7), by=(40, 0, 3.3)))
    below = box(45, 30, 3)
    assert measured_gap(together(below, step)).width_mm == pytest.approx(0.3, abs=0.001)


def test_one_body_has_none_whatever_slots_it_has():
    assert measured_gap(box(10, 10, 10)) is None
    u = together(box(10, 10, 2))
    assert measured_gap(refined(u, 2)) is None


def test_bodies_that_touch_or_look_away_have_none():
    assert measured_gap(together(box(10, 10, 10), moved(box(10, 10, 10), by=(30, 30, 30)))) is None
    assert measured_gap(plates(0.0)) is None


def test_a_ball_loose_in_its_void_has_its_play():
    hollow = together(box(40, 40, 40), turned_inside_out(moved(box(20, 20, 20), by=(10, 10, 10))), moved(box(19, 19, 19), by=(10.5, 10.5, 10.5)))
    assert measured_gap(hollow).width_mm == pytest.approx(0.5, abs=0.001)
    assert measured_gap(together(box(40, 40, 40), turned_inside_out(moved(box(20, 20, 20), by=(10, 10, 10))))) is None


def test_beyond_its_work_nothing_is_told():
    assert measured_gap(plates(0.4), most_work=10) is None
