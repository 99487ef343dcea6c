"""The pages of the months: each has its table, leads to its neighbours and to the parts, and hostile text stays text."""

from dataclasses import replace
from datetime import date

import pytest

from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.reports.page import MOST_MONTHS, month_pages, month_reports, month_tables
from generator.pages.wording import wording
from generator.records.fitted import Why
from generator.records.production import Production
from tests.fixtures.tiny import KNOB
from tests.planning.test_month import CATALOGUE, SHEETS, batch, row

HOSTILE = '<script>alert(1)</script> "q" [c](javascript:1) *d* | =1+1'
DAY = date(2028, 2, 20)
SCRAPPED = {"what": "scrapped", "on": "2028-02-04", "by": "fitter", "count": 1, "why": HOSTILE}


def around(language="en", **production):
    catalogue = replace(CATALOGUE, production=Production(**production))
    return Around(catalogue=catalogue, sheets={each.number: each for each in SHEETS}, found=addresses(catalogue.parts), w=wording(language))


def pages(language="en", day=DAY, **production):
    here = around(language, **production)
    reports = month_reports(here, SHEETS, day)
    return {page.path: page.text for page in month_pages(here, reports)}, {each.path: each.content for each in month_tables(reports)}


def test_each_month_since_the_first_event_has_a_page_and_a_table_newest_first():
    told, tables = pages(batches={"B-1": batch(SCRAPPED)})
    months = [path for path in told if path.startswith("reports/")]
    assert months[0] == "reports/2028-02.md"
    assert sorted(months, reverse=True) == months
    assert {path.replace(".md", ".csv") for path in months} == set(tables)
    listed = told["months.md"]
    assert listed.index("reports/2028-02.html") < listed.index("reports/2028-01.html") < listed.index("reports/2025-10.html")
    assert "[January 2028](2028-01.md)" in told["reports/2028-02.md"]
    assert "[March 2028]" not in told["reports/2028-02.md"]
    assert "Until 20 Feb 2028; the month is not over." in told["reports/2028-02.md"]
    assert "Nothing is dated in this month." in told["reports/2028-01.md"]
    assert f'<a class="board__part" href="../parts/{addresses(CATALOGUE.parts).by_folder["parts/EX-0001-lid-knob"]}.html">' in told["reports/2028-02.md"]


@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_hostile_text_is_only_text(language):
    rows = [row("2028-02-10", off="B-1", why=why) for why in Why]
    told, tables = pages(language, batches={"B-1": batch(SCRAPPED, machine="M-9")}, fitted=tuple(rows))
    page = told["reports/2028-02.md"]
    assert "&lt;script&gt;" in page
    assert "<script" not in page
    assert "[c](javascript" not in page
    assert "{" not in page.replace("{{", "")  # every placeholder is filled
    assert KNOB in page
    assert '<script>alert(1)</script> ""q""' in tables["reports/2028-02.csv"].decode("utf-8-sig")


def test_what_is_no_part_of_the_catalogue_has_no_link():
    told, _ = pages(batches={"B-1": batch(SCRAPPED, part="EX-0099")})
    assert '<span class="board__part"><bdi>EX&#45;0099</bdi></span>' in told["reports/2028-02.md"].replace("EX-0099", "EX&#45;0099")


def test_no_more_months_have_pages_than_ten_years():
    told, _ = pages(day=date(2050, 1, 1))
    assert len(told) == MOST_MONTHS + 1
    assert "spares report --month" in told["months.md"]
