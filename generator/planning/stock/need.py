"""Is it time to order or print a part, how many, and why?

By the maker that its page names first of those with room for it. One orders when what was counted there or is on its way is no more than the reorder
point (reorder.py), unless pieces that nobody has counted could be enough: these are counted first; and then the cheapest quantity (order_quantity.py), no more than a year's need, for parts change; and always
so many that the reorder point is passed. Where nobody has said what a run or order costs besides its pieces, it is a
quarter's need. None is ordered of what may be fitted nowhere, nor of what may be no more when it arrives; of what may be fitted until a day no more
than is asked for until then, by the same service, as of a last buy; and under a trial alone no more than it has room for (permitted.py).
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum
from typing import Final

from generator.planning.holding.rate import DAYS_A_YEAR
from generator.planning.offers import Offer, offers_for
from generator.planning.stock.demand import Demand, demand_of
from generator.planning.stock.known import StockKnown, known, usable_labels
from generator.planning.stock.order_quantity import Terms, best_quantity
from generator.planning.stock.permitted import Permitted, permitted
from generator.planning.stock.reorder import reorder_point
from generator.records.catalogue import Catalogue
from generator.records.stocking import Stocking
from generator.rules.production.incomplete import gaps_of
from generator.rules.sheet import Sheet

MOST_PIECES: Final = 10_000
"""No order of ours is larger: common practice, no source."""
MOST_DAYS: Final = 36_525
"""What lasts longer lasts a hundred years."""


class StockState(StrEnum):
    ORDER = "order"
    COUNT = "count"
    """Nobody has counted it or what could be enough, more went than was counted, or two counts contradict: first somebody counts."""
    UNREAD = "unread"
    """A record that may speak of it cannot be read: nobody knows what is there, or what it costs."""
    ENOUGH = "enough"
    UNSAID = "unsaid"
    """Nobody says how many are needed."""
    NONE_NEEDED = "none needed"
    NO_MAKER = "no maker"
    """Nobody with room for it makes it."""
    HELD = "held"
    """Its revision may be fitted nowhere today."""
    ENDS = "ends"
    """What is ordered today arrives after the last day on which it may be fitted."""
    TRIAL = "trial"
    """A trial alone permits it, and what may still be fitted under it is there."""


class QuantityReason(StrEnum):
    """What makes the quantity."""

    EVEN = "even"
    BREAK = "break"
    MOST = "most"
    QUARTER = "quarter"
    """Nobody has said what an order costs besides its pieces, or what a piece costs."""
    POINT = "point"
    """So many are missing up to the reorder point."""
    CAP = "cap"
    """More are asked for than any order of ours holds."""
    LAST_DAY = "last day"
    """No more are asked for until the last day on which it may be fitted."""
    TRIAL = "trial"
    """So many may still be fitted under its trial."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reorder:
    """The figures of one part by one maker."""

    offer: Offer
    mean: float
    """Pieces asked for during the lead time."""
    point: int
    quantity: int
    """How many at a time."""
    because: QuantityReason
    count: int
    """How many now; 0 where there is enough, or where nobody knows."""
    price: Decimal | None
    """Of so many, in one order by themselves; None where the mesh does not tell, or none is ordered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartNeed:
    sheet: Sheet
    state: StockState
    known: StockKnown
    demand: Demand | None
    reorder: Reorder | None
    """None where there is no need, no maker or no permission."""
    permitted: Permitted | None = None
    """None while nobody has asked."""
    point_again: int | None = None
    """The reorder point once a renewal has brought back what may not be fitted today; None of all others."""

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
    def outlasts(self) -> bool:
        """Whether there is more, or is ordered more, than is asked for on average until the last day on which it may be fitted."""
        days, position = self.permitted.days_left if self.permitted else None, self.known.position
        if days is None or position is None or self.demand is None:
            return False
        return position + (self.reorder.count if self.reorder else 0) > self.demand.over(days)

    @property
    def due_days(self) -> int | None:
        """In how many days it reaches its reorder point, on average; None where it is not known or has reached it."""
        position = self.known.position
        if position is None or self.reorder is None or self.demand is None or position <= self.reorder.point:
            return None
        return int(min((position - self.reorder.point) * DAYS_A_YEAR / self.demand.a_year, MOST_DAYS))


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderingRule:
    """By what one reckons, and which of it is only usual."""

    service_percent: float
    holding_percent: float
    service_is_usual: bool
    holding_is_usual: bool
    ahead_days: int = 0
    """Parts that reach their reorder point within so many days, on average, are ordered along."""


def rule_of(catalogue: Catalogue, service_percent: float | None = None, ahead_days: int = 0) -> OrderingRule:
    """The depot's; service_percent: what is asked for in its place, above 0 and below 100."""
    said = catalogue.depot.stocking if catalogue.depot else Stocking()
    return OrderingRule(
        service_percent=said.service_percent if service_percent is None else service_percent,
        holding_percent=said.holding_percent,
        service_is_usual=service_percent is None and "service_percent" not in said.model_fields_set,
        holding_is_usual="holding_percent" not in said.model_fields_set,
        ahead_days=ahead_days,
    )


def needs(sheets: Iterable[Sheet], catalogue: Catalogue, day: date, rule: OrderingRule) -> tuple[PartNeed, ...]:
    """Of every part whose record can be read: those to order first, the shortest stock foremost."""
    found = [need_of(sheet, catalogue, day, rule) for sheet in sheets if sheet.part]
    order = list(StockState)
    return tuple(sorted(found, key=lambda each: (order.index(each.state), math.inf if each.lasts_days is None else each.lasts_days, each.number)))


def need_of(sheet: Sheet, catalogue: Catalogue, day: date, rule: OrderingRule) -> PartNeed:
    """Raises ValueError for a part whose record cannot be read."""
    if sheet.part is None:
        raise ValueError(f"the record of {sheet.number} cannot be read")
    there, demand = known(sheet, catalogue, day), demand_of(sheet.part, catalogue.production, day)
    offer = next((each for each in offers_for(sheet, catalogue) if each.fits_plate is not False), None)
    state = StockState.UNREAD if _is_unread(sheet, catalogue) else _without_order(sheet, offer, demand)
    may = permitted(sheet, catalogue, day)
    reorder = again = None
    if offer and demand and state is None:
        reorder = _reorder(offer, demand, there, rule)
        state = _by_stock(there, reorder)
        state = _by_permit(state, reorder, there, may)
        reorder = _limited(reorder, demand, there, may, rule) if state is StockState.ORDER else reorder
        state = StockState.ENOUGH if state is StockState.ORDER and not reorder.count else state
    elif offer and demand and demand.a_year and state is StockState.HELD and there.returning:
        again = _point(offer, demand, rule)
    return PartNeed(sheet=sheet, state=state or _by_stock(there, None), known=there, demand=demand, reorder=reorder, permitted=may, point_again=again)


def _by_permit(state: StockState, reorder: Reorder, there: StockKnown, may: Permitted) -> StockState:
    """What is to be ordered, as far as it may be fitted by the time that it is there."""
    trial, days = may.trial, may.days_left
    if trial and (not trial.left or (state is StockState.ORDER and (there.possible or 0) >= trial.left)):
        return StockState.TRIAL
    arrives_late = days is not None and days < reorder.offer.maker.lead_time_days
    return StockState.ENDS if arrives_late and state is StockState.ORDER else state


def _limited(reorder: Reorder, demand: Demand, there: StockKnown, may: Permitted, rule: OrderingRule) -> Reorder:
    """No more than a trial leaves room for, and than is asked for until the last day."""
    limits = [(reorder.count, reorder.because)]
    if may.trial:
        limits.append((may.trial.left - (there.possible or 0), QuantityReason.TRIAL))
    if may.days_left is not None:
        wanted = reorder_point(demand.over(may.days_left), rule.service_percent / 100)
        limits.append((max(wanted - (there.position or 0), 0), QuantityReason.LAST_DAY))
    count, because = min(limits, key=lambda each: each[0])
    return replace(reorder, count=count, because=because, price=reorder.offer.price(count) if count else None)


def _point(offer: Offer, demand: Demand, rule: OrderingRule) -> int:
    return reorder_point(demand.over(offer.maker.lead_time_days), rule.service_percent / 100)


def _is_unread(sheet: Sheet, catalogue: Catalogue) -> bool:
    """Whether something that may speak of its pieces, its makers or its material cannot be read.

    A year of which there is no file, and lines of days to come, take nothing from what was counted.
    """
    files = ("makers.yml", *(f"materials/{each}.yml" for each in (sheet.part.materials if sheet.part else ())))
    gaps = gaps_of(catalogue.production, parts={sheet.number}, recalls=False)
    return any(map(catalogue.is_mistaken, files)) or any(gap.why not in {"missing", "to come"} for gap in gaps)


def _without_order(sheet: Sheet, offer: Offer | None, demand: Demand | None) -> StockState | None:
    """Why nothing of it is ordered, however much lies there."""
    if sheet.part is None or sheet.part.revision not in usable_labels(sheet):
        return StockState.HELD
    if demand is None:
        return StockState.UNSAID
    if not demand.a_year:
        return StockState.NONE_NEEDED
    return StockState.NO_MAKER if offer is None else None


def _by_stock(there: StockKnown, reorder: Reorder | None) -> StockState:
    if there.counted is None or there.is_less_than_nothing or there.contradicts:
        return StockState.COUNT
    if reorder and there.position is not None and there.position <= reorder.point and not reorder.count:
        return StockState.COUNT
    return StockState.ORDER if reorder and reorder.count else StockState.ENOUGH


def _reorder(offer: Offer, demand: Demand, there: StockKnown, rule: OrderingRule) -> Reorder:
    mean = demand.over(offer.maker.lead_time_days)
    point = _point(offer, demand, rule)
    quantity, because = _quantity(offer, demand, rule)
    position = there.position
    possible = None if there.is_less_than_nothing or there.contradicts else there.possible
    is_short = possible is not None and possible - demand.over(rule.ahead_days) <= point
    missing = max(point + 1 - position, 0) if is_short and position is not None else 0
    count = min(max(quantity, missing), MOST_PIECES) if is_short else 0
    if missing > quantity:
        because = QuantityReason.POINT
    if max(quantity, missing) > MOST_PIECES or (quantity == MOST_PIECES and demand.a_year > MOST_PIECES):
        because = QuantityReason.CAP
    return Reorder(
        offer=offer,
        mean=mean,
        point=point,
        quantity=quantity,
        because=because,
        count=count,
        price=offer.price(count) if count else None,
    )


def _quantity(offer: Offer, demand: Demand, rule: OrderingRule) -> tuple[int, QuantityReason]:
    terms = terms_of(offer)
    if terms is None or (offer.maker.set_up is None and not terms.fixed):
        return min(demand.a_quarter, MOST_PIECES), QuantityReason.QUARTER
    most = min(max(1, math.ceil(demand.a_year)), MOST_PIECES)
    found = best_quantity(demand.a_year, terms, rule.holding_percent, most=most)
    return found.count, QuantityReason(found.why.value)


def terms_of(offer: Offer) -> Terms | None:
    """What an order at this maker costs; None where the mesh does not tell what a piece weighs."""
    piece = offer.piece(1)
    if piece is None:
        return None
    breaks = ((each.from_count, offer.piece(each.from_count)) for each in offer.maker.price.price_breaks)
    return Terms(fixed=offer.fixed, piece=piece, breaks=tuple((start, price) for start, price in breaks if price is not None))
