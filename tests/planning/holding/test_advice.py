"""What the use of a part says about its record."""

from datetime import date
from types import SimpleNamespace

import pytest

from generator.planning.holding.advice import advice_on, look_again, uses
from generator.planning.holding.parts import holding_parts
from tests.planning.holding.histories import DAY, batch, line, produced


def advice(*lines, demand=20.0, symptoms=("squeaks",)):
    made = produced(*lines, B_1=batch())
    part = SimpleNamespace(number="TV-0001", yearly_demand=demand, symptoms=symptoms)
    return advice_on(part, holding_parts(made, DAY)["TV-0001"], made, DAY)


def replaced(count, why="worn", day=100):
    return [line(day, on="B-1", vehicle=f"4{at}", removed=1, why=why) for at in range(count)]


BEGIN = line(400, on="B-1")


def test_what_was_fitted_in_a_year_and_how_much_of_it_for_what_failed():
    found = advice(BEGIN, *replaced(34), *replaced(24, "campaign"), *replaced(5, day=380))
    assert (found.use.fitted, found.use.for_failed, found.use.days, found.demand_is_off) == (58, 34, 365, True)
    assert advice(BEGIN, *replaced(2, day=365), *replaced(3, day=364)).use.fitted == 3


@pytest.mark.parametrize(("count", "is_off"), [(11, True), (13, False), (20, False), (29, False), (32, True)])
def test_chance_alone_is_no_reason_to_change_the_demand(count, is_off):
    """scipy: chi2.ppf(0.025, 2 * n) / 2 and chi2.ppf(0.975, 2 * n + 2) / 2 of n = 11, 13, 29, 32: 5.5 to 19.7, 6.9 to 22.2, 19.4 to 41.6, 21.9 to 45.2."""
    assert advice(BEGIN, *replaced(count)).demand_is_off is is_off


def test_a_young_record_foretells_no_year():
    assert advice(line(179, on="B-1")).use is None
    assert advice(line(180, on="B-1")).use.days == 180
    assert advice(line(500, on="B-9"), line(179, on="B-1")).use is None, "a part that is new is held against nothing"


def test_a_record_of_less_than_a_year_is_held_against_its_own_days():
    found = advice(line(183, on="B-1"), *replaced(9))
    assert (found.use.fitted, round(found.use.a_year), found.demand_is_off) == (10, 20, False)


def test_a_demand_that_nobody_said_is_told():
    assert advice(BEGIN, *replaced(3), demand=None).demand_is_off


def test_failures_without_a_symptom_are_told():
    failed = [line(50, on="B-1"), line(3, off="B-1", why="worn")]
    assert advice(*failed, symptoms=()).no_symptoms
    assert not advice(*failed).no_symptoms
    assert not advice(line(50, on="B-1"), symptoms=()).no_symptoms


@pytest.mark.parametrize(
    ("first", "day", "expected"),
    [
        (date(2026, 3, 1), date(2026, 11, 28), date(2027, 3, 1)),
        (date(2025, 12, 1), date(2026, 11, 28), date(2026, 12, 1)),
        (date(2025, 11, 28), date(2026, 11, 28), date(2027, 11, 28)),
        (date(2024, 2, 29), date(2026, 11, 28), date(2027, 3, 1)),
        (date(2026, 11, 28), date(2026, 11, 28), date(2027, 11, 28)),
        (date(2024, 2, 29), date(2024, 2, 29), date(2025, 3, 1)),
    ],
)
def test_somebody_looks_again_once_a_year(first, day, expected):
    assert look_again(first, day) == expected


def test_no_line_is_no_use():
    assert uses(produced(), DAY) == {}


def test_what_is_on_no_vehicle_any_more_is_not_looked_at_again():
    assert advice(line(50, on="B-1"), line(3, off="B-1", why="campaign")).look_again is None
    assert advice(line(50, on="B-1")).look_again == date(2027, 10, 9)


@pytest.mark.parametrize(("until", "expected"), [(date(2027, 3, 31), (date(2027, 3, 31), "trial")), (date(2028, 1, 1), (date(2027, 10, 9), "yearly"))])
def test_a_trial_that_ends_sooner_is_looked_at_then(until, expected):
    made = produced(line(50, on="B-1"), B_1=batch())
    found = advice_on(SimpleNamespace(number="TV-0001", yearly_demand=1, symptoms=()), holding_parts(made, DAY)["TV-0001"], made, DAY, until)
    assert (found.look_again, found.because) == expected
