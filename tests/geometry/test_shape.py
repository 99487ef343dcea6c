"""A mesh saved anew keeps the name of its shape; another mesh has another."""

import numpy as np
import pytest

from generator.geometry.mesh import Mesh
from generator.geometry.shape import shape_sha256

CORNERS = np.array([[0, 0, 0], [30, 0, 0], [30, 20, 0], [0, 20, 0], [0, 0, 9]], dtype=float)
FACES = np.array([[0, 2, 1], [0, 3, 2], [0, 1, 4], [1, 2, 4], [2, 3, 4], [3, 0, 4]])
WEDGE = Mesh(vertices_mm=CORNERS, faces=FACES)


def same(vertices=CORNERS, faces=FACES):
    return shape_sha256(Mesh(vertices_mm=vertices, faces=faces)) == shape_sha256(WEDGE)


def test_the_order_of_faces_corners_and_vertices_does_not_matter():
    order = np.random.default_rng(3).permutation(len(CORNERS))
    assert same(faces=FACES[::-1])
    assert same(faces=np.roll(FACES, 1, axis=1))
    assert same(vertices=CORNERS[order], faces=np.argsort(order)[FACES])


def test_the_place_and_the_rounding_of_a_text_file_do_not_matter():
    assert same(vertices=CORNERS + np.array([100, -7, 3]))
    assert same(vertices=CORNERS + 0.0003)
    assert same(vertices=CORNERS.astype(np.float32).astype(float))


@pytest.mark.parametrize(
    "other",
    [CORNERS * [-1, 1, 1], CORNERS * 1.001, np.vstack([CORNERS[:4], CORNERS[4] + 0.01]), CORNERS[:, [1, 0, 2]]],
    ids=["mirrored", "scaled", "one corner moved", "turned over"],
)
def test_another_shape_has_another_name(other):
    assert not same(vertices=other)


def test_the_winding_tells_inside_from_outside():
    assert not same(faces=FACES[:, ::-1])
