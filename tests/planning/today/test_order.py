"""Smith's rule against every order there is, and what fits into a stretch of time.

The two sets with their optima (133 and 106) were made by brute force over all permutations, outside of this project.
"""

from collections.abc import Iterable
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.planning.today.deadlines import deadline
from generator.planning.today.order import WeighedJob, fitting, in_order

FIRST = {"A": (5, 1), "B": (3, 3), "C": (8, 4), "D": (2, 2), "E": (6, 2)}
SECOND = {"1": (8, 1), "2": (5, 3), "3": (3, 2), "4": (6, 4)}


def job(name: str, minutes: int, value: float | str = 0, **more: object) -> WeighedJob:
    return WeighedJob(key=(name,), chain=name, minutes=minutes, chain_minutes=more.pop("chain_minutes", minutes), value=Decimal(str(value)), **more)


def jobs(told: dict[str, tuple[int, int]]) -> list[WeighedJob]:
    return [job(name, minutes, value) for name, (minutes, value) in told.items()]


def names(found) -> str:
    return "".join(each.key[0] for each in found)


def cost_of_delay(order: Iterable[WeighedJob]) -> Decimal:
    """Σ value × minutes until it is done, one after another: what Smith's rule makes least, in value × minutes a week."""
    clock, cost = 0, Decimal(0)
    for each in order:
        clock += each.minutes
        cost += clock * each.value
    return cost


def least(every: list[WeighedJob]) -> Decimal:
    return min(cost_of_delay(order) for order in permutations(every))


@pytest.mark.parametrize(("told", "optimum", "worst", "orders"), [(FIRST, 133, 217, {"BDCEA", "DBCEA"}), (SECOND, 106, 167, {"3421", "4321"})])
def test_the_known_optima_are_reached(told, optimum, worst, orders):
    every = jobs(told)
    assert (least(every), max(cost_of_delay(order) for order in permutations(every))) == (optimum, worst)
    assert cost_of_delay(in_order(every)) == optimum
    assert names(in_order(every)) in orders


@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 5)), max_size=5))
def test_no_order_costs_less(told):
    every = [job(str(at), minutes, value) for at, (minutes, value) in enumerate(told)]
    assert cost_of_delay(in_order(every)) == least(every)


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(0, 9)), max_size=6), st.randoms())
def test_how_they_are_handed_over_changes_nothing(told, chance):
    every = [job(str(at), minutes, value) for at, (minutes, value) in enumerate(told)]
    shuffled = list(every)
    chance.shuffle(shuffled)
    assert in_order(shuffled) == in_order(every)


def test_what_has_no_value_comes_last_and_what_takes_no_time_first():
    every = [job("slow", 30, 0), job("free", 0, "0.01"), job("rich", 1, 1000), job("none", 0, 0)]
    assert names(in_order(every)) == "freerichnoneslow"


def test_equal_ones_stand_by_the_shorter_then_by_name():
    assert names(in_order([job("b", 10, 5), job("a", 10, 5), job("c", 4, 2)])) == "cab"


def test_values_that_differ_by_a_hair_are_told_apart():
    """As fractions: as floats 1/3 and 333333333333333333/10**18 are the same."""
    assert names(in_order([job("less", 10**18, 333333333333333333), job("more", 3, 1)])) == "moreless"


def test_what_lapses_if_it_is_not_begun_comes_first_the_nearest_day_before_all():
    every = [job("rich", 1, 1000), job("late", 60, 1, latest=20), job("early", 90, "0.5", latest=10)]
    assert names(in_order(every)) == "earlylaterich"


LOST = st.tuples(st.integers(1, 9), st.integers(0, 5), st.integers(-9, 9), st.lists(st.integers(10, 40), min_size=1, max_size=3))


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(0, 5)), max_size=3), st.lists(LOST, max_size=3))
def test_of_renewals_that_come_too_late_all_the_same_no_order_costs_less(dear, lost):
    """Days without what is renewed, duration by duration, in every order there is; a minute of work counts as a day."""
    day = date(2026, 11, 28)
    every, without = [job(f"dear {at}", minutes, value) for at, (minutes, value) in enumerate(dear)], {}
    for at, (minutes, value, left, durations) in enumerate(lost):
        chances = np.zeros(100)
        for days in durations:
            chances[days] += 1 / len(durations)
        keeps = deadline(chances, day + timedelta(days=left), day)
        assert not keeps.is_pressing
        every.append(job(f"lost {at}", minutes, value * Fraction(keeps.delayed)))
        without[f"lost {at}"] = (left, durations)

    def cost(order) -> Fraction:
        clock, whole = 0, Fraction(0)
        for each in order:
            clock += each.minutes
            left, durations = without.get(each.chain, (0, [0]))
            whole += Fraction(each.value) * sum(max(clock + days - left, 0) for days in durations) / len(durations)
        return whole

    assert cost(in_order(every)) == min(cost(order) for order in permutations(every))


def chained(told) -> list[WeighedJob]:
    """Chains of pieces: the value comes with the last of each, so each stands under its whole chain."""
    made = []
    for at, (pieces, value) in enumerate(told):
        made += [WeighedJob(key=(str(at), place), chain=str(at), minutes=one, chain_minutes=sum(pieces), value=Decimal(value)) for place, one in enumerate(pieces)]
    return made


def chain_cost(order) -> Decimal:
    """Each chain's value times when its last piece is done."""
    done, clock = {}, 0
    for each in order:
        clock += each.minutes
        done[each.chain] = clock * each.value
    return sum(done.values(), Decimal(0))


@given(st.lists(st.tuples(st.lists(st.integers(1, 9), min_size=1, max_size=2), st.integers(0, 5)), max_size=3))
def test_of_tasks_in_pieces_no_order_of_the_pieces_costs_less(told):
    every = chained(told)
    assert chain_cost(in_order(every)) == min((chain_cost(order) for order in permutations(every)), default=0)


def test_a_quick_beginning_of_a_long_way_does_not_come_before_what_is_nearly_done():
    looked_at = job("look", 30, 20, chain_minutes=900)
    papers = job("papers", 90, 30)
    assert names(in_order([looked_at, papers])) == "paperslook"


def minutes_of(found) -> dict[str, int]:
    return {slot.job.key[0]: slot.minutes for slot in found.slots}


def test_what_does_not_fit_is_skipped_and_said():
    found = fitting([job("a", 15), job("b", 120), job("c", 20), job("d", 10), job("e", 60)], 45)
    assert minutes_of(found) == {"a": 15, "c": 20, "d": 10}
    assert [each.key[0] for each in found.skipped] == ["b"], "e stands behind the last that was taken: nothing was done before its turn"
    assert (found.minutes, found.waiting) == (45, 2)


def test_a_long_one_is_begun_only_if_nothing_else_fits():
    found = fitting([job("a", 120), job("b", 60)], 45)
    assert minutes_of(found) == {"a": 45}
    assert found.slots[0].is_begun
    assert not found.skipped


def test_a_long_one_is_not_begun_where_a_later_one_fits():
    found = fitting([job("a", 120), job("b", 45)], 45)
    assert minutes_of(found) == {"b": 45}
    assert not found.slots[0].is_begun


def test_to_the_minute():
    assert minutes_of(fitting([job("a", 45)], 45)) == {"a": 45}
    assert fitting([job("a", 46)], 45).slots[0].is_begun


def test_what_takes_no_time_always_fits():
    assert minutes_of(fitting([job("a", 45), job("b", 0)], 45)) == {"a": 45, "b": 0}


def test_without_tasks_nothing_is_proposed():
    found = fitting([], 45)
    assert (found.slots, found.skipped, found.minutes, found.waiting) == ((), (), 0, 0)


@pytest.mark.parametrize("minutes", [0, -45])
def test_in_no_time_nothing_is_done(minutes):
    with pytest.raises(ValueError, match="minutes"):
        fitting([job("a", 15)], minutes)


@pytest.mark.parametrize(("minutes", "value"), [(-1, 1), (1, -1)])
def test_less_than_nothing_is_refused(minutes, value):
    with pytest.raises(ValueError, match="nothing"):
        in_order([job("a", minutes, value)])


@given(st.lists(st.integers(0, 200), max_size=12), st.integers(1, 600))
def test_no_more_is_done_than_there_is_time(told, minutes):
    every = [job(str(at), one) for at, one in enumerate(told)]
    found = fitting(every, minutes)
    assert found.minutes <= minutes
    assert len(found.slots) + found.waiting == len(every)
    left = minutes - found.minutes
    taken = {slot.job.key for slot in found.slots}
    assert all(each.minutes > left for each in every if each.key not in taken) or (found.slots and found.slots[0].is_begun)


def test_the_ratio_is_exact():
    assert job("a", 3, "0.1").ratio == Fraction(1, 30)
