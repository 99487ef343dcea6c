"""Arcs, joined lines, and what is kept of views."""

import json

import numpy as np
import pytest

from generator.geometry.drawing import hidden, views
from generator.geometry.drawing.arcs import fitted, whole
from generator.geometry.drawing.chains import chained
from generator.geometry.drawing.joined import beside, joined
from generator.geometry.drawing.kinds import ViewName, Views
from generator.geometry.drawing.pairs import Grids
from generator.geometry.drawing.views import views_of
from generator.geometry.mesh import Mesh
from tests.geometry.solids import box, cylinder, sphere


def ring(count: int, turn: float = 360.0, radius: float = 0.2) -> np.ndarray:
    angle = np.radians(np.linspace(0, turn, count + 1))
    points = radius * np.column_stack([np.cos(angle), np.sin(angle)])
    if turn == 360:
        points[-1] = points[0]
    return points


@pytest.mark.parametrize("count", [12, 24, 72])
def test_a_faceted_circle_is_one_circle(count):
    ((points, circle),) = fitted(ring(count))
    assert len(points) == count + 1
    assert circle == pytest.approx((0, 0, 0.2), abs=1e-9)


@pytest.mark.parametrize("count", [4, 6, 8])
def test_a_square_a_hexagon_and_an_octagon_are_none(count):
    assert [circle for _, circle in fitted(ring(count))] == [None]


def test_an_arc_between_straight_lines_is_found():
    arc = ring(9, 90)
    line = np.vstack([[0.2, -0.4], arc, [-0.4, 0.2]])
    found = fitted(line)
    assert [circle is not None for _, circle in found] == [False, True, False]
    assert found[1][1] == pytest.approx((0, 0, 0.2), abs=1e-9)


def test_corners_of_a_circle_with_a_long_straight_between_them_are_none():
    """So the teeth of a gear look from the side: a chamfer, a long straight, a chamfer, all six corners on one circle."""
    y = np.array([0.2, 0.19, 0.178, -0.178, -0.19, -0.2])
    line = np.column_stack([-np.sqrt(0.3**2 - y**2), y])
    assert [circle for _, circle in fitted(line)] == [None]


def test_a_free_curve_stays_in_one_piece():
    x = np.linspace(0, 0.9, 60)
    line = np.column_stack([x, 0.1 * np.sin(9 * x) + 0.05 * np.sin(31 * x)])
    assert len(fitted(line)) == 1
    assert whole(line)[1] is None


def test_pieces_of_one_straight_line_are_one_and_twice_is_once():
    pieces = np.array([[0, 0, 0.2, 0.1], [0.4, 0.2, 0.2, 0.1], [0.1, 0.05, 0.3, 0.15], [0, 0, 0.2, 0.1], [0.6, 0.3, 0.8, 0.4]])
    assert sorted(joined(pieces).round(9).tolist()) == [[0, 0, 0.4, 0.2], [0.6, 0.3, 0.8, 0.4]]


def test_what_is_hidden_under_a_full_line_is_left_out():
    left = beside(np.array([[0.0, 0.1, 1.0, 0.1]]), np.array([[0.2, 0.1, 0.6, 0.1], [0.0, 0.2, 1.0, 0.2]]))
    assert sorted(left.round(4).tolist()) == [[0, 0.1, 0.2, 0.1], [0.6, 0.1, 1.0, 0.1]]


def test_a_crumb_is_left_out_and_a_small_hole_is_not():
    frame = [[-0.5, -0.5, 0.5, -0.5], [0.5, -0.5, 0.5, 0.5], [0.5, 0.5, -0.5, 0.5], [-0.5, 0.5, -0.5, -0.5]]
    crumb = [[0.1, 0.1, 0.104, 0.101]]
    hole = ring(12, radius=0.003)
    pieces = np.array([*frame, *crumb, *np.hstack([hole[:-1], hole[1:]]).tolist()])
    assert sorted(len(line) for line in chained(pieces)) == [5, 13]


def test_a_cylinder_is_a_circle_from_above_and_a_box_of_lines_from_the_front():
    found = views_of(cylinder(8, 30)).views
    top = found[ViewName.TOP].visible
    assert [(line.is_closed, round(line.circle.radius_mm, 3)) for line in top if line.circle] == [(True, 8.0)]
    assert not any(line.circle for line in found[ViewName.FRONT].visible)


def test_views_are_read_back_as_they_were_kept():
    found = views_of(cylinder(8, 30))
    assert Views.from_json(json.loads(json.dumps(found.to_json()))) == found


def test_where_the_work_is_too_much_lines_are_left_out_and_none_is_false(monkeypatch):
    whole_views = views_of(sphere(10, 96, 48))
    monkeypatch.setattr(hidden, "MOST_PAIRS", 500)
    monkeypatch.setattr(hidden, "BATCH", 20)
    part = views_of(sphere(10, 96, 48))
    assert whole_views.is_whole
    assert not part.is_whole
    for view in part.views.values():
        for line in view.visible:
            assert np.hypot(*np.array(line.points).T).min() > 9.9  # only the outline, of which some is missing


@pytest.mark.parametrize(("bound", "most"), [("MOST_PAIRS", 10), ("MOST_MET", 10)])
def test_what_is_left_out_for_a_bound_is_told(monkeypatch, bound, most):
    mesh = sphere(10, 96, 48)
    monkeypatch.setattr(hidden, "BATCH", 20)
    monkeypatch.setattr(hidden, bound, most)
    assert not views_of(mesh).is_whole


def test_a_batch_is_no_larger_than_may_be_looked_at_at_once(monkeypatch):
    """The first edges foretell nothing of a fan; the lines are the same however they are asked."""
    mesh, sizes = cylinder(10, 20, 200), []
    before, real = views_of(mesh), Grids.over
    monkeypatch.setattr(hidden, "MOST_AT_ONCE", 300)
    monkeypatch.setattr(hidden, "_covered_ones", lambda *a, ones=hidden._covered_ones: (sizes.append(len(a[2])), ones(*a))[1])
    assert views_of(mesh) == before
    assert real is Grids.over
    assert 1 <= min(sizes) < max(sizes) < 200


def test_a_line_that_is_made_to_be_cut_corner_by_corner_keeps_its_corners(monkeypatch):
    x = 0.5 ** np.arange(30)
    line = np.column_stack([x, x**2 * 0.2])
    by_many = fitted(line)
    monkeypatch.setattr("generator.geometry.drawing.arcs.MOST_CUTS", 2)
    by_few = fitted(line)
    kept = [{tuple(point) for points, _ in found for point in points.tolist()} for found in (by_many, by_few)]
    assert kept[0] < kept[1]


def test_where_too_much_lies_near_a_loose_end_counts_as_loose(monkeypatch):
    """A short line between two long ones; where nobody looks on what it ends it is a crumb."""
    stretches = np.array([[0, 0, 0.5, 0], [0, 0.0125, 0.5, 0.0125], [0.2, 1e-3, 0.2, 0.0115]])
    assert len(chained(stretches)) == 3
    monkeypatch.setattr("generator.geometry.drawing.chains.MOST_NEAR", 0)
    assert len(chained(stretches)) == 2


def test_a_box_of_metres_keeps_its_small_edges():
    found = views_of(box(2.0, 1.0, 0.5)).views[ViewName.FRONT]
    assert found.high == (2.0, 0.5)
    assert len(found.visible) == 1


def test_of_shells_in_shells_no_batch_of_edges_is_more_work_than_all_may_be(monkeypatch):
    looked: list[int] = []

    class Watched(Grids):
        def over(self, start, end):
            yield from super().over(start, end)
            looked.append(self.looked)

    monkeypatch.setattr(hidden, "Grids", Watched)
    monkeypatch.setattr(hidden, "MOST_PAIRS", 50_000)
    monkeypatch.setattr(hidden, "FIRST_PAIRS", 20_000)
    monkeypatch.setattr(hidden, "BATCH_PAIRS", 10_000)
    corners = np.array([[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]])[[[0, 1, 2], [0, 3, 1], [0, 2, 3], [1, 3, 2]]]
    soup = (corners[None] * np.linspace(5, 100, 500)[:, None, None, None]).reshape(-1, 3)
    found = views_of(Mesh(vertices_mm=soup, faces=np.arange(len(soup)).reshape(-1, 3)))
    assert not found.is_whole
    assert 50_000 < max(looked) < 100_000


def test_of_too_many_lines_the_longest_are_drawn(monkeypatch):
    monkeypatch.setattr(views, "MOST_STRETCHES", 2)
    found = views_of(box(30, 20, 10))
    assert not found.is_whole
    front = found.views[ViewName.FRONT].visible
    assert {float(np.hypot(*np.subtract(line.points[1], line.points[0]))) for line in front} == {30.0}


def test_of_very_many_faces_the_usual_views_are_the_same_and_no_opposite_one_is_drawn(monkeypatch):
    every = views_of(cylinder(8, 30)).views
    monkeypatch.setattr(views, "MOST_ALL_ROUND", 10)
    usual = views_of(cylinder(8, 30)).views
    assert {name for name, view in usual.items() if not view.visible} == set(views.OPPOSITE)
    assert all(view == every[name] for name, view in usual.items() if name not in views.OPPOSITE)
