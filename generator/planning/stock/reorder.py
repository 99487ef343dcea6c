"""At which stock does one order anew, so that there is enough until the order arrives?

Convention: the smallest r with P(X ≤ r) ≥ service, X the pieces that are asked for while an order is on its way. With r pieces there
or on their way as it is placed, that share of orders arrives before somebody stands before an empty shelf. (P(X < r) would keep
one more piece.) X is a Poisson count: pieces are asked for one at a time and independently of each other. Where a vehicle takes
several at once that is not so, and r is too low.
"""

from math import ceil, isfinite, sqrt
from statistics import NormalDist
from typing import Final

from generator.planning.holding.gamma import gamma_above

_MANY: Final = 100_000.0
"""Above this mean a Poisson count is a normal one, to a piece or two (the skewness is 1/√mean)."""


def chance_up_to(count: int, mean: float) -> float:
    """P(X ≤ count) of a Poisson count: Q(count + 1, mean), the incomplete gamma function (Abramowitz and Stegun 26.4.21)."""
    return 1.0 if mean == 0 else gamma_above(count + 1, mean)


def reorder_point(mean: float, service: float) -> int:
    """The smallest count whose chance is `service` at least; 0 where nothing is asked for meanwhile.

    mean: pieces asked for during the lead time. service: a share above 0 and below 1. Raises ValueError for others.
    """
    if not 0 < service < 1:
        raise ValueError(f"a service level of {service} is none: it lies between nothing and all")
    if not isfinite(mean) or mean < 0:
        raise ValueError(f"a mean of {mean} pieces is none")
    if mean > _MANY:
        return ceil(mean + NormalDist().inv_cdf(service) * sqrt(mean))
    low, high = -1, max(1, ceil(mean))
    while chance_up_to(high, mean) < service:
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if chance_up_to(middle, mean) >= service else (middle, high)
    return high
