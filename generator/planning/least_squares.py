"""Which coefficients, none of them below nothing, explain what was recorded best, and how far off do they foretell?"""

from collections.abc import Sequence
from itertools import combinations
from math import sqrt

Rows = Sequence[Sequence[float]]


def least_squares(rows: Rows, wanted: Sequence[float]) -> tuple[float, ...]:
    """The coefficients with the least sum of squares, without a bound. Raises ValueError where rows and wanted do not match.

    Where rows leave more than one answer, the shortest.
    """
    import numpy as np  # noqa: PLC0415  whoever only names a model need not load it

    if len(rows) != len(wanted) or not rows:
        raise ValueError(f"{len(rows)} rows do not match {len(wanted)} values")
    given = np.array(rows, dtype=float)
    # Columns of very different sizes, such as years and counts, are brought to one size first.
    scale = np.linalg.norm(given, axis=0)
    scale[scale == 0] = 1.0
    found = np.linalg.lstsq(given / scale, np.array(wanted, dtype=float), rcond=None)[0] / scale
    return tuple(float(each) for each in found)


def non_negative(rows: Rows, wanted: Sequence[float]) -> tuple[float, ...]:
    """The same with every coefficient at nothing or above.

    Every choice of coefficients that are not nothing is tried, the plain answer of the best choice that has none below it
    is the answer (the conditions of Karush, Kuhn and Tucker; Lawson and Hanson 1974, chapter 23, from memory): for few
    coefficients only, 2 to the power of them.
    """
    count = len(rows[0])
    best, least = (0.0,) * count, _squares(rows, wanted, (0.0,) * count)
    for size in range(1, count + 1):
        for chosen in combinations(range(count), size):
            some = least_squares([[row[each] for each in chosen] for row in rows], wanted)
            if min(some) < 0:
                continue
            full = dict(zip(chosen, some, strict=True))
            tried = tuple(full.get(each, 0.0) for each in range(count))
            squares = _squares(rows, wanted, tried)
            if squares < least * (1 - 1e-12):
                best, least = tried, squares
    return best


def left_out_errors(rows: Rows, wanted: Sequence[float]) -> tuple[float, ...]:
    """For each row, foretold minus wanted, by what `non_negative` makes of all the others (leave-one-out)."""
    errors = []
    for out in range(len(rows)):
        others = [row for at, row in enumerate(rows) if at != out]
        found = non_negative(others, [value for at, value in enumerate(wanted) if at != out])
        errors.append(told(rows[out], found) - wanted[out])
    return tuple(errors)


def told(row: Sequence[float], coefficients: Sequence[float]) -> float:
    """What the coefficients foretell of a row."""
    return sum(each * by for each, by in zip(row, coefficients, strict=True))


def root_mean_square(errors: Sequence[float]) -> float:
    return sqrt(sum(each * each for each in errors) / len(errors))


def _squares(rows: Rows, wanted: Sequence[float], coefficients: Sequence[float]) -> float:
    return sum((told(row, coefficients) - value) ** 2 for row, value in zip(rows, wanted, strict=True))
