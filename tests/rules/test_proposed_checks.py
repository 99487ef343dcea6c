"""Which checks does a model propose for a new part?"""

import pytest

from generator.geometry.features.kinds import Feature, Features, Kind
from generator.records.depot import GeneralTolerance
from generator.rules.by_features import feature_doubts
from generator.rules.proposed_checks import MOST, general_tolerance, proposed_checks
from tests.rules.cases import knob


def feature(kind, size, **more):
    return Feature(kind=kind, at=(0.0,) * 3, axis=(0.0, 0.0, 1.0), size_mm=size, within_mm=0.01, **more)


def proposed(*found):
    features = Features(found=found, size_mm=(9, 9, 9), box_mm=(9, 9, 9), box_axes=((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    return [(each.kind, each.nominal_mm, each.tolerance_mm) for each in proposed_checks(features)]


def test_drives_come_before_holes_and_holes_before_bosses():
    found = (feature(Kind.BOSS, 35.0), feature(Kind.HOLE, 4.3, is_inner=True), feature(Kind.SQUARE, 7.1, is_inner=True))
    assert proposed(*found) == [("square", 7.1, 0.2), ("bore", 4.3, 0.1), ("outside", 35.0, 0.3)]


def test_equal_holes_are_proposed_once_and_there_are_never_more_than_six():
    assert len(proposed(*[feature(Kind.HOLE, 5.304), feature(Kind.HOLE, 5.3)])) == 1
    assert len(proposed(*[feature(Kind.HOLE, 3.0 + n) for n in range(20)])) == MOST


def test_seats_arcs_tiny_holes_and_spacings_are_not_proposed():
    found = (
        feature(Kind.HOLE, 8.6, seat=1),
        feature(Kind.HOLE, 30.0, arc_deg=180.0),
        feature(Kind.HOLE, 1.5),
        feature(Kind.FACES, 20.0),
    )
    assert proposed(*found) == []
    assert proposed_checks(None) == ()


def test_equal_ones_are_counted_and_a_turned_part_is_not_its_own_boss():
    found = [feature(Kind.HOLE, 4.3, is_inner=True)] * 4 + [feature(Kind.TURNED, 35.0), feature(Kind.BOSS, 35.0)]
    features = Features(found=tuple(found), size_mm=(9, 9, 9), box_mm=(9, 9, 9), box_axes=((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    assert [(each.kind, each.count) for each in proposed_checks(features)] == [("bore", 4), ("outside", 1)]


def test_a_hole_below_a_seat_is_a_screws_and_one_with_a_flat_is_a_d():
    screw = [feature(Kind.HOLE, 8.6, seat=1, is_inner=True), feature(Kind.HOLE, 4.3, is_inner=True)]
    assert proposed(*screw) == [("screw-hole", 4.3, 0.1)]
    d = [feature(Kind.FLATS, 4.6, second_mm=6.1, is_inner=True), feature(Kind.HOLE, 6.1, is_inner=True)]
    assert proposed(*d) == [("d-bore", 6.1, 0.2)]


@pytest.mark.parametrize(("rule", "tolerance"), [("f", 0.05), ("m", 0.1), ("c", 0.3), ("v", 0.5)])
def test_the_depots_own_general_tolerance_is_taken(rule, tolerance):
    """ISO 2768-1, table 1, above 3 up to 6 mm; from memory. Very coarse has none up to 3 mm."""
    assert general_tolerance(4.3, GeneralTolerance(rule)) == tolerance
    assert (general_tolerance(3.0, GeneralTolerance(rule)) is None) == (rule == "v")


def test_what_is_proposed_is_met_by_the_model_it_came_of():
    found = (
        feature(Kind.SQUARE, 7.1, is_inner=True),
        feature(Kind.FLATS, 4.6, second_mm=6.1, is_inner=True),
        feature(Kind.HOLE, 6.1, is_inner=True),
        feature(Kind.HOLE, 30.04, is_inner=True),
        feature(Kind.SLOT, 9.0, second_mm=19.0, is_inner=True),
        feature(Kind.BOSS, 12.0, length_mm=20.0),
        feature(Kind.HEXAGON, 38.11),
    )
    features = Features(found=found, size_mm=(99, 99, 99), box_mm=(99, 99, 99), box_axes=((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    checks = [
        knob().checks[0].model_copy(update={"name": f"{each.kind} {each.nominal_mm}", "nominal_mm": each.nominal_mm, "plus_mm": each.tolerance_mm, "minus_mm": each.tolerance_mm, "feature": each.kind})
        for each in proposed_checks(features, GeneralTolerance.FINE)
    ]
    assert len(checks) == MOST
    assert list(feature_doubts(knob().model_copy(update={"checks": tuple(checks)}), features)) == []


def test_the_general_tolerance_ends_where_the_table_ends():
    """ISO 2768-1, class m, from memory."""
    assert [general_tolerance(each) for each in (3.0, 6.0, 6.01, 30.1, 121.0, 2000.0, 2001.0)] == [0.1, 0.1, 0.2, 0.3, 0.5, 1.2, None]
