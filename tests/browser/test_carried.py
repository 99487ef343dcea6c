"""A vehicle that is chosen once stays chosen, and never makes a word kinder: what a mechanic at one vehicle expects."""

import subprocess
from datetime import UTC, datetime
from pathlib import Path
from shutil import which
from urllib.parse import urlencode

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.audit import in_both
from tests.browser.conftest import PHONE, PORTRAIT, gone_to, least, pressed, texts
from tests.browser.patience import wait_until

pytestmark = [pytest.mark.browser, pytest.mark.slow]

KINDS = [
    "index.html", "vehicles.html", "vehicles/TR4/at-cab.html", "states.html", "states/approved.html", "requests.html", "request.html", "approvals.html",
    "evidence.html", "fire-tests.html", "catalogue.html", "parts/TV-0101.html", "guide/mechanics.html", "changelog.html",
]  # fmt: skip
CHOOSER = ".carried__choice"

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



def opened(page: Page, site: Path, kind: str) -> Page:
    return gone_to(page, f"{site.as_uri()}/{kind}")


def carried(page: Page) -> str:
    return str(page.locator(CHOOSER).input_value())


def choose(page: Page, vehicle: str) -> None:
    page.locator(CHOOSER).select_option(vehicle)


def seen(page: Page) -> list[str]:
    """The verdicts that are seen without a tap."""
    return page.locator(".verdict:visible .verdict__word").all_inner_texts()


# ---- chosen or typed once, it stays chosen ----


def test_it_is_chosen_in_the_header_and_stays_on_every_kind_of_page(reader: Page, site: Path) -> None:
    choose(opened(reader, site, "index.html"), "405")
    for kind in KINDS:
        opened(reader, site, kind)
        assert carried(reader) == "405", kind
        top = reader.evaluate("selector => [...document.querySelectorAll(selector)].filter(each => each.checkVisibility()).map(each => each.getBoundingClientRect().top)", CHOOSER)
        assert len(top) == 1, kind
        assert top[0] < 200, kind
        assert "TR4 405" in reader.locator(f"{CHOOSER} option:checked").inner_text()


def test_it_is_chosen_on_the_page_of_the_vehicles(page: Page, site: Path) -> None:
    pressed(opened(page, site, "vehicles.html").get_by_role("button", name="405", exact=True))
    assert carried(page) == "405"
    assert page.get_by_role("button", name="405", exact=True).get_attribute("aria-pressed") == "true"
    assert carried(opened(page, site, "parts/TV-0101.html")) == "405"


def test_it_is_chosen_in_one_place_of_a_page_and_the_finder_follows(page: Page, site: Path) -> None:
    opened(page, site, "index.html").locator(".finder__filters select[name=fleet]").select_option("TR7")
    choose(page, "405")
    assert page.locator(".finder__filters select[name=fleet]").input_value() == "", "a vehicle says more than a fleet"
    assert page.locator("select:visible", has=page.locator("option[value='405']")).count() == 1
    page.locator(".finder__input").fill("hose")
    page.locator(".hit__link").first.wait_for()
    assert page.locator(".hit").filter(has_text="TV-0140").locator(".hit__stand").all_inner_texts() == ["TR4 405\nDo not fit"]


def test_it_is_typed(reader: Page, site: Path) -> None:
    opened(reader, site, "index.html")
    for typed in ("405", "car 405 knob", "TR4 405 knob", "knob 405"):
        reader.locator(".finder__input").fill(typed)
        wait_until(reader, "document.querySelector('.carried__choice').value === '405'")
        assert reader.evaluate("localStorage.getItem('spares.vehicle')") == "405", typed
        if typed != "knob 405":  # what is typed next begins without
            choose(reader, "")
            reader.locator(".finder__input").fill("")
    assert carried(opened(reader, site, "parts/TV-0417.html")) == "405"


def test_what_was_only_the_beginning_of_a_size_is_not_chosen_for_good_and_what_is_typed_next_leaves_it_chosen(
    reader: Page, site: Path
) -> None:
    opened(reader, site, "index.html")
    reader.locator(".finder__input").fill("405")
    wait_until(reader, "document.querySelector('.carried__choice').value === '405'")
    reader.locator(".finder__input").fill("405 x 20")
    wait_until(reader, "document.querySelector('.carried__choice').value === ''")
    reader.locator(".finder__input").fill("")
    reader.locator(".finder__input").fill("405")
    wait_until(reader, "document.querySelector('.carried__choice').value === '405'")
    reader.locator(".finder__input").fill("")
    reader.locator(".finder__input").fill("hose guide")
    reader.locator(".hit__link").first.wait_for()
    reader.wait_for_timeout(1000)
    assert carried(reader) == "405"


def test_what_names_no_vehicle_or_several_chooses_none(reader: Page, site: Path) -> None:
    opened(reader, site, "index.html")
    for typed in ("40 x 20", "0417", "21", "403 405", "knob", "405 x 20", "4-117-0417"):
        reader.locator(".finder__input").fill("")
        reader.locator(".hit__link, .finder__none").first.wait_for(state="detached")
        reader.locator(".finder__input").fill(typed)
        reader.locator(".hit__link, .finder__none").first.wait_for()
        reader.locator(".finder__input").press("Tab")
        reader.wait_for_timeout(1000)
        assert carried(reader) == "", typed


# ---- in the address, so that the link keeps it ----


def test_the_address_keeps_it_and_the_link_brings_it_to_another_tablet(page: Page, site: Path, chromium: Browser) -> None:
    choose(opened(page, site, "parts/TV-0140.html"), "403")
    assert "vehicle=403" in page.url
    other = chromium.new_page()
    other.goto(page.url)
    assert carried(other) == "403"
    other.goto(f"{site.as_uri()}/index.html")
    assert carried(other) == "403", "the other tablet has learned it from the link"
    other.close()


def test_the_finders_address_keeps_it_beside_what_was_typed(reader: Page, site: Path) -> None:
    choose(opened(reader, site, "index.html"), "405")
    reader.locator(".finder__input").fill("hose")
    wait_until(reader, "location.href.includes('q=hose')")
    assert "vehicle=405" in reader.url
    opened(reader, site, reader.url.rsplit("/", 1)[1])
    assert (reader.locator(".finder__input").input_value(), carried(reader)) == ("hose", "405")


def test_where_nothing_can_be_kept_links_carry_it(own_tablet: BrowserContext, site: Path) -> None:
    own_tablet.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('forbidden'); } })")
    page = own_tablet.new_page()
    opened(page, site, "vehicles/TR4/at-cab.html#vehicle=405")
    assert carried(page) == "405"
    pressed(page.locator(".cards a").first)
    page.wait_for_url("**/parts/**")
    assert carried(page) == "405"


def test_a_place_on_a_page_is_still_reached_by_its_address(reader: Page, site: Path) -> None:
    choose(opened(reader, site, "index.html"), "405")
    opened(reader, site, "parts/TV-0101.html#how-to-get-one")
    assert reader.url.endswith("#how-to-get-one")
    assert reader.locator("#how-to-get-one").bounding_box()["y"] < 900


# ---- one tap to change or drop ----


def test_one_tap_drops_it(page: Page, site: Path) -> None:
    choose(opened(page, site, "parts/TV-0101.html"), "405")
    pressed(page.locator(".carried__drop"))
    assert (carried(page), "vehicle=" in page.url) == ("", False)
    assert page.locator(".verdict:visible").count() == 2
    assert carried(opened(page, site, "index.html")) == ""


def test_it_is_changed_where_it_stands(reader: Page, site: Path) -> None:
    choose(opened(reader, site, "parts/TV-0140.html"), "403")
    assert seen(reader) == ["Ask first"]
    choose(reader, "404")
    assert seen(reader) == ["Do not fit"]


def test_a_finger_and_a_keyboard_reach_it(page: Page, site: Path) -> None:
    opened(page, site, "parts/TV-0101.html")
    choose(page, "405")
    for what in (CHOOSER, ".carried__drop"):
        assert least(page, what) >= 47.5, what
    page.locator(CHOOSER).focus()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert carried(page) == ""
    assert page.evaluate("document.activeElement === document.querySelector('.carried__choice')"), "the focus is not lost"


# ---- its verdict alone in large, the others folded ----


def test_on_a_parts_page_its_verdict_stands_alone_and_larger(page: Page, site: Path) -> None:
    opened(page, site, "parts/TV-0140.html")
    before = dict(page.evaluate("[...document.querySelectorAll('.verdict')].map(box => [box.querySelector('.verdict__who').textContent, box.querySelector('.verdict__word').textContent])"))
    size = "parseFloat(getComputedStyle(document.querySelector('.verdict__word')).fontSize)"
    plain = page.evaluate(size)
    choose(page, "403")
    assert len(seen(page)) == 1
    assert page.evaluate("parseFloat(getComputedStyle(document.querySelector('.mine .verdict__word')).fontSize)") > plain
    pressed(page.locator(".others summary").first)
    after = dict(page.evaluate("[...document.querySelectorAll('.verdict')].map(box => [box.querySelector('.verdict__who').textContent, box.querySelector('.verdict__word').textContent])"))
    assert after == before, "each word is the same, and none is lost"


def test_no_vehicle_has_a_kinder_word_than_without(reader: Page, site: Path) -> None:
    """For each vehicle of each fleet: the worst word that speaks of it, or Do not fit where none does."""
    order = ["fit", "ask", "no"]
    for number in ("TV-0101", "TV-0140", "TV-0112", "TV-0136", "TV-0272"):
        opened(reader, site, f"parts/{number}.html")
        plain = reader.evaluate("[...document.querySelectorAll('.verdict')].map(box => [box.dataset.fleet, box.dataset.vehicles, box.className.match(/verdict--(fit|ask|no)/)[1]])")
        for fleet, vehicle in (("TR4", 401), ("TR4", 403), ("TR4", 405), ("TR7", 701), ("W2", 21)):
            choose(reader, str(vehicle))
            told = [order.index(each) for each in reader.evaluate("[...document.querySelectorAll('.mine .verdict')].map(box => box.className.match(/verdict--(fit|ask|no)/)[1])")]
            due = [order.index(word) for of, ranges, word in plain if of == fleet and any(int(r.split("-")[0]) <= vehicle <= int(r.split("-")[-1]) for r in ranges.split())]
            assert sorted(told) == sorted(due or [2]), (number, vehicle)


def test_a_part_that_is_not_made_for_it_says_do_not_fit(reader: Page, site: Path) -> None:
    choose(opened(reader, site, "parts/TV-0112.html"), "405")
    assert seen(reader) == ["Do not fit"]
    assert "405" in reader.locator(".mine").inner_text()
    assert reader.locator(".at-hand .shelf__no").is_visible() or not reader.locator(".at-hand[data-shelf]").count()


def test_shelf_order_and_print_speak_of_it(page: Page, site: Path, tmp_path: Path) -> None:
    opened(page, site, "parts/TV-0101.html")
    choose(page, "405")
    told = page.locator(".order__text").first.text_content() or ""
    assert "TR4 401–412" in told
    assert "TR7" not in told.split("SHA-256")[1]
    choose(page, "22")
    assert page.locator(".order-no").is_visible()
    assert "Vehicle W2 22" in page.locator(".order-no").inner_text()
    if which("pdftotext") is None:
        pytest.skip("pdftotext reads the print; install poppler-utils")
    choose(page, "405")
    page.pdf(path=tmp_path / "a.pdf", prefer_css_page_size=True)
    subprocess.run(["pdftotext", "-layout", tmp_path / "a.pdf", tmp_path / "a.txt"], check=True)
    text = (tmp_path / "a.txt").read_text(encoding="utf-8")
    assert "405" in text
    assert "701–708" not in text


def test_lists_and_cards_answer_for_it_alone(reader: Page, site: Path) -> None:
    choose(opened(reader, site, "index.html"), "405")
    reader.locator(".finder__input").fill("end plug")  # TV-0112, of another fleet
    plug = reader.locator(".hit").filter(has_text="TV-0112")
    plug.wait_for()
    assert plug.locator(".hit__stand").all_inner_texts() == ["TR4 405\nDo not fit"]
    size = "parseFloat(getComputedStyle(document.querySelector('.hit__verdict')).fontSize)"
    large = reader.evaluate(size)
    choose(reader, "")
    reader.locator(".hit__who", has_text="TR7").first.wait_for()
    assert reader.evaluate(size) < large
    choose(reader, "405")
    opened(reader, site, "vehicles/TR4/at-cab.html")
    reader.locator(".stand").first.wait_for()
    assert reader.locator(".stands").count() == reader.locator(".stand__who", has_text="405").count()
    opened(reader, site, "vehicles/TR7/at-saloon-door.html")
    reader.locator(".stand").first.wait_for()
    surround = reader.locator(".cards li").filter(has_text="TV-0101").locator(".stand__who")
    assert surround.all_inner_texts() == ["TR4 405"], "what holds for it on its own door, on the page of another fleet's"
    opened(reader, site, "states/approved.html")
    reader.locator(".stand").first.wait_for()
    assert reader.locator(".stand__who", has_text="TR7").count() == 0


def test_made_for_never_stands_beside_do_not_fit(reader: Page, site: Path) -> None:
    opened(reader, site, "index.html")
    for typed in ("car 405", "405", "TR4 405 hose", "car 703 gear", "W2 22"):
        choose(reader, "")
        reader.locator(".finder__input").fill("")
        reader.locator(".hit__link").first.wait_for(state="detached")
        reader.locator(".finder__input").fill(typed)
        reader.locator(".hit__link").first.wait_for()
        reader.wait_for_timeout(200)
        for hit in texts(reader, ".hit"):
            assert not ("Made for vehicle" in hit and "Do not fit" in hit), (typed, hit)


# ---- what the fleet does not know ----


@pytest.mark.parametrize("asked", ["499", "0", "-1", "405abc", "<img src=x onerror=alert(1)>", "9" * 10_000, "🔧", "مقبض", "^.*$", "__proto__"])
def test_a_vehicle_that_no_fleet_has_is_told_so_and_never_chosen(reader: Page, site: Path, asked: str) -> None:
    opened(reader, site, f"parts/TV-0101.html#{urlencode({'vehicle': asked})}")
    reader.locator(".carried__told").wait_for()
    assert carried(reader) == ""
    assert "No vehicle" in reader.locator(".carried__told").inner_text()
    assert len(reader.locator(".carried__told").inner_text()) < 120
    assert seen(reader) == ["Do not fit"], "no word for a vehicle that was not asked for"
    assert reader.evaluate("localStorage.getItem('spares.vehicle')") is None
    opened(reader, site, f"states/approved.html{reader.url[reader.url.index('#'):]}")
    reader.locator(".stand--no").first.wait_for()
    assert reader.locator(".stand--fit, .stand--ask").count() == 0


def test_after_a_newer_copy_it_is_looked_up_anew(reader: Page, site: Path) -> None:
    """The tablet keeps a number and no word; a copy that does not know it any more chooses none."""
    choose(opened(reader, site, "parts/TV-0140.html"), "403")
    assert reader.evaluate("localStorage.getItem('spares.vehicle')") == "403"
    reader.route("**/rules.js", lambda route: route.fulfill(body=(site / "assets/data/rules.js").read_text().replace("401-412", "404-412"), content_type="text/javascript"))
    opened(reader, site, "parts/TV-0140.html")
    assert carried(reader) == ""
    assert "403" in reader.locator(".carried__told").inner_text()
    reader.unroute_all()


def test_another_day_judges_it_anew(reader: Page, site: Path) -> None:
    choose(opened(reader, site, "parts/TV-0417.html"), "405")
    assert seen(reader) == ["Fit it"]
    reader.clock.set_fixed_time(datetime(2031, 1, 1, 12, tzinfo=UTC))
    reader.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert "Fit it" not in seen(reader)


# ---- scripts off, eyes, colours ----


def test_with_scripts_off_nothing_is_hidden(chromium: Browser, site: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{site.as_uri()}/parts/TV-0140.html#vehicle=403")
    assert page.locator(".verdict:visible").count() == 3
    assert page.locator(CHOOSER).count() == 0
    context.close()


def test_a_script_that_fails_hides_nothing(reader: Page, site: Path) -> None:
    reader.route("**/parts/TV-0140.js", lambda route: route.abort())
    opened(reader, site, "parts/TV-0140.html#vehicle=403")
    assert "Fit it" not in texts(reader, ".verdict__word")
    reader.unroute_all()


def test_the_audit_finds_nothing_with_a_vehicle_carried(reader: Page, site: Path) -> None:
    for kind in ("index.html", "vehicles.html", "parts/TV-0140.html", "parts/TV-0112.html", "states/approved.html"):
        opened(reader, site, f"{kind}#vehicle=405")
        reader.locator(".carried__drop").wait_for()
        reader.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true })")
        assert in_both(reader) == [], kind


# ---- ways in by place ----


def test_the_fleet_of_the_carried_vehicle_comes_first_and_a_place_of_another_is_told(page: Page, site: Path) -> None:
    page.set_viewport_size(PHONE)
    opened(page, site, "vehicles.html#vehicle=701")
    assert page.locator("h2").first.inner_text().startswith("TR7")
    assert page.locator(".outline__slides:visible").count() > 0, "a drawing that is wider than a phone says that it slides"
    opened(page, site, "vehicles/TR4/at-cab.html")
    assert "is a place on TR4. TR7 701 is chosen" in page.locator(".elsewhere").inner_text()
    choose(page, "405")
    assert page.locator(".elsewhere").is_hidden()
    page.set_viewport_size(PORTRAIT)
    opened(page, site, "vehicles.html")
    assert page.locator("h2").first.inner_text().startswith("TR4")
    assert page.locator(".outline__slides:visible").count() == 0
