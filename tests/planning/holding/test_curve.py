"""Kaplan-Meier with its bounds, against published figures, a survival library, and what an adversary would enter."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.planning.holding.curve import Bounds, Observation, holding_curve
from tests.planning.holding.known import PLACEBO, SIX_MP, seen

HISTORIES = st.lists(st.tuples(st.integers(0, 40), st.booleans()), min_size=1, max_size=40)


def curve(data, **how):
    return holding_curve(seen(data), **how)


# A textbook's table (n at risk, failed, share, Greenwood's error), recomputed by hand.
@pytest.mark.parametrize(
    ("week", "at_risk", "failed", "share", "error"),
    [
        (6, 21, 3, 0.8571, 0.0764), (7, 17, 1, 0.8067, 0.0869), (10, 15, 1, 0.7529, 0.0963), (13, 12, 1, 0.6902, 0.1068),
        (16, 11, 1, 0.6275, 0.1141), (22, 7, 1, 0.5378, 0.1282), (23, 6, 1, 0.4482, 0.1346),
    ],
)  # fmt: skip
def test_six_mp_row(week, at_risk, failed, share, error):
    (step,) = (each for each in curve(SIX_MP).steps if each.days == week)
    assert (step.at_risk, step.failed) == (at_risk, failed)
    assert step.share == pytest.approx(share, abs=5e-5)
    assert step.standard_error == pytest.approx(error, abs=5e-5)


def test_six_mp_as_a_whole():
    found = curve(SIX_MP)
    assert len(found.steps) == 7
    assert (found.pieces, found.failed, found.days_in_use, found.longest) == (21, 9, 359, 35)
    assert found.median == 23
    assert [found.at_risk(week) for week in (0, 6, 6.5, 7, 35, 36)] == [21, 21, 17, 17, 1, 0]
    assert found.cut_off == ((6, 1), (9, 1), (10, 1), (11, 1), (17, 1), (19, 1), (20, 1), (25, 1), (32, 2), (34, 1), (35, 1))


def test_placebo_without_cut_off_is_the_share_left():
    found = curve(PLACEBO)
    assert found.share(8) == pytest.approx(8 / 21)
    assert found.share(12) == pytest.approx(4 / 21)
    assert found.median == 8
    last = found.steps[-1]
    assert (last.share, last.low, last.high) == (0.0, None, None)
    assert math.isnan(last.standard_error), "Greenwood says nothing once none is left"


@settings(max_examples=50)
@given(HISTORIES)
def test_like_the_survival_library(data):
    """lifelines 0.30: share, log-log bounds and median; loaded late, for no other process needs it."""
    from lifelines import KaplanMeierFitter

    found = curve(data)
    fitter = KaplanMeierFitter().fit([days for days, _ in data], [failed for _, failed in data])
    assert [found.share(day) for day in range(41)] == pytest.approx(fitter.predict(range(41)).tolist(), abs=1e-9)
    theirs = fitter.confidence_interval_survival_function_
    for step in found.steps:
        if step.low is not None:
            assert [step.low, step.high] == pytest.approx(theirs.loc[step.days].tolist(), abs=1e-9)
    if all(abs(step.share - 0.5) > 1e-9 for step in found.steps):  # theirs takes a half for more by a rounding error
        assert (math.inf if found.median is None else found.median) == fitter.median_survival_time_


@settings(max_examples=50)
@given(HISTORIES, st.sampled_from(Bounds))
def test_bounds_hold_the_share_and_stay_within_nothing_and_all(data, bounds):
    for step in curve(data, bounds=bounds).steps:
        if step.low is not None:
            assert 0 <= step.low <= step.share <= step.high <= 1


def test_plain_bounds_are_greenwoods_error_either_way_cut_at_nothing_and_all():
    first, *_, last = curve(SIX_MP, bounds=Bounds.PLAIN).steps
    assert first.high == 1.0, "0.8571 + 1.96 · 0.0764 is above all"
    assert first.low == pytest.approx(0.8571 - 1.959964 * 0.0764, abs=2e-4)
    assert (last.low, last.high) == pytest.approx((0.4482 - 1.959964 * 0.1346, 0.4482 + 1.959964 * 0.1346), abs=2e-4)


def test_wider_for_more_confidence():
    wide, narrow = (curve(SIX_MP, confidence=asked).steps[-1] for asked in (0.99, 0.9))
    assert wide.low < narrow.low < narrow.high < wide.high


@pytest.mark.parametrize("asked", [0.0, 1.0, 95, -0.1, math.nan])
def test_a_confidence_is_a_share(asked):
    with pytest.raises(ValueError, match="confidence"):
        curve(SIX_MP, confidence=asked)


def test_the_bounds_of_six_mp():
    """The textbook's log-log bounds on week 6, 10 and 23, three decimals, from memory."""
    found = {step.days: (step.low, step.high) for step in curve(SIX_MP).steps}
    assert found[6] == pytest.approx((0.620, 0.952), abs=6e-4)
    assert found[10] == pytest.approx((0.503, 0.889), abs=6e-4)
    assert found[23] == pytest.approx((0.188, 0.680), abs=6e-4)


def test_a_piece_cut_off_on_the_day_of_a_failure_was_at_risk_on_it():
    found = curve([(5, True), (5, False)])
    assert [(step.at_risk, step.share) for step in found.steps] == [(2, 0.5)]
    assert found.at_risk(5) == 2
    assert found.median == 5


@pytest.mark.parametrize("data", [[], [(0, False)], [(12, False)], [(3, False)] * 50], ids=["none", "fitted today", "one", "many alike"])
def test_where_nothing_failed_all_hold_and_no_bounds_are_told(data):
    found = curve(data)
    assert (found.steps, found.share(1e6), found.median) == ((), 1.0, None)
    assert (found.pieces, found.longest) == (len(data), data[0][0] if data else 0)


def test_one_failure_alone():
    (step,) = curve([(7, True)]).steps
    assert (step.days, step.at_risk, step.share) == (7, 1, 0.0)


def test_all_failed_on_the_day_they_were_fitted():
    found = curve([(0, True)] * 4)
    assert (found.share(0), found.median, found.days_in_use) == (0.0, 0, 0)


def test_all_failed_on_one_day():
    assert [(step.failed, step.share) for step in curve([(9, True)] * 6).steps] == [(6, 0.0)]


@pytest.mark.parametrize("days", [-1, -0.001, math.nan, math.inf, -math.inf, 1e300, 10**400])
def test_no_such_duration(days):
    with pytest.raises(ValueError, match="days"):
        curve([(3, True), (days, False)])


def test_half_is_half_however_many_products_it_took():
    """Each failure cut apart by pieces that leave: the product of many shares is exactly a half in arithmetic."""
    assert curve([(day, True) for day in range(1, 1001)]).median == 500
    assert curve([(day, True) for day in range(1, 30_001)]).median == 15_000


@given(HISTORIES, st.randoms(use_true_random=False))
@settings(max_examples=30)
def test_the_order_of_the_pieces_says_nothing(data, chance):
    mixed = chance.sample(data, len(data))
    assert repr(curve(mixed)) == repr(curve(data))


def test_very_many_pieces_end():
    chance = random.Random(417)
    found = curve([(chance.expovariate(1 / 900), chance.random() < 0.4) for _ in range(20_000)])
    assert found.pieces == 20_000
    assert all(one.share >= other.share for one, other in zip(found.steps, found.steps[1:], strict=False))


def test_observations_are_plain_values():
    with pytest.raises(TypeError):
        Observation(3, True)
