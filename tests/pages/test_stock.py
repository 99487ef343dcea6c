"""The pages of stock and savings: what they say can be reckoned again from what stands on them, and hostile text stays text."""

import csv
import html
import io
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from xml.etree import ElementTree as ET

import pytest

from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.reports.page import names_of
from generator.pages.savings.chart_svg import Column, ColumnWords, savings_svg
from generator.pages.savings.page import savings_page, savings_table
from generator.pages.stock.chart_svg import MOST_BARS, Bar, BarWords, stock_svg
from generator.pages.stock.order_text import mail_link, order_text
from generator.pages.stock.page import stock_page
from generator.pages.stock.told import there_words
from generator.pages.wording import wording
from generator.planning.saving.whole import whole_savings
from generator.planning.stock.known import Known
from generator.planning.stock.need import needs, rule_of
from generator.planning.stock.orders import orders
from generator.records.materials import LastOrder
from tests.fixtures.tiny import CLIP, KNOB, LEVER
from tests.planning.saving.test_rows import catalogue as fitted_books
from tests.planning.stock.test_need import DAY, RULE, books, part
from tests.planning.test_month import batch, priced, row

HOSTILE = '<script>alert(1)</script> "q" [c](javascript:1) *d* | =1+1'
LANGUAGES = pytest.mark.parametrize("language", ["en", "de", "da"])
BARS = BarWords(label="label", there="there or on its way", point="reorder point", axis="pieces")
COLUMNS = ColumnWords(label="label", axis="saved, EUR", figure=lambda value: f"{value:,.0f}")


def around(catalogue, sheets, language="en"):
    return Around(catalogue=catalogue, sheets={each.number: each for each in sheets}, found=addresses(catalogue.parts), w=wording(language))


def page_of(*sheets, language="en", catalogue=None):
    return stock_page(around(catalogue or books(), sheets, language), sheets, DAY).text


def plain(text):
    return html.unescape(re.sub("<[^>]*>", " ", text))


def test_what_is_ordered_says_where_from_how_many_and_why():
    told = plain(page_of(part(KNOB, shelf=4)))
    assert "4, counted on 20 May 2028" in told
    assert "5: on average 2 in 10 days" in told
    assert "19 from The bench" in told
    assert "a quarter's need: nobody has said what an order or a run costs" in told
    assert "95 % is what is usual" in told


def test_nothing_counted_is_told_and_nothing_is_ordered():
    told = plain(page_of(part(KNOB, shelf=None), part(CLIP, shelf=99)))
    assert "Nothing is to be ordered or printed now." in told
    assert "Nobody has counted" in told
    assert "Nothing counted is no empty shelf." in told
    assert "no part whose record can be read" in plain(page_of())


@pytest.mark.parametrize(
    ("known", "says"),
    [
        ({"counted": 7, "went": 0}, "7, counted on 20 May 2028"),
        ({"counted": 7, "went": 2}, "5: 7 on 20 May 2028, 2 went since"),
        ({"counted": 7, "went": 0, "first_day": None, "last_day": None}, "7, counted nobody wrote when"),
        ({"counted": 7, "went": 2, "first_day": date(2028, 5, 2)}, "5: 7 from 2 May 2028 to 20 May 2028, 2 went since"),
        ({"counted": 2, "went": 2, "is_less_than_nothing": True}, "0: 2 on 20 May 2028, 2 went since; more went than was counted: count again"),
        ({"counted": None, "went": 0, "uncounted": 6}, "Nobody has counted; 6 more by the ledger, nobody counted them"),
        ({"counted": 0, "went": 0, "waiting": 8}, "0, counted on 20 May 2028; 8 more printed, not released yet"),
    ],
)
def test_what_is_there_says_how_it_is_known(known, says):
    day = date(2028, 5, 20)
    whole = {"first_day": day, "last_day": day, "uncounted": 0, "waiting": 0, "is_less_than_nothing": False} | known
    assert there_words(Known(**whole), wording("en")) == says


@LANGUAGES
def test_hostile_text_is_only_text(language):
    order = LastOrder(on=date(2028, 9, 30), needed_until=date(2030, 6, 1), reference=HOSTILE)
    catalogue = books(name=HOSTILE[:79], order_at=HOSTILE, set_up=2.0)
    catalogue = replace(catalogue, materials={name: each.model_copy(update={"last_order": order}) for name, each in catalogue.materials.items()})
    bureau = catalogue.makers["bureau"].model_copy(update={"name": HOSTILE[:79], "order_at": HOSTILE})
    catalogue = replace(catalogue, makers=catalogue.makers | {"bureau": bureau})
    told = page_of(part(KNOB, shelf=0, name=HOSTILE[:79]), part(LEVER, shelf=0, demand=9.0), language=language, catalogue=catalogue)
    assert "&lt;script&gt;" in told
    assert "<script" not in told
    assert "[c](javascript" not in told
    assert "{" not in told.replace("{{", "")
    assert "mailto:" in told  # a short order is drafted
    assert re.search(r'href="mailto:[A-Za-z0-9@.%?=&;_~-]*"', told)


def test_the_order_as_text_names_part_model_and_total():
    catalogue = books()
    (order,) = orders(needs([part(LEVER, shelf=0, demand=9.0)], catalogue, DAY, RULE))
    text = order_text(order, catalogue.depot, "1 Jun 2028", names_of(around(catalogue, [part(LEVER)])))
    (line,) = order.lines
    assert f"{line.count} × EX-0002 revision" in text
    assert f"SHA-256 {line.sheet.folder.mesh.sha256}" in text
    assert f"Total by your price list: {order.total} EUR" in text
    assert mail_link("", "a", "x" * 3000) is None
    assert str(mail_link("a@b.example", "Größe & Co", "1\n2")) == "mailto:a@b.example?subject=Gr%C3%B6%C3%9Fe%20%26%20Co&amp;body=1%0D%0A2"


def savings_of(language="en", rows=None, price=90.0):
    lines = rows if rows is not None else [row("2028-02-10", "B-1", count=3), row("2028-03-10", "B-1"), row("2028-03-11", "B-2", count=2), row("2028-03-12", "B-9")]
    catalogue = fitted_books({"B-1": batch(), "B-2": batch(part=CLIP)}, lines)
    here = around(catalogue, priced(price=price), language)
    return here, whole_savings(priced(price=price), catalogue, DAY)


def test_the_total_is_the_sum_of_the_tables_rows_and_each_row_of_its_prices():
    here, whole = savings_of()
    told = plain(savings_page(here, whole).text)
    rows = list(csv.DictReader(io.StringIO(savings_table(whole).content.decode("utf-8-sig"))))
    saved = [each for each in rows if each["saved"]]
    assert sum(Decimal(each["saved"]) for each in saved) == whole.found.total == Decimal("356.00")
    assert all(int(each["pieces"]) * (Decimal(each["before"]) - Decimal(each["own"])) == Decimal(each["saved"]) for each in saved)
    assert "Together: 356.00 EUR on 4 pieces." in told
    assert "3 pieces have no price to compare" in told
    assert "No minutes are recorded" in told
    assert [each["what"] for each in rows if not each["saved"]] == ["no price to compare"] * 2


def test_without_anything_fitted_it_says_so_and_tells_what_is_expected():
    here, whole = savings_of(rows=[])
    assert whole.found.rows == ()
    assert "No piece is written down as fitted" in plain(savings_page(here, whole).text)


@LANGUAGES
def test_the_savings_in_each_language(language):
    here, whole = savings_of(language, price=0.25)  # a loss is told as one
    told = savings_page(here, whole).text
    assert "{" not in told.replace("{{", "")
    assert {"en": "-3.00 EUR", "de": "-3,00 EUR", "da": "-3,00 EUR"}[language] in plain(told)


def drawn(markup):
    return ET.fromstring(str(markup))


def widths(markup):
    return [float(each) for path in drawn(markup).iter("path") for each in re.findall(r"-?[0-9.]+", path.get("d"))]


@pytest.mark.parametrize(
    "bars",
    [
        [Bar(name="TV-0001", there=0, point=0)],
        [Bar(name="TV-0001", there=3, point=5), Bar(name="TV-0002", there=90_000, point=4)],
        [Bar(name=f"TV-{at:04}", there=at, point=at % 7) for at in range(60)],
        [Bar(name="A", there=10**300, point=10**299)],
    ],
    ids=["none", "one far beyond", "very many", "absurd"],
)
def test_the_stock_is_drawn_within_its_frame(bars):
    figure = stock_svg(bars, BARS)
    assert all(-27 <= each <= max(480, 27 * MOST_BARS + 120) for each in widths(figure))
    titles = [each.text for each in drawn(figure).iter("title")]
    assert titles == [f"{bar.name}: {bar.there} / {bar.point}" for bar in bars[:MOST_BARS]]
    short = [each for each in drawn(figure).iter("path") if "plot__bar--short" in each.get("class")]
    assert len(short) == sum(bar.there <= bar.point for bar in bars[:MOST_BARS])
    assert stock_svg([], BARS) is None


@pytest.mark.parametrize(
    "amounts", [["0"], ["-5.50"], ["12.00", "-3.00", "0", "40000.01"], [str(at) for at in range(60)], ["1e300"]], ids=["nothing", "a loss", "both", "many", "absurd"]
)
def test_what_was_saved_is_drawn_within_its_frame(amounts):
    columns = [Column(name=f"{at}/28", told=f"{at}: {each}", amount=Decimal(each)) for at, each in enumerate(amounts)]
    figure = savings_svg(columns, COLUMNS)
    bars = [each for each in drawn(figure).iter("path") if each.get("class").startswith("plot__bar")]
    assert len(bars) == min(len(amounts), 24)
    assert sum("plot__bar--short" in each.get("class") for each in bars) == sum(each.startswith("-") for each in amounts)
    assert savings_svg([], COLUMNS) is None


def test_columns_are_as_high_as_what_was_saved():
    figure = savings_svg([Column(name=str(at), told=str(at), amount=Decimal(each)) for at, each in enumerate(("10", "20", "-10"))], COLUMNS)
    bars = [each.get("d") for each in drawn(figure).iter("path") if each.get("class").startswith("plot__bar")]
    (zero, ten), (_, twenty), (_, loss) = [(float(re.search(r" ([0-9.]+)V", each)[1]), float(re.search(r"V([0-9.]+)", each)[1])) for each in bars]
    assert (zero - twenty) == pytest.approx(2 * (zero - ten), abs=0.2)
    assert (loss - zero) == pytest.approx(zero - ten, abs=0.2)


def test_the_rule_names_the_convention():
    assert "P(X ≤ r) ≥ 95 %" in plain(page_of(part(KNOB, shelf=9)))
    assert rule_of(books()).service_percent == 95.0
