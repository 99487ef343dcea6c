"""What is a part of another feature is not told beside it; what only looks like it is."""

from dataclasses import replace

import pytest

from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.telling import worth_telling

Z = (0.0, 0.0, 1.0)


def hole(size: float, x: float = 0.0, top: float = 24.0, length: float = 24.0, **more) -> Feature:
    told = {"kind": Kind.HOLE, "is_inner": True, "is_through": True, "within_mm": 0.01} | more
    return Feature(at=(x, 0.0, top), axis=Z, size_mm=size, length_mm=length, **told)


BORE = hole(12, arc_deg=210)
INSIDE = hole(20, kind=Kind.THREAD, is_through=None, second_mm=1.5)
OUTSIDE = replace(INSIDE, is_inner=False)


@pytest.mark.parametrize(
    ("whole", "part", "is_told"),
    [
        (BORE, hole(2.6, x=6, arc_deg=192), False),  # a grease groove along the wall
        (BORE, hole(2.6, x=6), True),  # all round: drilled beside
        (BORE, hole(2.6, x=9, arc_deg=192), True),  # not in the wall
        (BORE, hole(2.6, kind=Kind.SLOT, second_mm=14.6), False),  # two grooves, one on each side
        (BORE, hole(2.6, kind=Kind.SLOT, second_mm=10), True),
        (BORE, hole(13.8, top=16, length=0.9), False),  # a ring groove
        (BORE, hole(13.8, top=24, length=0.9), True),  # at the mouth: a counterbore
        (BORE, hole(13.8, top=16, length=6), True),
        (INSIDE, hole(18.4, top=23, length=22), False),
        (INSIDE, hole(16, top=23, length=22), True),
        (INSIDE, hole(18.4, top=0, length=10), True),  # goes on below the thread
        (OUTSIDE, hole(18.4, top=23, length=22), True),  # a tube with a thread outside
        (OUTSIDE, hole(18.4, top=23, length=22, kind=Kind.BOSS, is_inner=False), False),
    ],
)
def test_a_part_of_another_feature_is_not_told(whole, part, is_told):
    assert worth_telling((whole, part)) == ((whole, part) if is_told else (whole,))


def test_a_seat_goes_on_naming_its_hole():
    groove, seat = hole(13.8, top=16, length=0.9), hole(15, length=1.5, seat=2, is_through=False)
    assert worth_telling((groove, seat, BORE)) == (replace(seat, seat=1), BORE)
