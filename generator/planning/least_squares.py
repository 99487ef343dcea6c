"""Which coefficients, none of them below nothing, explain what was recorded best, and how far off do they foretell?"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import sqrt
from typing import Any

Rows = Sequence[Sequence[float]]


def least_squares(rows: Rows, wanted: Sequence[float]) -> tuple[float, ...]:
    """The coefficients with the least sum of squares, without a bound. Raises ValueError where rows and wanted do not match.

    Where rows leave more than one answer, the shortest.
    """
    return tuple(_Asked.of(rows, wanted).unbounded())


def non_negative(rows: Rows, wanted: Sequence[float]) -> tuple[float, ...]:
    """The same with every coefficient at nothing or above.

    Every choice of coefficients that are not nothing is tried, the plain answer of the best choice that has none below it
    is the answer (the conditions of Karush, Kuhn and Tucker; Lawson and Hanson 1974, chapter 23, from memory): for few
    coefficients only, 2 to the power of them.
    """
    return _Asked.of(rows, wanted).bounded()


def left_out_errors(rows: Rows, wanted: Sequence[float]) -> tuple[float, ...]:
    """For each row, foretold minus wanted, by what `non_negative` makes of all the others (leave-one-out)."""
    every = _Asked.of(rows, wanted)
    return tuple(told(row, every.without(out).bounded()) - wanted[out] for out, row in enumerate(rows))


@dataclass(frozen=True, slots=True)
class _Asked:
    """Rows and what is wanted of them, as arrays: many choices of their columns and rows are tried.

    rows: (n, k). wanted: (n,).
    """

    rows: Any
    wanted: Any

    def __post_init__(self) -> None:
        if len(self.rows) != len(self.wanted) or not len(self.rows):
            raise ValueError(f"{len(self.rows)} rows do not match {len(self.wanted)} values")

    @classmethod
    def of(cls, rows: Rows, wanted: Sequence[float]) -> "_Asked":
        import numpy as np  # noqa: PLC0415  whoever only names a model need not load it

        return cls(np.array(rows, dtype=float), np.array(wanted, dtype=float))

    def without(self, out: int) -> "_Asked":
        import numpy as np  # noqa: PLC0415  as above

        return _Asked(np.delete(self.rows, out, axis=0), np.delete(self.wanted, out))

    def unbounded(self) -> list[float]:
        rows, scale = self._of_one_size()
        return self._solved(rows, scale)

    def bounded(self) -> tuple[float, ...]:
        count = self.rows.shape[1]
        best: tuple[float, ...] = (0.0,) * count
        least = self._squares([], [])
        rows, scale = self._of_one_size()
        for size in range(1, count + 1):
            for chosen in map(list, combinations(range(count), size)):
                some = self._solved(rows[:, chosen], scale[chosen])
                if min(some) < 0:
                    continue
                squares = self._squares(chosen, some)
                if squares < least * (1 - 1e-12):
                    full = dict(zip(chosen, some, strict=True))
                    best, least = tuple(full.get(each, 0.0) for each in range(count)), squares
        return best

    def _of_one_size(self) -> tuple[Any, Any]:
        """Columns of very different sizes, such as years and counts, brought to one size, and which each had."""
        import numpy as np  # noqa: PLC0415  as above

        scale = np.sqrt((self.rows * self.rows).sum(axis=0))
        scale[scale == 0] = 1.0
        return self.rows / scale, scale

    def _solved(self, rows: Any, scale: Any) -> list[float]:
        import numpy as np  # noqa: PLC0415  as above

        found: list[float] = (np.linalg.lstsq(rows, self.wanted, rcond=None)[0] / scale).tolist()
        return found

    def _squares(self, chosen: list[int], coefficients: list[float]) -> float:
        off = self.rows[:, chosen] @ coefficients - self.wanted
        return float(off @ off)


def told(row: Sequence[float], coefficients: Sequence[float]) -> float:
    """What the coefficients foretell of a row."""
    return sum(each * by for each, by in zip(row, coefficients, strict=True))


def root_mean_square(errors: Sequence[float]) -> float:
    return sqrt(sum(each * each for each in errors) / len(errors))
