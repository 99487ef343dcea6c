"""Does a process stay as it began? A chart by hand, what an adversary would enter, and how often chance alone alarms."""

import math
import random
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.rules.control_chart import (
    RUN,
    Control,
    Signal,
    Subgroup,
    Unjudged,
    baseline_for,
    control_chart,
)

START = date(2026, 1, 5)
STEADY = [(9, 10, 11, 10, 10), (10, 12, 10, 9, 9), (11, 10, 9, 11, 9), (10, 10, 12, 8, 10), (9, 11, 10, 10, 10)]


def groups(rows, *, step=7):
    return [Subgroup(name=f"B-{at + 1}", day=START + timedelta(days=step * at), values=tuple(map(float, row))) for at, row in enumerate(rows)]


def charted(rows, **how):
    return control_chart(groups(rows), **how)


def signals(chart):
    return {point.name: point.signals for point in chart.points if point.signals}


def test_limits_by_hand():
    """Means 10 each, ranges 2, 3, 2, 4, 2: mean range 2.6; 10 ± 0.577 · 2.6; 2.114 · 2.6."""
    chart = charted([*STEADY, (10, 9, 11, 10, 10)])
    assert (chart.control, chart.unjudged, chart.size, chart.baseline) == (Control.IN_CONTROL, None, 5, 5)
    assert (chart.mean.low, chart.mean.centre, chart.mean.high) == pytest.approx((10 - 1.5002, 10, 10 + 1.5002))
    assert (chart.range.low, chart.range.centre, chart.range.high) == pytest.approx((0, 2.6, 5.4964))
    assert [(point.mean, point.range) for point in chart.points][:2] == [(10, 2), (10, 3)]


@pytest.mark.parametrize(
    ("later", "expected"),
    [
        ((12, 11, 12, 11, 12), {Signal.MEAN_HIGH}),
        ((8, 9, 8, 9, 8), {Signal.MEAN_LOW}),
        ((7, 13, 10, 10, 10), {Signal.RANGE_HIGH}),
        ((20, 2, 20, 20, 20), {Signal.MEAN_HIGH, Signal.RANGE_HIGH}),
        ((11.5, 11.5, 11.5, 11.5, 11.5), set()),
        ((10, 10, 10, 10, 10), set()),
    ],
    ids=["higher", "lower", "wider", "both", "just within", "of five a range of nothing is within"],
)
def test_a_later_subgroup(later, expected):
    chart = charted([*STEADY, later, STEADY[0]])
    assert signals(chart) == ({"B-6": tuple(sorted(expected))} if expected else {})
    assert chart.control is (Control.OUT_OF_CONTROL if expected else Control.IN_CONTROL)


def test_of_ten_a_range_below_its_limit_is_told():
    rows = [[10 + (at * 7 + place * 3) % 5 for place in range(10)] for at in range(5)]
    chart = charted([*rows, [12.0] * 9 + [12.1]])
    assert signals(chart) == {"B-6": (Signal.RANGE_LOW,)}


def test_a_baseline_that_does_not_hold_its_own_limits_is_no_baseline():
    chart = charted([*STEADY[:4], (30, 30, 30, 31, 31), STEADY[0]])
    assert chart.control is Control.OUT_OF_CONTROL
    assert signals(chart)["B-5"] == (Signal.MEAN_HIGH,)


@pytest.mark.parametrize(("count", "expected"), [(RUN - 1, 0), (RUN, 1), (RUN + 2, 3)])
@pytest.mark.parametrize("side", [0.4, -0.4])
def test_a_run_on_one_side_is_told_from_its_ninth_on(count, expected, side):
    later = [(10 + side, 9 + side, 11 + side, 10 + side, 10 + side)] * count
    chart = charted([*STEADY, *later])
    told = [point.signals for point in chart.points if point.signals]
    assert told == [(Signal.RUN_HIGH if side > 0 else Signal.RUN_LOW,)] * expected


def test_a_point_on_the_centre_line_or_beyond_it_ends_a_run():
    above, on = (10.4, 9.4, 11.4, 10.4, 10.4), (10, 9, 11, 10, 10)
    assert signals(charted([*STEADY, *[above] * 8, on, *[above] * 8])) == {}


def test_a_mean_on_its_limit_is_within():
    mean = charted([*STEADY, STEADY[0]]).mean
    for limit in (mean.low, mean.high):
        assert signals(charted([*STEADY, (limit,) * 5])) == {}
        assert signals(charted([*STEADY, (10 + (limit - 10) * 1.001,) * 5])) != {}


@pytest.mark.parametrize("side", [1, -1])
def test_eight_on_one_side_at_the_very_beginning_are_no_run(side):
    first, last = ([10 + by, 9 + by, 11 + by, 10 + by, 10 + by] for by in (0.1 * side, -0.4 * side))
    assert signals(charted([*[first] * 8, *[last] * 2, STEADY[0]], baseline=10)) == {}


def test_nothing_is_judged_before_there_is_something_later():
    for count in range(6):
        chart = charted(STEADY[:count])
        assert (chart.control, chart.unjudged) == (Control.TOO_FEW, Unjudged.TOO_FEW_SUBGROUPS)
        assert (chart.mean is None) is (count < 5), "with a baseline the limits can be drawn"


def test_the_smaller_the_subgroups_the_more_of_them_make_a_baseline():
    assert [baseline_for(size) for size in range(2, 11)] == [20, 10, 7, 5, 5, 5, 5, 5, 5]


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        ([*STEADY, (10, 9, 11, 10)], Unjudged.SIZES_DIFFER),
        ([*STEADY, ()], Unjudged.SIZES_DIFFER),
        ([(10,)] * 30, Unjudged.NO_SUCH_SIZE),
        ([()] * 30, Unjudged.NO_SUCH_SIZE),
        ([tuple(range(11))] * 30, Unjudged.NO_SUCH_SIZE),
        ([*STEADY, (10, 9, 11, 10, math.nan)], Unjudged.NO_NUMBER),
        ([(10, 9, 11, 10, math.inf), *STEADY], Unjudged.NO_NUMBER),
        ([*STEADY, (1.7e308, -1.7e308, 0, 0, 0)], Unjudged.NO_NUMBER),
        ([*STEADY, (1.7e308,) * 5], Unjudged.NO_NUMBER),
        ([(10,) * 5] * 6, Unjudged.NO_SPREAD),
        ([(row,) * 5 for row in range(6)], Unjudged.NO_SPREAD),
        ([(1e15, 1e15, 1e15, 1e15, 1e15 + 0.125), *[(1e15,) * 5] * 5], Unjudged.NO_SPREAD),
    ],
    ids=["one smaller", "one empty", "single values", "empty ones", "eleven", "nan", "infinite", "range too large", "sum too large", "all alike", "alike within each", "a spread below all decimals"],
)  # fmt: skip
def test_what_cannot_be_charted_is_unknown(rows, why):
    chart = charted(rows)
    assert (chart.control, chart.unjudged, chart.mean, chart.range) == (Control.UNKNOWN, why, None, None)


@pytest.mark.parametrize("baseline", [4, 0, -1])
def test_no_such_baseline(baseline):
    with pytest.raises(ValueError, match="baseline"):
        charted(STEADY, baseline=baseline)


def test_a_longer_baseline_may_be_asked():
    assert charted(STEADY * 3, baseline=10).baseline == 10
    assert charted(STEADY * 3, baseline=5) == charted(STEADY * 3)
    assert charted(STEADY * 2, baseline=10).control is Control.TOO_FEW


def test_subgroups_stand_in_the_order_of_their_days_and_of_one_day_as_they_came():
    made = groups([*STEADY, (12, 11, 12, 11, 12), STEADY[0]])
    assert control_chart(made[::-1]) == control_chart(made)
    same_day = [Subgroup(name=each.name, day=START, values=each.values) for each in made]
    assert [point.name for point in control_chart(same_day).points] == [each.name for each in made]


def test_nothing_at_all():
    chart = control_chart([])
    assert (chart.control, chart.size, chart.points) == (Control.TOO_FEW, None, ())


@pytest.mark.parametrize("size", [2, 3, 5, 10])
def test_how_often_chance_alone_alarms(size):
    """Of the next subgroup of a steady process: two or three of a hundred, as `baseline_for` says; within four deviations of 2,000."""
    chance, alarms, count = random.Random(417), 0, 2000
    for _ in range(count):
        rows = [[chance.gauss(50, 1) for _ in range(size)] for _ in range(baseline_for(size) + 1)]
        alarms += bool(charted(rows).points[-1].signals)
    assert 0.01 < alarms / count < 0.045


@settings(max_examples=50)
@given(st.lists(st.lists(st.floats(-1e6, 1e6) | st.sampled_from([math.nan, math.inf]), min_size=5, max_size=5), max_size=12))
def test_only_finite_values_within_all_limits_are_in_control(rows):
    chart = charted(rows)
    if chart.control is Control.IN_CONTROL:
        assert len(rows) > 5
        assert all(math.isfinite(each) for row in rows for each in row)
        assert all(chart.mean.low <= point.mean <= chart.mean.high for point in chart.points)
        assert all(point.range <= chart.range.high for point in chart.points)
