"""Pictures of meshes as they are found: flipped, seamed, noisy, in pieces. Each fault was seen in a real file."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from generator.geometry.mesh import Mesh
from generator.geometry.render.chains import in_long_chains
from generator.geometry.render.picture import picture
from generator.geometry.render.surface import NO_FACE, surface_of
from tests.geometry.solids import (
    box,
    capped,
    cylinder,
    moved,
    prism,
    refined,
    revolved,
    soup,
    sphere,
    together,
    torus,
    turned_inside_out,
    with_faces,
)

SIZE = (160, 120)
SIDEWAYS = np.array([[1, 0, 0], [0, 0, -1], [0, 1, 0]])


def apart(one, other) -> float:
    """The mean difference of two pictures, from 0 to 255."""
    first, second = (picture(mesh, size_px=SIZE).astype(int) for mesh in (one, other))
    return float(np.abs(first - second).mean())


def some_turned(mesh, share) -> Mesh:
    chosen = np.random.default_rng(3).random(len(mesh.faces)) < share
    return with_faces(mesh, np.where(chosen[:, None], mesh.faces[:, ::-1], mesh.faces))


@pytest.mark.parametrize("share", [0.02, 0.5, 1.0])
def test_flipped_faces_are_turned_for_the_picture_alone(share):
    flipped = some_turned(torus(around=48, across=24), share)
    before = flipped.faces.copy()
    assert apart(flipped, torus(around=48, across=24)) < 0.3
    assert (flipped.faces == before).all()


def test_a_body_inside_out_beside_others_is_turned():
    pin = moved(cylinder(6, 20, 48), by=(10, 10, 10))
    assert apart(together(box(30, 20, 10), turned_inside_out(pin)), together(box(30, 20, 10), pin)) < 0.1


def test_faces_flipped_in_an_open_sheet_leave_no_lines():
    sheet = with_faces(sphere(), sphere().faces[: len(sphere().faces) // 2])
    assert apart(some_turned(sheet, 0.03), sheet) < 0.3


def slight_creases(mesh) -> int:
    surface = surface_of(mesh)
    return int((surface.is_crease & (surface.bend > np.cos(np.radians(28)))).sum())


ROOF = moved(
    prism([(0, 0), (60, 0), (60, 20), (30, 22.5), (0, 20)], 40), SIDEWAYS
)  # 9.5 degrees at its ridge


def test_planes_that_meet_slightly_have_an_edge_and_one_tone_each():
    assert slight_creases(ROOF) == 1
    drawn = picture(ROOF, size_px=(320, 240)).astype(int).sum(axis=2)
    left, right = drawn[80:110, 60:110], drawn[60:80, 190:220]
    assert max(np.ptp(left), np.ptp(right)) <= 6  # sums of three channels of 255
    assert abs(np.median(left) - np.median(right)) > 6


@pytest.mark.parametrize(
    "mesh",
    [
        *(cylinder(10, 30, around) for around in (14, 24, 48, 200)),
        sphere(10, 24, 12),
        sphere(),
        torus(around=24, across=16),
        capped([(0, 0), (10, 0), (9.5, 6), (8.2, 12), (6, 18), (0, 18)], 30),
    ],
)
def test_roundings_in_coarse_or_fine_facets_have_none(mesh):
    assert slight_creases(mesh) == 0
    assert not surface_of(mesh).is_tangent.any()


def test_a_bend_within_the_chord_error_of_an_export_is_no_edge():
    assert (
        slight_creases(prism([(0, 0), (100, 0), (100, 20), (12, 20), (0, 19.16)], 20)) == 0
    )  # 4 degrees over 12 mm
    assert (
        slight_creases(prism([(0, 0), (100, 0), (100, 20), (50, 20), (0, 16.5)], 20)) == 1
    )  # 4 degrees over 50 mm


def test_where_a_plane_runs_into_a_rounding_a_line_is_drawn():
    turn = np.radians(np.linspace(0, 90, 9))
    centres = ((50, 30, 0), (10, 30, 1), (10, 10, 2), (50, 10, 3))
    outline = [
        (x + 10 * np.cos(angle), y + 10 * np.sin(angle))
        for x, y, quarter in centres
        for angle in turn + quarter * np.pi / 2
    ]
    surface = surface_of(prism(outline, 25))
    assert surface.is_tangent.sum() == 8
    upright = np.ptp(surface.points[surface.ends[surface.is_tangent]], axis=1)
    assert np.abs(upright[:, :2]).max() < 1e-9


def split_cylinder(around=48) -> Mesh:
    """A cylinder whose sides are cut into other heights on either half, so that no corners meet at the seams."""
    turn = np.linspace(0, 2 * np.pi, around + 1)
    rim = np.column_stack([10 * np.cos(turn), 10 * np.sin(turn)])
    faces = []
    for number, (a, b) in enumerate(pairwise(rim)):
        levels = np.linspace(0, 30, 3 if number < around / 2 else 5)
        levels = np.append(levels, 30 * 0.6) if number % 12 == 0 else levels
        levels.sort()
        for low, high in pairwise(levels):
            faces += [[[*a, low], [*b, low], [*b, high]], [[*a, low], [*b, high], [*a, high]]]
        faces += [[[0, 0, 30], [*a, 30], [*b, 30]], [[0, 0, 0], [*b, 0], [*a, 0]]]
    corners = np.array(faces, dtype=float).reshape(-1, 3)
    return Mesh(vertices_mm=corners, faces=np.arange(len(corners)).reshape(-1, 3))


def test_a_seam_whose_corners_do_not_meet_is_not_drawn():
    mesh = split_cylinder()
    assert not (surface_of(mesh).sides == NO_FACE).any()
    assert apart(mesh, cylinder(10, 30, 48)) < 0.3


def test_the_rim_of_an_open_sheet_is_no_seam():
    cup = with_faces(cylinder(), cylinder().faces[cylinder().faces.max(axis=1) < 129])  # without its lid
    surface = surface_of(cup)
    assert (surface.sides[:, 1] == NO_FACE).sum() == 64


def test_bodies_that_lie_against_each_other_look_like_one():
    halves = together(box(20, 20, 10), box(20, 20, 10, at=(20, 0, 0)))
    assert apart(halves, box(40, 20, 10)) < 0.1


def noisy(mesh, by) -> Mesh:
    shift = np.random.default_rng(5).normal(0, by, mesh.vertices_mm.shape)
    return Mesh(vertices_mm=mesh.vertices_mm + shift, faces=mesh.faces)


def test_noise_of_a_scan_is_not_inked():
    clean = sphere(10, 140, 70)
    assert surface_of(noisy(clean, 0.03)).is_rough
    rough = surface_of(noisy(clean, 0.1))
    assert rough.is_rough
    dark = [int((picture(each, size_px=(320, 240)).max(axis=2) < 70).sum()) for each in (clean, rough)]
    assert dark[1] < 2.6 * dark[0]  # 3.5 where each crease of more than 28 degrees is drawn


def test_a_constructed_part_is_no_noise_and_a_scanned_box_keeps_its_edges():
    knurled = revolved([(8, 0), (10, 0), (9, 2), (10, 4), (9, 6), (10, 8), (8, 8)], 60)
    assert not surface_of(soup(knurled)).is_rough
    stone = surface_of(sphere(10, 6, 4))
    assert not stone.is_rough
    assert stone.is_crease.any()
    scanned = surface_of(noisy(refined(box(30, 20, 10), 4), 0.02))
    assert scanned.is_crease.sum() > 100


def test_short_pieces_of_lines_are_crumbs_except_at_the_rim():
    pieces = [
        np.column_stack([np.arange(k) + 5.5, np.full(k, y + 0.5)]) for k, y in ((3, 10), (12, 20), (3, 30))
    ]
    at = np.vstack(pieces)
    kept = at[:, 1] > 30
    assert in_long_chains(at, kept, (40, 40), 8).tolist() == [False] * 3 + [True] * 12 + [True] * 3


def test_a_line_of_which_only_dots_show_beside_a_touching_face_is_left_out():
    x = np.array([5, 6, 8, 9, 11, 12, 14, 15, 17, 18]) + 0.5
    dotted = np.column_stack([x, np.full(len(x), 10.5)])
    assert not in_long_chains(dotted, np.zeros(len(x), dtype=bool), (40, 40), 8).any()


def test_crumbs_that_float_beside_a_part_throw_no_shadow():
    part, crumb, foot = (
        box(40, 30, 20),
        box(0.4, 0.4, 0.4, at=(-20, -20, -8)),
        box(0.5, 0.5, 0.5, at=(20, 10, -0.5)),
    )
    surface = surface_of(together(part, crumb, foot))
    assert surface.is_crumb.tolist() == [False] * 12 + [True] * 12 + [False] * 12
    drawn = picture(surface, size_px=SIZE).astype(int)
    floating = picture(replace(surface, is_crumb=np.zeros_like(surface.is_crumb)), size_px=SIZE).astype(int)
    assert (np.abs(drawn - floating).max(axis=2) > 10).sum() > 100  # the part stands on the ground again
