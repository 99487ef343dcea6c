"""What will the next piece of a part save? What is bought without it, less its share of an order of a quarter's need at the cheapest maker.

The need is the one that the stock reckons with (stock/demand.py): what was fitted where enough was, else the record's own.
Where an assembly is bought, the next piece stands for as much of one as those that were fitted (visits.py); of none fitted for a whole one.

Every page and paper reckons ahead by this alone, so that a figure of the one is found on the other.
"""

from dataclasses import dataclass, replace
from decimal import Decimal

from generator.planning.money import cents
from generator.planning.offers import offers_for
from generator.planning.saving.rows import Before, Instead, Saved, bought_before, share_of_order
from generator.planning.stock.demand import Demand, typical_count
from generator.records.catalogue import Catalogue
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True)
class Ahead:
    """Of one piece, in whole cents."""

    before: Before
    """Of one piece: its price alone, or its share of an assembly's."""
    own: Decimal
    whole: Decimal | None = None
    """The price of the assembly, where a piece stands for less than one."""
    demand: Demand | None = None
    """A quarter of which is ordered at a time; None where nobody knows it, and one is."""

    @property
    def saved(self) -> Decimal:
        """Below nothing where it costs more."""
        return self.before.price - self.own


def ahead(sheet: Sheet, catalogue: Catalogue, demand: Demand | None, fitted: Saved | None = None) -> Ahead | None:
    """demand: of the part, on the day that is asked of. fitted: what its pieces have saved. None where nobody knows the price of what it replaces, or its own."""
    before, part = bought_before(sheet), sheet.part
    if part is None or before is None:
        return None
    shares = [share_of_order(offer, typical_count(demand)) for offer in offers_for(sheet, catalogue)]
    own = min((each for each in shares if each is not None), default=None)
    if own is None:
        return None
    if before.instead is Instead.PART or fitted is None or not 0 < fitted.bought < fitted.pieces:
        return Ahead(before, own, demand=demand)
    return Ahead(replace(before, price=cents(before.price * fitted.bought / fitted.pieces)), own, before.price, demand)
