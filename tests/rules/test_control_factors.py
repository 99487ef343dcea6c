"""The factors of a chart of means and ranges, recomputed from the distribution of the range of normal samples."""

import numpy as np
import pytest

from generator.rules.control_factors import CONTROL_FACTORS


def range_moments(size):
    """d2 and d3, mean and deviation of the range of `size` standard normal values, by its density (any textbook):

    n (n - 1) times the integral over x of f(x) f(x + w) (F(x + w) - F(x))^(n - 2), by 120 points of Gauss and Legendre each way.
    """
    from scipy.stats import norm

    nodes, weights = np.polynomial.legendre.leggauss(120)
    x, w = 9.5 * nodes[:, None], 6 * (nodes[None, :] + 1)
    density = size * (size - 1) * norm.pdf(x) * norm.pdf(x + w) * (norm.cdf(x + w) - norm.cdf(x)) ** (size - 2)
    of_w = 9.5 * weights @ density * 6 * weights
    assert of_w.sum() == pytest.approx(1, abs=1e-8)
    mean = (of_w * w[0]).sum()
    return mean, ((of_w * w[0] ** 2).sum() - mean**2) ** 0.5


@pytest.mark.parametrize("size", range(2, 11))
def test_recomputed(size):
    mean, deviation = range_moments(size)
    row = CONTROL_FACTORS.rows[size]
    exact = (mean, 3 / (mean * size**0.5), max(0.0, 1 - 3 * deviation / mean), 1 + 3 * deviation / mean)
    assert (row.d2, row.a2, row.d3, row.d4) == pytest.approx(exact, abs=6e-4)


def test_published_factors_of_five():
    """ISO 7870-2 and every handbook."""
    row = CONTROL_FACTORS.rows[5]
    assert (row.a2, row.d3, row.d4, row.d2) == (0.577, 0.0, 2.114, 2.326)


def test_there_are_two_to_ten():
    assert tuple(CONTROL_FACTORS.rows) == tuple(range(2, 11))
