"""A part's page reads in the order in which the work is done: what a mechanic does with it at the shelf and at the vehicle."""

import subprocess
from datetime import timedelta
from pathlib import Path
from shutil import which
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.audit import in_both
from tests.browser.conftest import NOON, gone_to, least, pressed, texts

pytestmark = [pytest.mark.browser, pytest.mark.slow]

ORDER = [
    ".verdicts .verdict", "#is-it-this-one", ".sizes", ".hands", "#how-to-get-one", ".shelf", ".orders", ".cautions", ".tools", "table.measure", ".steps", ".check",
    "#approval-history", "#data", "#fire", "#screening-of-the-change", "#documents",
]  # fmt: skip
FOLDED = ["#approval-history", "#data", "#fire", "#screening-of-the-change", "#documents"]

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



def opened(page: Page, site: Path, number: str, more: str = "") -> Page:
    return gone_to(page, f"{site.as_uri()}/parts/{number}.html{more}")


# ---- the order, and what is folded ----


def test_it_reads_in_the_order_of_the_work(reader: Page, site: Path) -> None:
    opened(reader, site, "TV-0104")
    places = reader.evaluate("order => order.map(each => document.querySelector(each).getBoundingClientRect().y)", ORDER)
    assert places == sorted(places)
    for each in FOLDED:
        assert reader.locator(f"details:has(> summary {each})").get_attribute("open") is None, each


def test_an_address_and_a_jump_open_what_is_folded(page: Page, site: Path) -> None:
    opened(page, site, "TV-0104", "#fire")
    assert page.locator("details:has(> summary #fire)").get_attribute("open") is not None
    pressed(page.locator(".jumps a", has_text="Data"))
    page.locator("details[open]:has(> summary #data)").wait_for()


def test_left_stands_left_on_both_pages(reader: Page, site: Path) -> None:
    for number in ("TV-0104", "TV-0105", "TV-0248", "TV-0249"):
        opened(reader, site, number)
        names = texts(reader, ".hands .card__name")
        assert ["left" in names[0], "right" in names[1]] == [True, True], number
        first, second = (box.bounding_box() for box in reader.locator(".hands .cards a").all())
        assert first["x"] < second["x"]
        assert first["y"] == second["y"]
        assert reader.locator(".hands .card__note", has_text="This one").count() == 1


# ---- get one ----


def test_the_order_is_closed_while_stock_lies_there_and_open_where_none_does(reader: Page, site: Path) -> None:
    opened(reader, site, "TV-0417")
    assert reader.locator(".orders").get_attribute("open") is None
    assert reader.locator(".shelf").bounding_box()["y"] < reader.locator(".orders").bounding_box()["y"]
    opened(reader, site, "TV-0252")
    assert "None on the shelf" in reader.locator(".shelf").inner_text() or "Not kept" in reader.locator(".shelf").inner_text() or reader.locator(".shelf--no").count()


def ordering(page: Page, site: Path) -> None:
    opened(page, site, "TV-0104")
    pressed(page.locator(".orders summary"))


def test_nothing_is_copied_or_mailed_before_it_is_filled_in(page: Page, site: Path) -> None:
    ordering(page, site)
    ways = page.locator(".order__ways button")

    def are_open() -> bool:
        return bool(page.evaluate("[...document.querySelectorAll('.order__ways button')].every(each => !each.matches(':disabled, [aria-disabled=true]'))"))

    assert ways.count() >= 2
    assert not are_open()
    assert "How many; For which vehicle; Needed by" in page.locator(".order__missing").first.inner_text()
    page.locator("#order-vehicle").select_option("405")
    page.locator("#order-by").fill("2026-12-04")
    assert not are_open(), "nobody has said how many: a vehicle has fourteen of them"
    page.locator("#order-count").fill("2")
    assert are_open()
    for wrong in ("0", "-3", "1e9", "2.5", "", "9" * 10_000, "🔧", "<b>", "٣"):
        page.locator("#order-count").fill(wrong)
        assert not are_open(), wrong
        assert "Write how many" in page.locator("#order-count-wrong").inner_text()
        assert page.locator("#order-count").get_attribute("aria-invalid") == "true"
    page.locator("#order-count").fill("2")
    for wrong in ("", "2026-11-24"):
        page.locator("#order-by").fill(wrong)
        assert not are_open(), wrong
        assert page.locator("#order-by-wrong").inner_text() != ""
    page.locator("#order-by").fill("2026-12-04")
    assert are_open()
    assert page.locator(".order__missing").first.inner_text() == ""
    page.clock.set_fixed_time(NOON + timedelta(days=30))
    pressed(page.locator(".order__copy").first)
    assert not are_open(), "a day may end while the page is open"


def test_none_is_ordered_for_a_vehicle_that_it_is_not_to_be_fitted_on(page: Page, site: Path) -> None:
    opened(page, site, "TV-0417", "#vehicle=701")
    assert "none is ordered for it" in page.locator(".order-no").inner_text()
    assert page.locator(".orders summary").inner_text() == "Order one for another vehicle, or for the shelf"
    pressed(page.locator(".orders summary"))
    assert page.locator(".order__text:visible").count() == 0
    assert "Do not fit on TR7 701" in page.locator("#order-vehicle-wrong").inner_text()
    page.locator("#order-vehicle").select_option("-")
    assert page.locator(".order__text:visible").count() >= 1
    assert "TR4" in page.locator(".order__text").first.inner_text(), "an order for the shelf tells all verdicts"
    page.locator("#order-vehicle").select_option("405")
    assert page.locator(".order__text:visible").count() >= 1
    assert page.locator(".carried__choice").input_value() == "701", "the order's vehicle is the order's alone"
    assert "Do not fit" in page.locator(".verdict:visible .verdict__word").all_inner_texts()
    opened(page, site, "TV-0252")
    assert page.locator(".orders summary").inner_text() == "Order a test piece, not to be fitted"
    pressed(page.locator(".orders summary"))
    assert page.locator("#order-vehicle").input_value() == "test"
    assert "For vehicle: Test piece, do not fit" in page.locator(".order__text").first.inner_text()
    assert page.locator("#order-vehicle option[value='405']").is_disabled()


def test_what_is_filled_in_stands_in_every_order_text(page: Page, site: Path) -> None:
    ordering(page, site)
    page.locator("#order-count").fill("3")
    page.locator("#order-vehicle").select_option("405")
    page.locator("#order-by").fill("2026-12-04")
    for text in texts(page, ".order__text", "textContent"):
        for line in ("How many: 3\n", "For vehicle: TR4 405\n", "Needed by: 4 Dec 2026\n"):
            assert line in text
    first = page.locator(".order__text").first.text_content() or ""
    one = float(page.locator(".order__text").first.get_attribute("data-each") or 0)
    assert f"Price expected: {3 * one:.2f} EUR" in first
    assert page.locator(".carried__choice").input_value() == "", "an order chooses no vehicle for the page"


def test_from_a_price_break_on_each_piece_of_the_order_costs_less(page: Page, site: Path) -> None:
    opened(page, site, "TV-0112")  # at a bureau with 6 % off from 25 pieces on, 14 % from 100 on
    pressed(page.locator(".orders summary"))
    text = page.locator(".order__text").first
    base, each = (float(text.get_attribute(name) or 0) for name in ("data-base", "data-each"))
    for count, share in ((24, 1.0), (25, 0.94), (99, 0.94), (100, 0.86)):
        page.locator("#order-count").fill(str(count))
        assert f"Price expected: {base + count * each * share:.2f} EUR" in (text.text_content() or ""), count


def test_an_order_for_another_vehicle_tells_its_own_verdict_and_is_kept(page: Page, site: Path) -> None:
    opened(page, site, "TV-0417", "#vehicle=405")
    pressed(page.locator(".orders summary"))
    assert page.locator("#order-vehicle").input_value() == "405"
    assert page.locator(".ordering__stands").inner_text() == ""
    page.locator("#order-vehicle").select_option("701")
    assert "TR7 701: Do not fit" in page.locator(".ordering__stands").inner_text()
    assert page.locator(".order__text:visible").count() == 0
    assert page.locator(".verdict:visible .verdict__word").all_inner_texts() == ["Fit it"]
    page.locator("#order-vehicle").select_option("-")
    page.locator("#order-vehicle").select_option("")
    assert page.locator("#order-vehicle").input_value() == "405", "taken back, it is the carried one again"
    page.locator("#order-vehicle").select_option("407")
    page.locator("#order-count").fill("3")
    page.locator("#order-by").fill("2026-12-24")
    page.reload()
    assert [page.locator(f"#order-{each}").input_value() for each in ("count", "vehicle", "by")] == ["3", "407", "2026-12-24"]
    assert "For vehicle: TR4 407" in (page.locator(".order__text").first.text_content() or "")
    page.locator(".carried__choice").select_option("406")
    assert page.locator("#order-vehicle").input_value() == "406", "who has moved on to another orders for that one"
    page.locator(".carried__choice").select_option("405")
    assert page.locator("#order-vehicle").input_value() == "405", "and back"
    pressed(page.locator(".orders summary"))
    pressed(page.locator(".ordering__anew"))
    assert [page.locator(f"#order-{each}").input_value() for each in ("count", "vehicle", "by")] == ["", "405", ""]
    page.locator("#order-count").fill("3")
    page.locator(".check input").first.check(force=True)
    pressed(page.locator(".check__clear"))
    assert page.locator("#order-count").input_value() == "", "cleared with the ticks"


def test_what_is_wrong_stands_in_no_order_text(page: Page, site: Path) -> None:
    ordering(page, site)
    page.locator("#order-by").fill("2026-12-24")
    for wrong in ("0", "-3", "3.5"):
        page.locator("#order-count").fill("4")
        page.locator("#order-count").fill(wrong)
        text = page.locator(".order__text").first.text_content() or ""
        assert "How many: …\n" in text
        assert "Price expected: …" in text
    page.locator("#order-by").fill("2036-12-24")
    assert "more than two years ahead" in page.locator("#order-by-wrong").inner_text()
    assert "Needed by: …" in (page.locator(".order__text").first.text_content() or "")
    page.locator("#order-by").fill("")
    assert page.locator("#order-by-wrong").inner_text() == "Choose a day."


def test_an_order_for_the_shelf_names_no_vehicle(page: Page, site: Path) -> None:
    ordering(page, site)
    page.locator("#order-vehicle").select_option("-")
    assert "For vehicle: For the shelf" in (page.locator(".order__text").first.text_content() or "")
    assert page.locator(".carried__choice").input_value() == ""


def test_how_many_is_a_number_of_pieces(page: Page, site: Path) -> None:
    ordering(page, site)
    for count in ("0", "-1", "", "1e9", "99999", "two", "🔧", "<b>", "1.5"):
        page.locator("#order-count").fill("4")
        assert page.locator("#order-count-wrong").inner_text() == ""
        page.locator("#order-count").fill(count)
        assert "How many: …\n" in (page.locator(".order__text").first.text_content() or ""), f"no text says what is wrong: {count}"
        assert page.locator("#order-count-wrong").inner_text() != "", count


def test_the_mail_draft_says_all_of_it(page: Page, site: Path) -> None:
    ordering(page, site)
    page.locator("#order-count").fill("5")
    page.locator("#order-vehicle").select_option("405")
    page.locator("#order-by").fill("2026-12-04")
    assert page.locator(".order__copy").first.is_enabled()
    page.evaluate("HTMLAnchorElement.prototype.click = function () { globalThis.mailed = this.href; }")
    pressed(page.locator(".order__mail").first)
    mailed = urlsplit(page.evaluate("mailed"))
    said = parse_qs(mailed.query)
    assert mailed.scheme == "mailto"
    assert "TV-0104" in said["subject"][0]
    assert "For vehicle: TR4 405\r\n" in said["body"][0]


# ---- ask first ----


def test_ask_first_says_whom_and_what_and_is_copied_whole(drawn: Page, tablet: BrowserContext, site: Path) -> None:
    tablet.grant_permissions(["clipboard-read", "clipboard-write"])
    opened(drawn, site, "TV-0140", "#vehicle=403")
    box = drawn.locator(".mine .verdict__ask")
    assert "printed parts office" in box.inner_text()
    assert "may TV-0140 Sanding-hose guide, revision A, be fitted to TR4 403, 407, Bogie?" in box.inner_text()
    box.get_by_role("button").tap()
    drawn.get_by_text("Copied").wait_for()
    copied = drawn.evaluate("navigator.clipboard.readText()")
    for words in ("Vehicle TR4 403", "may TV-0140", "Ask first, Approved with a condition", "printed parts office"):
        assert words in copied


# ---- measure ----


SIZES = {
    "in": ("21.8", "22,1", "22.1 mm"), "low": ("21.79", "0"), "high": ("22.11",), "": ("",),
    "unread": ("abc", "22.1.1", "-22", "1e1", "22 000", "🔧", "٢٢", "Infinity"),
}  # fmt: skip


def test_a_measured_size_is_in_or_out(reader: Page, site: Path) -> None:
    opened(reader, site, "TV-0104")  # plug for the blind tube: 21.8 to 22.1
    row = reader.locator("table.measure tbody tr").first
    for is_, typed in ((is_, each) for is_, all_ in SIZES.items() for each in all_):
        reader.locator(".measure__box").first.fill("22" if is_ != "in" else "99")  # what is said of it goes
        reader.locator(".measure__box").first.fill(typed)
        assert (row.get_attribute("data-is") or "") == is_, typed
        said = row.locator(".measure__says").inner_text()
        assert {"in": "In", "low": "too small", "high": "too large", "unread": "Write a number", "": ""}[is_] in said, typed


def test_a_size_that_is_out_forbids_the_piece_and_no_size_changes_the_word(page: Page, site: Path) -> None:
    opened(page, site, "TV-0104")
    word = texts(page, ".verdict__word")
    page.locator(".measure__box").first.fill("99")
    assert "do not fit this piece" in page.locator(".measure__all").inner_text()
    for box in page.locator(".measure__box").all():
        box.fill("4.5")
    page.locator(".measure__box").first.fill("22")
    assert page.locator(".measure__all").inner_text() == "Every size is in."
    assert texts(page, ".verdict__word") == word
    pressed(page.locator(".measure__next"))
    assert [box.input_value() for box in page.locator(".measure__box").all()] == ["", "", ""]


# ---- check after fitting ----


def ticks(page: Page) -> list[bool]:
    return list(page.evaluate("[...document.querySelectorAll('.check__one input')].map(each => each.checked)"))


def test_checks_tick_and_stay_until_all_is_done(page: Page, site: Path) -> None:
    opened(page, site, "TV-0104", "#vehicle=405")
    pressed(page.locator(".check__one label").first)
    opened(page, site, "TV-0104")
    assert ticks(page) == [True, False]
    assert "405" in page.locator(".check__told").inner_text()
    page.locator(".carried__choice").select_option("406")
    assert ticks(page) == [False, False], "another vehicle has its own"
    page.locator(".carried__choice").select_option("405")
    pressed(page.locator(".check__one label").nth(1))
    pressed(page.locator(".check__clear", has_text="All checked"))
    opened(page, site, "TV-0104")
    assert ticks(page) == [False, False]


def test_measured_sizes_are_kept_with_the_ticks_and_go_with_them(page: Page, site: Path) -> None:
    def typed() -> list[str]:
        return list(page.evaluate("[...document.querySelectorAll('.measure__box')].map(each => each.value)"))

    opened(page, site, "TV-0104", "#vehicle=405")
    page.locator(".measure__box").first.fill("22,1")
    pressed(page.locator(".check__one label").first)
    opened(page, site, "TV-0104")
    assert typed() == ["22,1", "", ""]
    assert page.locator("table.measure tbody tr").first.get_attribute("data-is") == "in"
    page.locator(".carried__choice").select_option("406")
    assert typed() == ["", "", ""], "another vehicle's piece is another one"
    page.locator(".carried__choice").select_option("405")
    assert typed() == ["22,1", "", ""]
    page.evaluate("localStorage.setItem('spares.checked', localStorage.getItem('spares.checked').replace('21.8', '21.7'))")
    opened(page, site, "TV-0104")
    assert typed() == ["", "", ""], "other limits: measure anew"
    page.locator(".measure__box").first.fill("22")
    pressed(page.locator(".check__clear"))
    assert typed() == ["", "", ""]
    assert page.evaluate("localStorage.getItem('spares.checked')") == "{}"
    page.evaluate("localStorage.setItem('spares.checked', JSON.stringify({ 'TV-0104 405': { day: '2026-11-25', texts: [], sizes: { toString: 7, x: '<img src=x onerror=alert(1)>' } } }))")
    opened(page, site, "TV-0104")
    assert typed() == ["", "", ""]
    page.evaluate("() => { Storage.prototype.setItem = () => { throw new Error('full'); }; }")
    page.locator(".measure__box").first.fill("22")
    pressed(page.locator(".check__one label").first)
    assert page.get_by_text("This tablet keeps nothing").count() == 2
    assert ticks(page) == [True, False]


def test_a_check_that_a_newer_copy_words_otherwise_is_not_ticked(reader: Page, site: Path) -> None:
    opened(reader, site, "TV-0104")
    reader.evaluate("localStorage.setItem('spares.checked', JSON.stringify({ 'TV-0104 ': { day: '2026-11-25', texts: ['Something else.'] } }))")
    assert ticks(opened(reader, site, "TV-0104")) == [False, False]
    for broken in ("[]", "null", "{", '{"TV-0104 ": 7}', '{"TV-0104 ": {"day": 1, "texts": "x"}}'):
        reader.evaluate("kept => localStorage.setItem('spares.checked', kept)", broken)
        assert ticks(opened(reader, site, "TV-0104")) == [False, False], broken


# ---- paper ----


def printed(page: Page, file: Path) -> str:
    if which("pdftotext") is None:
        pytest.skip("pdftotext reads the print; install poppler-utils")
    page.pdf(path=file, prefer_css_page_size=True)
    return subprocess.run(["pdftotext", "-layout", file, "-"], check=True, capture_output=True, text=True).stdout


@pytest.mark.parametrize("number", ["TV-0104", "TV-0140", "TV-0417", "TV-0231", "TV-0136", "TV-0227", "TV-0272"])
def test_one_page_holds_what_is_needed_at_the_vehicle(page: Page, site: Path, tmp_path: Path, number: str) -> None:
    opened(page, site, number)
    page.locator(".paper").wait_for(state="detached")
    page.evaluate("addEventListener('beforeprint', () => { globalThis.code = document.querySelectorAll('.paper svg.paper__qr').length; })")
    text = printed(page, tmp_path / "one.pdf")
    assert text.count("\f") == 1, "one page"
    is_forbidden = page.locator(".verdicts > .verdict:not(.verdict--no)").count() == 0
    assert ("How it is fitted is therefore not on this sheet" in " ".join(text.split())) is is_forbidden
    for heading in ("Cautions", *(() if is_forbidden else ("Tools", "Measure the new part", "Steps", "Check after fitting"))):
        if page.get_by_role("heading", name=heading).count():
            assert heading in text, heading
    assert number in text
    assert "Not on this sheet" not in text
    assert "Approval history" not in text
    assert page.evaluate("code") == 1
    assert page.locator(".paper").count() == 0


def test_everything_is_the_second_choice(page: Page, site: Path, tmp_path: Path) -> None:
    opened(page, site, "TV-0104")
    assert texts(page, ".prints button") == ["Print one page", "Print everything"]
    page.evaluate("window.print = () => { dispatchEvent(new Event('beforeprint')); globalThis.how = document.documentElement.dataset.print; globalThis.open_ = document.querySelectorAll('details.folded:not([open])').length; dispatchEvent(new Event('afterprint')); }")
    pressed(page.get_by_role("button", name="Print one page"))
    assert page.evaluate("how") == "short"
    pressed(page.get_by_role("button", name="Print everything"))
    assert page.evaluate("[how, open_]") == ["long", 0]
    assert page.locator("details.folded[open]").count() == 0, "as it was"


def test_notes_that_are_too_long_for_one_page_are_named_and_not_cut_off(page: Page, site: Path, tmp_path: Path) -> None:
    opened(page, site, "TV-0104")
    page.evaluate("const list = document.querySelector('.notes.steps > ol'); for (let n = 0; n < 200; n += 1) list.append(list.children[0].cloneNode(true))")
    text = printed(page, tmp_path / "long.pdf")
    assert text.count("\f") == 1
    assert "Not on this sheet: Steps; Check after fitting." in " ".join(text.split())
    assert "The blind spring is wound." in text, "cautions always"


# ---- scripts off, eyes, hands ----


def test_without_scripts_all_of_it_can_be_read(chromium: Browser, site: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = opened(context.new_page(), site, "TV-0140")
    assert page.locator("table.measure").is_visible()
    assert page.locator(".verdict--ask .verdict__question").is_visible()
    assert page.locator("button:visible").count() == 0
    for each in FOLDED[:3]:
        pressed(page.locator(f"details:has(> summary {each}) summary").first)
        assert page.locator(f"details[open]:has(> summary {each})").count() == 1
    context.close()


def test_the_audit_finds_nothing_while_one_works(page: Page, site: Path) -> None:
    opened(page, site, "TV-0104")
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true })")
    for at, typed in enumerate(("22", "9", "x")):
        page.locator(".measure__box").nth(at).fill(typed)
    pressed(page.locator(".check__one label").first)
    page.locator("#order-count").fill("0")
    assert in_both(page) == []


def test_all_of_it_is_as_large_as_a_gloved_finger(page: Page, site: Path) -> None:
    opened(page, site, "TV-0140", "#vehicle=403")
    page.evaluate("document.querySelectorAll('.orders, .others').forEach(each => { each.open = true })")
    for what in (".prints button", ".jumps a", ".verdict__copy", "summary", ".measure__box", ".checking", ".order__copy", ".order__mail", ".ordering .field__box"):
        assert least(page, what) >= 47.5, what
