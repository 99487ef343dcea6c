"""Mass of solid and of hollow prints."""

import pytest

from generator.geometry.mass import mass_g

CUBE = {"volume_mm3": 1000.0, "area_mm2": 600.0, "density_g_cm3": 1.27}  # 10 mm cube


@pytest.mark.parametrize(
    ("infill", "wall", "grams"),
    [
        pytest.param(None, None, 1.27, id="solid: 1 cm3 weighs its density"),
        pytest.param(1.0, None, 1.27, id="all infill is solid"),
        pytest.param(0.0, 0.5, 0.381, id="skin only: 300 mm3"),
        pytest.param(0.2, 0.5, 0.5588, id="300 mm3 skin and a fifth of 700 mm3"),
        pytest.param(0.2, 0.0, 0.254, id="no skin"),
        pytest.param(0.2, 5.0, 1.27, id="walls that meet make it solid"),
    ],
)
def test_mass_by_hand(infill, wall, grams):
    assert mass_g(**CUBE, infill_share=infill, wall_mm=wall) == pytest.approx(grams)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        pytest.param({"infill_share": 0.2}, "needs a wall", id="infill without walls"),
        pytest.param({"infill_share": 1.2, "wall_mm": 1}, "from 0 to 1", id="more than full"),
        pytest.param({"infill_share": -0.1, "wall_mm": 1}, "from 0 to 1", id="less than none"),
        pytest.param({"infill_share": 0.2, "wall_mm": -1}, "needs a wall", id="negative wall"),
        pytest.param({"volume_mm3": 0}, "above zero", id="no volume"),
        pytest.param({"density_g_cm3": 0}, "above zero", id="no density"),
    ],
)
def test_wrong_numbers_are_refused(given, says):
    with pytest.raises(ValueError, match=says):
        mass_g(**(CUBE | given))


def test_the_skin_formula_errs_by_no_more_than_it_says():
    # A cube of side a with an exact inner cube of side a - 2w; the docstring's bound is 2 w / a.
    for wall in (0.1, 0.5, 1.0):
        exact = 1000 - (10 - 2 * wall) ** 3
        stated = mass_g(**CUBE, infill_share=0.0, wall_mm=wall) / 1.27 * 1000
        assert 0 <= stated / exact - 1 <= 2 * wall / 10 * 1.2
