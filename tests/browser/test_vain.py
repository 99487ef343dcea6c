"""Are queries that found nothing kept on the tablet, and do they leave only by a hand, once, as a file that is taken in?"""

import json
import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from generator.edge.cli import main
from generator.reading.catalogue import read_catalogue
from tests.browser.audit import in_both, violations
from tests.browser.conftest import gone_to, pressed, resized
from tests.browser.test_request import NOON, filled, saved
from tests.fixtures.copying import copied_from
from tests.fixtures.tablets import unseen
from tests.pages.sample import CATALOGUE, DAY

pytestmark = [pytest.mark.browser, pytest.mark.slow]

RESTS = 2100
TODAY = DAY.isoformat()


@pytest.fixture
def site(sample_site: Path) -> Path:
    return sample_site


@pytest.fixture
def page(own_tablet: BrowserContext) -> Page:
    """From disk, without any network, by a clock that a test moves."""
    own_tablet.set_offline(True)
    page = unseen(own_tablet)
    page.clock.install(time=NOON)
    return page


@pytest.fixture
def catalogue(tmp_path: Path) -> Path:
    return copied_from(CATALOGUE, tmp_path / "catalogue")


def opened(page: Page, site: Path, name: str) -> Page:
    return gone_to(page, f"{site.as_uri()}/{name}")


def finder(page: Page, site: Path) -> Page:
    opened(page, site, "index.html")
    expect(page.locator(".finder__example").first).to_be_visible()
    return page


def typed(page: Page, *texts: str, rest: int = RESTS) -> None:
    """One text after the other, each left standing."""
    box = page.locator(".finder--home .finder__input")
    for text in texts:
        box.fill(text)
        if re.search(r"\w", text, re.ASCII):
            page.locator(".finder__found :is(.finder__none, .hit)").first.wait_for(state="attached")
        page.evaluate("() => spares.screen.catalogue()")  # what finds is there, so that the answer has been given
        page.clock.run_for(rest)


def kept(page: Page) -> list[tuple[str, int]]:
    found = json.loads(page.evaluate("localStorage.getItem('spares.vain') || '[]'"))
    return [(each["text"], each["times"]) for each in found]


def keep(page: Page, *texts: str, times: int = 1) -> None:
    listed = [{"text": text, "times": times, "last": TODAY} for text in texts]
    page.evaluate("list => localStorage.setItem('spares.vain', JSON.stringify(list))", listed)


def test_a_query_that_rests_in_vain_is_kept_once(page: Page, site: Path) -> None:
    finder(page, site)
    typed(page, "latch")  # what finds is read by now: the clock runs on beside what moves it
    typed(page, "flugelhorn", rest=100)
    assert kept(page) == []
    page.clock.run_for(RESTS)
    assert kept(page) == [("flugelhorn", 1)]
    typed(page, "", "  Flugelhorn ", "")  # looked at again on the same page
    assert kept(page) == [("flugelhorn", 1)]
    finder(page, site)
    typed(page, "FLUGELHORN")
    assert kept(page) == [("FLUGELHORN", 2)]
    page.reload()  # the address asks for it again, and nobody has typed
    expect(page.locator(".finder__none")).to_be_visible()
    page.clock.run_for(5000)
    assert kept(page) == [("FLUGELHORN", 2)]


def test_what_is_found_is_not_kept(page: Page, site: Path) -> None:
    finder(page, site)
    typed(page, "latch", "", "???", "   ")
    assert kept(page) == []


def test_a_beginning_of_what_was_typed_next_is_not_kept(page: Page, site: Path) -> None:
    finder(page, site)
    keep(page, "zzro", times=3)
    typed(page, "zzro", "zzroll", "zzroller pi", "zzroller pi xylo")
    assert kept(page) == [("zzro", 3), ("zzroller pi xylo", 1)]
    typed(page, "", "lat", "latch")  # found in the end
    assert [text for text, _ in kept(page)] == ["zzro", "zzroller pi xylo"]


def test_asking_for_a_new_design_keeps_it_at_once_and_once(page: Page, site: Path) -> None:
    finder(page, site)
    typed(page, "flugelhorn", rest=100)
    pressed(page.get_by_role("link", name="Ask for a new design"))
    expect(page.get_by_label("What is it called?")).to_have_value("flugelhorn")
    assert kept(page) == [("flugelhorn", 1)]
    finder(page, site)
    typed(page, "ocarina")
    pressed(page.locator(".finder__ask"))
    page.wait_for_url("**/request.html*")
    assert kept(page)[-1] == ("ocarina", 1)


def test_at_most_200_short_single_lines_are_kept_and_the_oldest_go(page: Page, site: Path) -> None:
    finder(page, site)
    keep(page, *(f"old {at}" for at in range(200)))
    page.evaluate("text => { const box = document.querySelector('.finder__input'); box.removeAttribute('maxlength'); }")
    typed(page, "q" * 239 + "\U0001f527" + "x" * 10_000)
    found = kept(page)
    assert len(found) == 200
    assert found[0][0] == "old 1"
    assert found[-1][0] == "q" * 239  # no half of a sign
    typed(page, "", "zz\u202eturned\u0007 <b>&amp; \u05d9\u05d3\u05d9\u05ea")
    assert kept(page)[-1][0] == "zzturned <b>&amp; \u05d9\u05d3\u05d9\u05ea"


@pytest.mark.parametrize("why", ["forbidden", "full", "not ours"])
def test_a_tablet_that_keeps_nothing_goes_on(own_tablet: BrowserContext, page: Page, site: Path, why: str) -> None:
    scripts = {
        "forbidden": "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });",
        "full": "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };",
        "not ours": "try { localStorage.setItem('spares.vain', '[1, null, {\"text\": 7}, {\"text\": \"a\", \"times\": -1, \"last\": \"x\"}]'); } catch {}",
    }
    own_tablet.add_init_script(scripts[why])
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    finder(page, site)
    typed(page, "flugelhorn")
    opened(page, site, "requests.html")
    expect(page.get_by_role("heading", name="Requests", exact=True)).to_be_visible()
    assert page.locator("[data-vain]").is_visible() is False
    assert faults == []


def test_it_leaves_with_the_next_request_and_never_in_the_code(page: Page, site: Path, catalogue: Path, tmp_path: Path) -> None:
    finder(page, site)
    typed(page, "flugelhorn")
    opened(page, site, "request.html")
    filled(page)
    pressed(page.get_by_role("button", name="Make the request"))
    expect(page.locator(".handover__along")).to_contain_text("One query that found nothing")
    expect(page.locator(".handover__text")).to_contain_text("flugelhorn")
    coded: list[str] = page.evaluate(
        "() => { const texts = []; const real = spares.request.qrCode; spares.request.qrCode = (text, how) => { texts.push(text); return real(text, how); };"
        " document.querySelector('.handover__change').click(); document.querySelector('.request__form').requestSubmit(); return texts; }"
    )
    assert coded
    assert not any("flugelhorn" in text for text in coded)
    file = saved(page, tmp_path)
    pressed(page.get_by_role("button", name="Change it"))  # and handed over once more: the file is another, the list the same
    pressed(page.get_by_role("button", name="Make the request"))
    expect(page.locator(".handover__text")).to_contain_text("flugelhorn")
    assert kept(page) == [("flugelhorn", 0)]
    pressed(page.get_by_role("button", name="It is handed over"))
    expect(page.get_by_role("heading", name="Requests", exact=True)).to_be_visible()
    expect(page.locator("[data-vain]")).to_be_hidden()
    assert main(["request", "add", "--catalogue", str(catalogue), "--on", TODAY, str(file)]) == 0
    collected = [each for each in read_catalogue(catalogue).queries.values() if each.with_request]
    assert [(each.text, each.times, each.last) for each in collected[0].looked_for] == [("flugelhorn", 1, DAY)]
    opened(page, site, "request.html#adds=R-1")
    page.get_by_label("How many are needed").fill("2")
    page.get_by_label("Your role").select_option("fitter")
    pressed(page.get_by_role("button", name="Make my voice"))
    expect(page.locator(".handover__text")).to_be_visible()
    expect(page.locator(".handover__text")).not_to_contain_text("flugelhorn")  # it is not sent again


def test_it_leaves_with_a_voice(page: Page, site: Path, catalogue: Path, tmp_path: Path) -> None:
    opened(page, site, "request.html#adds=R-1")
    keep(page, "flugelhorn", times=3)
    page.get_by_label("How many are needed").fill("2")
    page.get_by_label("Your role").select_option("fitter")
    pressed(page.get_by_role("button", name="Make my voice"))
    file = saved(page, tmp_path)
    assert main(["request", "add", "--catalogue", str(catalogue), "--on", TODAY, str(file)]) == 0
    (collected,) = (each for each in read_catalogue(catalogue).queries.values() if each.with_request == "R-1")
    assert [(each.text, each.times) for each in collected.looked_for] == [("flugelhorn", 3)]


def test_it_leaves_by_a_button_as_a_file(page: Page, site: Path, catalogue: Path, tmp_path: Path) -> None:
    odd = 'Löfte "é" #1: \\ {x}, [y] \U0001f527 <b>&'
    opened(page, site, "requests.html")
    expect(page.locator("[data-vain]")).to_be_hidden()
    keep(page, "flugelhorn", odd, "405", "yes", times=2)
    opened(page, site, "requests.html")
    vain = page.locator("[data-vain]")
    expect(vain).to_contain_text("Nothing leaves this tablet by itself")
    expect(vain.locator("li")).to_have_count(4)
    expect(vain.locator("b, script")).to_have_count(0)
    pressed(vain.get_by_role("button", name="Save what was looked for in vain (4)"))
    expect(page.locator(".handover__scan, .handover__long")).to_have_count(0)
    file = saved(page, tmp_path)
    assert file.name == f"queries-{TODAY}.yml"
    assert main(["queries", "add", "--catalogue", str(catalogue), "--on", TODAY, str(file)]) == 0
    collected = next(each for each in read_catalogue(catalogue).queries.values() if each.collected == DAY)
    assert [(each.text, each.times) for each in collected.looked_for] == [("flugelhorn", 2), (odd, 2), ("405", 2), ("yes", 2)]
    pressed(page.get_by_role("button", name="It is handed over"))
    expect(vain).to_be_hidden()
    finder(page, site)
    typed(page, "flugelhorn")
    opened(page, site, "requests.html")
    expect(vain.get_by_role("button", name="Save what was looked for in vain (1)")).to_be_visible()


def test_a_person_can_look_at_them_and_delete_them(page: Page, site: Path) -> None:
    opened(page, site, "requests.html")
    keep(page, "one", "two", "three")
    page.reload()
    pressed(page.get_by_role("button", name="Delete: two"))
    assert [text for text, _ in kept(page)] == ["one", "three"]
    pressed(page.get_by_role("button", name="Delete all"))
    assert page.evaluate("localStorage.getItem('spares.vain')") is None
    expect(page.locator("[data-vain]")).to_be_hidden()


def test_a_clock_that_was_wrong_makes_no_file_that_is_refused(page: Page, site: Path, catalogue: Path, tmp_path: Path) -> None:
    page.clock.set_fixed_time(NOON + timedelta(days=40))
    opened(page, site, "requests.html")
    page.evaluate("localStorage.setItem('spares.vain', JSON.stringify([{ text: 'flugelhorn', times: 1, last: '2027-01-04' }]))")
    page.clock.set_fixed_time(datetime(2001, 1, 1, tzinfo=UTC))
    page.reload()
    pressed(page.get_by_role("button", name="Save what"))
    file = saved(page, tmp_path)
    assert main(["queries", "add", "--catalogue", str(catalogue), "--on", TODAY, str(file)]) == 0


def test_for_gloved_hands_and_for_all_eyes(page: Page, site: Path) -> None:
    opened(page, site, "requests.html")
    keep(page, "flugelhorn", "x" * 240, "a query of several words that runs on and on")
    page.reload()
    expect(page.locator(".vain__save")).to_be_visible()
    assert in_both(page) == []
    for width in (800, 390):
        resized(page, {"width": width, "height": 900})
        boxes = [box for each in page.locator("[data-vain] button").all() if (box := each.bounding_box())]
        assert len(boxes) == 5
        assert min(min(box["width"], box["height"]) for box in boxes) >= 48  # px, for a finger in a glove
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    pressed(page.get_by_role("button", name="Save what"))
    assert violations(page, "light") == []
    opened(page, site, "looked-for.html")
    assert violations(page, "light") == []
    boxes = [box for each in page.locator(".looked__text").all() if (box := each.bounding_box())]
    assert min(box["height"] for box in boxes) >= 48
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_what_was_collected_is_a_page_that_asks_the_finder(page: Page, site: Path) -> None:
    opened(page, site, "requests.html")
    pressed(page.get_by_role("link", name="Looked for in vain"))
    lines = page.locator(".looked__one")
    expect(lines.first).to_contain_text("blind cord")
    expect(lines.first).to_contain_text("last on 20 Nov 2026")
    expect(lines.locator("b")).to_have_count(0)
    pressed(page.get_by_role("link", name="blind cord"))
    expect(page.locator(".finder--home .finder__input")).to_have_value("blind cord")
    page.clock.run_for(5000)
    assert kept(page) == []  # nobody typed
