"""Bodies that a file has inside out are told as if it had not; hollows that nothing opens are told as voids.

Source of the sizes: the solids' own.
"""

import numpy as np
import pytest

from generator.geometry.features.found import features_of
from generator.geometry.features.kinds import Features, Kind
from tests.geometry.features.unseen.judging import case
from tests.geometry.solids import box, cylinder, moved, screw, together, torus, turned_inside_out, with_faces

ROUND = {Kind.HOLE, Kind.BOSS, Kind.SLOT}


def in_short(told: Features) -> list[tuple]:
    return [(str(each.kind), round(each.size_mm, 4), each.is_inner, each.is_through, np.round(each.at, 3).tolist()) for each in told.found]


@pytest.mark.parametrize("name", ["keyway", "bosses", "slots"])
def test_inside_out_is_told_as_the_right_way_round(name):
    mesh = case(name).mesh
    assert in_short(features_of(turned_inside_out(mesh))) == in_short(features_of(mesh))


def test_faces_wound_by_chance_are_told_as_the_right_way_round():
    mesh = case("plate").mesh
    by_chance = np.random.default_rng(1).integers(0, 2, len(mesh.faces))[:, None] == 1
    spoilt = with_faces(mesh, np.where(by_chance, mesh.faces[:, ::-1], mesh.faces))
    assert in_short(features_of(spoilt)) == in_short(features_of(mesh))


HOLLOW = moved(turned_inside_out(cylinder(10, 20)), by=(30, 30, 20))


@pytest.mark.parametrize(
    "mesh",
    [
        together(box(60, 60, 60), HOLLOW),
        turned_inside_out(together(box(60, 60, 60), HOLLOW)),
        together(box(60, 60, 60), HOLLOW, turned_inside_out(moved(box(5, 5, 5), by=(100, 0, 0)))),
    ],
    ids=["as it should be", "all inside out", "with a body inside out beside"],
)
def test_a_hollow_that_nothing_opens_is_a_void_and_no_hole(mesh):
    told = features_of(mesh)
    assert not [each for each in told.found if each.kind in ROUND]
    assert [each.size_mm for each in told.voids] == [pytest.approx((20, 20, 20), rel=2e-3)]
    assert told.voids[0].at == pytest.approx((30, 30, 30), abs=0.05)
    assert Features.from_json(told.to_json()) == told


def test_a_bore_in_a_body_with_a_void_is_still_a_hole():
    plate = case("plate").mesh
    small = moved(turned_inside_out(box(2, 2, 2)), by=(12, 20, 2))
    told = features_of(together(plate, small))
    assert in_short(told) == in_short(features_of(plate))
    assert len(told.voids) == 1


def test_what_lies_in_a_body_and_is_wound_like_one_is_no_void():
    told = features_of(together(box(60, 60, 60), moved(cylinder(10, 20), by=(30, 30, 20))))
    assert told.voids == ()
    assert [each.kind for each in told.found if each.kind in ROUND] == [Kind.BOSS]


def test_a_fine_ring_is_no_row_of_bosses():
    """Each of its rows is nearly a cylinder: 200 round a ring, as a STEP file's handwheel is cut."""
    told = features_of(torus(34, 4.5, around=200, across=24)).found
    assert not [each for each in told if each.kind in ROUND]
    assert [each.size_mm for each in told if each.kind is Kind.TURNED] == pytest.approx([77.0], abs=0.01)


def test_an_inside_out_thread_keeps_its_hand():
    """A mirror image would change it; the way round of its faces does not."""
    told = [features_of(each).found for each in (screw(12.0, 10.3, 3.0), turned_inside_out(screw(12.0, 10.3, 3.0)))]
    assert [[str(each.hand) for each in found if each.kind is Kind.THREAD] for found in told] == [["right"], ["right"]]
