"""What answers few linear questions: rows brought into a triangle, and the shortest answer that comes nearest to what is wanted.

In plain Python. Where a row has what is wanted of it, that is its last column.
"""

from collections.abc import Sequence
from math import copysign, sqrt
from typing import Final

Row = list[float]

EPSILON: Final = 2.0**-52
NOTHING: Final = 100 * EPSILON
"""Of the greatest singular value: a smaller one is rounding, as LAPACK's users take it for a hundred rows."""
NOTHING_SQUARED: Final = 1e-15
"""The same of squares of singular values that only say how far off a prediction may be."""
UPRIGHT: Final = 8 * EPSILON
CLEARLY_APART: Final = 1e-5
"""Columns of length one whose triangle has nothing smaller on its edge do not say the same; others are looked at more closely."""
MOST_SWEEPS: Final = 60


def triangle(rows: list[Row]) -> list[Row]:
    """As many rows as columns at most, with the same sums of squares for any coefficients (Householder)."""
    left = [list(row) for row in rows]
    width = len(left[0])
    for at in range(min(width, len(left) - 1)):
        _reflect(left, at)
    return left[:width]


def _reflect(rows: list[Row], at: int) -> None:
    """Turn column `at` from row `at` on into its first entry; all other columns turn with it."""
    below = rows[at:]
    mirror = [row[at] for row in below]
    length = sqrt(sum(each * each for each in mirror))
    if length == 0:
        return
    top = -copysign(length, mirror[0])
    mirror[0] -= top
    half = sum(each * each for each in mirror) / 2
    for column in range(at + 1, len(rows[at])):
        share = sum(each * row[column] for each, row in zip(mirror, below, strict=True)) / half
        for each, row in zip(mirror, below, strict=True):
            row[column] -= share * each
    for row in below:
        row[at] = 0.0
    rows[at][at] = top


def shortest(rows: list[Row]) -> Row:
    """The coefficients with the least sum of squares, of these the shortest; columns are of length one or nothing."""
    under = triangle(rows)
    count = len(under[0]) - 1
    if len(under) >= count and all(abs(under[at][at]) > CLEARLY_APART for at in range(count)):
        return _from_below(under, count)
    return _by_turning(under, count)


def _from_below(under: list[Row], count: int) -> Row:
    found = [0.0] * count
    for at in reversed(range(count)):
        row = under[at]
        found[at] = (row[-1] - sum(row[each] * found[each] for each in range(at + 1, count))) / row[at]
    return found


def _by_turning(rows: list[Row], count: int) -> Row:
    """By singular values, found with Jacobi's turns of pairs of columns (Hestenes 1958, from memory); those of nothing are left out."""
    columns, turned = _turned_apart([list(each) for each in zip(*(row[:count] for row in rows), strict=True)])
    wanted = [row[-1] for row in rows]
    squares = [_dot(each, each) for each in columns]
    found = [0.0] * count
    for column, turn, square in zip(columns, turned, squares, strict=True):
        if square > max(squares) * NOTHING**2:
            share = _dot(column, wanted) / square
            found = [each + share * by for each, by in zip(found, turn, strict=True)]
    return found


def spread(rows: Sequence[Sequence[float]], asked: Sequence[float]) -> float:
    """xᵀ(AᵀA)⁻¹x, how badly the rows A foretell x; directions of which they say nothing are left out. No column of wanted here."""
    under = triangle([list(row) for row in rows])
    columns, turned = _turned_apart([list(each) for each in zip(*under, strict=True)])
    squares = [_dot(each, each) for each in columns]
    return sum(_dot(turn, asked) ** 2 / square for turn, square in zip(turned, squares, strict=True) if square > max(squares) * NOTHING_SQUARED)


def _turned_apart(columns: list[Row]) -> tuple[list[Row], list[Row]]:
    """The columns turned until each stands upright on all others, and of which shares of the given ones each is made."""
    count = len(columns)
    shares = [[float(at == each) for each in range(count)] for at in range(count)]
    for _ in range(MOST_SWEEPS):
        if not [pair for pair in ((a, b) for a in range(count) for b in range(a + 1, count)) if _turn(columns, shares, *pair)]:
            break
    return columns, shares


def _turn(columns: list[Row], shares: list[Row], a: int, b: int) -> bool:
    """Turn two columns until they stand upright on each other; whether there was anything to turn."""
    one, other = columns[a], columns[b]
    long, wide, both = _dot(one, one), _dot(other, other), _dot(one, other)
    if both * both <= UPRIGHT**2 * long * wide:
        return False
    slant = (wide - long) / (2 * both)
    tangent = copysign(1.0, slant) / (abs(slant) + sqrt(1 + slant * slant))
    cosine = 1 / sqrt(1 + tangent * tangent)
    sine = tangent * cosine
    for each in (columns, shares):
        first, second = each[a], each[b]
        each[a] = [cosine * x - sine * y for x, y in zip(first, second, strict=True)]
        each[b] = [sine * x + cosine * y for x, y in zip(first, second, strict=True)]
    return True


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(x * y for x, y in zip(one, other, strict=True))
