"""Places in a picture: the numbers stand where the places are, and what lies behind has a broken ring."""

import numpy as np
import pytest

from generator.geometry.render.camera import View
from generator.geometry.render.marked import marked_picture, seen_in
from generator.geometry.render.picture import picture
from generator.geometry.render.surface import surface_of
from tests.geometry.solids import box, moved

SIZE = (320, 240)
BOX = moved(box(40, 30, 20), by=(500, -200, 70))  # far from the origin: places are in the part's own coordinates
TOP, BOTTOM = (520.0, -185.0, 90.0), (520.0, -185.0, 70.0)


def seen(spot, view):
    ((at, is_seen),) = seen_in(BOX, surface_of(BOX), [spot], view, SIZE)
    return at, is_seen


def test_a_place_is_seen_from_its_own_side():
    """The top is seen from the front, the underside from behind, where the part is turned over."""
    assert seen((TOP, 0.1), View.FRONT)[1]
    assert not seen((BOTTOM, 0.1), View.FRONT)[1]
    assert seen((BOTTOM, 0.1), View.BEHIND)[1]


def test_the_middle_of_a_part_falls_in_the_middle_of_its_picture():
    at, _ = seen(((520.0, -185.0, 80.0), 1.0), View.FRONT)
    assert at == pytest.approx((160, 120), abs=1)


def test_only_the_marks_differ_from_the_plain_picture():
    marked = marked_picture(BOX, [(TOP, 1.0), (TOP, 1.0)], size_px=SIZE)
    plain = picture(BOX, size_px=SIZE)
    changed = np.argwhere((marked != plain).any(axis=2))
    (x, y), _ = seen((TOP, 1.0), View.FRONT)
    assert len(changed)
    assert np.hypot(changed[:, 1] - x, changed[:, 0] - y).max() < 90
    assert marked.tobytes() == marked_picture(BOX, [(TOP, 1.0), (TOP, 1.0)], size_px=SIZE).tobytes()


def test_the_side_is_chosen_that_shows_the_places():
    marked = marked_picture(BOX, [(BOTTOM, 0.1)], size_px=SIZE)
    behind, front = (picture(BOX, view=view, size_px=SIZE) for view in (View.BEHIND, View.FRONT))
    assert (marked != behind).mean() < 0.1 < (marked != front).mean()


def test_three_places_are_refused():
    with pytest.raises(ValueError, match="at most 2"):
        marked_picture(BOX, [(TOP, 1.0)] * 3, size_px=SIZE)
