"""How long does a step take? A Kaplan–Meier estimate from finished and still-waiting steps.

Kaplan, E. L. and Meier, P. (1958), Nonparametric estimation from incomplete observations, JASA 53, 457–481:
S(t) = Π over t_i ≤ t of (1 − d_i / n_i), where n_i counts those still waiting just before t_i, including those
whose wait is cut off (censored) on day t_i itself.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Wait:
    """One wait of `days`; `finished` is False while it goes on or was broken off. `weight` counts like so many."""

    days: int
    finished: bool
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Survival:
    """The step function S: from day `days[i]` on, the share still waiting is `share[i]`; before the first it is 1."""

    days: tuple[int, ...]
    share: tuple[float, ...]
    at_risk: tuple[float, ...]
    finished: tuple[float, ...]
    standard_error: tuple[float, ...]
    """Greenwood (1926): se² = S² Σ d / (n (n − d)); NaN where the last one waiting has finished."""

    def at(self, day: float) -> float:
        """S(day): the share that waits longer than `day` days."""
        passed = [share for start, share in zip(self.days, self.share, strict=True) if start <= day]
        return passed[-1] if passed else 1.0

    def quantile(self, share_left: float) -> int | None:
        """The first day on which S is at most `share_left`; None where the curve ends above it."""
        return next(
            (day for day, share in zip(self.days, self.share, strict=True) if share <= share_left + 1e-12),
            None,
        )


def survival(waits: Iterable[Wait]) -> Survival:
    """The Kaplan–Meier estimate of `waits`; with none at all S stays 1. Raises ValueError for a negative wait."""
    every = list(waits)
    if any(wait.days < 0 or wait.weight <= 0 for wait in every):
        raise ValueError("a wait has no negative days and no weight of zero or less")
    days, shares, risks, ends, errors = [], [], [], [], []
    share, greenwood = 1.0, 0.0
    for day in sorted({wait.days for wait in every if wait.finished}):
        at_risk = sum(wait.weight for wait in every if wait.days >= day)
        ended = sum(wait.weight for wait in every if wait.days == day and wait.finished)
        share = share * (1.0 - ended / at_risk) if at_risk - ended > 1e-12 else 0.0
        greenwood = greenwood + ended / (at_risk * (at_risk - ended)) if share else float("nan")
        days.append(day)
        shares.append(share)
        risks.append(at_risk)
        ends.append(ended)
        errors.append(share * greenwood**0.5 if share else float("nan"))
    return Survival(tuple(days), tuple(shares), tuple(risks), tuple(ends), tuple(errors))


def each_day(curve: Survival, longest: int, days: int) -> NDArray[np.float64]:
    """S on each day 0 … `days`, (days + 1,), with a tail where the longest wait, of `longest` days, still goes on.

    Kaplan–Meier says nothing beyond its last observation. Where the curve ends above zero there, it is completed by
    the exponential curve through its end, S(t) = S(longest) ** (t / longest): Brown, Hollander and Korwar (1974),
    Nonparametric tests of independence for censored data, in Reliability and Biometry (from memory).
    """
    day = np.arange(days + 1)
    starts = np.array((0, *curve.days))
    shares = np.array((1.0, *curve.share))
    known = shares[np.searchsorted(starts, day, side="right") - 1]
    end = shares[-1]
    if not 0 < end < 1 or longest <= 0:
        return known
    return np.where(day > longest, np.minimum(known, end ** (day / longest)), known)


def remaining(waits: Sequence[Wait], waited: int | None, horizon: int) -> NDArray[np.float64]:
    """Chance, (horizon + 1,), that a step which has waited `waited` days ends in exactly 0, 1, … days from now.

    Conditional on having waited: P(T = t | T > waited) = (S(t − 1) − S(t)) / S(waited). What lies beyond the horizon is
    missing from the sum. A wait longer than all finished ones says nothing: zeros. `waited` None is a step that has
    yet to begin.
    """
    gone = waited or 0
    shares = each_day(survival(waits), max((wait.days for wait in waits), default=0), gone + horizon)
    if waited is None:
        return -np.diff(shares, prepend=1.0)
    still = shares[gone]
    if still <= 0 or not any(wait.finished and wait.days > waited for wait in waits):
        return np.zeros(horizon + 1)
    return np.concatenate(([0.0], -np.diff(shares[gone:]) / still))


def one_after_another(steps: Sequence[NDArray[np.float64]]) -> NDArray[np.float64]:
    """Chance of the total of independent steps, cut at the horizon of the first (all have one length)."""
    total = steps[0]
    for step in steps[1:]:
        total = np.convolve(total, step)[: len(total)]
    return total


def quantile_day(chances: NDArray[np.float64], share: float) -> int | None:
    """The first day by which the chance adds up to `share`; None where it never does."""
    reached = np.nonzero(np.cumsum(chances) >= share - 1e-9)[0]
    return int(reached[0]) if len(reached) else None
