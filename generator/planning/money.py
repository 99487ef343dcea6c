"""Money is decimal: a price is taken as it was written, and a sum is that of amounts in whole cents.

Half a cent goes up, as on invoices (common practice, no source).
"""

from decimal import ROUND_HALF_UP, Context, Decimal
from typing import Final

CENT: Final = Decimal("0.01")
_ROOM: Final = Context(prec=700, rounding=ROUND_HALF_UP)  # a price that a record holds has at most some 310 digits


def exact(value: float) -> Decimal:
    """The decimal that was written: that of 0.1 is 0.1, not what the processor makes of it."""
    return Decimal(repr(value))


def cents(amount: Decimal) -> Decimal:
    """To whole cents, half a cent upwards (away from nothing)."""
    return amount.quantize(CENT, context=_ROOM)
