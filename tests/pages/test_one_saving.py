"""What the next piece of a part saves is one figure, wherever a reader meets it: its own page, Today, Savings, a submission."""

import math
import re
from datetime import date
from pathlib import Path

import pytest

from generator.pages.gathered import around_of
from generator.pages.part.figures import figures
from generator.pages.part.getting import getting
from generator.pages.part.page import part_page
from generator.pages.reports.told import Names
from generator.pages.savings.told import part_section
from generator.pages.submissions.whole import submission_of
from generator.planning.offers import offers_for
from generator.planning.saving.whole import whole_savings
from generator.planning.stock.demand import Source
from generator.planning.stock.need import needs, rule_of
from generator.planning.today.worth import worth_of
from tests.pages.sample import judged_sample

DEMO = Path(__file__).parents[2] / "catalogue"
TODAY = date(2026, 11, 28)
_SAYS = re.compile(r"The next one (?:saves|costs) .*")
_AMOUNT = re.compile(r"-?[\d,]+\.\d\d EUR")


@pytest.fixture(scope="module")
def demo():
    """The demo as it is written, but that every model weighs the same (tests/pages/sample.py), and what the page of each part says of it."""
    catalogue, sheets, _ = judged_sample(DEMO, TODAY)
    around = around_of(catalogue, sheets, TODAY)
    return sheets, around, {sheet.number: said for sheet in sheets if (said := saving(sheet, around))}


def saving(sheet, around):
    found = _SAYS.search(part_page(sheet, around).text)
    return found[0] if found else None


def test_every_page_of_the_demo_tells_the_same_saving(demo):
    sheets, around, says = demo
    catalogue, w = around.catalogue, around.w
    whole = whole_savings(sheets, catalogue, TODAY)
    rows = {row.number: row.cells[-1] for row in part_section(whole, Names(catalogue=catalogue, w=w, parts={}, currency="EUR")).rows}
    told = {sheet.number: (says[sheet.number], worth_of(sheet, catalogue, TODAY, around.fitted.get(sheet.number))) for sheet in sheets if sheet.number in says}
    assert len(told) >= 10
    assert set(whole.ahead) <= set(told)
    for number, (said, worth) in told.items():
        saves = _AMOUNT.search(said)[0]
        assert saves == w.money(abs(worth.saving), "EUR")
        assert ("saves" in said) == (worth.saving >= 0)
        if number in rows:
            assert (saves if worth.saving >= 0 else f"-{saves}") == rows[number].rpartition("next ")[2].partition(", ")[0].replace("\u2212", "-")
    for each in whole.expected:
        assert _AMOUNT.search(told[each.sheet.number][0])[0] == w.money(abs(each.before - each.own), "EUR")


def test_the_demo_has_one_demand_wherever_it_is_reckoned_or_told(demo):
    """Stock is the measure: what Today, Savings, the offers and the table of a page, and a submission say or reckon with is its figure."""
    sheets, around, says = demo
    catalogue, w = around.catalogue, around.w
    needed = {each.number: each.demand for each in needs(sheets, catalogue, TODAY, rule_of(catalogue))}
    differing = [number for number, each in needed.items() if each and each.source is Source.FITTED and each.record not in (None, float(each.told))]
    assert len(differing) >= 5
    whole = whole_savings(sheets, catalogue, TODAY)
    rows = {row.number: row.cells[-1] for row in part_section(whole, Names(catalogue=catalogue, w=w, parts={}, currency="EUR")).rows}
    for sheet in sheets:
        demand, part = needed.get(sheet.number), sheet.part
        if demand is None or part is None:
            continue
        a_quarter = max(1, math.ceil(demand.told / 4))
        worth = worth_of(sheet, catalogue, TODAY, around.fitted.get(sheet.number))
        assert worth.by == demand
        assert worth.prices is None or worth.prices.demand == demand
        assert sheet.number not in whole.ahead or whole.ahead[sheet.number] == worth.prices
        assert getting(sheet, part, (), around).typical_count == a_quarter
        told = dict(figures(sheet, part, around).part)[w("figures.part.yearly_demand")]
        assert told.startswith(w.measure(float(demand.told)))
        assert (f"the record says {w.measure(demand.record or 0)}" in told) == (sheet.number in differing)
        if sheet.number in says:
            counted = f" {a_quarter} ordered at a time, a quarter of {w.measure(float(demand.told))} a year "
            assert (counted if demand.told >= 4 else " one ordered at a time, for ") in says[sheet.number]
        if sheet.number in rows:
            by = {Source.FITTED: "fitted", Source.RECORD: "record"}[demand.source]
            assert "next" not in rows[sheet.number] or f"{a_quarter} at a time ({w.measure(float(demand.told))} a year, {by})" in rows[sheet.number]
        text = part_page(sheet, around).text
        assert told in text
        assert a_quarter == 1 or not getting(sheet, part, offers_for(sheet, catalogue), around).offers or f"Price for {a_quarter}, " in text
    for each in whole.expected:
        assert each.a_year == needed[each.sheet.number].told
    identity = submission_of([next(each for each in sheets if each.number == differing[0])], around, TODAY).dossiers[0].sections
    pairs = dict(pair for section in identity if section.key == "identity" for block in section.blocks for pair in block.pairs)
    assert f"the record says {w.measure(needed[differing[0]].record)}" in pairs[w("figures.part.yearly_demand")]


def test_the_figure_stands_beside_those_that_it_is_the_difference_of(demo):
    assert demo[-1]
    for said in demo[-1].values():
        amounts = [float(each.removesuffix(" EUR").replace(",", "")) for each in _AMOUNT.findall(said)]
        if "saves" in said:
            assert amounts[0] == pytest.approx(amounts[1] - amounts[-1], abs=0.001), said
        else:
            assert amounts[0] == pytest.approx(amounts[1] - amounts[2], abs=0.001), said


def test_where_nobody_knows_a_price_nothing_is_said(demo):
    sheets, _, says = demo
    bare = next(sheet for sheet in sheets if sheet.part and not sheet.part.assembly and not any(each.price for each in sheet.part.replaces))
    assert bare.number not in says


def test_a_submission_says_it_as_the_page_does(demo):
    sheets, around, says = demo
    sheet, said = next((sheet, said) for sheet in sheets if "its share of an assembly" in (said := says.get(sheet.number, "")))
    sections = submission_of([sheet], around, TODAY).dossiers[0].sections
    assert said in [each for section in sections if section.key == "replaced" for block in section.blocks for each in block.says]
