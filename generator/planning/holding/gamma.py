"""Which share of a gamma distribution lies below a point, and below which point does a share lie?

The regularised incomplete gamma functions P and Q by their series and continued fraction (Abramowitz and Stegun 6.5.29 and
6.5.31, as any textbook gives them); P(n, x) is the chance that a Poisson count of mean x is n or more, Q(d/2, x/2) that a
chi-square of d degrees is more than x. Ours, since the commands load neither numpy nor scipy.
"""

from math import exp, isfinite, lgamma, log

_SMALL = 1e-16
_TINY = 1e-300
_STEPS = 200


def gamma_below(a: float, x: float) -> float:
    """P(a, x), 0 to 1. Raises ValueError unless a > 0 and x >= 0 are finite."""
    return _below(a, x) if x < a + 1 else 1.0 - _above(a, x)


def gamma_above(a: float, x: float) -> float:
    """Q(a, x) = 1 - P(a, x), right in its small values too. Raises ValueError as `gamma_below`."""
    return 1.0 - _below(a, x) if x < a + 1 else _above(a, x)


def gamma_point(a: float, share: float) -> float:
    """The x at which P(a, x) is `share`: Newton's way, halved where it leaves what is known to hold it.

    Raises ValueError unless a > 0 and 0 < share < 1.
    """
    if not 0 < share < 1:
        raise ValueError(f"{share} is no share between nothing and all")
    low, high = 0.0, max(1.0, 2 * a)
    while gamma_below(a, high) < share:
        low, high = high, 2 * high
    x = min(max(a, low), high)
    for _ in range(_STEPS):
        below = gamma_below(a, x)
        low, high = (x, high) if below < share else (low, x)
        slope = _density(a, x) / x if x else 0.0
        step = (below - share) / slope if slope else 0.0
        following = x - step if slope and low < x - step < high else (low + high) / 2
        if abs(following - x) <= 1e-15 * following:
            return following
        x = following
    return x


def chi2_beyond(chi2: float, degrees: int) -> float:
    """The chance of a chi-square of so many degrees that is more than `chi2`. Raises ValueError for no degrees."""
    if degrees < 1:
        raise ValueError(f"{degrees} degrees of freedom are none")
    return gamma_above(degrees / 2, chi2 / 2)


def _density(a: float, x: float) -> float:
    """x^a e^-x / Γ(a)."""
    return exp(a * log(x) - x - lgamma(a))


def _checked(a: float, x: float) -> None:
    if not (isfinite(a) and isfinite(x) and a > 0 and x >= 0):
        raise ValueError(f"gamma has no value at {a}, {x}")


def _below(a: float, x: float) -> float:
    _checked(a, x)
    if x == 0:
        return 0.0
    term = total = 1 / a
    divisor = a
    while term > _SMALL * total:
        divisor += 1
        term *= x / divisor
        total += term
    return total * _density(a, x)


def _above(a: float, x: float) -> float:
    """Lentz's way through the continued fraction."""
    _checked(a, x)
    b = x + 1 - a
    c, d = 1 / _TINY, 1 / b
    found, at, by = d, 0, 0.0
    while abs(by - 1) > _SMALL * 10:
        at += 1
        step = at * (a - at)
        b += 2
        d = 1 / (step * d + b or _TINY)
        c = b + step / c or _TINY
        by = c * d
        found *= by
    return _density(a, x) * found
