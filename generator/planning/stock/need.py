"""Is it time to order or print a part, how many, and why?

By the maker that its page names first of those with room for it. One orders when what is there or on its way is no more than the reorder
point (reorder.py), and then the cheapest quantity (order_quantity.py), no more than a year's need, for parts change; and always
so many that the reorder point is passed. Where nobody has said what a run or order costs besides its pieces, it is a
quarter's need. None is ordered of what may be fitted nowhere.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from typing import Final

from generator.planning.holding.rate import DAYS_A_YEAR
from generator.planning.offers import ORDERS_A_YEAR, Offer, offers_for
from generator.planning.stock.demand import Demand, demand_of
from generator.planning.stock.known import Known, known, usable_labels
from generator.planning.stock.order_quantity import Terms, best_quantity
from generator.planning.stock.reorder import reorder_point
from generator.records.catalogue import Catalogue
from generator.records.stocking import Stocking
from generator.rules.sheet import Sheet

MOST_PIECES: Final = 10_000
"""No order of ours is larger: common practice, no source."""
MOST_DAYS: Final = 36_525
"""What lasts longer lasts a hundred years."""


class State(StrEnum):
    ORDER = "order"
    COUNT = "count"
    """Nobody has counted, or more went than was counted: first somebody counts."""
    ENOUGH = "enough"
    UNSAID = "unsaid"
    """Nobody says how many are needed."""
    NONE_NEEDED = "none needed"
    NO_MAKER = "no maker"
    """Nobody with room for it makes it."""
    HELD = "held"
    """Its revision may be fitted nowhere today."""


class Because(StrEnum):
    """What makes the quantity."""

    EVEN = "even"
    BREAK = "break"
    MOST = "most"
    QUARTER = "quarter"
    """Nobody has said what an order costs besides its pieces, or what a piece costs."""
    POINT = "point"
    """So many are missing up to the reorder point."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reorder:
    """The figures of one part by one maker."""

    offer: Offer
    mean: float
    """Pieces asked for during the lead time."""
    point: int
    quantity: int
    """How many at a time."""
    because: Because
    count: int
    """How many now; 0 where there is enough, or where nobody knows."""
    price: Decimal | None
    """Of so many, in one order by themselves; None where the mesh does not tell, or none is ordered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OfPart:
    sheet: Sheet
    state: State
    known: Known
    demand: Demand | None
    reorder: Reorder | None
    """None where there is no need, no maker or no permission."""

    @property
    def number(self) -> str:
        return self.sheet.number

    @property
    def lasts_days(self) -> int | None:
        """How long what is there or on its way lasts on average; None where nobody knows."""
        position = self.known.position
        if position is None or self.demand is None or not self.demand.a_year:
            return None
        return int(min(position * DAYS_A_YEAR / self.demand.a_year, MOST_DAYS))

    @property
    def due_days(self) -> int | None:
        """In how many days it reaches its reorder point, on average; None where it is not known or has reached it."""
        position = self.known.position
        if position is None or self.reorder is None or self.demand is None or position <= self.reorder.point:
            return None
        return int(min((position - self.reorder.point) * DAYS_A_YEAR / self.demand.a_year, MOST_DAYS))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """By what one reckons, and which of it is only usual."""

    service_percent: float
    holding_percent: float
    service_is_usual: bool
    holding_is_usual: bool
    ahead_days: int = 0
    """Parts that reach their reorder point within so many days, on average, are ordered along."""


def rule_of(catalogue: Catalogue, service_percent: float | None = None, ahead_days: int = 0) -> Rule:
    """The depot's; service_percent: what is asked for in its place, above 0 and below 100."""
    said = catalogue.depot.stocking if catalogue.depot else Stocking()
    return Rule(
        service_percent=said.service_percent if service_percent is None else service_percent,
        holding_percent=said.holding_percent,
        service_is_usual=service_percent is None and "service_percent" not in said.model_fields_set,
        holding_is_usual="holding_percent" not in said.model_fields_set,
        ahead_days=ahead_days,
    )


def needs(sheets: Iterable[Sheet], catalogue: Catalogue, day: date, rule: Rule) -> tuple[OfPart, ...]:
    """Of every part whose record can be read: those to order first, the shortest stock foremost."""
    found = [need_of(sheet, catalogue, day, rule) for sheet in sheets if sheet.part]
    order = list(State)
    return tuple(sorted(found, key=lambda each: (order.index(each.state), math.inf if each.lasts_days is None else each.lasts_days, each.number)))


def need_of(sheet: Sheet, catalogue: Catalogue, day: date, rule: Rule) -> OfPart:
    """Raises ValueError for a part whose record cannot be read."""
    if sheet.part is None:
        raise ValueError(f"the record of {sheet.number} cannot be read")
    there, demand = known(sheet, catalogue, day), demand_of(sheet.part, catalogue.production, day)
    offer = next((each for each in offers_for(sheet, catalogue) if each.fits_plate is not False), None)
    state = _without_order(sheet, offer, demand)
    reorder = _reorder(offer, demand, there, rule) if offer and demand and state is None else None
    return OfPart(sheet=sheet, state=state or _by_stock(there, reorder), known=there, demand=demand, reorder=reorder)


def _without_order(sheet: Sheet, offer: Offer | None, demand: Demand | None) -> State | None:
    """Why nothing of it is ordered, however much lies there."""
    if sheet.part is None or sheet.part.revision not in usable_labels(sheet):
        return State.HELD
    if demand is None:
        return State.UNSAID
    if not demand.a_year:
        return State.NONE_NEEDED
    return State.NO_MAKER if offer is None else None


def _by_stock(there: Known, reorder: Reorder | None) -> State:
    if there.counted is None or there.is_less_than_nothing:
        return State.COUNT
    return State.ORDER if reorder and reorder.count else State.ENOUGH


def _reorder(offer: Offer, demand: Demand, there: Known, rule: Rule) -> Reorder:
    mean = demand.over(offer.maker.lead_time_days)
    point = reorder_point(mean, rule.service_percent / 100)
    quantity, because = _quantity(offer, demand, rule)
    position = there.position
    is_short = position is not None and not there.is_less_than_nothing and position - demand.over(rule.ahead_days) <= point
    missing = max(point + 1 - position, 0) if is_short and position is not None else 0
    count = min(max(quantity, missing), MOST_PIECES) if is_short else 0
    return Reorder(
        offer=offer,
        mean=mean,
        point=point,
        quantity=quantity,
        because=Because.POINT if missing > quantity else because,
        count=count,
        price=offer.price(count) if count else None,
    )


def _quantity(offer: Offer, demand: Demand, rule: Rule) -> tuple[int, Because]:
    terms = terms_of(offer)
    if terms is None or (offer.maker.set_up is None and not terms.fixed):
        return min(max(1, math.ceil(demand.a_year / ORDERS_A_YEAR)), MOST_PIECES), Because.QUARTER
    most = min(max(1, math.ceil(demand.a_year)), MOST_PIECES)
    found = best_quantity(demand.a_year, terms, rule.holding_percent, most=most)
    return found.count, Because(found.why.value)


def terms_of(offer: Offer) -> Terms | None:
    """What an order at this maker costs; None where the mesh does not tell what a piece weighs."""
    piece = offer.piece(1)
    if piece is None:
        return None
    breaks = ((each.from_count, offer.piece(each.from_count)) for each in offer.maker.price.price_breaks)
    return Terms(fixed=offer.fixed, piece=piece, breaks=tuple((start, price) for start, price in breaks if price is not None))
