"""Do groups of pieces hold differently, or could chance alone show this?

The log-rank test (Mantel 1966; Peto and Peto 1972): on each day of a failure, the failures expected of a group are its share of all
at risk; observed minus expected, summed over the days and held against its hypergeometric covariance, is a chi-square. Its
degrees are the rank of that covariance: groups - 1 where all were in use at the same ages, fewer where not.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain, repeat

from generator.planning.holding.curve import Ages, Observation, ages_of
from generator.planning.holding.gamma import chi2_beyond

_NO_VARIANCE = 1e-10  # of what a group had: rounding alone


@dataclass(frozen=True, slots=True, kw_only=True)
class LogRank:
    """Failures as they were and as they would be if all groups held alike, in the order of the groups."""

    observed: tuple[int, ...]
    expected: tuple[float, ...]
    chi2: float
    degrees: int
    p: float | None
    """How often chance alone shows so much or more; None where the failures leave chance no choice: all at ages of one group alone, or all at once."""


def log_rank(groups: Sequence[Iterable[Observation]]) -> LogRank:
    """The test of two groups or more. Raises ValueError for one alone, and for days that `holding_curve` refuses."""
    if len(groups) < 2:
        raise ValueError("it takes two groups to compare")
    return log_rank_of([ages_of(group) for group in groups])


def log_rank_of(groups: Sequence[Ages]) -> LogRank:
    """The same of two groups or more that are counted by their ages already."""
    ended = [tuple(chain.from_iterable(repeat(days, count) for days, count in sorted(group.ended.items()))) for group in groups]
    failed = [group.failed for group in groups]
    expected, covariance = [0.0] * len(groups), [[0.0] * len(groups) for _ in groups]
    for days in sorted({days for group in failed for days in group}):
        at_risk = [len(group) - bisect_left(group, days) for group in ended]
        _add(expected, covariance, at_risk, sum(group[days] for group in failed))
    observed = [group.total() for group in failed]
    chi2, degrees = _chi2([o - e for o, e in zip(observed, expected, strict=True)], covariance)
    p = chi2_beyond(chi2, degrees) if degrees else None
    return LogRank(observed=tuple(observed), expected=tuple(expected), chi2=chi2, degrees=degrees, p=p)


def _add(expected: list[float], covariance: list[list[float]], at_risk: Sequence[int], failed: int) -> None:
    """What a day on which `failed` pieces failed adds."""
    every = sum(at_risk)
    shares = [count / every for count in at_risk]
    spread = failed * (every - failed) / (every - 1) if every > 1 else 0.0
    for i, share in enumerate(shares):
        expected[i] += failed * share
        for j, other in enumerate(shares):
            covariance[i][j] += spread * share * ((i == j) - other)


def _chi2(off: list[float], covariance: list[list[float]]) -> tuple[float, int]:
    """offᵀ V⁻ off and the rank of V, by Cholesky's way, the largest variance that is left first (any textbook)."""
    had = [covariance[i][i] for i in range(len(off))]
    left, chi2 = set(range(len(off))), 0.0
    while left:
        first = max(left, key=lambda i: (covariance[i][i], -i))
        if covariance[first][first] <= _NO_VARIANCE * max(had):
            break
        left.remove(first)
        chi2 += off[first] ** 2 / covariance[first][first]
        for i in left:
            by = covariance[i][first] / covariance[first][first]
            off[i] -= by * off[first]
            for j in left:
                covariance[i][j] -= by * covariance[first][j]
    return chi2, len(off) - len(left)
