"""Which recorded values do not belong among the others, so that they were most likely mistyped?

Each is foretold by all others (leave-one-out), and the logarithm of foretold to recorded is held against what the others show of
each other: their median absolute deviation over 0.6745. More than 3.5 of these is far outside: the modified z-score of Iglewicz
and Hoaglin, How to Detect and Handle Outliers (1993), as the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17, gives it
(from memory). What the others foretell badly in any case, since nothing like it is among them, is allowed more: times
√(1 + xᵀ(AᵀA)⁻¹x), the spread of a prediction by least squares (any textbook). And nothing within half as much again is called a
slip (own practice): a hand that slips writes another digit.

One wrong value spoils the fit for all, so what is asked of each is not how far off it is, but how well the others agree without it.
"""

from collections.abc import Sequence
from math import log, sqrt
from typing import Final, NamedTuple

from generator.planning.least_squares import Rows, left_out_errors, non_negative, told
from generator.planning.triangles import spread

FAR_OUTSIDE: Final = 3.5
MAD_TO_SIGMA: Final = 0.6745
LEAST_RATIO: Final = 1.5
LEAST_SIGMA: Final = 0.03  # runs that were made to agree exactly leave no spread at all
LOOKED_AT: Final = 6
MOST_SHARE: Final = 5  # one of so many may be a slip; where there are more the model is wrong, not the runs
NEARLY_NOTHING: Final = 1e-3  # a run that is foretold to take nothing


class Misfit(NamedTuple):
    """A row that does not belong, and what all that belong foretell of it, as a share of what was recorded."""

    row: int
    foretold: float


def misfits(rows: Rows, fewest: int) -> tuple[Misfit, ...]:
    """Rows divided by what was wanted of each, so that 1 is wanted of all; the worst first.

    Never so many that fewer than `fewest` others are asked about one, nor more than a fifth of all.
    """
    left, out = list(range(len(rows))), list[int]()
    while len(left) > fewest and len(out) < max(1, len(rows) // MOST_SHARE):
        worst = _worst([rows[each] for each in left])
        if worst is None:
            break
        out.append(left.pop(worst))
    by = non_negative([rows[each] for each in left], [1.0] * len(left)) if out else ()
    return tuple(Misfit(row=each, foretold=told(rows[each], by)) for each in out)


def _worst(rows: Rows) -> int | None:
    """The one without which the others agree best, where it is far outside of them."""
    off = _logs(rows)
    asked = sorted(range(len(rows)), key=lambda each: -abs(off[each]))[:LOOKED_AT]
    agreeing = [(sum(each * each for each in _logs(_without(rows, out))), out) for out in asked if abs(off[out]) > log(LEAST_RATIO)]
    if not agreeing:
        return None
    _, worst = min(agreeing)
    others = _without(rows, worst)
    return worst if abs(off[worst]) > FAR_OUTSIDE * _sigma(_logs(others)) * _spread(others, rows[worst]) else None


def _without(rows: Rows, out: int) -> list[Sequence[float]]:
    return [row for at, row in enumerate(rows) if at != out]


def _logs(rows: Rows) -> list[float]:
    """The logarithm of what the others foretell of each row to what was recorded."""
    return [log(max(1 + error, NEARLY_NOTHING)) for error in left_out_errors(rows, [1.0] * len(rows))]


def _sigma(logs: Sequence[float]) -> float:
    middle = _median(logs)
    return max(_median([abs(each - middle) for each in logs]) / MAD_TO_SIGMA, LEAST_SIGMA)


def _median(values: Sequence[float]) -> float:
    ordered, half = sorted(values), len(values) // 2
    return ordered[half] if len(values) % 2 else (ordered[half - 1] + ordered[half]) / 2


def _spread(rows: Rows, asked: Sequence[float]) -> float:
    """How much farther off than a recorded value a foretold one may be; the row asked about as a share of what is foretold."""
    foretold = max(told(asked, non_negative(rows, [1.0] * len(rows))), NEARLY_NOTHING)
    return sqrt(1 + spread(rows, [each / foretold for each in asked]))
