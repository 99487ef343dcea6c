"""What is ordered together at each maker outside, and what that costs: every amount in whole cents, the total their sum.

What an order costs however many pieces it is of counts once for all parts that are ordered at one maker on one day, and once for each
part that were ordered by itself: the shared set-up of joint replenishment (E. A. Silver, D. F. Pyke, R. Peterson, Inventory Management and
Production Planning and Scheduling; from memory). So one order is never dearer than several, and joining n parts saves n - 1 times that.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from generator.planning.money import cents, exact
from generator.planning.stock.need import PartNeed, StockState
from generator.records.makers import Maker, MakerKind
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    sheet: Sheet
    count: int
    amount: Decimal | None
    """Of all of them; None while the mesh does not tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PurchaseOrder:
    """One order at one maker; what he asks per order is asked once."""

    maker: Maker
    lines: tuple[OrderLine, ...]

    @property
    def per_order(self) -> Decimal:
        return cents(exact(self.maker.price.per_order))

    @property
    def fixed(self) -> Decimal:
        """What it costs however many pieces and parts it is of: what the maker asks, and the depot's own set-up where it says it."""
        return self.per_order + cents(exact(self.maker.set_up or 0.0))

    @property
    def saved_by_joining(self) -> Decimal:
        """Against an order for each part."""
        return (len(self.lines) - 1) * self.fixed

    @property
    def total(self) -> Decimal | None:
        """The sum of the lines and of what is asked per order; None while a line has no amount."""
        amounts = [line.amount for line in self.lines if line.amount is not None]
        return self.per_order + sum(amounts, Decimal(0)) if len(amounts) == len(self.lines) else None


def orders(listed: Iterable[PartNeed]) -> tuple[PurchaseOrder, ...]:
    """Of all parts that are to be ordered now, by the maker's id; parts by number."""
    found: defaultdict[str, list[OrderLine]] = defaultdict(list)
    makers: dict[str, Maker] = {}
    for each in sorted(listed, key=lambda part: part.number):
        reorder = each.reorder
        if each.state is StockState.ORDER and reorder and reorder.offer.maker.kind is MakerKind.BUREAU:
            maker, piece = reorder.offer.maker, reorder.offer.piece(reorder.count)
            makers[maker.id] = maker
            found[maker.id].append(OrderLine(sheet=each.sheet, count=reorder.count, amount=None if piece is None else cents(reorder.count * piece)))
    return tuple(PurchaseOrder(maker=makers[name], lines=tuple(lines)) for name, lines in sorted(found.items()))
