"""What is put forward so that its day is kept, against every order of small cases; a day to keep counts like `spares today` shows it."""

from datetime import date, timedelta
from decimal import Decimal
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.planning.today.kept import in_time
from generator.planning.today.order import WeighedJob, in_order
from generator.planning.today.week import planned
from tests.planning.today.test_order import cost_of_delay

DAY = date(2026, 11, 28)


def job(name: str, minutes: int, value: int = 0, done_by: int | None = None, **more: object) -> WeighedJob:
    by = None if done_by is None else (DAY + timedelta(days=done_by)).toordinal()
    return WeighedJob(key=(name,), chain=name, minutes=minutes, chain_minutes=minutes, value=Decimal(value), due=by, **more)


def names(order) -> str:
    return "".join(each.key[0] for each in order)


def kept(order, hours: float = 7) -> set[str]:
    """Those that are done by their day: an hour a day."""
    plan = planned([each.minutes for each in order], hours, DAY)
    return {each.key[0] for each, at in zip(order, plan, strict=True) if each.due is not None and at.done_on and at.done_on.toordinal() <= each.due}


CASES = [
    ([job("a", 600, 9), job("r", 30, 0, 11)], "ar", "it is done in time as it stands, on the very day"),
    ([job("a", 600, 9), job("r", 30, 0, 10)], "ra", "a day too late, so it goes before"),
    ([job("a", 240, 9), job("b", 180, 5), job("c", 240, 2), job("r", 60, 0, 8)], "abrc", "no farther forward than it has to"),
    ([job("a", 240, 9), job("b", 240, 5), job("r", 60, 0, 4)], "rab", "to the front, where it has to"),
    ([job("a", 200, 9), job("r", 600, 1, 3)], "ar", "its day is lost in any case, and it helps nobody to go before"),
    ([job("a", 200, 9), job("r", 90, 1, 2), job("s", 60, 0, 2)], "sar", "of two one alone can be done by then: the shorter one"),
]


@pytest.mark.parametrize(("every", "order", "why"), CASES, ids=[why for _, _, why in CASES])
def test_it_is_put_forward_as_far_as_it_has_to(every, order, why):
    assert names(in_time(every, 7, DAY)) == order, why


@pytest.mark.parametrize("hours", [None, 0])
def test_without_hours_nothing_is_put_forward(hours):
    assert names(in_time([job("a", 600, 9), job("r", 30, 0, 1)], hours, DAY)) == "ar"


def test_what_presses_today_stays_in_front():
    front = job("p", 600, 1, latest=DAY.toordinal())
    assert names(in_time([front, job("a", 60, 9), job("r", 30, 0, 10)], 7, DAY)) == "par", "its day is lost by then, and it helps nobody to go before"
    assert names(in_time([front, job("a", 60, 9), job("r", 30, 0, 11)], 7, DAY)) == "pra"


def test_the_papers_of_one_step_go_forward_together_in_their_order():
    piece = [WeighedJob(key=("r", at), chain="r", minutes=one, chain_minutes=400, value=Decimal(1), due=(DAY + timedelta(days=8)).toordinal()) for at, one in enumerate((300, 90, 10))]
    assert [each.key for each in in_time([job("a", 60, 90), job("b", 60, 80), *piece], 7, DAY)] == [("a",), ("r", 0), ("r", 1), ("r", 2), ("b",)]


@pytest.mark.parametrize("hours", [5e-324, 0.001, 168])
def test_any_hours_are_taken(hours):
    assert len(in_time([job("a", 600, 9), job("r", 30, 0, 9)], hours, DAY)) == 2


TASKS = st.lists(st.tuples(st.integers(0, 300), st.integers(0, 5), st.none() | st.integers(1, 9)), min_size=1, max_size=5)


@given(TASKS)
def test_no_order_keeps_more_days_and_what_has_none_keeps_its_order(told):
    every = in_order(job(str(at), minutes, value, by) for at, (minutes, value, by) in enumerate(told))
    found = in_time(every, 7, DAY)
    assert sorted(found, key=every.index) == every
    assert len(kept(found)) == max(len(kept(order)) for order in permutations(every))
    assert [each for each in found if each.due is None] == [each for each in every if each.due is None]
    if kept(every) == {each.key[0] for each in every if each.due is not None}:
        assert found == every, "nobody's day is missed, so the rule stands"


@given(st.lists(st.tuples(st.just(60), st.integers(0, 5), st.none() | st.integers(1, 4)), min_size=1, max_size=5))
def test_of_tasks_of_one_length_no_order_that_keeps_the_same_days_costs_less(told):
    """Smith's backward rule: an hour each, so that his rule with days has its proof (1956, from memory)."""
    every = in_order(job(str(at), minutes, value, by) for at, (minutes, value, by) in enumerate(told))
    found = in_time(every, 7, DAY)
    assert cost_of_delay(found) == min(cost_of_delay(order) for order in permutations(every) if kept(order) >= kept(found))
