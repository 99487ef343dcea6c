"""The regularised incomplete gamma function and its inverse, against scipy."""

import math

import pytest
from scipy import special

from generator.planning.holding.gamma import chi2_beyond, gamma_above, gamma_below, gamma_point

SHAPES = (0.5, 1.0, 1.5, 2.0, 5.0, 17.5, 100.0, 1234.0, 250_000.0)


@pytest.mark.parametrize("a", SHAPES)
@pytest.mark.parametrize("times", [0.0, 1e-6, 0.01, 0.5, 0.9, 1.0, 1.1, 2.0, 10.0])
def test_like_scipy(a, times):
    x = a * times
    assert gamma_below(a, x) == pytest.approx(special.gammainc(a, x), rel=1e-9, abs=1e-300)
    assert gamma_above(a, x) == pytest.approx(special.gammaincc(a, x), rel=1e-9, abs=1e-300)


@pytest.mark.parametrize("a", SHAPES)
@pytest.mark.parametrize("share", [1e-6, 0.001, 0.025, 0.05, 0.5, 0.95, 0.975, 0.999])
def test_the_point_that_has_a_share_below_it(a, share):
    assert gamma_point(a, share) == pytest.approx(special.gammaincinv(a, share), rel=1e-9)


@pytest.mark.parametrize("degrees", [1, 2, 3, 4, 7, 30])
@pytest.mark.parametrize("chi2", [0.0, 1e-12, 0.5, 3.841, 16.793, 200.0, 1500.0])
def test_chi_square_beyond(degrees, chi2):
    assert chi2_beyond(chi2, degrees) == pytest.approx(special.chdtrc(degrees, chi2), rel=1e-9, abs=1e-300)


def test_of_one_degree_it_is_the_error_function():
    assert chi2_beyond(3.841458820694124, 1) == pytest.approx(math.erfc(math.sqrt(3.841458820694124 / 2)), rel=1e-12)
    assert chi2_beyond(3.841458820694124, 1) == pytest.approx(0.05)


@pytest.mark.parametrize(("a", "x"), [(0, 1), (-1, 1), (1, -1e-9), (math.nan, 1), (1, math.nan), (math.inf, 1), (1, math.inf)])
def test_no_such_argument(a, x):
    with pytest.raises(ValueError, match="gamma"):
        gamma_below(a, x)


@pytest.mark.parametrize("share", [0.0, 1.0, -0.1, math.nan])
def test_no_such_share(share):
    with pytest.raises(ValueError, match="share"):
        gamma_point(2.0, share)


@pytest.mark.parametrize("degrees", [0, -1])
def test_no_such_degrees(degrees):
    with pytest.raises(ValueError, match="degrees"):
        chi2_beyond(1.0, degrees)
