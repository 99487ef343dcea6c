"""Least squares against certified figures, against scipy, and leave-one-out against leaving one out by hand."""

import numpy as np
import pytest
from scipy.optimize import nnls

from generator.planning.least_squares import (
    least_squares,
    left_out_errors,
    non_negative,
    root_mean_square,
    told,
)
from generator.planning.triangles import spread

# NIST StRD, Longley: the US labour market 1947-1962, six regressors that nearly say the same (from memory; that the certified
# figures come out to nine digits shows that it was remembered rightly).
LONGLEY = """
60323 83.0 234289 2356 1590 107608 1947
61122 88.5 259426 2325 1456 108632 1948
60171 88.2 258054 3682 1616 109773 1949
61187 89.5 284599 3351 1650 110929 1950
63221 96.2 328975 2099 3099 112075 1951
63639 98.1 346999 1932 3594 113270 1952
64989 99.0 365385 1870 3547 115094 1953
63761 100.0 363112 3578 3350 116219 1954
66019 101.2 397469 2904 3048 117388 1955
67857 104.6 419180 2822 2857 118734 1956
68169 108.4 442769 2936 2798 120445 1957
66513 110.8 444546 4681 2637 121950 1958
68655 112.6 482704 3813 2552 123366 1959
69564 114.2 502601 3931 2514 125368 1960
69331 115.7 518173 4806 2572 127852 1961
70551 116.9 554894 4007 2827 130081 1962
"""
CERTIFIED = (-3482258.63459582, 15.0618722713733, -0.0358191792925910, -2.02022980381683, -1.03322686717359, -0.0511041056535807, 1829.15146461355)


def longley():
    table = [[float(each) for each in line.split()] for line in LONGLEY.strip().splitlines()]
    return [[1.0, *row[1:]] for row in table], [row[0] for row in table]


def made_up(seed, count=13, columns=4):
    draw = np.random.default_rng(seed)
    rows = draw.uniform(0, 10, (count, columns))
    return rows, rows @ draw.normal(0.5, 1.0, columns) + draw.normal(0, 1.0, count) + 3


def test_longley_comes_out_as_certified():
    assert least_squares(*longley()) == pytest.approx(CERTIFIED, rel=1e-8)


@pytest.mark.parametrize("seed", range(25))
def test_none_below_nothing_is_what_scipy_finds(seed):
    rows, wanted = made_up(seed)
    assert non_negative(rows.tolist(), wanted.tolist()) == pytest.approx(nnls(rows, wanted)[0], abs=1e-8)


def test_where_nothing_helps_all_is_nothing():
    assert non_negative([[1.0, 2.0], [2.0, 1.0]], [-1.0, -2.0]) == (0.0, 0.0)


def test_columns_that_say_the_same_do_no_harm():
    rows = [[each, each] for each in (1.0, 2.0, 3.0)]
    assert told([4.0, 4.0], non_negative(rows, [2.0, 4.0, 6.0])) == pytest.approx(8.0)


@pytest.mark.parametrize("seed", range(3))
def test_leave_one_out_is_each_foretold_by_all_the_others(seed):
    rows, wanted = made_up(seed)
    by_hand = []
    for out in range(len(rows)):
        found, _ = nnls(np.delete(rows, out, axis=0), np.delete(wanted, out))
        by_hand.append(rows[out] @ found - wanted[out])
    errors = left_out_errors(rows.tolist(), wanted.tolist())
    assert errors == pytest.approx(by_hand, abs=1e-8)
    assert root_mean_square(errors) == pytest.approx(np.sqrt(np.mean(np.square(by_hand))))


def test_plain_leave_one_out_by_the_hat_matrix():
    """Where no bound bites, the error of each left out is its residual over 1 − h (Allen 1974, PRESS, from memory)."""
    draw = np.random.default_rng(1)
    rows = draw.uniform(1, 10, (20, 3))
    wanted = rows @ [2.0, 3.0, 4.0] + draw.normal(0, 0.1, 20)
    hat = rows @ np.linalg.inv(rows.T @ rows) @ rows.T
    expected = -(wanted - hat @ wanted) / (1 - np.diag(hat))
    assert left_out_errors(rows.tolist(), wanted.tolist()) == pytest.approx(expected, abs=1e-8)


@pytest.mark.parametrize("same", [(), (1,), (1, 2), (0, 1, 2, 3)], ids=str)
@pytest.mark.parametrize("seed", range(5))
def test_of_columns_that_say_the_same_the_answer_is_the_shortest_as_numpy_gives_it(seed, same):
    rows, wanted = made_up(seed)
    for column in same:
        rows[:, column] = rows[:, 0] * (column + 1)
    length = np.sqrt((rows * rows).sum(axis=0))
    expected = np.linalg.lstsq(rows / length, wanted, rcond=None)[0] / length
    assert least_squares(rows.tolist(), wanted.tolist()) == pytest.approx(expected, abs=1e-9)


def test_a_column_of_nothing_has_no_share():
    assert least_squares([[1.0, 0.0], [2.0, 0.0], [3.0, 0.0]], [2.0, 4.0, 6.0]) == pytest.approx((2.0, 0.0))
    assert least_squares([[0.0], [0.0]], [1.0, 2.0]) == (0.0,)


def test_fewer_rows_than_coefficients_give_the_shortest_answer():
    assert least_squares([[3.0, 4.0, 0.0]], [10.0]) == pytest.approx((5 / 3, 5 / 4, 0.0))  # both columns, of one size, take half


@pytest.mark.parametrize("same", [False, True])
@pytest.mark.parametrize("seed", range(5))
def test_how_far_off_a_row_may_be_foretold_is_what_numpy_says(seed, same):
    rows, _ = made_up(seed)
    if same:
        rows[:, 3] = rows[:, 1]
    asked = rows.mean(axis=0) * [1.0, 2.0, 0.5, 0.5]
    expected = asked @ np.linalg.pinv(rows.T @ rows, hermitian=True) @ asked
    assert spread(rows.tolist(), asked.tolist()) == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize(("rows", "wanted"), [([], []), ([[1.0]], [1.0, 2.0])])
def test_rows_and_values_must_match(rows, wanted):
    with pytest.raises(ValueError, match="do not match"):
        least_squares(rows, wanted)
