"""A polygon is cut into triangles that cover exactly what it covers."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from generator.reading.meshes import obj, polygons
from generator.reading.meshes.outside import leads_outside
from generator.reading.meshes.polygons import Cutter
from tests.fixtures.told import refused
from tests.reading.meshes import files

SQUARE = [(0, 0), (2, 0), (2, 2), (0, 2)]
ARROW = [(0, 0), (4, 2), (0, 4), (1, 2)]  # a fan from its first corner would leave it
COMB = [(0, 0), (7, 0), (7, 5), (6, 5), (6, 1), (4, 1), (4, 5), (3, 5), (3, 1), (1, 1), (1, 5), (0, 5)]
STRAIGHT = [(0, 0), (1, 0), (2, 0), (2, 2), (0, 2)]


def cut_into_triangles(points):
    return Cutter(points).all_cut(np.arange(len(points)), np.array([len(points)])).tolist()


def shoelace(points):
    """Gauss's area formula, signed."""
    x, y = np.array(points, float).T
    return float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2)


@pytest.mark.parametrize("points", [SQUARE, ARROW, COMB, STRAIGHT, SQUARE[:3]])
@pytest.mark.parametrize("first", [0, 1, 3])
@given(seed=st.integers(0, 10**6))
def test_the_triangles_cover_the_polygon_once_however_it_lies(points, first, seed):
    points = points[first:] + points[:first]
    turn = Rotation.random(rng=seed).as_matrix()
    placed = np.column_stack([points, np.zeros(len(points))]) @ turn.T + 5
    triples = cut_into_triangles(placed)
    assert len(triples) == len(points) - 2
    areas = [np.cross(placed[b] - placed[a], placed[c] - placed[a]) @ turn[:, 2] / 2 for a, b, c in triples]
    assert sum(areas) == pytest.approx(shoelace(points))
    assert min(areas) > -1e-9  # none turned over, as a fan's would be


def test_a_polygon_that_crosses_itself_still_gives_triangles():
    points = np.array([(0, 0, 0), (2, 2, 0), (2, 0, 0), (0, 2, 0)], float)
    assert len(cut_into_triangles(points)) == 2


@pytest.mark.parametrize(
    ("name", "outside"),
    [
        ("colours.mtl", False), ("maps/wood.png", False), ("my colours.mtl", False), ("a..b.png", False),
        ("../x.mtl", True), ("maps/../../x", True), ("..\\x", True), ("/etc/x", True), ("C:\\x", True), ("c:x", True),
        ("\\\\server\\x", True), ("https://example.org/x", True), ("file:x", True), ("~/x", True), ("%2e%2e/x", True),
    ],
)  # fmt: skip
def test_a_name_that_leads_out_is_seen_on_every_system(name, outside):
    assert leads_outside(name) is outside


def test_a_face_too_tangled_to_be_cut_is_refused(monkeypatch):
    """The work is counted over all faces of a file; what is left of it does not suffice for the second star."""
    turn = np.arange(40) * np.pi / 20
    reach = 1 + 0.5 * (np.arange(40) % 2)
    star = np.column_stack([reach * np.cos(turn), reach * np.sin(turn), 0 * turn])
    content = files.obj(star, [range(40), range(40)])
    assert len(obj.obj(content).faces) == 76
    monkeypatch.setattr(polygons, "MOST_TRIES", 40 * 60)
    with refused("a face with 40 corners is too tangled to be cut into triangles"):
        obj.obj(content)
