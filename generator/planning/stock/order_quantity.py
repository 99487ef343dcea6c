"""How many does one order or print at a time? What ordering costs against what holding costs, with price breaks.

Cost of a year with orders of q: D/q · K + D · c(q) + q/2 · i · c(q). D pieces a year; K what an order or a run costs however many it is
of; c(q) the price of a piece, of all pieces of the order, from a break on the lower one; i the share of its price that a piece costs that
lies for a year. Without breaks its least is at q = √(2DK/ic), the economic order quantity (F. W. Harris, 1913; from memory). Pieces are
whole and none is ordered for longer than a bound, so the least is looked for within each price: there the cost falls, then rises.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import inf, isqrt


class CheapestBy(StrEnum):
    """What makes a quantity the cheapest."""

    EVEN = "even"
    """Ordering more seldom would cost in holding what it saves."""
    BREAK = "break"
    """It is the first quantity of a lower price."""
    MOST = "most"
    """More would be cheaper still: it is the bound."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What an order costs."""

    fixed: Decimal
    """However many pieces."""
    piece: Decimal
    breaks: tuple[tuple[int, Decimal], ...] = ()
    """From which count on each piece costs how much; counts rise."""

    def piece_at(self, count: int) -> Decimal:
        """The price of each piece of an order of so many."""
        return next((price for start, price in reversed(self.breaks) if count >= start), self.piece)


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    count: int
    why: CheapestBy


def cost_a_year(count: int, demand: float, terms: Terms, holding_percent: float) -> Fraction:
    """What a year costs with orders of so many, exactly, in the currency of the terms."""
    price, yearly = Fraction(terms.piece_at(count)), Fraction(demand)
    return yearly / count * Fraction(terms.fixed) + yearly * price + Fraction(count, 2) * Fraction(holding_percent) / 100 * price


def best_quantity(demand: float, terms: Terms, holding_percent: float, *, most: int) -> Quantity:
    """The count from 1 to `most` by which a year costs least; of several the smallest.

    demand: pieces a year. Raises ValueError where there is none, nothing is held or nothing may be ordered.
    """
    if not (0 < demand < inf and holding_percent > 0 and most >= 1):
        raise ValueError(f"a demand of {demand}, {holding_percent} % of holding and {most} pieces at most have no best quantity")
    starts = [1, *(start for start, _ in terms.breaks if start <= most)]
    ends = [*(start - 1 for start in starts[1:]), most]
    found = min(
        (candidate for start, end in zip(starts, ends, strict=True) for candidate in _candidates(demand, terms, holding_percent, (start, end))),
        key=lambda count: (cost_a_year(count, demand, terms, holding_percent), count),
    )
    return Quantity(count=found, why=_why(found, demand, terms, holding_percent, most))


def _candidates(demand: float, terms: Terms, holding_percent: float, band: tuple[int, int]) -> set[int]:
    """Within one price the whole numbers about the quantity at which the cost turns, and both ends."""
    start, end = band
    turn = _turn(demand, terms, holding_percent, start)
    about = () if turn is None else (turn, turn + 1)
    return {start, end, *(min(max(each, start), end) for each in about)}


def _turn(demand: float, terms: Terms, holding_percent: float, count: int) -> int | None:
    """The economic quantity at the price of `count`, rounded down, exactly; None where holding costs nothing."""
    holding = Fraction(holding_percent) / 100 * Fraction(terms.piece_at(count))
    if not holding:
        return None
    square = 2 * Fraction(demand) * Fraction(terms.fixed) / holding
    return isqrt(square.numerator // square.denominator)


def _why(count: int, demand: float, terms: Terms, holding_percent: float, most: int) -> CheapestBy:
    turn = _turn(demand, terms, holding_percent, count)
    if turn is not None and turn <= count <= turn + 1:
        return CheapestBy.EVEN
    if any(start == count for start, _ in terms.breaks) and turn is not None and turn < count:
        return CheapestBy.BREAK
    return CheapestBy.MOST if count == most else CheapestBy.EVEN
