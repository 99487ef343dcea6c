"""The outline of a scan is closed, and holds what the scan covers."""

from itertools import pairwise

import numpy as np
import pytest
from scipy.spatial import cKDTree

from generator.geometry.drawing import views as drawing
from generator.geometry.drawing.kinds import ViewName
from generator.geometry.drawing.shadow import away_from, shadow_rings
from generator.geometry.drawing.views import views_of
from generator.geometry.mesh import Mesh
from tests.geometry.solids import box, cylinder, sphere, torus


def area(ring) -> float:
    """By the shoelace formula, anticlockwise above 0."""
    return sum(x * to_y - y * to_x for (x, y), (to_x, to_y) in pairwise(ring)) / 2


def test_the_shadow_of_a_ring_is_its_outside_and_its_hole():
    """Of radii 38 and 22 seen from above, in shares of 76."""
    mesh = torus()
    outer, hole = sorted((area(each) for each in shadow_rings(mesh.vertices_mm[:, :2] / 76, mesh.faces)), reverse=True)
    assert outer == pytest.approx(np.pi / 4, rel=0.01)
    assert hole == pytest.approx(-np.pi * (22 / 76) ** 2, rel=0.015)


def test_a_large_face_leaves_no_pinhole():
    rings = shadow_rings(box(1.0, 0.6, 0.3).vertices_mm[:, :2] - 0.2, box(1.0, 0.6, 0.3).faces)
    assert [area(each) for each in rings] == pytest.approx([0.6], rel=0.01)


def test_what_runs_along_the_outline_is_left_out():
    turns = np.linspace(0, 2 * np.pi, 200)
    ring = np.column_stack([np.cos(turns), np.sin(turns)]) * 0.5
    ends_on_it = np.array([[0.0, 0.0], [0.5, 0.0]])
    (kept,) = away_from([ring], [ring * 1.001, ends_on_it], 0.03)
    assert kept[0] == pytest.approx((0, 0))
    assert 0.49 < kept[-1][0] < 0.5


def dense(points) -> np.ndarray:
    return np.concatenate([np.linspace(one, other, 20) for one, other in pairwise(points)])


def scanned() -> Mesh:
    ball = sphere(20, 72, 36)
    x, y, z = (ball.vertices_mm / 20).T
    swell = 1 + 0.15 * np.sin(5 * x + 2) * np.cos(4 * y) + 0.08 * np.sin(9 * z + 7 * x)
    swell *= 1 + np.random.default_rng(4).normal(0, 0.004, len(x))
    return Mesh(vertices_mm=ball.vertices_mm * swell[:, None], faces=ball.faces)


def test_the_outline_of_a_scan_closes_in_every_view():
    for name, view in views_of(scanned()).views.items():
        reach = [max(point[axis] for ring in view.outline for point in ring.points) for axis in (0, 1)]
        assert reach == pytest.approx(view.high, abs=0.1), name
        drawn = cKDTree(np.concatenate([dense(line.points) for line in view.visible]))
        assert drawn.query(np.concatenate([dense(ring.points) for ring in view.outline]))[0].max() < 0.15, name


def test_a_made_part_keeps_its_exact_outline(monkeypatch):
    monkeypatch.setattr(drawing, "shadow_rings", lambda *_: pytest.fail("sampled"))
    for mesh in (box(40, 25, 15), cylinder(8, 30), sphere(20)):
        assert views_of(mesh).views[ViewName.FRONT].outline
