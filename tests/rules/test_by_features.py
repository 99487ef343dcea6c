"""When is a check of a hole doubted, because the model has no such hole?"""

import pytest

from generator.geometry.features.kinds import Feature, Features, Kind
from generator.rules.by_features import feature_doubts
from tests.fixtures.told import says
from tests.rules.cases import knob

CHECK = knob().checks[0].model_copy(update={"nominal_mm": 6.0, "plus_mm": 0.1, "minus_mm": 0.0, "feature": None})


def hole(size, kind=Kind.HOLE, **more):
    return Feature(kind=kind, at=(1.0, 2.0, 3.04), axis=(0.0, 0.0, 1.0), size_mm=size, within_mm=0.01, is_inner=True, **more)


def features(*found, **more):
    return Features(found=found, size_mm=(9, 9, 9), box_mm=(9, 9, 9), box_axes=((1, 0, 0), (0, 1, 0), (0, 0, 1)), **more)


def doubts(name, *found, **more):
    check = CHECK.model_copy(update={"name": name, **more})
    return list(feature_doubts(knob().model_copy(update={"checks": (check,)}), features(*found)))


@pytest.mark.parametrize("name", ["Bore", "Screw hole", "Pivot bore", "Hole for the pin", "Bohrung", "Schraubenloch", "Skruehul", "Boring"])
def test_a_hole_that_the_model_has_not_is_asked_about(name):
    (doubt,) = doubts(name, hole(4.3), hole(9.0))
    assert doubt.code == "CHECK02"
    assert "6 +0.1 −0 mm" in says(doubt)
    assert "4.3 mm at (1.0, 2.0, 3.0)" in says(doubt)


@pytest.mark.parametrize(
    "name",
    ["Hole distance", "Depth of the bore", "Bolt circle", "Wall beside the bore", "Lochabstand", "Bohrungstiefe", "Hulafstand", "Collar", "Square hole"],
)
def test_what_is_not_plainly_a_hole_across_is_not_asked_about(name):
    assert doubts(name, hole(4.3)) == []


@pytest.mark.parametrize("size", [5.8, 6.0, 6.3])
def test_a_hole_within_the_limits_and_what_drawing_allows_meets_the_check(size):
    assert doubts("Bore", hole(4.3), hole(size)) == []


def test_a_slot_a_seat_or_the_flat_of_a_d_meets_it_too():
    assert doubts("Bore", hole(4.3), hole(6.0, Kind.SLOT, second_mm=20.0)) == []
    assert doubts("Bore", hole(4.3), hole(10.0, second_mm=6.05)) == []


def test_the_kind_that_is_typed_counts_before_the_name():
    assert [each.code for each in doubts("Opening", hole(4.3), feature="screw-hole")] == ["CHECK02"]
    assert doubts("Bore", hole(4.3), feature="spacing") == []


def test_who_cannot_know_is_silent():
    part = knob().model_copy(update={"checks": (CHECK.model_copy(update={"name": "Bore"}),)})
    boss = Feature(kind=Kind.BOSS, at=(0.0,) * 3, axis=(0.0, 0.0, 1.0), size_mm=20.0, within_mm=0.01)
    assert list(feature_doubts(part, None)) == []
    assert list(feature_doubts(part, features())) == []
    assert list(feature_doubts(part, features(boss))) == []
    assert list(feature_doubts(part, features(hole(4.3), is_whole=False))) == []
    assert len(list(feature_doubts(part, features(hole(4.3))))) == 1
