"""Which coefficients, none of them below nothing, explain what was recorded best, and how far off do they foretell?

In plain Python, for a handful of coefficients: whoever only checks records need not load a library of arrays. Rows are brought into
a triangle by Householder's reflections (Golub and Van Loan, Matrix Computations, 5.2, from memory), which keeps every sum of squares.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, combinations
from math import sqrt

from generator.planning.triangles import Row, shortest, triangle

Rows = Sequence[Sequence[float]]


def least_squares(rows: Rows, wanted: Sequence[float]) -> tuple[float, ...]:
    """The coefficients with the least sum of squares, without a bound. Raises ValueError where rows and wanted do not match.

    Where rows leave more than one answer, the shortest.
    """
    return _Asked.of(_beside(rows, wanted)).unbounded()


def non_negative(rows: Rows, wanted: Sequence[float]) -> tuple[float, ...]:
    """The same with every coefficient at nothing or above.

    Every choice of coefficients that are not nothing is tried, the plain answer of the best choice that has none below it
    is the answer (the conditions of Karush, Kuhn and Tucker; Lawson and Hanson 1974, chapter 23, from memory): for few
    coefficients only, 2 to the power of them.
    """
    return _Asked.of(_beside(rows, wanted)).bounded()


def left_out_errors(rows: Rows, wanted: Sequence[float]) -> tuple[float, ...]:
    """For each row, foretold minus wanted, by what `non_negative` makes of all the others (leave-one-out).

    All others are those before it and those behind it, each brought into a triangle once.
    """
    every = _beside(rows, wanted)
    if len(every) == 1:
        raise ValueError("nothing is left where the only row is left out")
    before = list(accumulate(every, _and_row, initial=list[Row]()))
    behind = list(accumulate(reversed(every), _and_row, initial=list[Row]()))[::-1]
    return tuple(
        told(row, _Asked.of([*before[out], *behind[out + 1]]).bounded()) - wanted[out] for out, row in enumerate(rows)
    )


def _and_row(above: list[Row], row: Row) -> list[Row]:
    return triangle([*above, row])


def _beside(rows: Rows, wanted: Sequence[float]) -> list[Row]:
    """Each row with what is wanted of it as its last column."""
    if len(rows) != len(wanted) or not len(rows):
        raise ValueError(f"{len(rows)} rows do not match {len(wanted)} values")
    return [[*map(float, row), float(by)] for row, by in zip(rows, wanted, strict=True)]


@dataclass(frozen=True, slots=True)
class _Asked:
    """Rows with what is wanted of them as their last column: many choices of the columns before it are tried.

    Columns of very different sizes, such as years and counts, are brought to one size; `scale` is which each had.
    """

    rows: list[Row]
    scale: Row

    @classmethod
    def of(cls, rows: list[Row]) -> "_Asked":
        under = triangle(rows)
        scale = [sqrt(sum(each * each for each in column)) or 1.0 for column in list(zip(*under, strict=True))[:-1]]
        return cls([[*(each / by for each, by in zip(row[:-1], scale, strict=True)), row[-1]] for row in under], scale)

    def unbounded(self) -> tuple[float, ...]:
        return tuple(self._solved(range(len(self.scale))))

    def bounded(self) -> tuple[float, ...]:
        count = len(self.scale)
        best: tuple[float, ...] = (0.0,) * count
        least = self._squares((), ())
        for size in range(1, count + 1):
            for chosen in combinations(range(count), size):
                some = self._solved(chosen)
                if min(some) < 0:
                    continue
                squares = self._squares(chosen, some)
                if squares < least * (1 - 1e-12):
                    full = dict(zip(chosen, some, strict=True))
                    best, least = tuple(full.get(each, 0.0) for each in range(count)), squares
        return best

    def _solved(self, chosen: Sequence[int]) -> list[float]:
        found = shortest([[*(row[each] for each in chosen), row[-1]] for row in self.rows])
        return [each / self.scale[at] for each, at in zip(found, chosen, strict=True)]

    def _squares(self, chosen: Sequence[int], coefficients: Sequence[float]) -> float:
        by = [each * self.scale[at] for each, at in zip(coefficients, chosen, strict=True)]
        off = (sum(row[at] * each for at, each in zip(chosen, by, strict=True)) - row[-1] for row in self.rows)
        return sum(each * each for each in off)


def told(row: Sequence[float], coefficients: Sequence[float]) -> float:
    """What the coefficients foretell of a row."""
    return sum(each * by for each, by in zip(row, coefficients, strict=True))


def root_mean_square(errors: Sequence[float]) -> float:
    return sqrt(sum(each * each for each in errors) / len(errors))
