"""Drawings' lines against solids whose lines are known by formula, and against rays that ask every face.

Written by somebody who had not seen how the lines are found. Directions of the views: the front looks along +y (the front
of a part is towards -y), the top along -z, the side along +x, that is from the left (ISO 5456-2, first angle).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest
from scipy.spatial import cKDTree

from generator.geometry.mesh import Mesh
from tests.geometry.drawing.brute import sampled, seen_of_edges
from tests.geometry.solids import blocks, box, capped, cylinder, moved, refined, soup, sphere, with_faces

EYES = {"front": (0, -1, 0), "top": (0, 0, 1), "side": (-1, 0, 0)}
SQUARE_ON = tuple(EYES)
ALL = (*SQUARE_ON, "pictorial")
OPPOSITE = {"rear": (0, 1, 0), "below": (0, 0, -1), "right": (1, 0, 0)}
UP = {"top": (0, 1, 0), "below": (0, -1, 0)}


@dataclass(frozen=True)
class Seen:
    """A view as the tests ask for it: polylines (n, 2) in mm, and its directions in the mesh's coordinates."""

    visible: list[np.ndarray]
    hidden: list[np.ndarray]
    outline: list[np.ndarray]
    right: np.ndarray
    up: np.ndarray
    eye: np.ndarray


# The adapter: whoever draws may mend this, never the truths.
def views(mesh: Mesh) -> dict[str, Seen]:
    from generator.geometry.drawing.views import views_of  # inside: the other tests are collected without it

    told = views_of(mesh).views
    pairs = told.items() if isinstance(told, Mapping) else [(each.name, each) for each in told]
    return {
        str(name): Seen(
            visible=[np.asarray(line.points, dtype=float) for line in view.visible],
            hidden=[np.asarray(line.points, dtype=float) for line in view.hidden],
            outline=[np.asarray(line.points, dtype=float) for line in view.outline],
            right=np.asarray(view.right, dtype=float),
            up=np.asarray(view.up, dtype=float),
            eye=np.asarray(view.towards, dtype=float),
        )
        for name, view in pairs
    }


def ringed(outer, inner, height: float) -> Mesh:
    """A prism between two outlines of as many corners each, the inner one a hole; z = 0 upwards."""
    outer, inner = np.asarray(outer, dtype=float), np.asarray(inner, dtype=float)
    n = len(outer)
    points = np.vstack(
        [np.column_stack([line, np.full(n, z)]) for z in (0.0, height) for line in (outer, inner)]
    )
    low_out, low_in, high_out, high_in = (k * n for k in range(4))
    faces = []
    for i in range(n):
        j = (i + 1) % n
        for a, b in ((low_out, high_out), (high_out, high_in), (high_in, low_in), (low_in, low_out)):
            faces += [[a + i, a + j, b + j], [a + i, b + j, b + i]]
    return Mesh(vertices_mm=points, faces=np.array(faces))


TURN = np.arange(64) * 2 * np.pi / 64
CIRCLE = np.column_stack([np.cos(TURN), np.sin(TURN)])
LYING = np.array([[1, 0, 0], [0, 0, -1], [0, 1, 0]])  # z is turned to -y, y to z
PERIMETER = 64 * 2 * np.sin(np.pi / 64)  # of 64 chords in a circle of radius 1


def drilled() -> Mesh:
    """40 wide, 20 deep, 40 high, a hole Ø24 from front to back."""
    square = CIRCLE / np.abs(CIRCLE).max(axis=1)[:, None] * 20
    return moved(ringed(square, CIRCLE * 12, 20), LYING)


def bracket() -> Mesh:
    """Foot 50 x 30 x 6, upright 8 x 30 x 40 on its left."""
    return blocks([0, 8, 50], [0, 30], [0, 6, 40], lambda i, _, k: k == 0 or i == 0)


def stepped() -> Mesh:
    """Ø10 x 12, Ø20 x 28, Ø14 x 20 upright on each other."""
    return capped([(0, 0), (5, 0), (5, 12), (10, 12), (10, 40), (7, 40), (7, 60), (0, 60)], 64)


TEETH = 16


def gear() -> Mesh:
    """Sixteen straight teeth, root Ø40, tip Ø50, bore Ø12, 10 high."""
    radius = np.tile([20.0, 25.0, 25.0, 20.0], TEETH)
    return ringed(CIRCLE * radius[:, None], CIRCLE * 6, 10)


def stairs() -> Mesh:
    """Three steps and a block that stands in front of them: edges that are hidden in part."""
    return blocks(
        [0, 10, 20, 30, 42], [0, 12, 20, 40], [0, 8, 16, 24],
        lambda i, j, k: (j == 2 and i + k <= 2) or (j == 0 and i == 1) or k == 0,
    )  # fmt: skip


def table() -> Mesh:
    return blocks([0, 6, 34, 40], [0, 6, 24, 30], [0, 20, 24], lambda i, j, k: k == 1 or (i != 1 and j != 1))


def noisy_ball() -> Mesh:
    ball = sphere(20, 72, 36)
    swell = 1 + np.random.default_rng(4).normal(0, 0.0015, len(ball.vertices_mm))
    return Mesh(vertices_mm=ball.vertices_mm * swell[:, None], faces=ball.faces)


SOLIDS = {
    "box": lambda: box(40, 25, 15), "drilled": drilled, "bracket": bracket, "stepped": stepped,
    "cylinder": lambda: cylinder(8, 30), "gear": gear, "stairs": stairs, "table": table, "ball": lambda: sphere(20),
    "noisy ball": noisy_ball, "box cut finer": lambda: refined(box(40, 25, 15), 2),
    "bracket as soup": lambda: soup(bracket()), "large box": lambda: box(2000, 900, 700), "small box": lambda: box(2, 1, 0.5),
    "drilled cut finer": lambda: refined(drilled()), "far bracket": lambda: moved(bracket(), by=(4e4, -3e4, 2e4)),
}  # fmt: skip


@cache
def drawn(name: str) -> dict[str, Seen]:
    return views(SOLIDS[name]())


def pieces(lines) -> np.ndarray:
    """The straight pieces (n, 2, 2) of polylines."""
    made = [np.stack([line[:-1], line[1:]], axis=1) for line in lines]
    return np.concatenate(made) if made else np.zeros((0, 2, 2))


def length(lines) -> float:
    each = pieces(lines)
    return float(np.linalg.norm(each[:, 1] - each[:, 0], axis=1).sum())


def size_of(name: str) -> float:
    return float(np.linalg.norm(np.ptp(SOLIDS[name]().vertices_mm, axis=0)))


def straight_runs(lines, near: float) -> int:
    """How many straight lines are left once pieces that go on in one direction are taken for one."""
    left = [piece for piece in pieces(lines) if np.linalg.norm(piece[1] - piece[0]) > near]
    merged = True
    while merged:
        merged = False
        for i in range(len(left)):
            for j in range(i + 1, len(left)):
                joined = as_one(left[i], left[j], near)
                if joined is not None:
                    left = [*left[:i], *left[i + 1 : j], *left[j + 1 :], joined]
                    merged = True
                    break
            if merged:
                break
    return len(left)


def as_one(one, other, near: float):
    along = (one[1] - one[0]) / np.linalg.norm(one[1] - one[0])
    off = other - one[0]
    if np.abs(off[:, 0] * along[1] - off[:, 1] * along[0]).max() > near:
        return None
    places = np.concatenate([[0.0, np.linalg.norm(one[1] - one[0])], off @ along])
    if max(places[2:].min(), 0.0) > min(places[2:].max(), places[1]) + near:
        return None
    return one[0] + np.outer([places.min(), places.max()], along)


def common(lines, others, near: float) -> np.ndarray:
    """The length in mm that each piece of the first has on one line with each piece of the others."""
    first, second = pieces(lines), pieces(others)
    lengths = np.linalg.norm(first[:, 1] - first[:, 0], axis=1)
    first, lengths = first[lengths > near], lengths[lengths > near]
    along = (first[:, 1] - first[:, 0]) / lengths[:, None]
    off = second[None, :, :, :] - first[:, None, None, 0, :]
    beside = np.abs(off[..., 0] * along[:, None, None, 1] - off[..., 1] * along[:, None, None, 0]).max(axis=2)
    place = np.einsum("ijek,ik->ije", off, along)
    both = np.minimum(place.max(axis=2), lengths[:, None]) - np.maximum(place.min(axis=2), 0)
    both[(beside > near) | (both < 4 * near)] = 0  # less than that is a crossing at a small angle
    return both


def doubled(lines, near: float) -> float:
    """The length in mm that is drawn twice."""
    each = [piece for piece in pieces(lines) if np.linalg.norm(piece[1] - piece[0]) > near]
    both = common(each, each, near)
    np.fill_diagonal(both, 0)
    return float(both.sum() / 2)


def dense(lines, apart: float) -> np.ndarray:
    return sampled(pieces(lines), apart)[0] if lines else np.zeros((0, 2))


def lonely(points, others, within: float) -> np.ndarray:
    """Those of the points that have none of the others near."""
    if not len(points) or not len(others):
        return points
    return points[cKDTree(others).query(points)[0] > within]


def isometric(view: Seen, vector) -> float:
    """How long a vector is in the view."""
    return float(
        np.hypot(view.right @ np.asarray(vector, dtype=float), view.up @ np.asarray(vector, dtype=float))
    )


@pytest.mark.parametrize("name", [*ALL, *OPPOSITE])
def test_directions_stand_square_on_each_other(name):
    view = drawn("box")[name]
    assert np.allclose(
        np.array([view.right, view.up, view.eye]) @ np.array([view.right, view.up, view.eye]).T,
        np.eye(3),
        atol=1e-9,
    )
    assert np.allclose(np.cross(view.right, view.up), view.eye, atol=1e-9)
    if name in EYES | OPPOSITE:
        assert np.allclose(view.eye, (EYES | OPPOSITE)[name], atol=1e-9)
        assert np.allclose(view.up, UP.get(name, (0, 0, 1)), atol=1e-9)
    else:
        assert min(abs(view.eye)) > 0.2


# Visible and hidden length in mm, and straight lines where they can be counted.
A, B, C = 40, 25, 15
KNOWN = {
    ("box", "front"): (2 * (A + C), 0, 4),
    ("box", "top"): (2 * (A + B), 0, 4),
    ("box", "side"): (2 * (B + C), 0, 4),
    ("box cut finer", "front"): (2 * (A + C), 0, 4),
    ("box cut finer", "top"): (2 * (A + B), 0, 4),
    ("large box", "front"): (5400, 0, 4),
    ("small box", "side"): (3, 0, 4),
    ("drilled", "front"): (160 + 12 * PERIMETER, 0, 4 + 64),
    ("drilled", "top"): (120, 2 * 20, 4),
    ("drilled", "side"): (120, 2 * 20, 4),
    ("drilled cut finer", "front"): (160 + 12 * PERIMETER, 0, None),
    ("drilled cut finer", "top"): (120, 2 * 20, 4),
    ("bracket", "front"): (2 * (50 + 40), 0, 6),
    ("bracket", "top"): (2 * (50 + 30) + 30, 0, 5),
    ("bracket", "side"): (2 * (30 + 40), 30, 4),
    ("bracket as soup", "top"): (2 * (50 + 30) + 30, 0, 5),
    ("far bracket", "side"): (2 * (30 + 40), 30, 4),
    ("stepped", "front"): (2 * (12 + 28 + 20) + 10 + 20 + 20 + 14, 0, None),
    ("stepped", "side"): (2 * (12 + 28 + 20) + 10 + 20 + 20 + 14, 0, None),
    ("stepped", "top"): ((10 + 7) * PERIMETER, 5 * PERIMETER, None),
    ("cylinder", "front"): (2 * 30 + 2 * 16, 0, 4),
    ("cylinder", "side"): (2 * 30 + 2 * 16, 0, 4),
    ("cylinder", "top"): (8 * PERIMETER, 0, 64),
    # A flank: (20, 0°) to (25, 5.625°); a tip and a root: a chord over 5.625° each.
    ("gear", "top"): (
        TEETH * (2 * np.sqrt(20**2 + 25**2 - 2 * 20 * 25 * np.cos(TURN[1])) + (25 + 20) * PERIMETER / 64) + 6 * PERIMETER, 0, None,
    ),
    ("table", "front"): (40 + 2 * 4 + 28 + 4 * 20 + 2 * 6, 2 * 6, None),  # dashed: where the legs' backs meet the top
    ("bracket", "right"): (2 * (30 + 40) + 30, 0, 5),
    ("bracket", "rear"): (2 * (50 + 40), 0, 6),
    ("table", "below"): (2 * (40 + 30) + 4 * 12, 0, 12),
    ("table", "top"): (2 * (40 + 30), 4 * 12, 4),
}  # fmt: skip


@pytest.mark.parametrize(("name", "view"), KNOWN)
def test_lines_are_as_long_as_the_formula_says(name, view):
    visible, hidden, runs = KNOWN[name, view]
    seen, near = drawn(name)[view], 1e-3 * size_of(name)
    assert length(seen.visible) == pytest.approx(visible, rel=0.02)
    assert length(seen.hidden) == pytest.approx(hidden, rel=0.02, abs=near)
    if runs is not None:
        assert straight_runs(seen.visible, near / 5) == runs


def test_a_box_in_the_pictorial_shows_nine_edges_and_hides_three():
    seen = drawn("box")["pictorial"]
    of_each = sum(isometric(seen, vector) for vector in ((A, 0, 0), (0, B, 0), (0, 0, C)))
    assert length(seen.visible) == pytest.approx(3 * of_each, rel=0.005)
    assert length(seen.hidden) == pytest.approx(of_each, rel=0.005)
    assert (straight_runs(seen.visible, 0.01), straight_runs(seen.hidden, 0.01)) == (9, 3)


def test_a_hole_is_a_circle_in_front_and_two_dashed_lines_from_above():
    front, top = drawn("drilled")["front"], drawn("drilled")["top"]
    points = dense(front.visible, 0.2)
    middle = np.array([front.right @ [0, -10, 0], front.up @ [0, -10, 0]])
    reach = np.linalg.norm(points - middle, axis=1)
    assert (np.abs(reach - 12) < 0.05).sum() == pytest.approx(12 * PERIMETER / 0.2, rel=0.1)
    assert not ((reach < 11.9) | ((reach > 12.1) & (reach < 19.9))).any()
    assert straight_runs(top.hidden, 0.01) == 2
    assert sorted({round(float(x), 2) for x in pieces(top.hidden)[..., 0].ravel()}) == [-12.0, 12.0]


@pytest.mark.parametrize("view", ALL)
@pytest.mark.parametrize("name", ["ball", "noisy ball"])
def test_a_ball_is_one_outline(name, view):
    seen = drawn(name)[view]
    assert length(seen.visible) == pytest.approx(2 * np.pi * 20, rel=0.03 if name == "ball" else 0.1)
    inner = np.linalg.norm(dense(seen.visible, 0.2), axis=1) < 0.95 * 20
    assert inner.mean() <= (0.0 if name == "ball" else 0.05)
    assert len(seen.visible) <= (4 if name == "ball" else 40)


@pytest.mark.parametrize("view", ALL)
@pytest.mark.parametrize("name", SOLIDS)
def test_no_line_is_doubled(name, view):
    seen, near = drawn(name)[view], 2e-4 * size_of(name)
    assert doubled(seen.visible, near) <= 3e-3 * length(seen.visible)
    assert doubled(seen.hidden, near) <= 3e-3 * length(seen.visible)


@pytest.mark.parametrize("view", ALL)
@pytest.mark.parametrize("name", SOLIDS)
def test_no_dashed_line_lies_on_a_full_one(name, view):
    seen, near = drawn(name)[view], 2e-4 * size_of(name)
    assert common(seen.hidden, seen.visible, near).sum() <= 3e-3 * length(seen.visible)


@pytest.mark.parametrize("view", ALL)
@pytest.mark.parametrize("name", SOLIDS)
def test_no_line_is_a_crumb(name, view):
    seen = drawn(name)[view]
    assert seen.visible
    assert min(length([line]) for line in [*seen.visible, *seen.hidden]) >= 0.002 * size_of(name)


AREA = {
    ("box", "front"): A * C, ("box", "top"): A * B, ("box", "side"): B * C, ("drilled", "front"): 1600,
    ("bracket", "front"): 8 * 40 + 42 * 6, ("bracket", "side"): 1200, ("stepped", "front"): 10 * 12 + 20 * 28 + 14 * 20,
    ("cylinder", "top"): 64 * np.sin(TURN[1]) * 8 * 8 / 2, ("ball", "front"): np.pi * 400, ("ball", "pictorial"): np.pi * 400,
    ("table", "front"): 40 * 4 + 2 * 6 * 20,
    ("gear", "top"): TEETH * np.sin(TURN[1]) / 2 * (20 * 25 * 2 + 25**2 + 20**2),
}  # fmt: skip


@pytest.mark.parametrize(("name", "view"), AREA)
def test_the_outline_is_closed_and_holds_the_shadow(name, view):
    """The area of the largest loop is what the part covers in the view, its holes filled."""
    outline = drawn(name)[view].outline
    assert outline
    for line in outline:
        assert np.linalg.norm(line[0] - line[-1]) <= 1e-4 * size_of(name)
    areas = [abs(float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1]))) / 2 for x, y in (line.T for line in outline)]
    assert max(areas) == pytest.approx(AREA[name, view], rel=0.01)


ASKED_BY_RAYS = ("box", "drilled", "bracket", "stepped", "cylinder", "gear", "stairs", "table")


@pytest.mark.parametrize("view", ALL)
@pytest.mark.parametrize("name", ASKED_BY_RAYS)
def test_lines_are_where_rays_say(name, view):
    """Sharp edges are drawn full where an eye sees them and dashed where not, and nothing is drawn where no edge is."""
    seen, mesh = drawn(name)[view], SOLIDS[name]()
    apart = size_of(name) / (250 if len(mesh.faces) < 200 else 80)  # every ray against every face is dear
    points, is_seen, is_sharp = seen_of_edges(mesh, seen.eye, apart)
    flat = np.column_stack([points @ seen.right, points @ seen.up])
    full, dashed = dense(seen.visible, apart / 2), dense(seen.hidden, apart / 2)
    near, few = 0.75 * apart, 0.01
    assert len(lonely(flat[is_seen & is_sharp], full, near)) <= few * is_seen.sum(), (
        "an edge in sight is not drawn"
    )
    both = np.concatenate([full, dashed])
    assert len(lonely(flat[~is_seen & is_sharp], both, near)) <= few * len(flat), (
        "a hidden edge is not drawn dashed"
    )
    assert len(lonely(full, flat[is_seen], near)) <= few * len(full), (
        "a full line stands where no edge is seen"
    )
    assert len(lonely(dashed, flat[~is_seen], near)) <= few * len(both), (
        "a dashed line stands where no edge is hidden"
    )


def is_the_same(one: Seen, other: Seen, shift=(0.0, 0.0), near: float = 0.02) -> bool:
    for mine, others in ((one.visible, other.visible), (one.hidden, other.hidden)):
        here, there = dense(mine, near), dense(others, near) - np.asarray(shift)
        if len(lonely(here, there, 2 * near)) + len(lonely(there, here, 2 * near)) > 0.001 * max(
            len(here), 1
        ):
            return False
        if abs(length(mine) - length(others)) > 0.001 * max(length(mine), 1):
            return False
    return True


@pytest.mark.parametrize("name", ["drilled", "stairs", "gear", "cylinder"])
def test_neither_the_order_of_faces_nor_a_shift_changes_a_line(name):
    mesh, chance = SOLIDS[name](), np.random.default_rng(9)
    shuffled = with_faces(mesh, np.roll(mesh.faces[chance.permutation(len(mesh.faces))], 1, axis=1))
    by = (13.0, -7.5, 210.25)
    for other, there in ((views(shuffled), (0, 0, 0)), (views(moved(mesh, by=by)), by)):
        for view in ALL:
            before = drawn(name)[view]
            assert is_the_same(
                before, other[view], (before.right @ np.array(there), before.up @ np.array(there))
            ), view


def test_the_same_mesh_gives_the_same_bytes():
    one, two = views(stairs()), views(stairs())
    for view in ALL:
        assert all(
            a.tobytes() == b.tobytes() for a, b in zip(one[view].visible, two[view].visible, strict=True)
        )


SPOILT = {
    "empty": lambda: Mesh(vertices_mm=np.zeros((0, 3)), faces=np.zeros((0, 3))),
    "one triangle": lambda: Mesh(vertices_mm=np.array([[0, 0, 0], [9, 0, 0], [0, 9, 4.0]]), faces=np.array([[0, 1, 2]])),
    "in one point": lambda: Mesh(vertices_mm=np.zeros((3, 3)), faces=np.array([[0, 1, 2]])),
    "without lid": lambda: with_faces(box(), box().faces[2:]),
    "inside out": lambda: with_faces(bracket(), bracket().faces[:, ::-1]),
    "every face twice": lambda: with_faces(bracket(), np.repeat(bracket().faces, 2, axis=0)),
    "thrown together": lambda: Mesh(
        vertices_mm=np.random.default_rng(2).uniform(-9, 9, (40, 3)), faces=np.random.default_rng(3).integers(0, 40, (200, 3))
    ),
    "flat as paper": lambda: moved(bracket(), np.diag([1, 1e-9, 1])),
    "far away": lambda: moved(bracket(), by=(1e8, 1e8, -1e8)),
}  # fmt: skip


@pytest.mark.parametrize("name", SPOILT)
def test_nothing_is_raised_for_spoilt_meshes(name):
    told = views(SPOILT[name]())
    assert set(told) == {*ALL, *OPPOSITE}
    for view in told.values():
        for line in [*view.visible, *view.hidden, *view.outline]:
            assert line.ndim == 2
            assert line.shape[1] == 2
            assert np.isfinite(line).all()
