"""The whole plan of the stock on one day: parts, orders, prints, last buys."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from generator.planning.print_time import ProcessModel
from generator.planning.stock.last_buy import LastBuy, last_buys
from generator.planning.stock.need import OrderingRule, PartNeed, needs
from generator.planning.stock.orders import PurchaseOrder, orders
from generator.planning.stock.print_list import PrintList, print_lists
from generator.records.catalogue import Catalogue
from generator.records.makers import Process
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPlan:
    day: date
    rule: OrderingRule
    parts: tuple[PartNeed, ...]
    """Those to order first."""
    orders: tuple[PurchaseOrder, ...]
    prints: tuple[PrintList, ...]
    last_buys: tuple[LastBuy, ...]


def stock_plan(  # noqa: PLR0917  what narrows it comes last
    sheets: Iterable[Sheet], catalogue: Catalogue, models: Mapping[Process, ProcessModel], day: date, rule: OrderingRule, only: Collection[str] = ()
) -> StockPlan:
    """Of all parts, of two that share a number the first.

    only: of these numbers alone; a last buy that one of them is part of is whole all the same.
    """
    once = {sheet.number: sheet for sheet in reversed(tuple(sheets))}
    every = needs(once.values(), catalogue, day, rule)
    listed = tuple(each for each in every if not only or each.number in only)
    buys = last_buys(every, catalogue, models, day, rule)
    return StockPlan(
        day=day,
        rule=rule,
        parts=listed,
        orders=orders(listed),
        prints=print_lists(listed, catalogue, models, day),
        last_buys=tuple(buy for buy in buys if not only or any(each.sheet.number in only for each in buy.parts)),
    )
