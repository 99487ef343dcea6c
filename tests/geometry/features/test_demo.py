"""Features of the demo's meshes against the exact kernel's faces (tests/models/rounds.json) and tests/models/FEATURES.md.

A few parts stand for all; `bench_features` prints the figures of every one.
"""

import pytest

from generator.geometry.features.found import features_of
from generator.geometry.features.kinds import Hand, Kind
from generator.reading.meshes.load import load_mesh
from tests.geometry.features.judged import CATALOGUE, Score, exact_rounds, judge


@pytest.fixture(scope="module")
def told():
    numbers = ("TV-0219", "TV-0231", "TV-0260", "TV-0292", "TV-0252", "TV-0235", "TV-0276")
    files = {each: next(CATALOGUE.glob(f"parts/{each}-*/model.*")) for each in numbers}
    return {number: features_of(load_mesh(file, None).mesh) for number, file in files.items()}


def of_kind(features, kind, **wanted):
    return [each for each in features.found if each.kind is kind and all(getattr(each, key) == value for key, value in wanted.items())]


def test_round_holes_and_bosses_are_those_of_the_solid(told):
    score, exact = Score(), exact_rounds()
    for number, features in told.items():
        judge(number, features, exact[number], score)
    assert score.missed == []
    assert score.extra == []
    assert score.found > 25
    assert score.worst_mm < 0.01


def test_a_countersunk_hole_is_a_hole_and_its_seat(told):
    """FEATURES.md: four countersunk M5 holes, drilled 5.3, head 10.4."""
    found = told["TV-0252"].found
    seats = [each for each in found if each.seat is not None]
    assert [round(each.size_mm, 1) for each in seats] == [10.4] * 4
    for each in seats:
        below = found[each.seat]
        assert (round(below.size_mm, 2), below.is_through) == (5.3, True)
        assert below.axis == pytest.approx(each.axis)


def test_threads_are_told_with_pitch_and_hand(told):
    """FEATURES.md: M32 × 1.5 outside, 0.1 undersize all round; M20 × 1.5 inside, 0.1 oversize all round."""
    outside, inside = (of_kind(told["TV-0231"], Kind.THREAD, is_inner=inner)[0] for inner in (False, True))
    assert (outside.size_mm, inside.size_mm) == pytest.approx((31.8, 20.2), abs=0.1)
    for each in (outside, inside):
        assert each.second_mm == pytest.approx(1.5, abs=0.1)
        assert each.hand is Hand.RIGHT


def test_a_hexagon_teeth_and_a_d_bore_are_told(told):
    (hexagon,) = of_kind(told["TV-0231"], Kind.HEXAGON)
    assert hexagon.size_mm == pytest.approx(38, abs=0.15)
    (teeth,) = of_kind(told["TV-0292"], Kind.TEETH)
    assert (teeth.count, teeth.size_mm, teeth.length_mm) == (26, pytest.approx(56, abs=0.05), pytest.approx(12, abs=0.05))
    assert teeth.second_mm == pytest.approx(47, abs=0.05)  # Ø56 less twice 2.25 × module 2 (ISO 53), and no hub of Ø22
    (flat,) = of_kind(told["TV-0292"], Kind.FLATS)
    assert (flat.size_mm, flat.is_inner) == (pytest.approx(9.95, abs=0.05), True)


@pytest.mark.parametrize(("number", "count", "size"), [("TV-0235", 14, 27), ("TV-0276", 10, 93)])
def test_grips_are_repeated_and_have_no_root(told, number, count, size):
    """FEATURES.md: 14 flutes in a grip of Ø27, over a skirt of Ø35; a head with ten grips, 93 over all."""
    (grips,) = of_kind(told[number], Kind.TEETH)
    assert (grips.count, grips.size_mm, grips.second_mm) == (count, pytest.approx(size, abs=0.7), None)
