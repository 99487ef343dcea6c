"""The factors of tolerance bounds: against published ones, against the distribution they rest on, and against chance."""

import numpy as np
import pytest

from generator.rules.tolerance_factors import COUNTS, TOLERANCE_FACTORS, Coverage, tolerance_factor
from tests.rules.make_tolerance_factors import MODULE, factor, written


# As ISO 16269-6 and every handbook print them, from memory, three decimals.
@pytest.mark.parametrize(
    ("count", "ninety", "ninety_five", "ninety_nine"),
    [(3, 6.155, 7.656, 10.553), (5, 3.407, 4.203, 5.741), (10, 2.355, 2.911, 3.981), (20, 1.926, 2.396, 3.295), (50, 1.646, 2.065, 2.863)],
)
def test_published_factors(count, ninety, ninety_five, ninety_nine):
    found = [tolerance_factor(count, coverage) for coverage in Coverage]
    assert found == pytest.approx([ninety, ninety_five, ninety_nine], abs=1.1e-3)


def test_the_whole_table_is_that_of_the_noncentral_t():
    """scipy.stats.nct; rounded up, so never below it and never a ten-thousandth above."""
    for coverage, row in TOLERANCE_FACTORS.rows.items():
        for count, k in row.items():
            assert -1e-9 <= k - factor(count, coverage) <= 1e-4 + 1e-9, (count, coverage)


def test_the_module_is_what_the_script_writes():
    assert written() in MODULE.read_text("utf-8")


@pytest.mark.parametrize("coverage", Coverage)
def test_a_few_of_many_made_populations_lie_below_their_bound(coverage):
    """Of 20,000 samples of 8 from a normal population 95 % have the asked share above their bound; by chance alone, 4 sigma."""
    from scipy.stats import norm

    drawn = np.random.default_rng(417).normal(size=(20_000, 8))
    bounds = drawn.mean(axis=1) - tolerance_factor(8, coverage) * drawn.std(axis=1, ddof=1)
    held = (norm.sf(bounds) >= coverage / 100).mean()
    assert held == pytest.approx(0.95, abs=4 * (0.95 * 0.05 / 20_000) ** 0.5)


@pytest.mark.parametrize(("count", "taken"), [(2, 2), (3, 3), (51, 50), (59, 50), (60, 60), (79, 60), (99, 80), (100, 100), (10**9, 100)])
def test_between_two_counts_the_fewer_counts(count, taken):
    assert tolerance_factor(count, Coverage.NINETY) == TOLERANCE_FACTORS.rows[Coverage.NINETY][taken]


@pytest.mark.parametrize("coverage", Coverage)
def test_more_values_never_ask_for_more(coverage):
    row = TOLERANCE_FACTORS.rows[coverage]
    assert tuple(row) == COUNTS
    assert list(row.values()) == sorted(row.values(), reverse=True)


@pytest.mark.parametrize("count", [1, 0, -3])
def test_fewer_than_two_have_no_factor(count):
    with pytest.raises(ValueError, match="spread"):
        tolerance_factor(count, Coverage.NINETY)
