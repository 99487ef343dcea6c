"""Failures a year with their limits, against scipy's Poisson distribution and the tables everybody knows."""

import math

import pytest
from scipy import special

from generator.planning.holding.rate import failures_a_year

YEAR = 365.25


@pytest.mark.parametrize("failures", [1, 2, 3, 5, 10, 47, 1000, 40_000])
def test_two_sided_limits_are_those_of_the_poisson_distribution(failures):
    found = failures_a_year(failures, 12.5 * YEAR)
    low, high = found.low * 12.5, found.high * 12.5
    assert special.pdtrc(failures - 1, low) == pytest.approx(0.025, rel=1e-7)
    assert special.pdtr(failures, high) == pytest.approx(0.025, rel=1e-7)
    assert (found.a_year, found.one_sided) == (failures / 12.5, False)


# Garwood (1936), as printed in any table of exact limits of a Poisson count; three decimals.
@pytest.mark.parametrize(("failures", "low", "high"), [(1, 0.025, 5.572), (2, 0.242, 7.225), (3, 0.619, 8.767), (5, 1.623, 11.668), (10, 4.795, 18.390)])
def test_garwoods_table(failures, low, high):
    found = failures_a_year(failures, YEAR)
    assert (found.low, found.high) == pytest.approx((low, high), abs=6e-4)


def test_of_nothing_failed_the_limit_is_one_sided():
    """The rule of three, exactly: -ln 0.05 = 2.996."""
    found = failures_a_year(0, 10 * YEAR)
    assert (found.a_year, found.low, found.one_sided) == (0.0, 0.0, True)
    assert found.high == pytest.approx(0.2996, abs=5e-5)
    assert found.high == pytest.approx(-math.log(0.05) / 10)


def test_without_time_in_use_nothing_is_known():
    assert failures_a_year(0, 0.0) is None
    assert failures_a_year(3, 0.0) is None, "all failed on the day they were fitted: no rate by the year says that"


@pytest.mark.parametrize(("failures", "days"), [(-1, 10), (1, -1), (1, math.nan), (1, math.inf), (0, math.nan)])
def test_no_such_history(failures, days):
    with pytest.raises(ValueError, match="no history"):
        failures_a_year(failures, days)


@pytest.mark.parametrize("confidence", [0.0, 1.0, 95.0, math.nan])
def test_a_confidence_is_a_share(confidence):
    with pytest.raises(ValueError, match="confidence"):
        failures_a_year(2, 10, confidence=confidence)


def test_days_so_few_that_a_rate_has_no_number():
    assert failures_a_year(1, 5e-324) is None
    assert failures_a_year(1, 1e-307) is None
