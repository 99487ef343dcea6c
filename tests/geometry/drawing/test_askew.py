"""A part that was modelled askew is drawn square: sizes are those of the shape before it was turned."""

import numpy as np
import pytest

from generator.geometry.drawing.kinds import AS_MODELLED, ViewName, Views
from generator.geometry.drawing.views import views_of
from generator.geometry.mesh import Mesh
from tests.geometry.solids import box, capped, cylinder, moved, prism, sphere, together


def turn(axis: str, degrees: float) -> np.ndarray:
    """By the right hand, about x, y or z."""
    c, s, i = np.cos(np.radians(degrees)), np.sin(np.radians(degrees)), "xyz".index(axis)
    matrix = np.eye(3)
    j, k = (i + 1) % 3, (i + 2) % 3
    matrix[j, j], matrix[j, k], matrix[k, j], matrix[k, k] = c, -s, s, c
    return matrix


def sizes(views: Views) -> list[float]:
    front, top = views.views[ViewName.FRONT], views.views[ViewName.TOP]
    return sorted(round(high - low, 2) for view, axis in ((front, 0), (top, 1), (front, 1)) for low, high in [(view.low[axis], view.high[axis])])


def hexagon(across: float, height: float) -> Mesh:
    corners = np.radians(np.arange(6) * 60 + 30)
    return prism(np.column_stack([np.cos(corners), np.sin(corners)]) * across / np.sqrt(3), height)


TURNED = {
    "about z": turn("z", 20),
    "about x": turn("x", -35),
    "twice": turn("z", 20) @ turn("x", 25),
}


@pytest.mark.parametrize("by", TURNED.values(), ids=TURNED)
def test_a_box_is_as_large_as_before_it_was_turned(by):
    views = views_of(moved(box(40, 25, 15), by))
    assert sizes(views) == pytest.approx([15, 25, 40], abs=0.02)
    assert np.allclose(np.array(views.axes) @ np.array(views.axes).T, np.eye(3), atol=1e-9)
    assert np.linalg.det(np.array(views.axes)) == pytest.approx(1)


def test_a_hexagon_lies_on_its_flats():
    """Across the flats 30, across the corners 30 * 2 / sqrt(3)."""
    assert sizes(views_of(moved(hexagon(30, 12), turn("z", 15)))) == pytest.approx([12, 30, 34.64], abs=0.02)


def test_a_tilted_disc_stands_square():
    disc = capped([(0, 0), (30, 0), (30, 4), (22, 4), (22, 16), (0, 16)], 72)
    assert sizes(views_of(moved(disc, turn("x", 28) @ turn("y", 10)))) == pytest.approx([16, 60, 60], abs=0.15)


def test_a_feature_goes_along():
    views = views_of(moved(box(40, 25, 15), turn("z", 20)))
    assert np.abs(views.turned(tuple(turn("z", 20) @ np.array([1.0, 0.0, 0.0])))) == pytest.approx([1, 0, 0], abs=1e-3)


@pytest.mark.parametrize(
    "mesh",
    [
        box(40, 25, 15),
        cylinder(8, 30),
        sphere(20),
        hexagon(30, 12),
        together(box(40, 25, 15), moved(box(10, 8, 6), turn("z", 30), by=(5.0, 5.0, 20.0))),  # a lug across the corner of a plate
    ],
)
def test_what_stands_square_stays_as_modelled(mesh):
    assert views_of(mesh).axes == AS_MODELLED


def test_axes_are_kept():
    views = views_of(moved(box(40, 25, 15), turn("z", 20)))
    assert Views.from_json(views.to_json()) == views
