"""Forecasts: own history against the trade's common practice, and what conditions them."""

from datetime import date, timedelta

import pytest

from generator.planning.forecast import PRACTICE_COUNTS_LIKE, forecast, own_waits
from generator.planning.waiting import Wait
from generator.records.approvals import Route
from generator.rules.history import History, Stage, Stay

DAY = date(2026, 11, 25)


def under_review(
    entered: date, route: Route = Route.CUSTOMER, stage: Stage = Stage.TECHNICAL_REVIEW
) -> History:
    return History(route=route, stage=stage, since=entered, stays=[Stay(stage, entered, None)])


def reviewed(days: int) -> History:
    start = date(2025, 1, 1)
    end = start + timedelta(days=days)
    stays = [Stay(Stage.TECHNICAL_REVIEW, start, end), Stay(Stage.APPROVED, end, None)]
    return History(route=Route.CUSTOMER, stage=Stage.APPROVED, since=end, stays=stays)


def forecast_of(part: History, *others: History):
    return forecast(part, own_waits([part, *others], DAY), DAY)


def test_without_own_history_the_customer_takes_a_few_months():
    """Common practice, no source."""
    found = forecast_of(under_review(DAY))
    assert 60 <= (found.median - DAY).days <= 120
    assert found.early < found.median < found.late
    assert found.own_share == 0


def test_a_record_whose_dates_run_backwards_is_no_wait_and_ends_no_forecast():
    part = under_review(DAY)
    assert forecast_of(part, reviewed(-30)) == forecast_of(part)
    assert sum(map(len, own_waits([reviewed(-30)], DAY).values())) == 0


def test_without_own_history_the_authority_takes_about_half_a_year():
    """Common practice, no source."""
    found = forecast_of(under_review(DAY, Route.AUTHORITY, Stage.AUTHORITY_REVIEW))
    assert 150 <= (found.median - DAY).days <= 210


def test_from_five_own_ones_on_only_own_history_speaks():
    own = [reviewed(days) for days in (40, 45, 50, 55, 60)]
    assert len(own) == PRACTICE_COUNTS_LIKE
    found = forecast_of(under_review(DAY), *own)
    assert found.own_share == 1
    assert found.median == DAY + timedelta(days=50)
    assert found.early == DAY + timedelta(days=40)
    # The waiting one is censored at day 0 and was never at risk on day 40, so the curve is the five alone.
    assert found.late == DAY + timedelta(days=60)


@pytest.mark.parametrize(("finished", "share"), [(0, 0), (1, 0.2), (4, 0.8), (5, 1), (9, 1)])
def test_own_ones_take_the_place_of_practice_one_by_one(finished, share):
    assert forecast_of(under_review(DAY), *[reviewed(50)] * finished).own_share == pytest.approx(share)


def test_having_waited_long_moves_the_day():
    own = [reviewed(days) for days in (30, 40, 50, 100, 110)]
    fresh = forecast_of(under_review(DAY), *own)
    stuck = forecast_of(under_review(DAY - timedelta(days=60)), *own)
    assert fresh.median == DAY + timedelta(days=50)
    assert stuck.median in (DAY + timedelta(days=40), DAY + timedelta(days=50))


def test_a_wait_longer_than_all_own_ones_leans_on_practice_again():
    own = [reviewed(days) for days in (30, 40, 50, 60, 70)]
    found = forecast_of(under_review(DAY - timedelta(days=80)), *own)
    assert found.own_share == 0
    assert DAY < found.early <= found.median <= found.late


def test_waiting_longer_than_anything_known_is_open():
    own = [reviewed(days) for days in (30, 40, 50, 60, 70)]
    found = forecast_of(under_review(DAY - timedelta(days=2000)), *own)
    assert found.median is None


def test_a_refusal_cuts_the_wait_off():
    start = date(2025, 1, 1)
    end = start + timedelta(days=10)
    stays = [Stay(Stage.TECHNICAL_REVIEW, start, end), Stay(Stage.DOCUMENTS, end, None)]
    refused = History(route=Route.CUSTOMER, stage=Stage.DOCUMENTS, since=end, stays=stays)
    waits = own_waits([refused], DAY)
    assert waits[Route.CUSTOMER, Stage.TECHNICAL_REVIEW] == [Wait(10, finished=False)]


def test_steps_to_come_are_added():
    now = under_review(DAY)
    design = History(
        route=Route.CUSTOMER, stage=Stage.DESIGN, since=DAY, stays=[Stay(Stage.DESIGN, DAY, None)]
    )
    assert forecast_of(design).median > forecast_of(now).median


@pytest.mark.parametrize("stage", [Stage.APPROVED, Stage.WITHDRAWN, Stage.SUPERSEDED])
def test_what_is_not_on_its_way_has_no_forecast(stage):
    assert forecast_of(under_review(DAY, stage=stage)) is None
