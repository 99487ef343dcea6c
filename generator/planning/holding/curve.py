"""Which share of the pieces still holds after so many days, and how sure is that?

Kaplan and Meier (1958), Nonparametric estimation from incomplete observations, JASA 53, 457-481: S(t) is the product of
1 - d / n over the days up to t on which pieces failed; n counts those in use just before, with those that are cut off
(censored: taken off for another reason, or still in use) on that very day. Greenwood (1926): the variance of S is
S² times the sum of d / (n (n - d)). Both as any textbook gives them.
"""

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import chain, repeat
from math import exp, fsum, log, nan, sqrt
from operator import attrgetter
from statistics import NormalDist

CONFIDENCE = 0.95
_MOST_DAYS = 1e9  # more was never in use, and sums of such stay numbers
_SLACK = 1e-9  # what a product of very many shares may be off by


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One piece: how many days it was in use, and whether it failed then or is cut off."""

    days: float
    failed: bool


@dataclass(frozen=True, slots=True)
class Ages:
    """Pieces of a kind by how many days they were in use: many share an age, and a count of them is soon added to another."""

    ended: Counter[float]
    """All of them, whether they failed or are cut off."""
    failed: Counter[float]

    def __add__(self, other: "Ages") -> "Ages":
        return Ages(self.ended + other.ended, self.failed + other.failed)

    def __sub__(self, other: "Ages") -> "Ages":
        """Without the other's, which are among them."""
        return Ages(self.ended - other.ended, self.failed - other.failed)


class Bounds(StrEnum):
    """How the bounds of a share are found from Greenwood's variance."""

    LOG_LOG = "log-log"
    """On log(-log S), so that they stay between nothing and all and are uneven where few are left: right more often
    than plain ones for few pieces (Borgan and Liestøl 1990, from memory)."""
    PLAIN = "plain"
    """Share and error either way, cut at nothing and all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveStep:
    """A day on which pieces failed, and what holds for it."""

    days: float
    at_risk: int
    failed: int
    share: float
    """Of all pieces, that holds longer than `days`."""
    standard_error: float
    """Greenwood's; NaN once none is left."""
    low: float | None
    high: float | None
    """The bounds of the share; None once none is left, for the variance says nothing there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """The share that still holds, as steps; before the first it is all, and without bounds, for none has failed yet."""

    steps: tuple[CurveStep, ...]
    cut_off: tuple[tuple[float, int], ...]
    """On which days pieces were cut off, and how many."""
    pieces: int
    failed: int
    days_in_use: float
    """Of all pieces together."""
    longest: float
    """Beyond it nothing is known; 0 without pieces."""
    confidence: float
    ended: tuple[float, ...] = field(repr=False)
    """All days on which a piece ended, the first first."""

    def share(self, days: float) -> float:
        """What holds longer than `days`; beyond `longest` it is the last known share, and only a guess."""
        step = self.step(days)
        return step.share if step else 1.0

    def step(self, days: float) -> CurveStep | None:
        """The last step up to `days`; None before the first."""
        at = bisect_right(self.steps, days, key=attrgetter("days"))
        return self.steps[at - 1] if at else None

    def at_risk(self, days: float) -> int:
        """How many pieces were in use just before `days`: those that end on that very day with them."""
        return self.pieces - bisect_left(self.ended, days)

    @property
    def median(self) -> float | None:
        """The first day after which half or fewer hold; None where more than half hold as far as is known."""
        return next((step.days for step in self.steps if step.share <= 0.5 + _SLACK), None)


def holding_curve(observations: Iterable[Observation], *, confidence: float = CONFIDENCE, bounds: Bounds = Bounds.LOG_LOG) -> Curve:
    """The curve of pieces in any order; with none at all it stays at all.

    Raises ValueError for days that cannot be (below nothing, not a number, more than 1e9), and for a confidence that is no share.
    """
    return curve_of(ages_of(observations), confidence=confidence, bounds=bounds)


def curve_of(ages: Ages, *, confidence: float = CONFIDENCE, bounds: Bounds = Bounds.LOG_LOG) -> Curve:
    """The same of pieces that are counted by their ages already."""
    z = NormalDist().inv_cdf((1 + checked_confidence(confidence)) / 2)
    by_age = sorted(ages.ended.items())
    ended = tuple(chain.from_iterable(repeat(days, count) for days, count in by_age))
    return Curve(
        steps=tuple(_steps(ended, ages.failed, z, bounds)),
        cut_off=tuple((days, count - ages.failed[days]) for days, count in by_age if count > ages.failed[days]),
        pieces=len(ended),
        failed=ages.failed.total(),
        days_in_use=fsum(ended),
        longest=ended[-1] if ended else 0.0,
        confidence=confidence,
        ended=ended,
    )


def ages_of(observations: Iterable[Observation]) -> Ages:
    """The pieces counted by their ages. Raises ValueError as `holding_curve`."""
    every = checked(observations)
    return Ages(Counter(each.days for each in every), Counter(each.days for each in every if each.failed))


def checked(observations: Iterable[Observation]) -> list[Observation]:
    """All of them; ValueError where one lasted so many days as none can."""
    every = list(observations)
    for each in every:
        if not 0 <= each.days <= _MOST_DAYS:  # nor is NaN
            raise ValueError(f"{each.days} is no number of days that a piece was in use")
    return every


def checked_confidence(confidence: float) -> float:
    if not 0 < confidence < 1:
        raise ValueError(f"{confidence} is no confidence between 0 and 1")
    return confidence


def _steps(ended: tuple[float, ...], failed: Counter[float], z: float, bounds: Bounds) -> Iterable[CurveStep]:
    share, greenwood = 1.0, 0.0
    for days in sorted(failed):
        at_risk, count = len(ended) - bisect_left(ended, days), failed[days]
        left = at_risk - count
        share *= left / at_risk
        greenwood = greenwood + count / (at_risk * left) if left else nan
        low, high = _between(share, greenwood, z, bounds) if left else (None, None)
        yield CurveStep(
            days=days, at_risk=at_risk, failed=count, share=share, standard_error=share * sqrt(greenwood), low=low, high=high
        )  # fmt: skip


def _between(share: float, greenwood: float, z: float, bounds: Bounds) -> tuple[float, float]:
    """The bounds of a share between nothing and all."""
    if bounds is Bounds.PLAIN:
        off = z * share * sqrt(greenwood)
        return max(0.0, share - off), min(1.0, share + off)
    # log S of a share just below all is small and never nothing: a failure among n leaves 1 - 1/n.
    off = z * sqrt(greenwood) / log(share)
    return share ** exp(-off), share ** exp(off)
