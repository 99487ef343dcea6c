"""Poses for printing against solids whose overhang, contact and supports are known by formula.

Written by somebody who had not seen how they are found. The convention (common practice, 45°, no standard): a face whose
outward normal n has n·up < -cos 45° and that does not lie on the plate overhangs; exactly 45° does not. Contact is the area
that lies on the plate. The support's volume is what stands below the overhang, straight down to the plate or to the part.
The size is that of the part turned about `up` so that its footprint's rectangle is the smallest: it does not depend on how
the mesh lay.
"""

from dataclasses import dataclass

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from generator.geometry.mesh import Mesh
from tests.geometry.solids import (
    blocks,
    box,
    capped,
    cylinder,
    moved,
    prism,
    refined,
    revolved,
    soup,
    sphere,
    with_faces,
)


@dataclass(frozen=True)
class Stand:
    """A pose as the tests ask for it; lengths in mm, up in the mesh's coordinates."""

    up: np.ndarray
    overhang: float
    contact: float
    support: float
    height: float
    size: tuple[float, float, float]


# The adapter: whoever builds the poses may mend this, never the truths.
def poses(mesh: Mesh) -> list[Stand]:
    """Best first."""
    from generator.geometry.printing.poses import poses_of  # inside: the other tests are collected without it

    told = poses_of(mesh)
    return [
        Stand(
            up=np.asarray(each.up, dtype=float),
            overhang=each.overhang_mm2,
            contact=each.contact_mm2,
            support=each.support_mm3,
            height=each.height_mm,
            size=tuple(each.size_mm),
        )
        for each in getattr(told, "candidates", told)
    ]


def pose(mesh: Mesh, up) -> Stand:
    """The candidate that stands on the side opposite to `up`."""
    up = np.asarray(up, dtype=float) / np.linalg.norm(up)
    near = [each for each in poses(mesh) if each.up @ up > np.cos(np.radians(0.5))]
    assert near, f"no candidate has {up} upwards"
    return near[0]


def along_y(outline, wide: float) -> Mesh:
    """A convex outline of (x, z) corners, anticlockwise as (x, z) is drawn, drawn out along y."""
    lying = np.array([[1, 0, 0], [0, 0, -1], [0, 1, 0]])
    return moved(prism(outline, wide), lying)


def tee() -> Mesh:
    """Stem 10 x 20, 30 high, under a bar 50 x 20, 8 high."""
    return blocks([0, 20, 30, 50], [0, 20], [0, 30, 38], lambda i, _, k: k == 1 or i == 1)


def table() -> Mesh:
    """Top 60 x 40 x 5 on four legs 6 x 6, 25 high."""
    return blocks([0, 6, 54, 60], [0, 6, 34, 40], [0, 25, 30], lambda i, j, k: k == 1 or (i != 1 and j != 1))


def angle() -> Mesh:
    """Foot 50 x 30 x 6, upright 8 thick and 40 high over all."""
    return blocks([0, 8, 50], [0, 30], [0, 6, 40], lambda i, _, k: k == 0 or i == 0)


def hook() -> Mesh:
    """A post 10 x 12, 50 high; an arm 30 out at the top, 8 high; its tip hangs down by another 10."""
    return blocks(
        [0, 10, 32, 40], [0, 12], [0, 32, 42, 50], lambda i, _, k: i == 0 or k == 2 or (i == 2 and k == 1)
    )


def wedge(degrees: float) -> Mesh:
    """A prism 30 wide whose one side leans out over the plate: its normal points so far below the horizontal."""
    out = 20 * np.tan(np.radians(degrees))
    return along_y([(0, 0), (20, 0), (20 + out, 20), (0, 20)], 30)


def tube() -> Mesh:
    return revolved([(8, 0), (10, 0), (10, 40), (8, 40)], 256)


def cap() -> Mesh:
    """A ball's cap, radius 20, its flat 5 above the middle: stands on the flat."""
    tilt = np.linspace(np.arcsin(0.25), np.pi / 2, 40)
    side = [(20 * np.cos(t), 20 * np.sin(t)) for t in tilt[:-1]]
    return capped([(0, 5.0), *side, (0, 20.0)], 128)


Z, DOWN, X, Y = (0, 0, 1), (0, 0, -1), (1, 0, 0), (0, 1, 0)
MINUS_X, MINUS_Y = (-1, 0, 0), (0, -1, 0)
# Up: overhang mm², contact mm², support mm³, height mm; by hand.
KNOWN = {
    ("cube", Z): (lambda: box(20, 20, 20), 0, 400, 0, 20),
    ("box on its edge side", X): (lambda: box(40, 20, 10), 0, 200, 0, 40),
    ("tee", Z): (tee, 40 * 20, 200, 40 * 20 * 30, 38),
    ("tee, head down", DOWN): (tee, 0, 1000, 0, 38),
    # On its face: all walls stand upright.
    ("tee on its face", Y): (tee, 0, 50 * 8 + 10 * 30, 0, 20),
    # On an end of the bar: below the stem 20 high, 30 wide; 8 x 20 touch.
    ("tee on its side", X): (tee, 30 * 20, 8 * 20, 30 * 20 * 20, 50),
    ("table", Z): (table, 60 * 40 - 4 * 36, 4 * 36, (2400 - 144) * 25, 30),
    ("table, legs up", DOWN): (table, 0, 2400, 0, 30),
    # On its long edge: two legs stand on the plate beside the top, two hang 28 above these.
    ("table on its edge", Y): (table, 2 * 6 * 25, 60 * 5 + 2 * 6 * 25, 2 * 6 * 25 * 28, 40),
    ("angle", Z): (angle, 0, 1500, 0, 40),
    ("angle on its back", X): (angle, 0, 1200, 0, 50),
    ("angle upside down", DOWN): (angle, 42 * 30, 240, 42 * 30 * 34, 40),
    ("angle on its face", Y): (angle, 0, 8 * 40 + 42 * 6, 0, 30),
    ("hook", Z): (hook, 22 * 12 + 8 * 12, 120, 22 * 12 * 42 + 8 * 12 * 32, 50),
    ("hook on its face", Y): (hook, 0, 10 * 50 + 30 * 8 + 8 * 10, 0, 12),
    ("hook, arm down", DOWN): (hook, 0, 40 * 12, 0, 50),
    # On its back (up is +x): the tip overhangs the post by 22 that are free between them.
    ("hook on its back", X): (hook, 10 * 12, 50 * 12, 10 * 12 * 22, 40),
    ("leaning by 44", Z): (lambda: wedge(44), 0, 600, 0, 20),
    ("leaning by 45", Z): (lambda: wedge(45), 0, 600, 0, 20),
    ("leaning by 46", Z): (
        lambda: wedge(46), 30 * 20 / np.cos(np.radians(46)), 600, 30 * 20 * 20 * np.tan(np.radians(46)) / 2, 20,
    ),
    ("leaning by 70", Z): (
        lambda: wedge(70), 30 * 20 / np.cos(np.radians(70)), 600, 30 * 20 * 20 * np.tan(np.radians(70)) / 2, 20,
    ),
    ("tube upright", Z): (tube, 0, np.pi * 36, 0, 40),
    ("cylinder upright", Z): (lambda: cylinder(8, 30, 256), 0, np.pi * 64, 0, 30),
    ("cap on its flat", Z): (cap, 0, np.pi * (400 - 25), 0, 15),
    ("box cut finer", Z): (lambda: refined(box(40, 20, 10)), 0, 800, 0, 10),
    ("hook as soup", Z): (lambda: soup(hook()), 22 * 12 + 8 * 12, 120, 22 * 12 * 42 + 8 * 12 * 32, 50),
}  # fmt: skip


@pytest.mark.parametrize(("name", "up"), KNOWN)
def test_figures_of_a_pose_are_those_of_the_formula(name, up):
    made, overhang, contact, support, height = KNOWN[name, up]
    stand = pose(made(), up)
    assert stand.overhang == pytest.approx(overhang, rel=0.01, abs=0.5)
    assert stand.contact == pytest.approx(contact, rel=0.01, abs=0.5)
    assert stand.support == pytest.approx(support, rel=0.05, abs=5)
    assert stand.height == pytest.approx(height, rel=1e-6)


def test_a_tube_that_lies_overhangs_by_a_quarter_below_and_a_quarter_within():
    """Outside 90° of Ø20 x 40 below; inside 90° of Ø16 x 40 above: its normal points down there.

    What the lowest facets touch is on the plate, so little is taken off: a facet is 0.25 wide.
    """
    lying = [each for each in poses(tube()) if abs(each.up[2]) < 1e-3]
    assert lying, "no candidate lies"
    quarter = np.pi / 2 * 40
    for each in lying:
        assert each.overhang == pytest.approx(quarter * (10 + 8), rel=0.04)
        assert each.height == pytest.approx(20, rel=1e-3)
        assert each.contact <= 2.5 * 40 * 2 * np.pi * 10 / 256
        # Below: under a quarter's chord, less the circle's segment. Within: between the upper and the lower quarter of Ø16.
        below = 40 * (2 * 10 * np.sin(np.pi / 4) * 10 - 100 * (np.pi / 4 + 0.5))
        within = 40 * 2 * 64 * (np.pi / 4 + 0.5)
        assert each.support == pytest.approx(below + within, rel=0.06)


def test_a_ball_overhangs_by_its_lower_cap():
    """2 π r² (1 - cos 45°), whatever is up; under it the cylinder over the cap's shadow less the ball's part."""
    r, s = 20.0, np.sin(np.pi / 4)
    under = np.pi * r**3 * (s**2 - 2 / 3 * (1 - (1 - s**2) ** 1.5))
    for each in poses(sphere(20, 96, 48)):
        assert each.height == pytest.approx(40, rel=0.005)
        assert each.overhang == pytest.approx(2 * np.pi * r**2 * (1 - s), rel=0.08)
        assert each.support == pytest.approx(under, rel=0.15)


BEST = {
    "tee": (tee, [DOWN, Y, MINUS_Y]), "table": (table, [DOWN]), "angle": (angle, [Z, X, Y, MINUS_Y]),
    "hook": (hook, [DOWN, Y, MINUS_Y]), "tube": (tube, [Z, DOWN]), "cap": (cap, [Z]),
    "leaning by 70": (lambda: wedge(70), [DOWN, X, Y, MINUS_Y]),
    "plate": (lambda: box(60, 40, 3), [Z, DOWN]), "plate upright": (lambda: box(3, 40, 60), [X, MINUS_X]),
}  # fmt: skip


@pytest.mark.parametrize("name", BEST)
def test_the_best_pose_is_the_obvious_one(name):
    """Where several need no support, any of them is right, but a plate lies."""
    made, right = BEST[name]
    best = poses(made())[0]
    assert any(best.up @ np.asarray(each) > 0.9999 for each in right), best
    assert best.support == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("name", BEST)
def test_each_pose_is_told_once_and_holds_together(name):
    told = poses(BEST[name][0]())
    assert told
    for n, each in enumerate(told):
        assert np.linalg.norm(each.up) == pytest.approx(1, abs=1e-9)
        assert each.size[2] == pytest.approx(each.height, rel=1e-9)
        assert min(each.overhang, each.contact, each.support) >= 0
        assert not any(each.up @ other.up > np.cos(np.radians(0.1)) for other in told[:n])
    assert min(each.support for each in told) == pytest.approx(told[0].support, abs=1e-6)


@pytest.mark.parametrize("name", ["tee", "table", "hook", "leaning by 70"])
def test_a_rotation_of_the_mesh_changes_nothing_but_the_axes(name):
    made, _ = BEST[name]
    before = poses(made())
    for seed in (1, 2):
        turn = Rotation.random(rng=np.random.default_rng(seed)).as_matrix()
        after = poses(moved(made(), turn, (31.0, -12.5, 8.0)))
        best, same = before[0], after[0]
        for attribute in ("overhang", "contact", "support", "height"):
            assert getattr(same, attribute) == pytest.approx(getattr(best, attribute), rel=0.01, abs=0.5)
        flat = [each for each in before if each.contact > 1]
        for each in flat:
            alike = [other for other in after if other.up @ (turn @ each.up) > 0.9999]
            assert alike, f"{each.up} is no candidate once the mesh is turned"
            assert alike[0].overhang == pytest.approx(each.overhang, rel=0.01, abs=0.5)
            assert alike[0].support == pytest.approx(each.support, rel=0.05, abs=5)
            assert sorted(alike[0].size) == pytest.approx(sorted(each.size), rel=0.02)


@pytest.mark.parametrize("name", ["tee", "hook", "cap"])
def test_the_order_of_faces_does_not_matter(name):
    mesh, chance = BEST[name][0](), np.random.default_rng(6)
    shuffled = with_faces(mesh, np.roll(mesh.faces[chance.permutation(len(mesh.faces))], 2, axis=1))
    before, after = poses(mesh), poses(shuffled)
    assert len(before) == len(after)
    for one, other in zip(before, after, strict=True):
        assert one.up @ other.up == pytest.approx(1, abs=1e-6)
        for attribute in ("overhang", "contact", "support", "height", "size"):
            assert getattr(other, attribute) == pytest.approx(getattr(one, attribute), rel=1e-6, abs=1e-6)


def test_the_size_on_the_plate_lets_a_long_bar_fit_once_it_lies():
    """300 x 20 x 12 fits into 320 x 120 x 100 lying, not upright."""
    told = poses(box(12, 20, 300))
    room = (320, 120, 100)
    fits = [
        all(a <= b for a, b in zip([*sorted(e.size[:2], reverse=True), e.size[2]], room, strict=True))
        for e in told
    ]
    assert any(fits)
    assert not all(fits)
    assert fits[0], "the best pose of a long bar is one that lies"
    stands = [each for each in told if abs(each.up[2]) > 0.999]
    assert all(each.size[2] == pytest.approx(300) for each in stands)


def test_the_same_mesh_gives_the_same():
    assert [tuple(each.up) for each in poses(hook())] == [tuple(each.up) for each in poses(hook())]


SPOILT = {
    "empty": lambda: Mesh(vertices_mm=np.zeros((0, 3)), faces=np.zeros((0, 3))),
    "one triangle": lambda: Mesh(vertices_mm=np.array([[0, 0, 0], [9, 0, 0], [0, 9, 4.0]]), faces=np.array([[0, 1, 2]])),
    "in one point": lambda: Mesh(vertices_mm=np.zeros((3, 3)), faces=np.array([[0, 1, 2]])),
    "on one line": lambda: Mesh(vertices_mm=np.outer(np.arange(3.0), [1, 2, 3]), faces=np.array([[0, 1, 2]])),
    "flat": lambda: Mesh(vertices_mm=np.array([[0, 0, 0], [9, 0, 0], [9, 9, 0], [0, 9, 0.0]]), faces=np.array([[0, 1, 2], [0, 2, 3]])),
    "without lid": lambda: with_faces(box(), box().faces[2:]),
    "inside out": lambda: with_faces(hook(), hook().faces[:, ::-1]),
    "every face twice": lambda: with_faces(hook(), np.repeat(hook().faces, 2, axis=0)),
    "thrown together": lambda: Mesh(
        vertices_mm=np.random.default_rng(2).uniform(-9, 9, (40, 3)), faces=np.random.default_rng(3).integers(0, 40, (200, 3))
    ),
    "flat as paper": lambda: moved(hook(), np.diag([1, 1e-9, 1])),
    "far away": lambda: moved(hook(), by=(1e8, 1e8, -1e8)),
}  # fmt: skip


@pytest.mark.parametrize("name", SPOILT)
def test_nothing_is_raised_for_spoilt_meshes(name):
    for each in poses(SPOILT[name]()):
        assert np.isfinite(
            [*each.up, each.overhang, each.contact, each.support, each.height, *each.size]
        ).all()
