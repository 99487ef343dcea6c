"""Order quantities against published examples of the formula, SciPy, and price breaks against every quantity tried."""

import random
from decimal import Decimal
from fractions import Fraction

import pytest

from generator.planning.stock.order_quantity import CheapestBy, Terms, best_quantity, cost_a_year


@pytest.mark.parametrize(
    ("demand", "fixed", "price", "percent", "quantity"),
    [
        (10_000, "150", "3.00", 25, 2000),  # a lecture's example (zamnolence.github.io/scmo-slides/08lecture), recomputed: Q* = 2000
        (5000, "10", "4.00", 25, 316),  # recomputed: 316.23
        (1200, "10", "17.95", 60, 47),  # a user's guide (norton-guides.davep.dev/tr/tr-38773.html), 5 % a month: published 47 (47.2)
    ],
)
def test_the_formula(demand, fixed, price, percent, quantity):
    # The third one reckons by the month: 100 a month, 5 % a month.
    found = best_quantity(demand, terms(fixed, price), percent, most=demand)
    assert (found.count, found.why) == (quantity, CheapestBy.EVEN)


def terms(fixed, piece, *breaks):
    return Terms(fixed=Decimal(fixed), piece=Decimal(piece), breaks=tuple((count, Decimal(price)) for count, price in breaks))


def test_the_first_example_whole():
    # D = 10 000, K = 150, h = 0.75 as a quarter of 3.00: ordering and holding 1500 a year together.
    found = best_quantity(10_000, terms("150", "3.00"), 25, most=10_000)
    assert (found.count, found.why) == (2000, CheapestBy.EVEN)
    assert cost_a_year(2000, 10_000, terms("150", "3.00"), 25) == 1500 + 30_000


def by_brute_force(demand, offered, percent, most):
    """Every quantity tried, the cost written out anew: orders, pieces, and half of an order held."""

    def cost(count):
        price = offered.piece
        for start, each in offered.breaks:
            if count >= start:
                price = each
        return Fraction(demand) / count * Fraction(offered.fixed) + Fraction(demand) * Fraction(price) + Fraction(count, 2) * Fraction(percent) / 100 * Fraction(price)

    return min(range(1, most + 1), key=lambda count: (cost(count), count))


def test_without_breaks_against_scipy():
    """The cost of a year falls to its least and rises from there (it is convex), so the best whole count lies beside the least that SciPy finds."""
    from scipy.optimize import minimize_scalar

    chance = random.Random(16)
    for _ in range(60):
        demand, fixed = chance.choice([0.7, 6, 73.5, 1200, 90_000]), Decimal(chance.randint(1, 90_000)) / 100
        price, percent = Decimal(chance.randint(5, 60_000)) / 100, chance.choice([3, 20, 45.5])

        def cost(count, demand=demand, fixed=fixed, price=price, percent=percent):
            return demand / count * float(fixed) + count / 2 * percent / 100 * float(price)

        least = minimize_scalar(cost, bounds=(1e-6, 1e6), method="bounded", options={"xatol": 1e-7}).x
        found = best_quantity(demand, Terms(fixed=fixed, piece=price), percent, most=1_000_000)
        assert abs(found.count - max(least, 1)) < 1 + 1e-6 * least, (demand, fixed, price, percent, least)
        assert cost(found.count) <= min(cost(max(found.count - 1, 1)), cost(found.count + 1)) * (1 + 1e-12)


def test_all_units_breaks_against_every_quantity():
    chance = random.Random(15)
    reasons = set()
    for _ in range(300):
        demand = chance.choice([0.5, 2, 7.3, 22, 55, 140, 600])
        price = Decimal(chance.randint(20, 4000)) / 100
        starts = sorted(chance.sample(range(2, 90), chance.randint(0, 3)))
        fallen, breaks = price, []
        for start in starts:
            fallen = (fallen * Decimal(chance.choice(["0.97", "0.9", "0.6"]))).quantize(Decimal("0.0001"))
            breaks.append((start, fallen))
        offered = Terms(fixed=Decimal(chance.randint(0, 9000)) / 100, piece=price, breaks=tuple(breaks))
        percent, most = chance.choice([5, 20, 60]), chance.choice([3, 40, 120])
        found = best_quantity(demand, offered, percent, most=most)
        assert found.count == by_brute_force(demand, offered, percent, most), (demand, offered, percent, most)
        reasons.add(found.why)
    assert reasons == {CheapestBy.EVEN, CheapestBy.BREAK, CheapestBy.MOST}  # else these cases ask too little


def test_a_break_just_above_is_taken_and_one_far_above_is_not():
    assert best_quantity(22, terms("38", "5.00", (30, "4.60")), 20, most=100).count == 43  # √(2·22·38/0.92) = 42.6, above the break
    near = best_quantity(22, terms("9.50", "5.00", (25, "4.60")), 20, most=100)
    assert (near.count, near.why) == (25, CheapestBy.BREAK)  # 20.4 would be even
    far = best_quantity(22, terms("9.50", "5.00", (90, "4.90")), 20, most=100)
    assert (far.count, far.why) == (20, CheapestBy.EVEN)


def test_what_costs_nothing_to_hold_is_bounded():
    found = best_quantity(10, terms("38", "0"), 20, most=10)
    assert (found.count, found.why) == (10, CheapestBy.MOST)


@pytest.mark.parametrize(("demand", "percent", "most"), [(0, 20, 5), (-1, 20, 5), (5, 0, 5), (5, 20, 0), (float("nan"), 20, 5)])
def test_what_has_no_answer(demand, percent, most):
    with pytest.raises(ValueError, match="demand"):
        best_quantity(demand, terms("38", "5"), percent, most=most)
