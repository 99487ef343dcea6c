"""Is the model for the tablet small, the same each time, and the part: also of an open, a many-bodied, a worthless mesh?"""

import base64

import numpy as np
import pytest

from generator.geometry.mesh import Mesh
from generator.geometry.model import made
from generator.geometry.model.clustered import clustered
from generator.geometry.model.deviation import apart_mm
from generator.geometry.model.kinds import Model
from generator.geometry.model.made import model_of
from generator.geometry.model.packed import packed, unpacked
from generator.geometry.weld import welded
from tests.benchmarks.bench_pictures import grip
from tests.geometry.features.unseen.judging import case
from tests.geometry.solids import box, refined, sphere, torus


def joined(*meshes: Mesh) -> Mesh:
    starts = np.cumsum([0, *(len(each.vertices_mm) for each in meshes)])
    faces = [each.faces + start for each, start in zip(meshes, starts, strict=False)]
    return Mesh(vertices_mm=np.concatenate([each.vertices_mm for each in meshes]), faces=np.concatenate(faces))


def triangles(model: Model) -> list[tuple[float, ...]]:
    """Each face by its corners and which of its edges are lines, from its smallest corner on: no order of faces counts."""
    rows = np.concatenate([model.points_mm[model.faces].round(9), model.lines[:, :, None]], axis=2)
    turned = [min(np.roll(row, -turn, axis=0).tolist() for turn in range(3)) for row in rows]
    return sorted(tuple(np.ravel(row)) for row in turned)


@pytest.mark.parametrize("mesh", [box(80, 50, 10), torus(), sphere(9, 24, 12), joined(box(), box(at=(9, 0, 0)))])
def test_what_is_packed_is_unpacked(mesh: Mesh) -> None:
    model = model_of(mesh)
    back = unpacked(packed(model))
    assert triangles(back) == triangles(model)
    assert sorted(map(tuple, back.corners)) == sorted(map(tuple, model.corners))
    for name in ("low_mm", "step_mm", "is_closed", "within_mm", "made_of"):
        given, told = getattr(back, name), getattr(model, name)
        assert (tuple(given) if name == "low_mm" else given) == told
    assert packed(model_of(mesh)) == packed(model)


def test_a_box_has_its_corners_and_edges_where_they_are() -> None:
    model = model_of(box(80, 50, 10, at=(-3, 7, 100)))
    expected = [(x, y, z) for x in (-3, 77) for y in (7, 57) for z in (100, 110)]
    assert np.allclose(sorted(map(tuple, model.corners_mm)), expected, atol=model.step_mm)
    assert model.lines.sum() == 24, "each of twelve edges on both its faces; no diagonal"
    assert model.is_closed
    assert model.within_mm <= 80 / 65_535


def test_rounded_shapes_have_no_corners() -> None:
    assert len(model_of(torus()).corners) == 0
    assert not model_of(sphere(10, 48, 24)).lines.any()


def test_noise_of_a_scan_makes_no_lines() -> None:
    with_crumb = joined(box(90, 60, 10), box(0.1, 0.1, 0.1, at=(0, 0, 12)))
    model = model_of(with_crumb)
    assert model.lines.sum() == 24
    assert len(model.corners) == 8


def test_open_and_inside_out_meshes() -> None:
    plain = box(10, 10, 10)
    opened = model_of(Mesh(vertices_mm=plain.vertices_mm, faces=plain.faces[2:]))
    assert not opened.is_closed
    assert len(opened.corners) == 8
    turned = model_of(Mesh(vertices_mm=plain.vertices_mm, faces=plain.faces[:, ::-1]))
    assert triangles(turned) == triangles(model_of(plain))


@pytest.mark.parametrize(
    "mesh",
    [
        Mesh(vertices_mm=np.zeros((3, 3)), faces=np.array([[0, 1, 2]])),
        Mesh(vertices_mm=np.eye(3), faces=np.empty((0, 3), dtype=np.int64)),
        Mesh(vertices_mm=np.outer(np.arange(3), np.ones(3)), faces=np.array([[0, 1, 2]])),
    ],
)
def test_of_nothing_to_see_there_is_no_model(mesh: Mesh) -> None:
    assert model_of(mesh) is None


@pytest.mark.parametrize("make", [lambda: refined(case("keyway").mesh, 2), lambda: sphere(30, 96, 48), lambda: joined(refined(box(40, 30, 5), 4), box(at=(60, 0, 0)))])
def test_of_very_many_faces_the_model_is_clustered_and_tells_its_distance(make, monkeypatch: pytest.MonkeyPatch) -> None:
    """Stands for one of more than 400,000: with bounds made small."""
    mesh = make()
    for name, most in {"MOST": 2000, "CLUSTERED": 1800, "MANY": 1500, "FACES": 1200}.items():
        monkeypatch.setattr(f"generator.geometry.model.made.{name}", most)
    model = model_of(mesh)
    assert len(model.faces) <= 1800 < len(mesh.faces) == model.made_of
    assert len(model.corners) == 0, "none of them is the file's own"
    seen = Mesh(vertices_mm=model.points_mm, faces=model.faces)
    assert apart_mm(mesh, seen) <= model.within_mm + 1e-3
    assert model.within_mm < 0.02 * np.linalg.norm(np.ptp(mesh.vertices_mm, axis=0))
    assert np.allclose(np.ptp(model.points_mm, axis=0), np.ptp(mesh.vertices_mm, axis=0), atol=2 * model.within_mm)
    assert packed(model_of(mesh)) == packed(model)


def test_clusters_leave_edges_where_they_are() -> None:
    block = refined(box(40, 30, 5), 5)
    fewer = clustered(welded(block).mesh, 3000)
    assert len(fewer.faces) <= 3000
    assert apart_mm(block, fewer) < 1e-6


@pytest.mark.parametrize(("stuck", "tries"), [(10_000, 2), (100, 1)])
def test_what_no_move_could_thin_out_is_not_tried_with_half_the_reach(monkeypatch: pytest.MonkeyPatch, stuck: int, tries: int) -> None:
    tried: list[float] = []
    monkeypatch.setattr(made, "MANY", 100)
    monkeypatch.setattr(made, "STUCK", stuck)
    monkeypatch.setattr(made, "apart_mm", lambda *_: np.inf)
    monkeypatch.setattr(made, "thinned", lambda mesh, _, reach: (tried.append(reach), mesh)[1])
    assert len(model_of(sphere(10, 24, 12)).faces) > 100
    assert len(tried) == tries


def test_twenty_thousand_faces_are_less_than_200_kb() -> None:
    mesh = sphere(10, 142, 72)
    points = mesh.vertices_mm * (1 + 0.002 * np.sin(mesh.vertices_mm[:, [1, 2, 0]] * 9))  # nothing repeats
    model = model_of(Mesh(vertices_mm=points, faces=mesh.faces))
    assert 19_000 < len(model.faces) < 24_000
    assert len(base64.b64encode(packed(model))) < 200_000
    assert model_of(grip(2_000)).made_of == 2_000


@pytest.mark.parametrize("content", [b"", b"no model", packed(model_of(box()))[:-9]])
def test_what_is_no_model_is_refused(content: bytes) -> None:
    with pytest.raises(ValueError, match=r"model|short"):
        unpacked(content)
