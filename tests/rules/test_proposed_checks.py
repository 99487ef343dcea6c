"""Which checks does a model propose for a new part?"""

from generator.geometry.features.kinds import Feature, Features, Kind
from generator.rules.proposed_checks import MOST, general_tolerance, proposed_checks


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


def test_the_general_tolerance_ends_where_the_table_ends():
    """ISO 2768-1, class m, from memory."""
    assert [general_tolerance(each) for each in (3.0, 6.0, 6.01, 30.1, 121.0, 2000.0, 2001.0)] == [0.1, 0.1, 0.2, 0.3, 0.5, 1.2, None]
