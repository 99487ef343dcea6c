"""Parts that share an order share what it costs: held against every way in which they could be ordered, by brute force."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import pytest

from generator.pages.reports.page import names_of
from generator.pages.stock.told import order_section
from generator.planning.stock.orders import OrderLine, PurchaseOrder
from tests.pages.test_stock import around
from tests.planning.stock.test_need import books, part


def ways(parts: list) -> Iterator[list[list]]:
    """Every way to part a list into orders."""
    if not parts:
        yield []
        return
    first, *rest = parts
    for way in ways(rest):
        yield [[first], *way]
        for at in range(len(way)):
            yield [*way[:at], [first, *way[at]], *way[at + 1 :]]


def order(amounts, per_order, set_up):
    maker = books().makers["bureau"]
    maker = maker.model_copy(update={"set_up": set_up, "price": maker.price.model_copy(update={"per_order": per_order})})
    sheet = part(shelf=0)
    lines = tuple(OrderLine(sheet=replace(sheet, folder=replace(sheet.folder, number=f"EX-{at}")), count=at, amount=amount) for at, amount in enumerate(amounts, 1))
    return PurchaseOrder(maker=maker, lines=lines)


@pytest.mark.parametrize("per_order", [0.0, 0.01, 30.0])
@pytest.mark.parametrize("set_up", [None, 0.0, 12.34])
@pytest.mark.parametrize("amounts", [["5.00"], ["5.00", "0.01"], ["1.00", "2.00", "3.00"], ["9.99"] * 4, ["1.10", "2.20", "3.30", "4.40", "5.50"]])
def test_one_order_is_the_cheapest_way_and_saves_what_it_says(amounts, per_order, set_up):
    amounts = [Decimal(each) for each in amounts]
    joined = order(amounts, per_order, set_up)
    one = Decimal(str(per_order)) + Decimal(str(set_up or 0))
    cost = {len(way): sum(one + sum(each) for each in way) for way in ways(amounts)}
    assert sum(1 for _ in ways(amounts)) == {1: 1, 2: 2, 3: 5, 4: 15, 5: 52}[len(amounts)]  # Bell numbers
    assert joined.fixed + sum(amounts) == min(cost.values())
    assert cost[len(amounts)] - min(cost.values()) == joined.saved_by_joining
    assert joined.total == joined.per_order + sum(amounts)  # the maker's own price, as it always was


def test_it_is_told_where_parts_share_an_order_and_nowhere_else():
    names = names_of(around(books(), [part()]))
    told = " ".join(order_section(order([Decimal(5)] * 3, 30.0, 12.34), names).sentences)
    assert "the 42.34 EUR that an order costs by itself, our own set-up with it, count once. That saves 84.68 EUR" in told
    assert "count once" not in " ".join(order_section(order([Decimal(5)], 30.0, 12.34), names).sentences)
    assert "count once" not in " ".join(order_section(order([Decimal(5)] * 2, 0.0, None), names).sentences)
