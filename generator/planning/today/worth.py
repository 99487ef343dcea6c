"""What does it cost if a part comes a week later? Its yearly saving ÷ 52, and what stops without it.

All money is Decimal, in the depot's currency, and by the prices of now.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from generator.planning.money import cents, exact
from generator.planning.saving.ahead import Ahead, ahead
from generator.planning.saving.rows import Saved
from generator.planning.stock.demand import Demand
from generator.planning.stock.demand import demand_of as demand_of_part
from generator.planning.today.stops import says_nothing_stops
from generator.records.catalogue import Catalogue
from generator.records.placeholders import names_nothing
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
    """Pieces a year, as the stock reckons them of a part (stock/demand.py)."""
    saving: Decimal | None
    """Of the next piece: what is bought without it, less its own price; below nothing where it costs more."""
    stops: tuple[str, ...]
    """What stops without it, as requests say."""
    stop_worth: Decimal
    nothing_stops: tuple[str, ...] = ()
    """The words of requests that say that nothing does, where they say more than that."""
    prices: Ahead | None = None
    """Of what `saving` is the difference."""
    by: Demand | None = None
    """From where the demand is known; None of what requests alone ask for."""
    fitted: Decimal | None = None
    """What each piece that was fitted saved on average, as the page of the savings tells it; None of nothing."""

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


def worth_of(sheet: Sheet, catalogue: Catalogue, day: date, fitted: Saved | None = None) -> Worth:
    """Of a part: its own demand on that day, else that of the requests that it answers. fitted: what its pieces have saved."""
    answered = [each for each in catalogue.requests.values() if each.answered_by == sheet.number]
    own = demand_of_part(sheet.part, catalogue.production, day) if sheet.part else None
    asked = sum((demand_of(each) for each in answered), Decimal(0)) if answered else None
    prices = ahead(sheet, catalogue, own, fitted)
    return Worth(
        demand=own.told if own else asked,
        by=own,
        saving=prices.saved if prices else None,
        stops=stops_in(answered),
        nothing_stops=denied_in(answered),
        stop_worth=stop_worth(catalogue),
        prices=prices,
        fitted=fitted.saved_each if fitted else None,
    )


def worth_of_request(request: Request, catalogue: Catalogue) -> Worth:
    """Of what is only asked for: its price is in nobody's records."""
    return Worth(demand=demand_of(request), saving=None, stops=stops_in([request]), nothing_stops=denied_in([request]), stop_worth=stop_worth(catalogue))


def demand_of(request: Request) -> Decimal:
    """What everybody together asks for in a year, by which open requests are listed."""
    return sum((exact(each.yearly_demand) for each in request.also_wanted), exact(request.yearly_demand))


def stops_in(requests: Iterable[Request]) -> tuple[str, ...]:
    return tuple(each.stops_without for each in requests if not says_nothing_stops(each.stops_without))


def denied_in(requests: Iterable[Request]) -> tuple[str, ...]:
    every = (each.stops_without for each in requests)
    return tuple(text for text in every if says_nothing_stops(text) and not names_nothing(text))


def stop_worth(catalogue: Catalogue) -> Decimal:
    said = catalogue.depot.stop_worth if catalogue.depot else None
    return STOP_WORTH if said is None else exact(said)
