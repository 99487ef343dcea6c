"""Are the demo's mesh files the solids they claim to be?

Outside oracles: the exact volume, area and size that the CAD kernel (Open CASCADE, through build123d) integrates over
the analytic surfaces to a millionth, kept in exact.json; trimesh and the 3MF Consortium's lib3mf as readers; and textbook formulas.
"""

import json
import math
from pathlib import Path

import numpy as np
import pytest
import trimesh

HERE = Path(__file__).parent
CATALOGUE = HERE.parents[1] / "catalogue"
EXACT = json.loads((HERE / "exact.json").read_text())
MOST_BYTES = 1_000_000
STEP_FACETS_MM = 0.05  # a STEP file holds no facets: the reader's own stay within this


def mesh_of(number):
    """The part's file as trimesh reads it, welded, in mm and with z up (glTF: metres, y up; STEP reader: metres)."""
    path = CATALOGUE / EXACT[number]["file"]
    mesh = trimesh.load(path, force="mesh", process=False)
    if path.suffix in {".glb", ".step"}:
        mesh.apply_scale(1000)
    if path.suffix == ".glb":
        mesh.apply_transform(trimesh.transformations.rotation_matrix(math.pi / 2, (1, 0, 0)))
    mesh.merge_vertices(digits_vertex=4)
    return mesh


@pytest.fixture(scope="module")
def meshes():
    return {number: mesh_of(number) for number in EXACT}


def tolerance_of(number):
    return STEP_FACETS_MM if EXACT[number]["file"].endswith(".step") else EXACT[number]["facet_tolerance_mm"]


def test_the_whole_demo_is_modelled():
    modelled = {file.parent.name[:7] for file in (CATALOGUE / "parts").glob("*/model.*")}
    assert modelled == set(EXACT)


@pytest.mark.parametrize("number", EXACT)
def test_file_is_closed_and_small(number, meshes):
    assert (CATALOGUE / EXACT[number]["file"]).stat().st_size <= MOST_BYTES
    assert meshes[number].is_watertight
    assert meshes[number].is_winding_consistent
    assert meshes[number].body_count == 1


@pytest.mark.parametrize("number", EXACT)
def test_mesh_volume_is_the_exact_volume_within_the_facets(number, meshes):
    # Each facet lies within the tolerance of the surface, so the volume between them is at most area x tolerance.
    exact = EXACT[number]
    assert meshes[number].volume == pytest.approx(exact["volume_mm3"], abs=tolerance_of(number) * exact["area_mm2"])


@pytest.mark.parametrize("number", EXACT)
def test_mesh_area_and_size_are_the_exact_ones(number, meshes):
    exact = EXACT[number]
    assert meshes[number].area == pytest.approx(exact["area_mm2"], rel=0.02)
    assert meshes[number].extents == pytest.approx(exact["size_mm"], abs=2 * tolerance_of(number))


@pytest.mark.parametrize("number", EXACT)
def test_mesh_stands_where_its_solid_does(number, meshes):
    assert meshes[number].center_mass == pytest.approx(EXACT[number]["centre_of_mass_mm"], abs=0.1)
    assert meshes[number].bounds[0][2] == pytest.approx(0, abs=2 * tolerance_of(number))


def handedness(mesh):
    """A number that a mirror image has with the other sign and no rotation changes.

    The three principal axes of the surface's corners are turned so that the distribution is skewed towards their
    positive ends; the determinant then says whether they make a right-handed frame.
    """
    points = mesh.triangles_center - np.average(mesh.triangles_center, axis=0, weights=mesh.area_faces)
    weights = mesh.area_faces[:, None]
    _, axes = np.linalg.eigh((points * weights).T @ points)
    along = points @ axes
    skew = (weights * along**3).sum(axis=0)
    return np.linalg.det(axes * np.sign(skew))


@pytest.mark.parametrize(("left", "right"), [("TV-0104", "TV-0105"), ("TV-0248", "TV-0249")])
def test_pairs_are_mirror_images(left, right, meshes):
    assert EXACT[left]["volume_mm3"] == EXACT[right]["volume_mm3"]
    x, y, z = EXACT[left]["centre_of_mass_mm"]
    assert EXACT[right]["centre_of_mass_mm"] == pytest.approx([-x, y, z], abs=0.011)
    assert handedness(meshes[left]) == pytest.approx(-handedness(meshes[right]))


def test_handedness_ignores_turning(meshes):
    turned = meshes["TV-0104"].copy()
    turned.apply_transform(trimesh.transformations.rotation_matrix(1.1, (1, 2, 3)))
    assert handedness(turned) == pytest.approx(handedness(meshes["TV-0104"]))


def test_heater_knobs_look_alike_but_differ():
    old, new = EXACT["TV-0235"], EXACT["TV-0236"]
    assert old["size_mm"][1] == new["size_mm"][1] == 35.0
    assert new["volume_mm3"] > old["volume_mm3"] * 1.05


@pytest.mark.parametrize("number", [n for n in EXACT if EXACT[n]["file"].endswith(".3mf")])
def test_3mf_is_read_by_the_reference_reader(number, meshes):
    # lib3mf: the 3MF Consortium's own implementation of the specification
    lib3mf = pytest.importorskip("lib3mf", reason="lib3mf has no wheel for this platform")
    wrapper = lib3mf.get_wrapper()
    model = wrapper.CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(CATALOGUE / EXACT[number]["file"]))
    items = model.GetMeshObjects()
    assert items.MoveNext()
    assert items.GetCurrentMeshObject().GetTriangleCount() == len(meshes[number].faces)
    assert items.GetCurrentMeshObject().IsManifoldAndOriented()
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    assert reader.GetWarningCount() == 0


# The kernel itself, against formulas; importing it takes a few seconds, so only here.


def test_countersink_is_a_cylinder_and_a_frustum():
    from tests.models.features import countersink

    hole, head, depth = 4.3, 8.6, 12.0
    drop = (head - hole) / 2
    shank = math.pi / 4 * hole**2 * (depth - drop)
    frustum = math.pi * drop / 12 * (head**2 + head * hole + hole**2)
    overrun = math.pi / 4 * head**2
    assert countersink(hole, head, depth).volume == pytest.approx(shank + frustum + overrun)


def test_slab_loses_four_corners():
    from tests.models.features import slab

    assert slab(60, 40, 5, 8).volume == pytest.approx((60 * 40 - (4 - math.pi) * 8**2) * 5)


def test_thread_obeys_pappus():
    # A helical ridge has the volume of its axial section x the way of the section's centroid about the axis
    # (Pappus-Guldin; the pitch moves the section along itself and adds nothing).
    from tests.models.threaded import thread

    minor, major, pitch, length = 15.0, 16.0, 2.0, 20.0
    crest, foot, deep = pitch / 8, pitch * 3 / 4, major - minor
    section = (crest + foot) / 2 * deep
    centroid = minor + deep / 3 * (foot + 2 * crest) / (foot + crest)
    ridge = section * 2 * math.pi * centroid * length / pitch
    rod = thread(minor, major, pitch, length, crest=1 / 8, foot=3 / 4)
    assert rod.volume == pytest.approx(math.pi * minor**2 * length + ridge, rel=1e-4)


def test_gear_teeth_are_half_the_pitch_circle_thick():
    # ISO 53 basic rack: tooth thickness at the reference line is pi m / 2, half the pitch
    from build123d import Edge

    from tests.models.rotating import involute_gear

    face = involute_gear(2, 26).face()
    inside = Edge.make_circle(2 * 26 / 2).intersect(face)
    assert sum(edge.length for edge in inside) == pytest.approx(math.pi * 2 * 26 / 2, rel=1e-3)


@pytest.mark.parametrize("number", ["TV-0112", "TV-0417"])
def test_scripts_still_make_the_solid_of_the_figures(number):
    from tests.models.catalogue_models import MODELS
    from tests.models.export import exact_figures, file_bytes
    from tests.models.features import standing

    model = next(m for m in MODELS if m.number == number)
    solid = standing(model.build())
    figures, kept = exact_figures(solid, model), EXACT[number]
    assert figures["volume_mm3"] == pytest.approx(kept["volume_mm3"], rel=1e-5)
    assert figures["size_mm"] == pytest.approx(kept["size_mm"], abs=0.011)
    assert file_bytes(solid, model) == file_bytes(standing(model.build()), model)
