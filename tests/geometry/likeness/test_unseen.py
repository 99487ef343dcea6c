"""Is a part found again by its shape, and never called the same where it is not? A cheap part of `report_unseen.py`.

The shares asked for are ours: a mechanic looks at three pictures, and at one where it says so.
"""

import math

import numpy as np
import pytest

from generator.geometry.mesh import Mesh
from tests.geometry.likeness import asked
from tests.geometry.likeness import unseen_copies as copies
from tests.geometry.likeness.unseen_parts import HANDS, NAMES, OTHER_HOLES, mesh_of, part, plate

NO_HAND = ("plate-05", "channel-05")  # each is its own mirror image
MIXED = ("handed-00", "lever-02", "cover-04")
FEW = (*MIXED, *NAMES[3::60], "handed-01")
UNLIKE = OTHER_HOLES[5:7]


def right(name):
    """The names that may stand first: a descriptor need not tell the hands of a pair."""
    return {name, HANDS.get(name, name)}


def missed(copy, among):
    """Of so few none may be missed; the shares of all are in the report."""
    firsts = {name: [near for near, *_ in asked.nearest(copy(name), FEW)[:among]] for name in MIXED}
    return {name: got for name, got in firsts.items() if not right(name) & set(got)}


@pytest.mark.parametrize("kind", ["subdivided", "noisy"])
def test_a_part_in_another_mesh_stands_first(kind):
    assert not missed(copies.KINDS[kind], 1)


def test_a_broken_part_is_among_three():
    assert not missed(copies.broken, 3)


@pytest.mark.parametrize("kind", ["x 25.4", "x 0.5"])
def test_the_size_of_a_scaled_part_is_told(kind):
    times = float(kind.split()[1])
    for name in FEW[:1]:
        ratios = {near: ratio for near, _, ratio in asked.nearest(copies.KINDS[kind](name), FEW)}
        assert ratios[name] == pytest.approx(times, rel=0.02), name


def test_neither_order_nor_what_else_is_known_nor_repetition_changes_a_distance():
    copy = copies.rotated("clip-05")
    first = asked.nearest(copy, FEW)
    assert [each for each in first if each[0] in FEW[::3]] == asked.nearest(copy, FEW[::3][::-1])
    assert [distance for _, distance, _ in first] == sorted(distance for _, distance, _ in first)


def test_a_known_part_is_at_no_distance_from_itself():
    for name in FEW[:2]:
        (near, distance, ratio), *_ = asked.nearest(part(name), FEW)
        assert near in right(name)
        assert distance == pytest.approx(0, abs=1e-6)
        assert ratio == pytest.approx(1, rel=1e-6)


def test_neither_welding_nor_winding_nor_a_far_crumb_hides_a_part():
    for name in MIXED[:2]:
        mesh = part(name)
        soup = mesh.vertices_mm[mesh.faces].reshape(-1, 3)
        loose = Mesh(vertices_mm=soup, faces=np.arange(len(soup)).reshape(-1, 3))
        wrong_way = Mesh(vertices_mm=mesh.vertices_mm, faces=mesh.faces[:, ::-1])
        crumb = soup.max(axis=0) + copies.diagonal(mesh) / 2 + np.array([[0, 0, 0], [0.1, 0, 0], [0, 0.1, 0]])
        crumbed = Mesh(vertices_mm=np.vstack([soup, crumb]), faces=np.arange(len(soup) + 3).reshape(-1, 3))
        for told, copy in (("loose", loose), ("wrong way", wrong_way), ("crumbed", crumbed)):
            assert asked.nearest(copy, FEW)[0][0] in right(name), (told, name)


@pytest.mark.parametrize("name", MIXED)
def test_the_same_part_in_another_mesh_is_called_the_same(name):
    for kind in ("rotated", "subdivided"):
        word, distance, ratio = asked.compared(copies.KINDS[kind](name), part(name))
        assert word == "SAME", kind
        assert distance <= 0.005 * copies.diagonal(part(name))
        assert ratio == pytest.approx(1, rel=0.02)


def test_a_scaled_part_is_called_so_with_its_ratio():
    for name, kind, times in (("handed-00", "x 25.4", 25.4), ("lever-02", "x 0.5", 0.5)):
        word, _, ratio = asked.compared(copies.KINDS[kind](name), part(name))
        assert word == "SCALED"
        assert ratio == pytest.approx(times, rel=0.02)


def test_the_other_hand_is_never_called_the_same():
    name = "handed-04"
    mirrored = copies.mirrored(name)
    assert asked.compared(mirrored, part(name))[0] == "OTHER_HAND"
    assert asked.compared(mirrored, part(HANDS[name]))[0] == "SAME"
    assert asked.compared(part(HANDS[name]), part(name))[0] == "OTHER_HAND"


@pytest.mark.parametrize("name", NO_HAND)
def test_what_is_its_own_mirror_image_has_no_other_hand(name):
    assert asked.compared(copies.mirrored(name), part(name))[0] == "SAME"


@pytest.mark.parametrize(("one", "other"), UNLIKE)
def test_other_holes_in_one_outside_are_never_the_same(one, other):
    assert asked.compared(copies.rotated(one), part(other))[0] in {"SIMILAR", "OTHER"}


def test_one_small_hole_filled_is_another_part():
    """Of the surface the hole's wall is 0.1 %: of the points that stand for it, 40 may stray."""
    hole = 0.8
    one, other = (copies.anywhere(mesh_of(plate(64, holes=holes)), copies.chance("plate", "hole")) for holes in ([(20, 9, hole)], []))
    assert asked.compared(one, other)[0] == "SIMILAR"
    assert asked.compared(other, one)[0] == "SIMILAR"


def test_a_part_with_a_piece_missing_is_never_the_same():
    name = "plate-05"
    assert asked.compared(copies.cut(name), part(name))[0] in {"SIMILAR", "OTHER"}


NONE = np.zeros((0, 3))
TRIANGLE = np.array([[0.0, 0, 0], [30, 0, 0], [0, 40, 0]])
ODD = {
    "nothing": Mesh(vertices_mm=NONE, faces=NONE),
    "corners without faces": Mesh(vertices_mm=TRIANGLE, faces=NONE),
    "a single triangle": Mesh(vertices_mm=TRIANGLE, faces=np.array([[0, 1, 2]])),
    "a point": Mesh(vertices_mm=np.zeros((3, 3)), faces=np.array([[0, 1, 2], [2, 1, 0]])),
    "one corner three times": Mesh(vertices_mm=TRIANGLE, faces=np.array([[1, 1, 1]])),
    "a line": Mesh(vertices_mm=np.outer(np.arange(9.0), [1, 2, 3]), faces=np.arange(9).reshape(-1, 3)),
    "a flat sheet seen from both sides": Mesh(vertices_mm=TRIANGLE, faces=np.array([[0, 1, 2], [0, 2, 1]])),
    "smaller than an atom": Mesh(vertices_mm=part("plate-05").vertices_mm * 1e-12, faces=part("plate-05").faces),
    "larger than the earth": Mesh(vertices_mm=part("plate-05").vertices_mm * 1e12, faces=part("plate-05").faces),
    "far from everything": Mesh(vertices_mm=part("plate-05").vertices_mm + 1e12, faces=part("plate-05").faces),
}


@pytest.mark.parametrize("odd", ODD)
def test_what_is_no_part_is_answered_and_never_the_same_as_one(odd):
    found = asked.nearest(ODD[odd], FEW)
    assert not any(math.isnan(distance) for _, distance, _ in found)
    assert asked.compared(ODD[odd], part("lever-02"))[0] in {"SIMILAR", "OTHER"}
    assert asked.compared(ODD[odd], ODD[odd])[0] in asked.WORDS


def test_nothing_known_is_nothing_near():
    assert asked.nearest(part("knob-02"), ()) == []
