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

from generator.geometry.measured import ModelSource
from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.reports.page import names_of
from generator.pages.savings.chart_svg import ColumnWords, SavingsColumn, savings_svg
from generator.pages.savings.page import savings_page, savings_table
from generator.pages.stock.chart_svg import MOST_BARS, BarWords, StockBar, stock_svg
from generator.pages.stock.order_text import mail_link, order_text
from generator.pages.stock.page import rest_words, stock_page
from generator.pages.stock.told import there_words
from generator.pages.submissions.case import SubmissionCase
from generator.pages.submissions.order_data import items, unit_words
from generator.pages.wording import wording
from generator.planning.saving.whole import whole_savings
from generator.planning.stock.known import StockKnown, UnfitCount
from generator.planning.stock.need import needs, rule_of
from generator.planning.stock.orders import orders
from generator.planning.stock.whole import stock_plan
from generator.records.inspection import Asked, InspectionDocument, InspectionDocuments
from generator.records.materials import LastOrder
from generator.records.parts import Check, Settings
from tests.fixtures.tiny import CLIP, KNOB, LEVER
from tests.planning.saving.test_rows import catalogue as fitted_books
from tests.planning.stock.test_need import DAY, RULE, books, lapsed, part
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
    assert "No part of these has a record that can be read." in plain(page_of())


UNFIT = UnfitCount(counted=18, first_day=date(2028, 5, 20), last_day=date(2028, 5, 20), went=0)


@pytest.mark.parametrize(
    ("known", "says"),
    [
        ({"counted": 7, "went": 0}, "7, counted on 20 May 2028"),
        ({"counted": 7, "went": 2}, "5: 7 on 20 May 2028, 2 went since"),
        ({"counted": 7, "went": 0, "first_day": None, "last_day": None}, "7, counted nobody wrote when"),
        ({"counted": 7, "went": 2, "first_day": date(2028, 5, 2)}, "5: 7 from 2 May 2028 to 20 May 2028, 2 went since"),
        ({"counted": 2, "went": 2, "is_less_than_nothing": True}, "0: 2 on 20 May 2028, 2 went since; more went than was counted: count again"),
        ({"counted": None, "went": 0, "uncounted": 6}, "Nobody has counted; 6 more by the ledger, nobody counted them"),
        ({"counted": 0, "went": 0, "unfit": UNFIT}, "18, counted on 20 May 2028 (not to be fitted today)"),
        ({"counted": 6, "went": 0, "unfit": replace(UNFIT, went=2)}, "6, counted on 20 May 2028; 16: 18 on 20 May 2028, 2 went since (not to be fitted today)"),
        ({"counted": None, "went": 0, "unfit": replace(UNFIT, counted=0, returning=3)}, "Nobody has counted"),
        ({"counted": 0, "went": 0, "waiting": 8}, "0, counted on 20 May 2028; 8 more printed, not released yet"),
    ],
)
def test_what_is_there_says_how_it_is_known(known, says):
    day = date(2028, 5, 20)
    whole = {"first_day": day, "last_day": day, "uncounted": 0, "waiting": 0, "is_less_than_nothing": False} | known
    assert there_words(StockKnown(**whole), wording("en")) == says


@LANGUAGES
def test_what_a_renewal_brings_back_stands_beside_the_reorder_point(language):
    told, w = plain(page_of(lapsed(shelf=18), language=language)), wording(language)
    assert w("stock.again", n="18", point="5") in told
    assert "18" in told.partition(w("stock.not_because.held"))[0].rpartition(KNOB)[2]
    assert w("stock.again", n="18", point="5") not in plain(page_of(part(shelf=18), language=language))


FOLD = re.compile(r'<details class="earlier printed-open"><summary>(.*?)</summary>(.*?)</details>', re.DOTALL)


@LANGUAGES
def test_what_is_to_be_done_stands_open_and_first_and_all_else_is_folded(language):
    w = wording(language)
    text = page_of(part(KNOB, shelf=4), part(LEVER, demand=9.0), part(CLIP, demand=9.0, shelf=90), language=language)
    heads = re.findall(r"^## (.*)$", text, re.MULTILINE)
    assert heads[0].startswith(w.flat["stock.section.print"].partition("{")[0])
    assert heads[-2:] == [w("stock.section.count"), w("stock.all")]
    folds = {summary: plain(inside) for summary, inside in FOLD.findall(text)}
    assert list(folds) == [
        w.count("stock.folded", 1, heading=w("stock.why_these")), w.count("stock.folded", 1, heading=w("stock.section.enough")), w("stock.chart.head"), w("stock.how"),
    ]  # fmt: skip
    open_text = plain(FOLD.sub("", text))
    assert (KNOB in open_text, LEVER in open_text, CLIP in open_text) == (True, True, False)
    assert len(re.findall(CLIP, folds[w.count("stock.folded", 1, heading=w("stock.section.enough"))])) == 1


def test_the_reason_has_a_line_of_its_own_below_its_row():
    (table,) = re.findall(r"<table>.*?</table>", dict(FOLD.findall(page_of(part(KNOB, shelf=4))))["Why these, and how many: 1 part"], re.DOTALL)
    row, below = re.findall(r"<tr[^>]*>(.*?)</tr>", table.partition("</thead>")[2], re.DOTALL)
    heads = re.findall(r"<th scope=\"col\">(.*?)</th>", table)
    assert (len(heads), row.count("<td")) == (5, 5)
    assert f'<td colspan="{len(heads)}" data-label="Why">' in below
    assert "a quarter's need" in below
    assert "a quarter's need" not in row


def test_where_nothing_is_to_be_ordered_that_comes_first():
    text = page_of(part(KNOB, shelf=90))
    assert text.index("Nothing is to be ordered or printed now") < text.index("<details")
    assert "Why these" not in text
    assert "Nothing is to be ordered" not in page_of(part(KNOB, shelf=4))


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
    assert "repair" not in text, "what nobody states has no word"
    assert mail_link("", "a", "x" * 3000) is None
    assert str(mail_link("a@b.example", "Größe & Co", "1\n2")) == "mailto:a@b.example?subject=Gr%C3%B6%C3%9Fe%20%26%20Co&amp;body=1%0D%0A2"


@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_the_maker_reads_what_a_good_piece_is(language):
    catalogue, asked = books(), part(LEVER, shelf=0, demand=9.0)
    settings = Settings(orientation="flat", surface_texture="Rz 63 µm", repair="pores filled", acceptable_imperfections="strings {up} to 1 mm")
    stated = replace(asked, folder=replace(asked.folder, part=asked.part.model_copy(update={"settings": settings})))
    (order,) = orders(needs([stated], catalogue, DAY, RULE))
    text = order_text(order, catalogue.depot, "1 Jun 2028", names_of(around(catalogue, [stated], language)))
    assert all(said in text for said in ("Rz 63 µm", "pores filled", "strings {up} to 1 mm"))


@LANGUAGES
def test_the_order_tells_the_papers_wanted_the_unit_the_critical_dimensions_and_each_amount(language):
    catalogue, w = books(), wording(language)
    source, check = ModelSource(format="stl", units="mm", unit_source="given"), Check(name="bore", nominal_mm=5.0, plus_mm=0.1, minus_mm=0.2)
    asked = [replace(part(LEVER, shelf=0, demand=9.0, checks=(check,)), source=source), replace(part(CLIP, shelf=0, demand=9.0), source=source)]
    here = around(catalogue, asked, language)
    for order in orders(needs(asked, catalogue, DAY, RULE)):
        text = order_text(order, catalogue.depot, "1 Jun 2028", names_of(here))
        _, *lines = re.split(r"\n\n(?=[0-9])", text)
        assert len(lines) == len(order.lines)
        for line, told in zip(order.lines, lines, strict=True):
            data = dict(items(SubmissionCase(sheet=line.sheet, part=line.sheet.part, around=here, day=DAY, numbers={})))
            least = catalogue.inspection_of(line.sheet.history.route).least.value
            assert f"{least} (EN 10204)" in told
            assert f"{w('submission.order.feedstock')}: {data['feedstock']}" in told
            assert f"{w('submission.order.tolerances')}: {data['tolerances']}" in told
            assert (w("submission.tolerance", name="bore", least=w.measure(4.8), most=w.measure(5.1)) in told) == (line.sheet.number == LEVER)
            assert unit_words(line.sheet, w) in told
            assert told.splitlines()[0].endswith(f": {w.money(line.amount, catalogue.depot.currency)}")


def test_an_amount_that_nobody_knows_and_a_paper_on_coupons_are_told_as_such():
    catalogue = books()
    (order,) = orders(needs([part(LEVER, shelf=0, demand=9.0)], catalogue, DAY, RULE))
    unknown = replace(order, lines=tuple(replace(each, amount=None) for each in order.lines))
    here = names_of(around(catalogue, [part(LEVER)]))
    assert "EUR" not in order_text(unknown, catalogue.depot, "1 Jun 2028", here)
    both = Asked(least=InspectionDocument.CERTIFICATE_3_1, printed_coupons=True)
    depot = catalogue.depot.model_copy(update={"inspection_documents": InspectionDocuments(customer=both, authority=both)})
    asked = names_of(around(replace(catalogue, depot=depot), [part(LEVER)]))
    assert "type 3.1 (EN 10204), and one on printed coupons" in order_text(order, depot, "1 Jun 2028", asked)
    assert "coupons" not in order_text(order, catalogue.depot, "1 Jun 2028", here)


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
    assert sum(Decimal(each["saved"]) for each in saved) == whole.found.total == Decimal("176.00")
    assert all(int(each["bought"]) * Decimal(each["before"]) - int(each["pieces"]) * Decimal(each["own"]) == Decimal(each["saved"]) for each in saved)
    assert "Together: 176.00 EUR on 4 pieces. Among it 4 pieces in place of 2 assemblies" in told
    assert "2 pieces have no price to compare" in told
    assert "Of 1 piece nobody knows the batch." in told
    assert "No minutes are recorded" in told
    assert [each["what"] for each in rows if not each["saved"]] == ["no price to compare", "unknown batch"]


def test_a_cell_of_nothing_is_known_as_such_and_one_that_says_why_is_not():
    text = savings_page(*savings_of()).text
    empty = re.findall(r'<td class="board__whole board__none" data-label="[^"]*">(.*?)</td>', text)
    assert {plain(each).strip() for each in empty} == {wording("en")("missing")}
    assert "board__none" not in "".join(re.findall(r"<td[^>]*>[^<]*no price[^<]*</td>", text))


def test_without_anything_fitted_it_says_so_and_tells_what_is_expected():
    here, whole = savings_of(rows=[])
    assert whole.found.rows == ()
    assert "No piece is written down as fitted" in plain(savings_page(here, whole).text)


@LANGUAGES
def test_the_savings_in_each_language(language):
    here, whole = savings_of(language, price=0.25)  # a loss is told as one
    told = savings_page(here, whole).text
    assert "{" not in told.replace("{{", "")
    assert {"en": "-3.50 EUR", "de": "-3,50 EUR", "da": "-3,50 EUR"}[language] in plain(told)


def drawn(markup):
    return ET.fromstring(str(markup))


def widths(markup):
    return [float(each) for path in drawn(markup).iter("path") for each in re.findall(r"-?[0-9.]+", path.get("d"))]


@pytest.mark.parametrize(
    "bars",
    [
        [StockBar(name="TV-0001", there=0, point=0)],
        [StockBar(name="TV-0001", there=3, point=5), StockBar(name="TV-0002", there=90_000, point=4)],
        [StockBar(name=f"TV-{at:04}", there=at, point=at % 7) for at in range(60)],
        [StockBar(name="A", there=10**300, point=10**299)],
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


def test_a_drawing_that_has_no_room_for_all_says_so():
    catalogue, sheet = books(), part(shelf=90)
    plan, names = stock_plan([sheet], catalogue, {}, DAY, RULE), names_of(around(catalogue, [sheet]))
    assert rest_words(replace(plan, parts=plan.parts * MOST_BARS), names) is None
    more = rest_words(replace(plan, parts=plan.parts * (MOST_BARS + 2)), names)
    assert more == f"Of {MOST_BARS + 2} parts these are the {MOST_BARS} with the shortest stock; the tables tell of all."


@pytest.mark.parametrize(
    "amounts", [["0"], ["-5.50"], ["12.00", "-3.00", "0", "40000.01"], [str(at) for at in range(60)], ["1e300"]], ids=["nothing", "a loss", "both", "many", "absurd"]
)
def test_what_was_saved_is_drawn_within_its_frame(amounts):
    columns = [SavingsColumn(name=f"{at}/28", told=f"{at}: {each}", amount=Decimal(each)) for at, each in enumerate(amounts)]
    figure = savings_svg(columns, COLUMNS)
    bars = [each for each in drawn(figure).iter("path") if each.get("class").startswith("plot__bar")]
    assert len(bars) == min(len(amounts), 24)
    assert sum("plot__bar--short" in each.get("class") for each in bars) == sum(each.startswith("-") for each in amounts)
    assert savings_svg([], COLUMNS) is None


def test_columns_are_as_high_as_what_was_saved():
    figure = savings_svg([SavingsColumn(name=str(at), told=str(at), amount=Decimal(each)) for at, each in enumerate(("10", "20", "-10"))], COLUMNS)
    bars = [each.get("d") for each in drawn(figure).iter("path") if each.get("class").startswith("plot__bar")]
    (zero, ten), (_, twenty), (_, loss) = [(float(re.search(r" ([0-9.]+)V", each)[1]), float(re.search(r"V([0-9.]+)", each)[1])) for each in bars]
    assert (zero - twenty) == pytest.approx(2 * (zero - ten), abs=0.2)
    assert (loss - zero) == pytest.approx(zero - ten, abs=0.2)


def test_the_rule_names_the_convention():
    assert "P(X ≤ r) ≥ 95 %" in plain(page_of(part(KNOB, shelf=9)))
    assert rule_of(books()).service_percent == 95.0


def test_a_lead_time_is_told_in_the_case_of_its_line():
    """A text after a colon is no object of a preposition."""
    told = [wording(each).count("getting.days", 9) for each in ("en", "de", "da")]
    assert told == ["9 days", "9 Tage", "9 dage"]


def test_what_costs_something_is_never_shown_as_nothing():
    told = [wording(each)("savings.an_hour", least=wording(each).money(Decimal("0.01"), "EUR")) for each in ("en", "de", "da")]
    assert [each.split("(")[0].strip() for each in told] == [
        "An hour of own work costs less than 0.01 EUR", "Eine Stunde eigener Arbeit kostet weniger als 0,01 EUR", "En times eget arbejde koster mindre end 0,01 EUR",
    ]  # fmt: skip
