"""Is a part found again by its shape, and never called the same where it is not? A cheap part of `report_unseen.py`.

The shares asked for are ours: a mechanic looks at three pictures, and at one where it says so.
"""

import math

import numpy as np
import pytest

from generator.geometry.likeness.aligned import surfaces_compared
from generator.geometry.likeness.kinds import Sameness
from generator.geometry.likeness.nearest import nearest
from generator.geometry.likeness.surface import surface_of
from generator.geometry.mesh import Mesh
from generator.measuring.matching import LAID
from tests.geometry.likeness import asked, kept
from tests.geometry.likeness import unseen_copies as copies
from tests.geometry.likeness.unseen_parts import HANDS, NAMES, OTHER_HOLES, mesh_of, part, plate

NO_HAND = ("plate-05", "channel-05")  # each is its own mirror image
MIXED = ("handed-00", "lever-02", "cover-04")
FEW = (*MIXED, *NAMES[3::60], "handed-01")
UNLIKE = OTHER_HOLES[5:7]


def right(name):
    """The names that may stand first: a descriptor need not tell the hands of a pair."""
    return {name, HANDS.get(name, name)}


@pytest.fixture(scope="module")
def ranks():
    """By kind and name of a kept copy: how many of all parts stand before the right one, by the descriptor alone."""
    known, copies = kept.read()
    assert len(known) == len(NAMES) >= 200
    found = {}
    for kind, each in copies.items():
        for name, descriptor in each.items():
            near = [one.name for one in nearest(descriptor, known)]
            found[kind, name] = min(near.index(one) for one in right(name))
    return found


def share(ranks, kind, among):
    own = [rank for (of, _), rank in ranks.items() if of == kind]
    assert len(own) == len(kept.SEVENTH)
    return sum(rank < among for rank in own) / len(own)


@pytest.mark.parametrize("kind", copies.KINDS)
def test_the_right_part_is_among_those_that_are_laid(ranks, kind):
    """What the descriptor leaves out, nothing finds again."""
    assert share(ranks, kind, LAID) == 1.0


@pytest.mark.parametrize(("kind", "first", "three"), [
    ("rotated", 0.95, 1.0), ("subdivided", 0.95, 1.0), ("coarser", 0.9, 1.0), ("clustered", 0.9, 0.95), ("noisy", 0.9, 0.95),
    ("x 25.4", 0.95, 1.0), ("x 0.5", 0.9, 1.0), ("mirrored", 0.9, 1.0), ("cut", 0.9, 0.95), ("broken", 0.55, 0.75),
])  # fmt: skip
def test_so_many_stand_first_before_anything_is_laid(ranks, kind, first, three):
    """As measured, and no less: 0.95 and, of broken ones, 0.85 among three are reached once they are laid (`report_whole_way`)."""
    assert share(ranks, kind, 1) >= first
    assert share(ranks, kind, 3) >= three


@pytest.mark.parametrize(("kind", "name"), [("", "plate-07"), ("subdivided", kept.SEVENTH[6]), ("noisy", kept.SEVENTH[3]), ("broken", kept.SEVENTH[11])])
def test_what_is_kept_is_what_the_code_makes(kind, name):
    """Who changed the descriptor runs `tests.geometry.likeness.kept`. The bound is far below what parts of one family differ by."""
    known, of_kinds = kept.read()
    made = asked.described(copies.KINDS[kind](name)) if kind else asked.known(name)
    (near,) = nearest(made, {name: of_kinds[kind][name] if kind else known[name]})
    assert near.distance == pytest.approx(0, abs=5e-4)
    assert near.size_ratio == pytest.approx(1, abs=1e-5)


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
    own = asked.known(FEW[0])
    (near,) = nearest(own, {"itself": own})
    assert near.distance == pytest.approx(0, abs=1e-6)
    assert near.size_ratio == pytest.approx(1, rel=1e-6)


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


@pytest.mark.parametrize("name", ["handed-03", "cap-08", "gear-01"])
def test_half_a_part_is_laid_where_it_broke_off(name):
    """Its middle lies elsewhere than that of the whole one, and a turn about the wrong place finds nothing."""
    piece, whole = surface_of(copies.halved(name)), surface_of(part(name))
    laid = surfaces_compared(piece, whole)
    assert laid.kind is Sameness.SIMILAR
    assert laid.explained > 0.88
    assert 0.45 < laid.covered < 0.65


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
