"""What lies in a closed void is no feature: nobody reaches it. What only looks so is."""

import pytest

from generator.geometry.features.found import features_of
from generator.geometry.features.kinds import Kind
from generator.geometry.features.voids import without_voids
from tests.geometry.solids import box, cylinder, moved, soup, together, turned_inside_out

BLOCK = box(40, 40, 30)
INSIDE = moved(cylinder(6, 12), by=(20, 20, 9))
ABOVE = moved(cylinder(6, 12), by=(20, 20, 40))


def rounds(mesh):
    return [(each.kind, round(each.size_mm)) for each in features_of(mesh).found if each.kind in {Kind.HOLE, Kind.BOSS, Kind.TURNED}]


@pytest.mark.parametrize("as_file", [lambda mesh: mesh, soup])
def test_an_enclosed_void_has_no_features_and_the_box_stays(as_file):
    mesh = as_file(together(BLOCK, turned_inside_out(INSIDE)))
    assert rounds(mesh) == []
    assert features_of(mesh).size_mm == pytest.approx((40, 40, 30))


def test_a_body_beside_or_within_and_a_whole_mesh_inside_out_are_no_voids():
    for mesh in (BLOCK, together(BLOCK, INSIDE), together(BLOCK, turned_inside_out(ABOVE)), turned_inside_out(together(BLOCK, turned_inside_out(INSIDE)))):
        assert without_voids(mesh) is mesh


def test_a_void_in_a_void_keeps_the_body_between():
    """A ball that was printed into a hollow block: it can be felt rattling, and is nobody's void."""
    hollow = together(BLOCK, turned_inside_out(moved(box(30, 30, 20), by=(5, 5, 5))), INSIDE)
    assert len(without_voids(hollow).faces) == len(BLOCK.faces) + len(INSIDE.faces)
