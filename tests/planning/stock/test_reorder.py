"""The reorder point against SciPy's Poisson distribution and a table of it, with the convention that it names."""

import pytest

from generator.planning.stock.reorder import chance_up_to, reorder_point

# Mean of the demand until the order arrives, then the smallest r with P(X <= r) >= 90, 95, 99 %; from SciPy's exact sums.
TABLE = {0.5: (1, 2, 3), 1: (2, 3, 4), 2: (4, 5, 6), 3: (5, 6, 8), 4: (7, 8, 9), 5: (8, 9, 11), 10: (14, 15, 18)}


@pytest.mark.parametrize(("mean", "points"), TABLE.items())
def test_the_table(mean, points):
    assert tuple(reorder_point(mean, share) for share in (0.90, 0.95, 0.99)) == points


def test_two_at_95_percent_is_five_since_four_is_just_short():
    assert round(chance_up_to(4, 2), 4) == 0.9473
    assert reorder_point(2, 0.95) == 5
    # Exactly what four give is reached by four: at least, not more than.
    assert [reorder_point(2, chance_up_to(count, 2)) for count in (3, 4, 5, 6)] == [3, 4, 5, 6]


def test_against_scipy():
    from scipy.stats import poisson

    for mean in (0.001, 0.08, 0.7, 1.9, 6.3, 24.5, 80.0, 900.25, 5000.0):
        for share in (0.01, 0.5, 0.8, 0.95, 0.999, 0.999999):
            assert reorder_point(mean, share) == poisson.ppf(share, mean), (mean, share)
        for count in (0, 1, int(mean), 2 * int(mean) + 3):
            assert chance_up_to(count, mean) == pytest.approx(poisson.cdf(count, mean), rel=1e-11, abs=1e-300)


def test_a_demand_of_many_thousands_is_reckoned_as_near_as_one_counts():
    from scipy.stats import poisson

    assert reorder_point(250_000.0, 0.95) == pytest.approx(poisson.ppf(0.95, 250_000.0), abs=2)
    assert reorder_point(1e300, 0.95) >= 10**299


def test_no_demand_and_no_lead_time_ask_for_nothing():
    assert reorder_point(0.0, 0.999) == 0
    assert chance_up_to(0, 0.0) == 1.0


@pytest.mark.parametrize("share", [0.0, 1.0, 1.5, -0.1, float("nan")])
def test_no_stock_serves_all_or_none(share):
    with pytest.raises(ValueError, match="service"):
        reorder_point(2.0, share)


@pytest.mark.parametrize("mean", [-1.0, float("nan"), float("inf")])
def test_no_mean(mean):
    with pytest.raises(ValueError, match="mean"):
        reorder_point(mean, 0.95)
