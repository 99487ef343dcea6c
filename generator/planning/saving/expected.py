"""What would a year save of parts of which no piece was fitted yet? By what their record says is needed, at today's prices.

Price of a piece: its share of an order of a quarter's need at the cheapest maker. Told apart from what was saved, never added to it.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal

from generator.planning.money import cents, exact
from generator.planning.offers import offers_for, typical_count
from generator.planning.saving.rows import Instead, bought_before, share_of_order
from generator.records.catalogue import Catalogue
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    sheet: Sheet
    a_year: Decimal
    before: Decimal
    instead: Instead
    own: Decimal

    @property
    def saved(self) -> Decimal:
        """In a year, in whole cents."""
        return cents(self.a_year * (self.before - self.own))


def expected(sheets: Iterable[Sheet], catalogue: Catalogue, fitted: Collection[str]) -> tuple[Expected, ...]:
    """Of parts that replace something with a price and are not among those of which a piece was fitted, by number."""
    found = []
    for sheet in sorted(sheets, key=lambda each: each.number):
        before, part = bought_before(sheet), sheet.part
        if part is None or before is None or sheet.number in fitted or not part.yearly_demand:
            continue
        prices = [share_of_order(offer, typical_count(part)) for offer in offers_for(sheet, catalogue)]
        own = min((each for each in prices if each is not None), default=None)
        if own is not None:
            found.append(Expected(sheet=sheet, a_year=exact(part.yearly_demand), before=before.price, instead=before.instead, own=own))
    return tuple(found)


def together(listed: Iterable[Expected]) -> Decimal:
    """The sum of the rows as they are shown."""
    return sum((each.saved for each in listed), Decimal(0))
