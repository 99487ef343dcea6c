"""How many pieces fail in a year of use, at least and at most?

Exact limits of a Poisson count: Garwood (1936), Fiducial limits for the Poisson distribution, Biometrika 28, 437-442 (from memory).
They take failures for as likely at any age, which wear is not: beside them stands the curve.
"""

from dataclasses import dataclass
from math import isfinite

from generator.planning.holding.curve import CONFIDENCE, checked_confidence
from generator.planning.holding.gamma import gamma_point

DAYS_A_YEAR = 365.25


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """Failures in a year that one piece is in use."""

    failures: int
    years: float
    """Of all pieces together."""
    a_year: float
    low: float
    high: float
    one_sided: bool
    """Nothing failed: `low` is nothing and `high` an upper limit alone, at the whole confidence (-ln 0.05 / years at 95 %)."""
    confidence: float


def failures_a_year(failures: int, days: float, *, confidence: float = CONFIDENCE) -> Rate | None:
    """The rate of so many failures in so many days of all pieces together; None where no time in use is recorded.

    Raises ValueError for what cannot be: failures or days below nothing, or a number of days that is none.
    """
    checked_confidence(confidence)
    if failures < 0 or not (isfinite(days) and days >= 0):
        raise ValueError(f"{failures} failures in {days} days are no history")
    years = days / DAYS_A_YEAR
    tail = 1 - confidence if failures == 0 else (1 - confidence) / 2
    high = gamma_point(failures + 1, 1 - tail)
    if not years or not isfinite(high / years):
        return None
    return Rate(
        failures=failures,
        years=years,
        a_year=failures / years,
        low=gamma_point(failures, tail) / years if failures else 0.0,
        high=high / years,
        one_sided=failures == 0,
        confidence=confidence,
    )
