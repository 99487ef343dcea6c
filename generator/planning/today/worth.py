"""What does it cost if a part comes a week later? Its yearly saving ÷ 52, and what stops without it.

All money is Decimal, in the depot's currency, and by the prices of now.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from generator.planning.money import cents, exact
from generator.planning.offers import offers_for, typical_count
from generator.records.catalogue import Catalogue
from generator.records.parts import Part
from generator.records.placeholders import says_nothing
from generator.records.requests import Request
from generator.rules.sheet import Sheet

WEEKS_A_YEAR: Final = 52
# Common practice, no source, all three: what counts where nobody knows better. Whoever does writes a price, a demand or stop_worth.
UNPRICED_PIECE: Final = Decimal(10)
"""What a piece without a price to compare counts as, in the currency."""
UNSAID_DEMAND: Final = Decimal(1)
"""Pieces a year of a part of which nobody has said how many."""
STOP_WORTH: Final = Decimal(100)
"""What a piece that lacks costs beside its saving, where something stops without it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """Of one part or request; None where nobody has said it."""

    demand: Decimal | None
    """Pieces a year."""
    saving: Decimal | None
    """Of one piece: what had to be bought before, less its own price; below nothing where it costs more."""
    stops: tuple[str, ...]
    """What stops without it, as requests say."""
    stop_worth: Decimal

    @property
    def is_priced(self) -> bool:
        return self.saving is not None

    @property
    def is_demand_known(self) -> bool:
        return self.demand is not None

    @property
    def a_piece(self) -> Decimal:
        """What one piece that lacks costs; a piece that saves nothing costs nothing by lacking."""
        saving = UNPRICED_PIECE if self.saving is None else max(self.saving, Decimal(0))
        return saving + (self.stop_worth if self.stops else 0)

    @property
    def a_week(self) -> Decimal:
        """To a cent."""
        demand = UNSAID_DEMAND if self.demand is None else self.demand
        return cents(demand * self.a_piece / WEEKS_A_YEAR)


def worth_of(sheet: Sheet, catalogue: Catalogue) -> Worth:
    """Of a part: its own demand, else that of the requests that it answers."""
    answered = [each for each in catalogue.requests.values() if each.answered_by == sheet.number]
    own = sheet.part.yearly_demand if sheet.part else None
    asked = sum((demand_of(each) for each in answered), Decimal(0)) if answered else None
    return Worth(
        demand=exact(own) if own is not None else asked,
        saving=_saving(sheet.part, sheet, catalogue) if sheet.part else None,
        stops=stops_in(answered),
        stop_worth=stop_worth(catalogue),
    )


def worth_of_request(request: Request, catalogue: Catalogue) -> Worth:
    """Of what is only asked for: its price is in nobody's records."""
    return Worth(demand=demand_of(request), saving=None, stops=stops_in([request]), stop_worth=stop_worth(catalogue))


def demand_of(request: Request) -> Decimal:
    """What everybody together asks for in a year, by which open requests are listed."""
    return sum((exact(each.yearly_demand) for each in request.also_wanted), exact(request.yearly_demand))


def stops_in(requests: Iterable[Request]) -> tuple[str, ...]:
    return tuple(each.stops_without for each in requests if not says_nothing(each.stops_without))


def stop_worth(catalogue: Catalogue) -> Decimal:
    said = catalogue.depot.stop_worth if catalogue.depot else None
    return STOP_WORTH if said is None else exact(said)


def _saving(part: Part, sheet: Sheet, catalogue: Catalogue) -> Decimal | None:
    """As a piece of an order of the usual count, at the cheapest of its makers."""
    count = typical_count(part)
    prices = [price / count for offer in offers_for(sheet, catalogue) if (price := offer.price(count)) is not None]
    if part.assembly is None or part.assembly.price is None or not prices:
        return None
    return exact(part.assembly.price) - cents(min(prices))
