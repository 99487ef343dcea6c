"""Measures against the formulas of standard solids, laws of geometry and a reference library."""

import json

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from generator.geometry.facts import MeshFacts
from generator.geometry.measure import measured, mesh_facts
from generator.geometry.mesh import Mesh
from tests.geometry.solids import (
    box,
    cylinder,
    moved,
    revolved,
    soup,
    sphere,
    together,
    torus,
    turned_inside_out,
)

PI = np.pi
SOLIDS = {
    "box": box(2, 3, 4),
    "cylinder": cylinder(),
    "sphere": sphere(),
    "torus": torus(),
    "tube": revolved([(8, 0), (10, 0), (10, 30), (8, 30)], 72),
}


# Standard formulas of solid geometry (any table of solids): box abc; cylinder pi r2 h and
# 2 pi r (r + h); sphere 4/3 pi r3 and 4 pi r2; torus 2 pi2 R r2 and 4 pi2 R r (Pappus).
@pytest.mark.parametrize(
    ("name", "volume", "area", "below"),
    [
        pytest.param("box", 24, 52, 1e-12, id="box"),
        pytest.param("cylinder", PI * 25 * 20, 2 * PI * 5 * 25, 2e-3, id="cylinder"),
        pytest.param("sphere", 4 / 3 * PI * 1000, 4 * PI * 100, 5e-3, id="sphere"),
        pytest.param("torus", 2 * PI**2 * 30 * 64, 4 * PI**2 * 30 * 8, 6e-3, id="torus"),
    ],
)
def test_volume_and_area_approach_the_formula_from_below(name, volume, area, below):
    facts = mesh_facts(SOLIDS[name])
    assert volume * (1 - below) <= facts.volume_mm3 <= volume * (1 + 1e-12)
    assert area * (1 - below) <= facts.area_mm2 <= area * (1 + 1e-12)
    assert facts.defects == ()


def test_facets_of_a_cylinder_have_their_own_exact_formula():
    # A prism on a regular n-gon: n/2 r2 sin(2 pi / n) h (standard formula).
    facts = mesh_facts(cylinder(radius=5, height=20, around=7))
    assert facts.volume_mm3 == pytest.approx(7 / 2 * 25 * np.sin(2 * PI / 7) * 20, rel=1e-12)


@pytest.mark.parametrize("name", SOLIDS)
def test_divergence_theorem_holds_for_each_axis(name):
    # Volume = flux of (x, 0, 0) = flux of (0, y, 0) = flux of (0, 0, z) through the surface (Gauss).
    mesh = SOLIDS[name]
    corners = mesh.vertices_mm[mesh.faces]
    area_vector = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2
    flux = (corners.mean(axis=1) * area_vector).sum(axis=0)
    assert flux == pytest.approx(np.full(3, mesh_facts(mesh).volume_mm3), rel=1e-9)


angles = st.floats(-PI, PI)
lengths = st.floats(-1000, 1000)


COARSE = SOLIDS | {"sphere": sphere(10, 24, 12), "torus": torus(30, 8, 30, 16)}


@settings(max_examples=30)
@given(
    name=st.sampled_from(sorted(COARSE)),
    turn=st.tuples(angles, angles, angles),
    by=st.tuples(lengths, lengths, lengths),
    scale=st.sampled_from([1e-3, 0.1, 1.0, 25.4, 1000.0]),
)
def test_moving_turning_and_scaling(name, turn, by, scale):
    before = mesh_facts(COARSE[name])
    matrix = Rotation.from_euler("xyz", turn).as_matrix() * scale
    after = mesh_facts(moved(COARSE[name], matrix, np.array(by) * scale))
    assert after.volume_mm3 == pytest.approx(before.volume_mm3 * scale**3, rel=1e-7)
    assert after.area_mm2 == pytest.approx(before.area_mm2 * scale**2, rel=1e-7)
    assert (after.bodies, after.is_watertight, after.faces) == (before.bodies, True, before.faces)
    assert after.oriented_size_mm == pytest.approx(np.array(before.oriented_size_mm) * scale, rel=4e-3)


@pytest.mark.parametrize("name", SOLIDS)
def test_a_triangle_soup_measures_like_an_indexed_mesh(name):
    loose, indexed = mesh_facts(soup(SOLIDS[name])), mesh_facts(SOLIDS[name])
    assert loose.oriented_size_mm == pytest.approx(indexed.oriented_size_mm)
    assert (loose.volume_mm3, loose.area_mm2) == pytest.approx((indexed.volume_mm3, indexed.area_mm2))
    assert (loose.faces, loose.vertices, loose.bodies) == (indexed.faces, indexed.vertices, indexed.bodies)


def test_soup_in_single_precision_far_from_the_origin_is_still_closed():
    far = soup(moved(SOLIDS["torus"], by=(812.3, -77.7, 401.9)))
    rng = np.random.default_rng(1)
    # One step of single precision up or down on each corner, as two exports may differ.
    rounded = far.vertices_mm.astype(np.float32)
    step = np.nextafter(rounded, np.float32(np.inf)) - rounded
    shaken = rounded + step * rng.integers(0, 2, rounded.shape)
    facts = mesh_facts(Mesh(vertices_mm=shaken.astype(float), faces=far.faces))
    assert facts.is_watertight
    assert facts.volume_mm3 == pytest.approx(mesh_facts(SOLIDS["torus"]).volume_mm3, rel=1e-4)


def test_a_part_modelled_a_kilometre_away_loses_no_digits():
    # Coordinates of 1e6 mm carry 1e-10 mm of rounding; tetrahedra from the origin would carry mm3.
    ball = sphere(10, 24, 12)
    far = mesh_facts(moved(ball, by=(1e6 + 0.1, -1e6 / 3, 1e6 / 7)))
    assert far.volume_mm3 == pytest.approx(mesh_facts(ball).volume_mm3, rel=1e-8)


PAIR = together(box(at=(0, 0, 0)), box(at=(9, 0, 0)), moved(sphere(3), by=(0, 9, 0)))


@pytest.mark.parametrize("mesh", [*SOLIDS.values(), PAIR], ids=[*SOLIDS, "three bodies"])
def test_agrees_with_a_reference_library(mesh):
    # Reference: trimesh (volume, area, is_watertight, body_count, bounding box).
    reference = trimesh.Trimesh(mesh.vertices_mm, mesh.faces, process=False)
    facts = mesh_facts(moved(mesh, by=(100, 0, 0)))
    if facts.volume_mm3 is not None:
        assert facts.volume_mm3 == pytest.approx(reference.volume, rel=1e-9)
    assert facts.area_mm2 == pytest.approx(reference.area, rel=1e-9)
    assert facts.is_watertight == reference.is_watertight
    assert facts.bodies == reference.body_count
    assert facts.size_mm == pytest.approx(reference.extents)


def test_a_hollow_is_one_body_and_loses_its_inside():
    hollow = together(box(10, 10, 10), turned_inside_out(box(4, 5, 6, at=(2, 2, 2))))
    facts = mesh_facts(hollow)
    assert (facts.bodies, facts.volume_mm3, facts.defects) == (1, pytest.approx(1000 - 120), ())


def test_a_ball_loose_in_a_hollow_is_two_bodies():
    rattle = together(
        box(10, 10, 10),
        turned_inside_out(box(8, 8, 8, at=(1, 1, 1))),
        box(2, 2, 2, at=(3, 3, 3)),
    )
    facts = mesh_facts(rattle)
    assert (facts.bodies, facts.volume_mm3, facts.defects) == (2, pytest.approx(1000 - 512 + 8), ())


def test_two_parts_that_only_touch_do_not_overlap():
    facts = mesh_facts(together(box(2, 2, 2), box(1, 1, 1, at=(0.3, 0.4, 2))))
    assert (facts.bodies, facts.volume_mm3, facts.defects) == (2, pytest.approx(9), ())


def test_facts_survive_the_store():
    facts = mesh_facts(PAIR)
    assert MeshFacts.from_json(json.loads(json.dumps(facts.to_json()))) == facts


def test_no_faces_is_an_error():
    with pytest.raises(ValueError, match="without faces"):
        mesh_facts(Mesh(vertices_mm=np.zeros((3, 3)), faces=np.zeros((0, 3), int)))


@pytest.mark.parametrize(
    ("vertices", "faces"),
    [
        pytest.param(np.zeros((3, 2)), np.zeros((1, 3), int), id="flat vertices"),
        pytest.param(np.zeros((3, 3)), np.zeros((1, 4), int), id="four corners"),
        pytest.param(np.zeros((3, 3)), np.array([[0, 1, 3]]), id="no such vertex"),
        pytest.param(np.zeros((3, 3)), np.array([[0, 1, -1]]), id="negative vertex"),
        pytest.param(np.full((3, 3), np.nan), np.array([[0, 1, 2]]), id="not a number"),
    ],
)
def test_what_is_no_mesh_is_refused(vertices, faces):
    with pytest.raises(ValueError):
        Mesh(vertices_mm=vertices, faces=faces)


def test_what_products_share_is_found_once_a_mesh(monkeypatch):
    """Edges and the smallest box: facts, walls, features, views and model ask for the same."""
    from generator.geometry import boxes, edges
    from generator.geometry.drawing.views import views_of
    from generator.geometry.features.found import features_of
    from generator.geometry.model.made import model_of
    from generator.geometry.walls import measured_walls

    asked = []
    for module, name in ((edges, "edge_table"), (boxes, "oriented_box")):
        before = getattr(module, name)
        monkeypatch.setattr(module, name, lambda *a, name=name, before=before: asked.append(name) or before(*a))
    mesh = cylinder()
    for each in (measured, measured_walls, features_of, views_of, model_of):
        each(mesh)
    assert sorted(asked) == ["edge_table", "oriented_box"]
