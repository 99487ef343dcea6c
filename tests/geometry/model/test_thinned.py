"""Is a model with fewer faces still the part, within what it says of itself? Held against trimesh's own closest points."""

import numpy as np
import pytest

from generator.geometry.mesh import Mesh
from generator.geometry.model import deviation
from generator.geometry.model.deviation import apart_mm
from generator.geometry.model.made import allowed_mm, model_of
from generator.geometry.model.thinned import thinned
from generator.geometry.weld import welded
from tests.geometry.solids import box, sphere, torus


def strips(around=3_000) -> Mesh:
    """A ring of slivers, as fine exports cut a bore: 30 times longer than wide."""
    return torus(30.0, 4.0, around=around, across=8)


@pytest.fixture(scope="module")
def many() -> Mesh:
    return sphere(10, 192, 96)  # 37 k faces


@pytest.fixture(scope="module")
def few(many: Mesh) -> Mesh:
    return thinned(many, 12_000, 0.05)


def farthest(asked: Mesh, known: Mesh, many: int = 300) -> float:
    """From points drawn on one surface to the other, by another library."""
    import trimesh

    one, other = (trimesh.Trimesh(each.vertices_mm, each.faces, process=False) for each in (asked, known))
    points, _ = trimesh.sample.sample_surface(one, many, seed=5)
    return float(trimesh.proximity.closest_point_naive(other, points)[1].max())


def test_it_has_as_many_faces_as_asked_and_stays_closed(few: Mesh) -> None:
    import trimesh

    assert 11_000 < len(few.faces) <= 12_000
    solid = trimesh.Trimesh(few.vertices_mm, few.faces, process=False)
    assert solid.is_watertight
    assert solid.is_winding_consistent
    assert solid.volume == pytest.approx(4 / 3 * np.pi * 1000, rel=0.003)


def test_what_is_told_of_the_distance_is_no_less_than_another_library_finds(many: Mesh, few: Mesh) -> None:
    told = apart_mm(many, few)
    found = max(farthest(many, few), farthest(few, many))
    assert 0.5 * found <= found <= told + 1e-9
    assert told < 0.02, "a ball of 20 mm with 12,000 faces: the chord error is 0.006 mm"


def test_a_known_distance_is_told_exactly() -> None:
    # Boxes one within the other, faces 1 mm apart: corners are √3 mm apart (formula).
    inner, outer = box(10, 10, 10, at=(1, 1, 1)), box(12, 12, 12)
    assert apart_mm(inner, outer) == pytest.approx(3**0.5, abs=1e-9)
    assert apart_mm(inner, inner) == pytest.approx(0, abs=1e-9)


def test_flat_faces_go_first_and_nothing_moves() -> None:
    plain = box(40, 30, 20)
    fine = plain
    for _ in range(4):
        fine = quartered(fine)
    back = thinned(fine, 12, 0.01)
    assert len(back.faces) < 0.1 * len(fine.faces)
    assert apart_mm(fine, back) == pytest.approx(0, abs=1e-9)


def test_slivers_are_no_obstacle() -> None:
    fine = strips()
    few = thinned(fine, 8_000, 0.05)
    assert len(few.faces) <= 8_000
    assert apart_mm(fine, few) <= 2 * 0.05


def test_where_the_surface_would_move_too_far_more_faces_stay() -> None:
    rng = np.random.default_rng(3)
    ball = sphere(10, 192, 96)
    rough = welded(Mesh(vertices_mm=ball.vertices_mm + rng.normal(0, 0.05, ball.vertices_mm.shape), faces=ball.faces)).mesh
    model = model_of(rough)
    assert len(model.faces) > 20_000
    assert model.within_mm <= allowed_mm(rough)


def test_an_open_edge_stays_where_it_is() -> None:
    ball = sphere(10, 96, 64)
    half = welded(Mesh(vertices_mm=ball.vertices_mm, faces=ball.faces[ball.vertices_mm[ball.faces][:, :, 2].min(axis=1) > 2])).mesh
    few = thinned(half, len(half.faces) // 2, 0.05)
    assert len(few.faces) < 0.6 * len(half.faces)
    assert few.vertices_mm[:, 2].min() == half.vertices_mm[:, 2].min()
    assert apart_mm(half, few) < 0.06


def quartered(mesh: Mesh) -> Mesh:
    """Each face as four in its own plane."""
    a, b, c = mesh.vertices_mm[mesh.faces].transpose(1, 0, 2)
    ab, bc, ca = (a + b) / 2, (b + c) / 2, (c + a) / 2
    soup = np.stack([a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca], axis=1).reshape(-1, 3)
    return welded(Mesh(vertices_mm=soup, faces=np.arange(len(soup)).reshape(-1, 3))).mesh


def test_a_distance_that_is_too_much_work_is_told_too_large_rather_than_too_small(monkeypatch: pytest.MonkeyPatch) -> None:
    inner, outer = sphere(10, 24, 12), sphere(12, 24, 12)
    exact = apart_mm(inner, outer)
    monkeypatch.setattr(deviation, "MOST_ASKED", 0)
    assert exact <= apart_mm(inner, outer) < 1.2 * exact
