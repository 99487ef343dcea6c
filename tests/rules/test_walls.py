"""Which thicknesses fire evidence must speak for; expected values are worked out by hand beside each row."""

import pytest

from generator.geometry.sections import Walls
from generator.records.parts import Settings
from generator.rules.walls import tested_sections as sections

AT = (0.0, 0.0, 0.0)


def walls(thinnest, thickest):
    return Walls(
        thinnest_mm=thinnest, thickest_mm=thickest, nominal_mm=thickest, thinnest_at=AT, thickest_at=AT
    )


def settings(infill, wall):
    return Settings(orientation="as it lies", infill_percent=infill, wall_mm=wall)


@pytest.mark.parametrize(
    ("measured", "infill", "wall", "tested"),
    [
        ((2.0, 10.0), None, None, (2.0, 10.0)),  # a process without infill
        ((2.0, 10.0), 100, 1.2, (2.0, 10.0)),  # solid
        ((2.0, 10.0), 40, None, (2.0, 10.0)),  # no shell is given
        ((2.0, 2.4), 40, 1.2, (2.0, 2.4)),  # exactly two shells: they meet, and all is solid
        ((2.0, 2.41), 40, 1.2, (1.2, 2.4)),  # the thicker places are shells, what is left solid is two shells at most
        ((3.0, 10.0), 40, 1.2, (1.2, 1.2)),  # shells everywhere
        ((0.8, 10.0), 40, 1.2, (0.8, 2.4)),  # a wall thinner than one shell stays what it is
        ((0.8, 10.0), 0, 1.2, (0.8, 2.4)),  # empty inside
        ((3.0, 10.0), 99.9, 1.2, (1.2, 1.2)),
    ],
)
def test_what_is_tested(measured, infill, wall, tested):
    assert sections(walls(*measured), settings(infill, wall)) == pytest.approx(tested)


@pytest.mark.parametrize("thinnest", [0.5, 1.2, 2.0, 2.4, 2.5, 8.0])
@pytest.mark.parametrize("wall", [0.4, 1.2, 3.0])
def test_less_infill_never_makes_the_thinnest_section_thicker(thinnest, wall):
    solid = sections(walls(thinnest, 9.0), settings(100, wall))
    hollow = sections(walls(thinnest, 9.0), settings(20, wall))
    assert hollow[0] <= solid[0]
    assert hollow[0] <= hollow[1]
