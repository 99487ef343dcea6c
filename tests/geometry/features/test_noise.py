"""Nothing is recognised in free forms, with a scanner's noise or without; larger ones, and the time they take: `bench_features`."""

import pytest

from generator.geometry.features.found import features_of
from generator.geometry.features.kinds import Kind
from tests.geometry.features.noise import SHAPES, scanned
from tests.geometry.features.unseen.judging import case
from tests.geometry.solids import refined


@pytest.mark.parametrize("name", SHAPES)
def test_a_free_form_has_no_feature(name):
    told = features_of(SHAPES[name](48))
    assert [str(each.kind) for each in told.found] == []
    assert told.is_whole


def test_of_a_scanned_plate_nothing_false_is_told():
    """Its bores have no corners on circles any more: not told is honest, told with another size would not be."""
    plate = refined(case("plate").mesh)
    assert [each for each in features_of(plate).found if each.kind is Kind.HOLE]
    assert not [each for each in features_of(scanned(plate, 0.1)).found if each.kind in {Kind.HOLE, Kind.BOSS, Kind.SLOT}]
