"""What would a year save of parts of which no piece was fitted yet? By what is needed (stock/demand.py), at today's prices.

Prices of a piece are those of the next one (ahead.py). Told apart from what was saved, never added to it.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from generator.planning.money import cents
from generator.planning.saving.ahead import ahead
from generator.planning.saving.rows import Instead
from generator.planning.stock.demand import demand_of
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


def expected(sheets: Iterable[Sheet], catalogue: Catalogue, fitted: Collection[str], day: date) -> tuple[Expected, ...]:
    """Of parts that replace something with a price and are not among those of which a piece was fitted, by number."""
    found = []
    for sheet in sorted(sheets, key=lambda each: each.number):
        part = sheet.part
        demand = demand_of(part, catalogue.production, day) if part and sheet.number not in fitted else None
        if demand is None or not demand.a_year:
            continue
        if each := ahead(sheet, catalogue, demand):
            found.append(Expected(sheet=sheet, a_year=demand.told, before=each.before.price, instead=each.before.instead, own=each.own))
    return tuple(found)


def together(listed: Iterable[Expected]) -> Decimal:
    """The sum of the rows as they are shown."""
    return sum((each.saved for each in listed), Decimal(0))
