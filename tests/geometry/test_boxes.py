"""The smallest box: against known solids and a reference library."""

import numpy as np
import pytest
import trimesh
from scipy.spatial.transform import Rotation

from generator.geometry.boxes import MANY, oriented_box
from tests.geometry.solids import box, cylinder, torus

TURNS = [Rotation.from_euler("xyz", (0.3 * k, 1.1 * k, -0.7 * k)).as_matrix() for k in range(1, 6)]


@pytest.mark.parametrize("turn", TURNS)
def test_a_turned_box_keeps_its_size(turn):
    found = oriented_box(box(60, 9, 22).vertices_mm @ turn.T)
    assert found.size_mm == pytest.approx((60, 22, 9))
    assert found.axes @ found.axes.T == pytest.approx(np.eye(3), abs=1e-9)


@pytest.mark.parametrize("turn", TURNS)
def test_never_larger_than_the_reference(turn):
    # Reference: trimesh.bounds.oriented_bounds, smallest box with a side on a face of the hull.
    points = np.random.default_rng(5).normal(size=(300, 3)) * [5, 3, 1] @ turn.T
    reference = np.prod(trimesh.bounds.oriented_bounds(points)[1])
    assert np.prod(oriented_box(points).size_mm) <= reference * 1.001


@pytest.mark.parametrize("turn", TURNS[:2])
def test_many_points_are_thinned_out_without_loss(turn):
    points = torus(30, 8, 240, 120).vertices_mm
    assert len(points) > MANY
    # A torus of tube radius r about a ring of radius R: 2(R + r) wide, 2r high.
    assert oriented_box(points @ turn.T).size_mm == pytest.approx((76, 76, 16), rel=5e-4)


def test_a_smallest_box_may_lie_on_edges_only():
    # A regular tetrahedron with edge 2 sqrt 2 fits a cube of side 2 (its corners are the cube's);
    # no side of that cube lies on a face.
    corners = np.array([[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1.0]])
    assert np.prod(oriented_box(corners @ TURNS[0].T).size_mm) == pytest.approx(8, rel=0.1)


@pytest.mark.parametrize(
    ("points", "size"),
    [
        pytest.param([[1, 2, 3]], (0, 0, 0), id="one point"),
        pytest.param([[0, 0, 0], [3, 4, 0]], (5, 0, 0), id="two points"),
        pytest.param([[0, 0, 0], [1, 1, 1], [2, 2, 2]], (12**0.5, 0, 0), id="on a line"),
        pytest.param([[0, 0, 5], [8, 0, 5], [8, 6, 5], [0, 6, 5]], (8, 6, 0), id="flat"),
    ],
)
def test_flat_and_lonely_points(points, size):
    assert oriented_box(np.array(points, dtype=float)).size_mm == pytest.approx(size, abs=1e-9)


def test_same_points_same_bytes():
    points = cylinder().vertices_mm @ TURNS[0].T
    assert oriented_box(points).axes.tobytes() == oriented_box(points.copy()).axes.tobytes()


def test_no_points_is_an_error():
    with pytest.raises(ValueError, match="points"):
        oriented_box(np.zeros((0, 3)))
