"""Points that lie close to each other, and what becomes of them where they crowd."""

import numpy as np
import pytest
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from generator.geometry import close
from generator.geometry.close import close_pairs, is_crowded
from generator.geometry.equal import first_equal
from generator.geometry.facts import DefectKind
from generator.geometry.measure import mesh_facts
from generator.geometry.mesh import Mesh


def groups(count, pairs):
    links = coo_matrix((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(count, count))
    return connected_components(links, directed=False)[1].tolist()


@pytest.mark.parametrize("columns", [1, 2, 3])
def test_what_hangs_together_is_what_all_pairs_say(columns):
    points = np.random.default_rng(1).integers(0, 9, (300, columns)) * 1.0
    points[::3] += 0.01
    every = cKDTree(points).query_pairs(0.02, output_type="ndarray")
    pairs = close_pairs(points, 0.02)
    assert groups(300, pairs) == groups(300, every)
    assert len(pairs) < len(every)


@pytest.mark.parametrize("columns", [1, 2, 3])
def test_equal_rows_are_named_by_the_first(columns):
    rows = np.random.default_rng(1).integers(-2, 3, (200, columns)) * 0.1
    rows[5] *= -0.0
    assert first_equal(rows).tolist() == [rows.tolist().index(row) for row in rows.tolist()]
    assert first_equal(rows[:0]).tolist() == []


def test_of_a_fan_s_common_point_there_is_a_pair_a_line_and_not_a_square_of_them():
    assert len(close_pairs(np.zeros((5_000, 2)), 1e-5)) == 4_999


def test_where_points_crowd_each_cell_is_one(monkeypatch):
    points = np.array([[0.1, 0.1], [0.9, 0.9], [1.1, 0.9], [5.0, 5.0]])
    assert groups(4, close_pairs(points, 0.5)) == [0, 1, 1, 2]
    monkeypatch.setattr(close, "MOST_CROWDED", 3)
    assert groups(4, close_pairs(points, 0.5)) == [0, 1, 1, 2]
    assert groups(4, close_pairs(points, 1.0)) == [0, 0, 1, 2]
    assert is_crowded(points, 1.0)
    assert not is_crowded(points[:0], 1.0)


def test_corners_that_crowd_within_the_rounding_of_a_far_corner_are_not_merged(monkeypatch):
    small = np.random.default_rng(1).uniform(0, 0.3, (20, 3, 3))
    corners = np.concatenate([small, [[[0, 0, 0], [1e6, 0, 0], [0, 1e6, 0]]]]).reshape(-1, 3)
    mesh = Mesh(vertices_mm=corners, faces=np.arange(len(corners)).reshape(-1, 3))
    monkeypatch.setattr(close, "MOST_CROWDED", 1_000)
    found = mesh_facts(mesh)
    assert (found.faces, found.volume_mm3) == (21, None)
    assert {each.kind: each.count for each in found.defects}[DefectKind.OPEN_EDGES] == 63
