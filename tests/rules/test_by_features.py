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


def outer(size, kind=Kind.FACES, at=(1.0, 2.0, 3.0), axis=(0.0, 0.0, 1.0), **more):
    return Feature(kind=kind, at=at, axis=axis, size_mm=size, within_mm=0.0, **more)


@pytest.mark.parametrize(
    ("kind", "model"),
    [
        ("square", hole(10.0, Kind.SQUARE)),
        ("flats", outer(10.0, Kind.HEXAGON)),
        ("slot", hole(10.0, Kind.SLOT, second_mm=24.0)),
        ("strap-slot", hole(10.0, Kind.SLOT, second_mm=24.0)),
        ("keyway", hole(10.0, Kind.FACES)),
        ("pin", outer(10.0, Kind.BOSS, length_mm=14.0)),
        ("shank", outer(10.0, Kind.BOSS, length_mm=14.0)),
    ],
)
def test_other_sizes_are_held_as_holes_are(kind, model):
    """Met within the limits and what drawing allows; doubted beyond; silent where nothing of the kind was found, or it is not typed."""
    assert doubts("Drive", model, nominal_mm=10.0, feature=kind) == []
    assert doubts("Drive", model, nominal_mm=10.2, feature=kind) == []
    (doubt,) = doubts("Drive", model, nominal_mm=11.0, feature=kind)
    assert (doubt.code, doubt.key) == ("CHECK02", "no such size")
    assert "10 mm at (1.0, 2.0, 3" in says(doubt)
    assert doubts("Drive", outer(3.0, Kind.THREAD), nominal_mm=11.0, feature=kind) == []
    assert doubts("Drive", model, nominal_mm=11.0, feature=None) == []


def test_a_shank_that_is_no_round_and_flats_of_a_square_are_met():
    boss = outer(3.0, Kind.BOSS, length_mm=9.0)
    assert doubts("Shank across", boss, outer(17.6), nominal_mm=17.6, feature="shank") == []
    assert doubts("Across flats", outer(3.0, Kind.FLATS), outer(12.0, Kind.SQUARE), nominal_mm=12.0, feature="flats") == []


LEVELS = (outer(20.0, at=(0.0, 0.0, 10.0)), outer(4.0, at=(0.0, 0.0, 22.0)), outer(12.0, Kind.BOSS, at=(0.0, 0.0, 31.0), length_mm=7.0))


@pytest.mark.parametrize("met", [20.0, 4.0, 24.0, 31.0, 11.0, 9.0])
def test_a_plain_length_is_met_from_any_plane_or_end_to_any_other_and_by_the_box(met):
    assert doubts("Height", *LEVELS, nominal_mm=met, feature="height") == []


@pytest.mark.parametrize("name", ["Height", "Overall length", "Länge", "Gesamthöhe", "samlet højde"])
@pytest.mark.parametrize("feature", ["length", None])
def test_a_plain_length_that_is_nowhere_is_asked_about(name, feature):
    assert [each.key for each in doubts(name, *LEVELS, nominal_mm=15.0, feature=feature)] == ["no such size"]


@pytest.mark.parametrize("name", ["Lobe above the base circle", "Width of the tooth", "Length without the latch", "Height of the hexagon"])
def test_a_length_of_something_is_not(name):
    assert doubts(name, *LEVELS, nominal_mm=15.0, feature="height") == []


def test_how_far_a_size_may_be_off_is_counted():
    rough = Feature(kind=Kind.HOLE, at=(1.0, 2.0, 3.0), axis=(0.0, 0.0, 1.0), size_mm=5.5, within_mm=0.4, is_inner=True)
    assert doubts("Bore", rough) == []
