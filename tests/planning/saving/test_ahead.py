"""The next piece saves the same on the page Today and on that of the savings, by what was bought and by what it costs."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from generator.pages.reports.saved import order_words
from generator.pages.reports.told import Names
from generator.pages.savings.told import part_section
from generator.pages.today.told import _Told
from generator.pages.wording import wording
from generator.planning.money import cents
from generator.planning.saving.whole import whole_savings
from generator.planning.stock.demand import demand_of
from generator.planning.today.worth import worth_of
from generator.records.fitted import Why
from generator.records.parts import OldNumber
from tests.fixtures.tiny import KNOB
from tests.planning.saving.test_rows import catalogue
from tests.planning.test_month import batch, priced, row

DAY = date(2028, 6, 1)
# 10 an order, 10 g at 0.1, a quarter's need of 10 pieces, 0.50 of set-up: (10 + 10 + 0.5) / 10 = 2.05, where a batch of 7 cost 2.50 each.
MAKER = {"price": {"per_order": 10.0, "per_gram": 0.1}, "set_up": 0.5}


def knob(*, alone=None, price=90.0):
    each = next(each for each in priced(price=price) if each.number == KNOB)
    old = (OldNumber(number="S/1", price=alone),) if alone is not None else ()
    return replace(each, folder=replace(each.folder, part=each.part.model_copy(update={"replaces": old, "yearly_demand": 40})))


def books(*rows):
    return catalogue({"B-1": batch(count=7)}, rows, **MAKER)


@pytest.mark.parametrize(("alone", "before"), [(None, "90.00"), (12.345, "12.35"), (0.5, "0.50")])
def test_both_reckon_ahead_by_the_same_prices(alone, before):
    sheet, fitted = knob(alone=alone), books(row("2028-02-10", "B-1", count=2))
    whole = whole_savings([sheet], fitted, DAY)
    worth = worth_of(sheet, fitted, DAY, whole.found.by_part[KNOB])
    before = before if alone is not None else "45.00"  # two that went on together stood for one assembly
    assert worth.saving == whole.ahead[KNOB].saved == Decimal(before) - Decimal("2.05")
    assert worth.fitted == whole.found.by_part[KNOB].saved / 2 == Decimal(before) - Decimal("2.50")
    (unfitted,) = whole_savings([sheet], books(), DAY).expected
    assert unfitted.saved == 40 * (Decimal(before if alone is not None else "90.00") - Decimal("2.05"))


def told(sheet, fitted):
    """What Today says of the part, and the row that the page of the savings has of it."""
    whole, w = whole_savings([sheet], fitted, DAY), wording("en")
    worth = worth_of(sheet, fitted, DAY, whole.found.by_part[KNOB])
    section = part_section(whole, Names(catalogue=fitted, w=w, parts={}, currency="EUR"))
    return " ".join(_Told(fitted, DAY, w)._of_worth(worth)).replace(fitted.depot.currency, "EUR"), section.rows[0].cells[-1]


def test_what_differs_is_told_beside_and_what_does_not_is_told_once():
    today, row_of_savings = told(knob(), books(row("2028-02-10", "B-1"), row("2028-02-11", "B-1"), row("2028-02-12", "B-1")))
    assert "40 pieces a year, 87.95 EUR saved with the next one: 90.00 EUR, the assembly, less 2.05 EUR of its own" in today
    assert "Each piece that was fitted so far saved 87.50 EUR on average" in today
    assert row_of_savings == "87.50 EUR; the next 87.95 EUR, 10 at a time (40 a year, record)"
    today, row_of_savings = told(knob(), catalogue({"B-1": batch(count=10)}, [row("2028-02-10", "B-1"), row("2028-02-11", "B-1")], **MAKER))
    assert "on average" not in today
    assert row_of_savings == "87.95 EUR"


def test_the_next_piece_stands_for_as_much_of_an_assembly_as_those_that_were_fitted():
    today, row_of_savings = told(knob(), books(row("2028-02-10", "B-1", count=9)))
    assert "7.95 EUR saved with the next one: 10.00 EUR, its share of an assembly of 90.00 EUR, as with those that were fitted, less 2.05 EUR" in today
    assert row_of_savings == "7.50 EUR; the next 7.95 EUR, 10 at a time (40 a year, record)"


def test_today_and_the_stock_reckon_with_one_demand_and_say_from_where():
    lines = [row(f"2027-{month:02}-10", "B-1", count=1) for month in range(7, 13)]
    seven, eight = books(*lines, row("2028-02-10", "B-1")), books(*lines, row("2028-02-10", "B-1", count=2))
    for fitted, a_year in ((seven, 40), (eight, 9.0)):
        worth, of_stock = worth_of(knob(), fitted, DAY), demand_of(knob().part, fitted.production, DAY)
        assert worth.by == of_stock
        assert float(worth.demand) == pytest.approx(a_year, abs=0.1)
        assert worth.a_week == cents(worth.demand * worth.a_piece / 52)
    assert "40 a year, by part.yml (7 fitted in a year; from 8 on these count)" in told(knob(), seven)[0]
    assert "9 a year: 8 fitted in 327 days; part.yml says 40" in told(knob(), eight)[0]


@pytest.mark.parametrize(
    ("a_year", "said"),
    [
        (None, "one ordered at a time, for its record says nothing of how many a year"),
        (0.0, "one ordered at a time, for 0 a year by its record"),
        (3.9, "one ordered at a time, for 3.9 a year by its record"),
        (4.0, "1 ordered at a time, a quarter of 4 a year by its record"),
        (4.1, "2 ordered at a time, a quarter of 4.1 a year by its record"),
        (40.0, "10 ordered at a time, a quarter of 40 a year by its record"),
    ],
)
def test_it_is_said_with_how_many_the_next_one_is_ordered_and_for_what_need(a_year, said):
    sheet = knob()
    part = sheet.part.model_copy(update={"yearly_demand": a_year})
    worth = worth_of(replace(sheet, folder=replace(sheet.folder, part=part)), books(), DAY)
    assert order_words(worth.prices.demand, wording("en")) == said


def test_what_costs_more_tells_both_prices():
    today, _ = told(knob(alone=0.5), books(row("2028-02-10", "B-1", count=2)))
    assert "the next one costs 1.55 EUR more than what it replaces (2.05 EUR of its own, 10 ordered at a time, a quarter of 40 a year by its record, against 0.50 EUR, the part alone)" in today


def test_where_as_many_came_off_as_went_on_there_is_no_average():
    fitted = books(row("2028-02-10", "B-1", count=1), row("2028-03-10", off="B-1", why=Why.WRONG))
    whole = whole_savings([knob()], fitted, DAY)
    assert whole.found.by_part[KNOB].saved_each is None
    assert worth_of(knob(), fitted, DAY, whole.found.by_part[KNOB]).fitted is None
