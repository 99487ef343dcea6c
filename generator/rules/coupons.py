"""Do the values of test coupons show that pieces printed alike reach what is asked?

A one-sided statistical tolerance bound, mean - k s (or + k s), has the asked share of a normal population beyond it with 95 %
confidence (ISO 16269-6, standard deviation unknown). Both sides asked are two such bounds. The values have to come from one
population, about normal: the bound cannot know that, so a value that itself misses what is asked is never outvoted, and
values that are all the same show how coarsely they were read, not how they spread (own practice, no source).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from statistics import fmean, stdev
from typing import Final

from generator.rules.tolerance_factors import Coverage, tolerance_factor

FEWEST_VALUES: Final = 3
"""Of two the bound lies more than twenty deviations off: common practice, no source."""
_LARGEST: Final = 1e150


class CouponOutcome(StrEnum):
    SHOWN = "shown"
    NOT_SHOWN = "not shown"
    """Too low, too spread or too few for what is asked."""
    UNKNOWN = "unknown"


class NotShownBecause(StrEnum):
    """What keeps it from being shown."""

    TOO_FEW_VALUES = "too few values"
    NO_NUMBER = "no number"
    """A value or a limit is none, or is too large to be reckoned with."""
    NO_SPREAD = "no spread"
    """All values are the same."""
    NOTHING_ASKED = "nothing asked"
    NOTHING_BETWEEN = "nothing between"
    """The least that is asked is above the most."""
    VALUE_BEYOND = "value beyond"
    """A coupon itself misses what is asked."""
    BOUND_BEYOND = "bound beyond"
    """Each coupon reaches it, and so few with such a spread do not show that others do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoundSide:
    """A bound against what is asked on its side, in the unit of the values."""

    asked: float
    k: float
    bound: float
    met: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedCoupons:
    """The judgement of coupons and the figures behind it; figures that there are not are None."""

    shown: CouponOutcome
    why: NotShownBecause | None
    """None of what is shown."""
    count: int
    coverage: Coverage
    mean: float | None = None
    deviation: float | None = None
    lower: BoundSide | None = None
    """Against the least; None where none is asked, or nothing is known."""
    upper: BoundSide | None = None
    beyond: int = 0
    """How many values themselves miss what is asked."""


def judged_coupons(values: Sequence[float], *, coverage: Coverage, least: float | None = None, most: float | None = None) -> JudgedCoupons:
    """Whether the values show that the share of pieces lies at `least` or above, at `most` or below, or between both."""
    why = _doubt(values, least, most)
    if why:
        return JudgedCoupons(shown=CouponOutcome.UNKNOWN, why=why, count=len(values), coverage=coverage)
    mean, deviation = fmean(values), stdev(values)
    k = tolerance_factor(len(values), coverage)
    below, above = mean - k * deviation, mean + k * deviation
    lower = None if least is None else BoundSide(asked=least, k=k, bound=below, met=below >= least)
    upper = None if most is None else BoundSide(asked=most, k=k, bound=above, met=above <= most)
    beyond = sum((least is not None and each < least) or (most is not None and each > most) for each in values)
    missed = NotShownBecause.VALUE_BEYOND if beyond else None if all(side.met for side in (lower, upper) if side) else NotShownBecause.BOUND_BEYOND
    return JudgedCoupons(
        shown=CouponOutcome.NOT_SHOWN if missed else CouponOutcome.SHOWN, why=missed, count=len(values), coverage=coverage,
        mean=mean, deviation=deviation, lower=lower, upper=upper, beyond=beyond,
    )  # fmt: skip


def _doubt(values: Sequence[float], least: float | None, most: float | None) -> NotShownBecause | None:
    if not all(is_number(each) for each in (*values, least or 0.0, most or 0.0)):
        return NotShownBecause.NO_NUMBER
    if least is None and most is None:
        return NotShownBecause.NOTHING_ASKED
    if least is not None and most is not None and least > most:
        return NotShownBecause.NOTHING_BETWEEN
    if len(values) < FEWEST_VALUES:
        return NotShownBecause.TOO_FEW_VALUES
    return NotShownBecause.NO_SPREAD if min(values) == max(values) else None


def is_number(value: float) -> bool:
    """Finite, and not so large that sums and squares of such values are beyond all numbers."""
    return abs(value) <= _LARGEST
