"""Days to keep, counted backwards from how long a review takes: against quantiles of waits that are known."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.planning.forecast import own_waits, review_ahead, usual_wait
from generator.planning.today.deadlines import SURE_ENOUGH, deadline
from generator.records.approvals import Route
from generator.rules.history import History, Stage, Stay

DAY = date(2026, 11, 28)


def evenly(*days: int) -> np.ndarray:
    """Each of these equally likely."""
    chances = np.zeros(401)
    for each in days:
        chances[each] += 1 / len(days)
    return chances


TEN = evenly(*range(10, 110, 10))  # 80 % are over within 80 days


def to_keep(left: int, chances: np.ndarray = TEN):
    return deadline(chances, DAY + timedelta(days=left), DAY)


def test_four_of_five_reviews_fit_between_the_latest_start_and_the_last_day():
    found = to_keep(200)
    assert found.latest_start == DAY + timedelta(days=200 - 80)
    assert (found.chance, found.is_pressing) == (0, False)


@pytest.mark.parametrize(
    ("left", "chance", "in_a_week", "pressing"),
    [
        (100, 0.0, 0.1, False),
        (89, 0.2, 0.2, False),  # begun today or in a week, 80 days are left and one in five takes longer
        (81, 0.2, 0.3, False),
        (80, 0.2, 0.3, True),  # today at the latest
        (79, 0.3, 0.3, True),
        (30, 0.7, 0.8, True),
        (29, 0.8, 0.8, False),  # four of five come too late although begun today: the day is lost
        (9, 1.0, 1.0, False),
        (0, 1.0, 1.0, False),  # its last day
    ],
)
def test_the_chance_is_that_of_a_review_that_takes_longer(left, chance, in_a_week, pressing):
    found = to_keep(left)
    assert (found.chance, found.in_a_week) == (pytest.approx(chance), pytest.approx(in_a_week))
    assert found.is_pressing is pressing
    assert found.is_lost is (chance >= SURE_ENOUGH)


def test_what_is_over_presses_no_more_and_lapses_for_sure():
    found = to_keep(-1)
    assert (found.chance, found.is_lost, found.is_pressing, found.delayed) == (1.0, True, False, 1.0)


@given(st.dictionaries(st.integers(0, 60), st.integers(1, 9), min_size=1, max_size=6), st.integers(0, 3), st.integers(-3, 80))
def test_a_week_of_delay_costs_so_much_longer_without_it(parts, endless, left):
    """By hand: the days without it when begun in a week, less those when begun today, duration by duration."""
    whole = sum(parts.values()) + endless
    chances = np.zeros(401)
    for days, part in parts.items():
        chances[days] = part / whole
    lost = sum(part * (max(days + 7 - left, 0) - max(days - left, 0)) for days, part in parts.items()) + endless * 7
    assert to_keep(left, chances).delayed == pytest.approx(lost / whole / 7)


def test_what_is_kept_for_sure_loses_nothing_by_a_week_and_what_is_lost_all_of_it():
    assert [to_keep(left).delayed for left in (107, 106, 3, -40)] == [0, pytest.approx(0.1 / 7), 1, 1]


def test_where_history_does_not_tell_the_end_it_presses():
    """Half of the reviews go on for longer than anybody has seen."""
    found = to_keep(300, evenly(*range(10, 110, 10)) / 2)
    assert (found.latest_start, found.is_pressing) == (None, True)
    assert (found.chance, found.delayed) == (pytest.approx(0.5), pytest.approx(0.5))
    assert not to_keep(300, evenly(*range(10, 110, 10)) / 10).is_pressing, "nine of ten are endless: the day is lost"


def test_a_day_beyond_the_horizon_lapses_by_what_is_known():
    found = to_keep(5000)
    assert (found.chance, found.is_pressing) == (0, False)


def test_rounding_does_not_make_it_press_a_day_early():
    """Ten tenths add up to a hair less than one."""
    assert to_keep(80 + 1).is_pressing is False
    assert SURE_ENOUGH == 0.8


def reviewed(days: int, route: Route = Route.CUSTOMER) -> History:
    start = date(2025, 1, 1)
    end = start + timedelta(days=days)
    return History(route=route, stage=Stage.APPROVED, since=end, stays=[Stay(Stage.TECHNICAL_REVIEW, start, end), Stay(Stage.APPROVED, end, None)])


def test_a_renewal_takes_what_the_depots_own_reviews_took():
    own = own_waits([reviewed(days) for days in (40, 45, 50, 55, 60)], DAY)
    found = deadline(review_ahead(Route.CUSTOMER, own), DAY + timedelta(days=100), DAY)
    assert found.latest_start == DAY + timedelta(days=100 - 55), "four of the five took 55 days or less"
    assert usual_wait(Route.CUSTOMER, Stage.TECHNICAL_REVIEW, own) == 55


def test_the_authority_takes_longer_than_the_customer_alone():
    """Common practice, no source: no own history."""
    customer, authority = (deadline(review_ahead(route, {}), DAY + timedelta(days=365), DAY).latest_start for route in Route)
    assert authority < customer
