"""Kaplan–Meier against published tables and a survival library."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.planning.waiting import Wait, each_day, one_after_another, quantile_day, remaining, survival

# Freireich et al. 1963, remission times in weeks under 6-MP and placebo, the textbook example of survival analysis.
# Data and table from memory, recomputed; (weeks, finished).
SIX_MP = [
    *[(6, True)] * 3, (6, False), (7, True), (9, False), (10, True), (10, False), (11, False), (13, True), (16, True),
    (17, False), (19, False), (20, False), (22, True), (23, True), (25, False), (32, False), (32, False), (34, False),
    (35, False),
]  # fmt: skip
PLACEBO = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23]


def curve(data):
    return survival(Wait(days, finished) for days, finished in data)


@pytest.mark.parametrize(
    ("week", "at_risk", "ended", "share", "error"),
    [
        (6, 21, 3, 0.8571, 0.0764),
        (7, 17, 1, 0.8067, 0.0869),
        (10, 15, 1, 0.7529, 0.0963),
        (13, 12, 1, 0.6902, 0.1068),
        (16, 11, 1, 0.6275, 0.1141),
        (22, 7, 1, 0.5378, 0.1282),
        (23, 6, 1, 0.4482, 0.1346),
    ],
)
def test_six_mp_table(week, at_risk, ended, share, error):
    found = curve(SIX_MP)
    row = found.days.index(week)
    assert (found.at_risk[row], found.finished[row]) == (at_risk, ended)
    assert found.share[row] == pytest.approx(share, abs=5e-5)
    assert found.standard_error[row] == pytest.approx(error, abs=5e-5)


def test_six_mp_has_seven_steps_and_median_23():
    found = curve(SIX_MP)
    assert len(found.days) == 7
    assert found.quantile(0.5) == 23
    assert found.quantile(0.1) is None, "more than a tenth still waits when the last one is cut off"


def test_placebo_without_censoring_is_the_share_left():
    found = survival(Wait(days, finished=True) for days in PLACEBO)
    assert found.at(8) == pytest.approx(8 / 21)
    assert found.at(12) == pytest.approx(4 / 21)
    assert found.quantile(0.5) == 8
    assert found.share[-1] == 0
    assert math.isnan(found.standard_error[-1])


@given(st.lists(st.tuples(st.integers(0, 40), st.booleans()), min_size=1, max_size=40))
def test_like_the_survival_library(data):
    """lifelines 0.30, KaplanMeierFitter, as reference library; loaded late, for no other process needs it."""
    from lifelines import KaplanMeierFitter

    ours = curve(data)
    fitter = KaplanMeierFitter().fit([days for days, _ in data], [ended for _, ended in data])
    assert [ours.at(day) for day in range(41)] == pytest.approx(fitter.predict(range(41)).tolist(), abs=1e-9)


@given(st.lists(st.tuples(st.integers(0, 40), st.booleans()), min_size=1, max_size=30), st.integers(1, 5))
def test_weight_counts_like_so_many(data, weight):
    once = survival(Wait(days, ended, weight) for days, ended in data)
    repeated = curve(data * weight)
    assert once.share == pytest.approx(repeated.share)


def test_waiting_ones_are_censored_not_dropped():
    finished = [(30, True), (60, True)]
    assert curve([*finished, (90, False)]).at(60) > curve(finished).at(60)


def test_what_is_left_is_conditional_on_the_wait_so_far():
    waits = [Wait(days, finished=True) for days in (10, 20, 30, 40)]
    chances = remaining(waits, 20, 100)
    assert chances[10] == pytest.approx(0.5)
    assert chances[20] == pytest.approx(0.5)
    assert chances.sum() == pytest.approx(1)


def test_a_wait_longer_than_all_known_says_nothing():
    waits = [Wait(days, finished=True) for days in (10, 20)]
    assert quantile_day(remaining(waits, 20, 100), 0.5) is None


def test_a_step_yet_to_begin_may_take_no_day_at_all():
    assert remaining([Wait(0, finished=True), Wait(4, finished=True)], None, 10)[[0, 4]] == pytest.approx(
        [0.5, 0.5]
    )


def test_the_tail_runs_through_the_end_of_the_curve():
    """The completion of Brown, Hollander and Korwar: S(2 x longest) is the square of S(longest)."""
    waits = [Wait(10, finished=True), Wait(20, finished=False)]
    shares = each_day(survival(waits), 20, 80)
    assert shares[20] == pytest.approx(0.5)
    assert shares[40] == pytest.approx(0.25)
    assert shares[80] == pytest.approx(0.0625)


def test_two_dice_one_after_another():
    die = np.zeros(20)
    die[1:7] = 1 / 6
    total = one_after_another([die, die])
    assert total[7] == pytest.approx(6 / 36)
    assert quantile_day(total, 0.5) == 7


def test_nothing_known_leaves_everything_open():
    assert survival([]).at(1000) == 1
    assert survival([]).quantile(0.5) is None


def test_negative_waits_are_a_mistake_of_the_program():
    with pytest.raises(ValueError, match="negative"):
        survival([Wait(-1, finished=True)])
