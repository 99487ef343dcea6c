"""Which thicknesses fire evidence must speak for; expected values are worked out by hand beside each row."""

import pytest

from generator.records.parts import Settings
from generator.rules.fire.sections import tested_sections as sections


def settings(infill, wall):
    return Settings(orientation="as it lies", infill_percent=infill, wall_mm=wall)


@pytest.mark.parametrize(
    ("part", "infill", "wall", "tested"),
    [
        ((2.0, 10.0), None, None, (2.0, 10.0)),  # a process without infill
        ((2.0, 10.0), 100, 1.2, (2.0, 10.0)),  # solid
        ((2.0, 10.0), 40, None, (None, 10.0)),  # hollow, and nobody has said how thick its shell is
        ((2.0, 2.4), 40, 1.2, (2.0, 2.4)),  # exactly two shells: they meet, and all is solid
        ((2.0, 2.41), 40, 1.2, (1.2, 2.41)),  # the thicker places are shells; for smoke the whole section stays
        ((3.0, 10.0), 40, 1.2, (1.2, 10.0)),  # shells everywhere
        ((0.8, 10.0), 40, 1.2, (0.8, 10.0)),  # a wall thinner than one shell stays what it is
        ((0.8, 10.0), 0, 1.2, (0.8, 10.0)),  # empty inside
        ((3.0, 10.0), 99.9, 1.2, (1.2, 10.0)),
        ((None, 10.0), 40, 1.2, (None, 10.0)),  # what is not known stays so
        ((3.0, None), 40, 1.2, (1.2, None)),
    ],
)
def test_what_is_tested(part, infill, wall, tested):
    assert sections(*part, settings(infill, wall), is_printed=True) == tested


@pytest.mark.parametrize("thinnest", [0.5, 1.2, 2.0, 2.4, 2.5, 8.0])
@pytest.mark.parametrize("wall", [0.4, 1.2, 3.0])
def test_less_infill_never_makes_a_section_kinder(thinnest, wall):
    solid = sections(thinnest, 9.0, settings(100, wall), is_printed=True)
    hollow = sections(thinnest, 9.0, settings(20, wall), is_printed=True)
    assert hollow[0] <= solid[0]
    assert hollow[1] == solid[1]


def test_what_has_no_settings_is_as_typed_where_nobody_prints_it_and_unknown_where_somebody_does():
    assert sections(2.0, 9.0, None, is_printed=False) == (2.0, 9.0)
    assert sections(2.0, 9.0, None, is_printed=True) == (None, 9.0)
    assert sections(None, None, None, is_printed=False) == (None, None)
