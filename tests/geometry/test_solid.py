"""Where it is certain what several shells mean their volume is told: solids that touch, cross, or are wound inside out."""

import json

import numpy as np
import pytest

from generator.geometry import boxtree, overlaps, solid
from generator.geometry.facts import DefectKind as Kind
from generator.geometry.measure import measured, mesh_facts
from generator.geometry.mesh import Mesh
from generator.measuring.opened import Opened
from generator.measuring.products import WALLS_FILE
from generator.measuring.second_opinion import check_second_opinion
from generator.measuring.walls_of import walls_of
from tests.geometry.solids import (
    box,
    cylinder,
    moved,
    refined,
    revolved,
    soup,
    sphere,
    together,
    turned_inside_out,
    with_faces,
)
from tests.reading.meshes import files

CUBE = box(2, 2, 2)
RING = [(5, 0), (15, 0), (15, 4), (5, 4)]


def told(mesh: Mesh) -> dict[Kind, int]:
    return {defect.kind: defect.count for defect in mesh_facts(mesh).defects}


def turned(mesh: Mesh, angle: float) -> Mesh:
    return moved(mesh, [[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [0, 0, 1]])


GRID = [box(2, 2, 2, at=(2 * i, 2 * j, 2 * k)) for i in range(3) for j in range(3) for k in range(2)]
TOUCHING = {
    "face on face": (together(CUBE, box(2, 2, 2, at=(0, 0, 2))), 16, 2),
    "along an edge": (together(CUBE, box(2, 2, 2, at=(2, 2, 0))), 16, 2),
    "at a corner": (together(CUBE, box(2, 2, 2, at=(2, 2, 2))), 16, 2),
    "half a face": (together(CUBE, box(2, 2, 2, at=(0, 1, 2))), 16, 2),
    "a small one on a large one": (together(CUBE, box(1, 1, 5, at=(0, 0, 2))), 13, 2),
    "face on face, cut otherwise": (together(refined(CUBE), box(2, 2, 2, at=(0, 0, 2))), 16, 2),
    "eighteen in a block": (together(*GRID), 18 * 8, 18),
}


@pytest.mark.parametrize(("mesh", "volume", "bodies"), TOUCHING.values(), ids=TOUCHING)
def test_solids_that_touch_are_measured_one_by_one(mesh, volume, bodies):
    rng = np.random.default_rng(5)
    turn = np.linalg.qr(rng.normal(size=(3, 3)))[0]
    for each in (mesh, soup(mesh), moved(mesh, turn * np.sign(np.linalg.det(turn)))):
        facts = mesh_facts(each)
        assert (facts.volume_mm3, facts.bodies, facts.defects) == (pytest.approx(volume, rel=1e-9), bodies, ())
        assert facts.is_watertight


def test_a_pin_of_the_same_corners_fills_its_hole():
    ring, pin = revolved(RING, 48), moved(cylinder(5, 9, around=48), by=(0, 0, -1))
    facts = mesh_facts(together(ring, pin))
    whole = mesh_facts(ring).volume_mm3 + mesh_facts(pin).volume_mm3
    assert (facts.volume_mm3, facts.bodies, facts.defects) == (pytest.approx(whole, rel=1e-9), 2, ())


@pytest.mark.parametrize("around", [24, 48, 97])
def test_a_pin_whose_corners_stand_otherwise_is_no_overlap(around):
    """Each chord of the one crosses a corner of the other: together they fill what their circles do."""
    ring, pin = revolved(RING, 48), turned(moved(cylinder(5, 9, around=around), by=(0, 0, -1)), 0.05)
    facts = mesh_facts(together(ring, pin))
    whole = mesh_facts(ring).volume_mm3 + mesh_facts(pin).volume_mm3
    assert facts.defects == ()
    assert whole * (1 - 2e-3) < facts.volume_mm3 < whole


def test_a_press_fit_is_told():
    ring, pin = revolved(RING, 48), moved(cylinder(5.2, 4, around=48), by=(0, 0, 0))
    mesh = together(ring, pin)
    assert told(mesh) == {Kind.OVERLAPPING_BODIES: 2}
    # the area of a regular polygon of n sides in a circle: n r² sin(2 pi / n) / 2
    disc = 48 * np.sin(2 * np.pi / 48) / 2 * 4
    assert mesh_facts(mesh).volume_mm3 == pytest.approx(15**2 * disc, rel=1e-9)


def test_a_hollow_stays_hollow_where_its_body_is_crossed():
    mesh = together(box(9, 9, 9), turned_inside_out(box(2, 2, 2, at=(1, 1, 1))), box(4, 4, 4, at=(7, 7, 7)))
    facts = mesh_facts(mesh)
    assert facts.volume_mm3 == pytest.approx(729 - 8 + 64 - 8, rel=1e-12)
    # two boxes less the skin of the corner that both have, and the hollow
    assert facts.area_mm2 == pytest.approx(6 * 81 + 6 * 16 + 6 * 4 - 2 * 3 * 4, rel=1e-12)


HALF_RIGHT = together(
    turned_inside_out(box(9, 9, 9)), turned_inside_out(box(2, 2, 2, at=(3, 3, 3))), box(1, 1, 1, at=(20, 0, 0))
)
IN_DOUBT = {
    "a hollow or a body in the flesh": together(box(9, 9, 9), box(2, 2, 2, at=(3, 3, 3))),
    "a touching one inside out": together(CUBE, turned_inside_out(box(2, 2, 1, at=(0, 0, 2)))),
    "a crossing one inside out": together(CUBE, turned_inside_out(box(2, 2, 2, at=(1, 1, 1)))),
    "a crossing one fills a hollow": together(
        box(9, 9, 9), turned_inside_out(box(2, 2, 2, at=(1, 1, 1))), box(12, 4, 4, at=(0.5, 0.5, 0.5))
    ),
    "a body twice": together(CUBE, CUBE),
    "a hollow and just its filling": together(box(9, 9, 9), *(f(box(2, 2, 2, at=(3, 3, 3))) for f in (turned_inside_out, soup))),
    "inside out within a hollow": together(
        box(9, 9, 9), turned_inside_out(box(4, 4, 4, at=(1, 1, 1))), turned_inside_out(box(1, 1, 1, at=(2, 2, 2)))
    ),
}


@pytest.mark.parametrize("mesh", IN_DOUBT.values(), ids=IN_DOUBT)
def test_what_is_not_certain_has_no_volume(mesh):
    assert told(mesh)
    assert mesh_facts(mesh).volume_mm3 is None


def test_an_outermost_body_is_no_hollow():
    assert told(HALF_RIGHT) == {Kind.INSIDE_OUT: 1}
    assert mesh_facts(HALF_RIGHT).volume_mm3 == pytest.approx(729 - 8 + 1, rel=1e-12)


def test_a_mesh_turned_as_a_whole_keeps_its_hollows():
    mesh = turned_inside_out(together(box(9, 9, 9), turned_inside_out(box(2, 2, 2, at=(3, 3, 3)))))
    facts = mesh_facts(mesh)
    assert told(mesh) == {Kind.INSIDE_OUT: 1}
    assert (facts.volume_mm3, facts.bodies) == (pytest.approx(729 - 8, rel=1e-12), 1)


def test_the_second_opinion_is_asked_of_the_solid():
    for mesh in (turned_inside_out(CUBE), together(CUBE, box(2, 2, 2, at=(1, 1, 1))), TOUCHING["eighteen in a block"][0]):
        found = measured(mesh)
        assert found.solid is not None
        check_second_opinion(found.solid, found.facts)


@pytest.mark.parametrize(
    ("module", "bound", "most", "mesh"),
    [
        (overlaps, "MOST_FACE_PAIRS", 3, together(sphere(4), moved(sphere(4), by=(1, 1, 1)))),
        (overlaps, "MOST_FACES_ASKED", 3, together(sphere(4), box(1, 1, 1))),
        (overlaps, "MOST_SHELL_PAIRS", 0, together(sphere(4), box(1, 1, 1))),
        (boxtree, "MOST_TRIED", 3, together(sphere(4), box(1, 1, 1))),
    ],
)
def test_too_much_to_compare_is_told_and_not_guessed(monkeypatch, module, bound, most, mesh):
    monkeypatch.setattr(module, bound, most)
    assert (told(mesh), mesh_facts(mesh).volume_mm3) == ({Kind.UNCOMPARED_BODIES: 2}, None)


def test_bodies_that_lie_anywhere_in_the_file_are_compared_with_their_neighbours_alone():
    """In the order of the file each node of the tree would reach across the part, and half a million pairs be tried."""
    places = np.random.default_rng(1).permutation(1000)
    mesh = together(*(box(1, 1, 1, at=(2 * (n % 10), 2 * (n // 10 % 10), 2 * (n // 100))) for n in places.tolist()))
    before, tried = boxtree._overlapping, []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(boxtree, "_overlapping", lambda level, a, b: (tried.append(len(a)), before(level, a, b))[1])
        assert mesh_facts(mesh).volume_mm3 == pytest.approx(1000, rel=1e-9)
    assert sum(tried) < 200_000


def test_a_chain_of_too_many_bodies_that_cross_is_given_up_before_it_is_taken_apart(monkeypatch):
    mesh = together(*(box(2, 1, 1, at=(1.5 * n, 0.1 * (n % 2), 0.1 * (n % 2))) for n in range(6)))
    assert mesh_facts(mesh).volume_mm3 is not None
    monkeypatch.setattr(solid, "MOST_SOLIDS", 5)
    monkeypatch.setattr(solid, "_part", lambda *_: pytest.fail("taken apart"))
    assert mesh_facts(mesh).volume_mm3 is None


def test_an_edge_of_very_many_faces_stays_one():
    fan = [[0, 1, 2 + i] for i in range(70)]
    points = np.array([[0, 0, 0], [0, 0, 5], *([np.cos(i), np.sin(i), 2.5] for i in range(70))])
    assert told(Mesh(vertices_mm=points, faces=np.array(fan)))[Kind.NON_MANIFOLD_EDGES] == 1
    assert mesh_facts(with_faces(CUBE, np.tile(CUBE.faces, (500, 1)))).volume_mm3 is None


def test_walls_are_those_of_the_solid():
    """Two plates of 2 mm that share 1 mm: as one they are 3 mm thick."""
    mesh = together(box(20, 20, 2), box(20, 20, 2, at=(0.5, 0.5, 1)))
    walls = json.loads(walls_of(Opened(files.binary_stl(mesh.vertices_mm, mesh.faces), ".stl", None))[WALLS_FILE])
    assert walls["nominal_mm"] == pytest.approx(3)
