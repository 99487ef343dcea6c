"""Each kind of defect on a mesh broken by hand, and no volume beside any that spoils it; what is set right: test_solid.py."""

import numpy as np
import pytest

from generator.geometry.facts import DefectKind as Kind
from generator.geometry.measure import mesh_facts
from generator.geometry.mesh import Mesh
from tests.geometry.solids import box, moved, sphere, together, turned_inside_out, with_faces

CUBE = box(2, 2, 2)
FACES = CUBE.faces


def flipped(mesh: Mesh, *which: int) -> Mesh:
    faces = mesh.faces.copy()
    faces[list(which)] = faces[list(which), ::-1]
    return with_faces(mesh, faces)


def with_fin(mesh: Mesh) -> Mesh:
    fin = [[0, 1, len(mesh.vertices_mm)]]
    return Mesh(vertices_mm=np.vstack([mesh.vertices_mm, [[1, -1, -1]]]), faces=np.vstack([mesh.faces, fin]))


def with_extra_corner(mesh: Mesh) -> Mesh:
    """One face becomes two by a corner on its edge; a face without area closes the other side."""
    middle = len(mesh.vertices_mm)
    faces = mesh.faces.tolist()
    faces.remove([0, 1, 5])
    faces += [[0, middle, 5], [middle, 1, 5], [0, 1, middle]]
    return Mesh(
        vertices_mm=np.vstack([mesh.vertices_mm, mesh.vertices_mm[[0, 1]].mean(axis=0)]),
        faces=np.array(faces),
    )


MOEBIUS_ANGLES = np.arange(12) * np.pi / 6
MOEBIUS = Mesh(
    vertices_mm=np.array(
        [
            [np.cos(t) * (4 + w * np.cos(t / 2)), np.sin(t) * (4 + w * np.cos(t / 2)), w * np.sin(t / 2)]
            for t in MOEBIUS_ANGLES
            for w in (-1, 1)
        ]
    ),
    faces=np.array(
        [
            face
            for i in range(12)
            for a, b, c, d in [
                (2 * i, 2 * i + 1, *((2 * i + 2, 2 * i + 3) if i < 11 else (1, 0))),
            ]
            for face in ([a, c, b], [b, c, d])
        ]
    ),
)

BROKEN = {
    "a face missing": (with_faces(CUBE, FACES[1:]), {Kind.OPEN_EDGES: 3}),
    "a face flipped": (flipped(CUBE, 4), {Kind.FLIPPED_FACES: 1}),
    "most faces flipped": (flipped(CUBE, *range(2, 12)), {Kind.FLIPPED_FACES: 10}),
    "a face twice": (
        with_faces(CUBE, np.vstack([FACES, FACES[:1]])),
        {Kind.DUPLICATE_FACES: 1, Kind.NON_MANIFOLD_EDGES: 3},
    ),
    "a fin": (with_fin(CUBE), {Kind.OPEN_EDGES: 2, Kind.NON_MANIFOLD_EDGES: 1}),
    "a body inside another": (
        together(box(9, 9, 9), box(2, 2, 2, at=(3, 3, 3))),
        {Kind.OVERLAPPING_BODIES: 1},
    ),
    "a body inside a body in a body": (
        together(box(9, 9, 9), box(4, 4, 4, at=(3, 3, 3)), box(1, 1, 1, at=(4, 4, 4))),
        {Kind.OVERLAPPING_BODIES: 1},  # the middle one; the inner lies in two and counts as loose
    ),
    "a cavity breaks through the skin": (
        together(box(9, 9, 9), turned_inside_out(box(4, 4, 4, at=(6.2, 3, 3)))),
        {Kind.OVERLAPPING_BODIES: 2},
    ),
    "one-sided strip": (MOEBIUS, {Kind.OPEN_EDGES: 24, Kind.FLIPPED_FACES: 1}),
    "a folded sheet": (
        with_faces(CUBE, [[0, 1, 2], [0, 2, 1]]),
        {Kind.DUPLICATE_FACES: 1, Kind.NO_VOLUME: 1},
    ),
}


SET_RIGHT = {
    "inside out": (turned_inside_out(CUBE), {Kind.INSIDE_OUT: 1}, 8),
    "one of two inside out": (
        together(CUBE, turned_inside_out(box(1, 1, 1, at=(5, 0, 0)))),
        {Kind.INSIDE_OUT: 1}, 8 + 1),
    "bodies overlap": (
        together(CUBE, box(2, 2, 2, at=(1.1, 0.7, 0.9))),
        {Kind.OVERLAPPING_BODIES: 2}, 16 - 0.9 * 1.3 * 1.1),
    "bodies overlap with flush sides": (
        together(CUBE, box(2, 2, 2, at=(1, 0, 0))),
        {Kind.OVERLAPPING_BODIES: 2}, 12),
    "bars cross without a corner inside": (
        together(box(10, 1, 1, at=(-5, 0, 0)), box(1.5, 10, 0.5, at=(0, -5, 0.2))),
        {Kind.OVERLAPPING_BODIES: 2}, 10 + 7.5 - 1.5 * 1 * 0.5),
}
"""What is told, and the volume of what is meant: boxes less what they share."""


@pytest.mark.parametrize(("mesh", "expected"), BROKEN.values(), ids=BROKEN)
def test_each_fault_is_named_and_hides_the_volume(mesh, expected):
    facts = mesh_facts(mesh)
    assert {defect.kind: defect.count for defect in facts.defects} == expected
    assert facts.volume_mm3 is None


@pytest.mark.parametrize(("mesh", "expected", "volume"), SET_RIGHT.values(), ids=SET_RIGHT)
def test_what_is_certain_is_told_and_set_right(mesh, expected, volume):
    facts = mesh_facts(mesh)
    assert {defect.kind: defect.count for defect in facts.defects} == expected
    assert facts.volume_mm3 == pytest.approx(volume, rel=1e-12)


def test_a_face_without_area_is_told_but_harms_nothing():
    facts = mesh_facts(with_extra_corner(CUBE))
    assert {defect.kind: defect.count for defect in facts.defects} == {Kind.ZERO_AREA_FACES: 1}
    assert facts.is_watertight
    assert facts.volume_mm3 == pytest.approx(8)


def test_a_face_that_vanishes_in_welding_is_told():
    faces = np.vstack([FACES, [[0, 0, 1]]])
    facts = mesh_facts(with_faces(CUBE, faces))
    assert {defect.kind: defect.count for defect in facts.defects} == {Kind.ZERO_AREA_FACES: 1}
    assert (facts.faces, facts.volume_mm3) == (12, pytest.approx(8))


def test_only_points_left():
    facts = mesh_facts(Mesh(vertices_mm=np.zeros((3, 3)), faces=np.array([[0, 1, 2]])))
    assert (facts.faces, facts.bodies, facts.volume_mm3, facts.is_watertight) == (0, 0, None, False)
    assert facts.oriented_size_mm == (0, 0, 0)


def test_overlaps_are_found_however_the_bodies_are_turned():
    rng = np.random.default_rng(7)
    for _ in range(12):
        turn = np.linalg.qr(rng.normal(size=(3, 3)))[0]
        turn *= np.sign(np.linalg.det(turn))
        for name in ("bodies overlap", "bodies overlap with flush sides", "a body inside another"):
            mesh, expected = {**BROKEN, **{n: each[:2] for n, each in SET_RIGHT.items()}}[name]
            found = {d.kind: d.count for d in mesh_facts(moved(mesh, turn)).defects}
            assert found == expected, name


def test_bodies_side_by_side_never_count_as_overlapping():
    rng = np.random.default_rng(3)
    for _ in range(12):
        turn = np.linalg.qr(rng.normal(size=(3, 3)))[0]
        turn *= np.sign(np.linalg.det(turn))
        stacked = together(CUBE, box(2, 2, 2, at=(0.5, 0.25, 2)), moved(sphere(1, 24, 12), by=(9, 9, 9)))
        assert mesh_facts(moved(stacked, turn)).defects == ()
