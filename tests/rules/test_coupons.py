"""Do printed coupons show what a part needs? What is doubtful about the values never passes."""

import math
from statistics import fmean, stdev

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.rules.coupons import FEWEST_VALUES, CouponOutcome, NotShownBecause, judged_coupons
from generator.rules.tolerance_factors import Coverage

# Tensile strengths in MPa, made up.
TEN = (47.1, 48.3, 46.9, 47.7, 48.8, 47.4, 46.2, 48.0, 47.9, 47.0)


def judged(values=TEN, coverage=Coverage.NINETY, **asked):
    return judged_coupons(values, coverage=coverage, **asked)


def test_a_bound_worked_by_hand():
    """Mean 47.53, deviation 0.7631, k of ten 2.3547: 45.733."""
    found = judged(least=45.0)
    assert (found.count, found.mean, found.deviation) == (10, pytest.approx(47.53), pytest.approx(0.7631, abs=5e-5))
    assert (found.lower.k, found.lower.bound) == (2.3547, pytest.approx(45.733, abs=1e-3))
    assert (found.shown, found.why, found.upper) == (CouponOutcome.SHOWN, None, None)


@pytest.mark.parametrize(
    ("asked", "shown", "why"),
    [
        ({"least": 45.7}, CouponOutcome.SHOWN, None),
        ({"least": 45.8}, CouponOutcome.NOT_SHOWN, NotShownBecause.BOUND_BEYOND),
        ({"least": 46.2}, CouponOutcome.NOT_SHOWN, NotShownBecause.BOUND_BEYOND),
        ({"least": 46.3}, CouponOutcome.NOT_SHOWN, NotShownBecause.VALUE_BEYOND),
        ({"least": 50.0}, CouponOutcome.NOT_SHOWN, NotShownBecause.VALUE_BEYOND),
        ({"most": 49.4}, CouponOutcome.SHOWN, None),
        ({"most": 49.3}, CouponOutcome.NOT_SHOWN, NotShownBecause.BOUND_BEYOND),
        ({"most": 48.7}, CouponOutcome.NOT_SHOWN, NotShownBecause.VALUE_BEYOND),
        ({"least": 45.7, "most": 49.4}, CouponOutcome.SHOWN, None),
        ({"least": 45.8, "most": 49.4}, CouponOutcome.NOT_SHOWN, NotShownBecause.BOUND_BEYOND),
        ({"least": 45.7, "most": 49.3}, CouponOutcome.NOT_SHOWN, NotShownBecause.BOUND_BEYOND),
        ({}, CouponOutcome.UNKNOWN, NotShownBecause.NOTHING_ASKED),
        ({"least": math.nan}, CouponOutcome.UNKNOWN, NotShownBecause.NO_NUMBER),
        ({"least": -math.inf}, CouponOutcome.UNKNOWN, NotShownBecause.NO_NUMBER),
        ({"most": math.inf}, CouponOutcome.UNKNOWN, NotShownBecause.NO_NUMBER),
        ({"least": 45.0, "most": math.nan}, CouponOutcome.UNKNOWN, NotShownBecause.NO_NUMBER),
        ({"least": 50.0, "most": 40.0}, CouponOutcome.UNKNOWN, NotShownBecause.NOTHING_BETWEEN),
    ],
)
def test_what_is_asked(asked, shown, why):
    found = judged(**asked)
    assert (found.shown, found.why) == (shown, why)


@pytest.mark.parametrize(
    ("values", "why"),
    [
        ((), NotShownBecause.TOO_FEW_VALUES),
        ((50.0,), NotShownBecause.TOO_FEW_VALUES),
        ((50.0, 51.0), NotShownBecause.TOO_FEW_VALUES),
        ((50.0, 51.0, math.nan), NotShownBecause.NO_NUMBER),
        ((50.0, 51.0, math.inf), NotShownBecause.NO_NUMBER),
        ((50.0, 51.0, 52.0, -math.inf), NotShownBecause.NO_NUMBER),
        ((50.0, math.nan), NotShownBecause.NO_NUMBER),
        ((50.0, 51.0, 10**400), NotShownBecause.NO_NUMBER),
        ((1.7e308, -1.7e308, 1.7e308), NotShownBecause.NO_NUMBER),
        ((1e300, 1.1e300, 1.2e300, 1.3e308), NotShownBecause.NO_NUMBER),
        ((50.0,) * 12, NotShownBecause.NO_SPREAD),
        ((50.0, 50, 50.0), NotShownBecause.NO_SPREAD),
    ],
)
def test_such_values_are_unknown_whatever_is_asked(values, why):
    for asked in ({"least": 1.0}, {"most": 1e6}, {"least": -1e100, "most": 1e100}):
        found = judged(values, **asked)
        assert (found.shown, found.why, found.lower, found.upper) == (CouponOutcome.UNKNOWN, why, None, None)


def test_a_coupon_that_misses_what_is_asked_is_not_outvoted():
    """Of a hundred values one far below: the bound alone, 50 - 1.53 · 4.6, would pass."""
    values = [50.0 + 0.1 * (at % 5) for at in range(99)] + [4.0]
    found = judged(values, least=40.0)
    assert found.lower.bound > 40.0
    assert (found.shown, found.why, found.beyond) == (CouponOutcome.NOT_SHOWN, NotShownBecause.VALUE_BEYOND, 1)


def test_a_value_on_the_limit_is_within():
    assert judged((10.0, 10.1, 9.9, 10.0), least=9.9, most=10.1).beyond == 0


def test_a_bound_on_the_limit_is_within():
    bounds = judged(least=40.0).lower.bound, judged(most=60.0).upper.bound
    assert judged(least=bounds[0]).shown is judged(most=bounds[1]).shown is CouponOutcome.SHOWN
    assert judged(least=math.nextafter(bounds[0], math.inf)).why is judged(most=math.nextafter(bounds[1], 0)).why is NotShownBecause.BOUND_BEYOND


def test_exactly_one_value_may_be_asked_and_is_not_shown_by_what_spreads():
    assert judged(least=47.5, most=47.5).why is NotShownBecause.VALUE_BEYOND


def test_more_coverage_asks_for_more():
    bounds = [judged(coverage=coverage, least=40.0).lower.bound for coverage in Coverage]
    assert bounds == sorted(bounds, reverse=True)


def test_three_values_pass_only_with_plenty_of_room():
    """k of three is 6.16: mean 50, deviation 1."""
    assert judged((49.0, 50.0, 51.0), least=43.8).shown is CouponOutcome.SHOWN
    assert judged((49.0, 50.0, 51.0), least=43.9).shown is CouponOutcome.NOT_SHOWN


@settings(max_examples=50)
@given(st.lists(st.floats(-1e6, 1e6) | st.sampled_from([math.nan, math.inf]), max_size=12), st.floats(-1e6, 1e6), st.sampled_from(Coverage))
def test_what_is_shown_is_above_by_hand_and_mirrored_below(values, least, coverage):
    found = judged(values, coverage, least=least)
    mirrored = judged([-each for each in values], coverage, most=-least)
    assert (mirrored.shown, mirrored.why) == (found.shown, found.why)
    if found.shown is CouponOutcome.SHOWN:
        assert len(values) >= FEWEST_VALUES
        assert min(values) >= least
        assert fmean(values) - 1.5 * stdev(values) >= least
