"""What gets done by when, in the hours a week that the depot states."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.planning.today.week import horizon, planned

DAY = date(2026, 11, 28)


def days(minutes, hours) -> list[int | None]:
    return [(each.done_on - DAY).days if each.done_on else None for each in planned(minutes, hours, DAY)]


def test_at_seven_hours_a_week_an_hour_is_a_day():
    assert days([60, 30, 30, 60 * 7], 7) == [1, 2, 2, 9], "what is begun on a day is done on it or on the next; half a day is rounded up"


def test_the_minutes_run_on():
    assert [(each.begins, each.ends) for each in planned([45, 0, 120], 5, DAY)] == [(0, 45), (45, 45), (45, 165)]


def test_in_no_hours_nothing_gets_done_but_what_takes_no_time():
    assert days([60, 0], 0) == [None, None]


def test_without_a_word_on_hours_nothing_is_planned():
    assert days([60], None) == [None]


def test_without_tasks_there_is_no_plan():
    assert planned([], 8, DAY) == ()


@pytest.mark.parametrize(("minutes", "hours", "found", "beyond"), [
    ([9600], 0.0001, [None], [True]),
    ([9600], 5e-324, [None], [True]),
    ([730 * 60, 1], 7, [730, None], [False, True]),
    ([730 * 60 + 1, 0], 7, [None, None], [True, True]),
    ([0, 60], 1e-9, [0, None], [False, True]),
    ([60], 0, [None], [False]),
    ([60], None, [None], [False]),
])  # fmt: skip
def test_no_day_is_told_behind_two_years(minutes, hours, found, beyond):
    assert days(minutes, hours) == found
    assert [each.is_beyond for each in planned(minutes, hours, DAY)] == beyond


def test_no_day_is_told_that_no_calendar_has():
    last = date(9999, 12, 30)
    assert [each.done_on for each in planned([60, 60, 60], 7, last)] == [date(9999, 12, 31), None, None]
    assert horizon(last) == date.max


@pytest.mark.parametrize("hours", [-1, float("nan"), float("inf")])
def test_hours_that_are_none_are_refused(hours):
    with pytest.raises(ValueError, match="hours"):
        planned([60], hours, DAY)


@given(st.lists(st.integers(0, 960), max_size=9), st.floats(0.1, 168))
def test_nothing_is_done_before_what_stands_before_it(minutes, hours):
    found = planned(minutes, hours, DAY)
    assert all(b.is_beyond or (not a.is_beyond and a.done_on <= b.done_on) for a, b in pairwise(found))
    assert sum(minutes) == (found[-1].ends if found else 0)
    assert all(each.is_beyond or each.done_on >= DAY + timedelta(days=int(each.ends / (hours * 60 / 7))) for each in found)
