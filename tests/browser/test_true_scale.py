"""Is a millimetre a millimetre once a card has set the scale: at several pixel ratios, on the screen and on paper?"""

import json
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.audit import in_both
from tests.browser.conftest import PORTRAIT
from tests.browser.patience import wait_until

pytestmark = [pytest.mark.browser, pytest.mark.slow]

CARD_MM = 85.60  # ISO/IEC 7810, ID-1
CLOSE_MM = 0.5
OPEN = ".true-size button"
SET = """(px) => { const box = document.querySelector('.scale__slider'); box.value = String(px); box.dispatchEvent(new Event('input')); }"""
BOX = "(selector) => { const box = document.querySelector(selector).getBoundingClientRect(); return [box.width, box.height]; }"
SMALL = """[...document.querySelectorAll('dialog.truesize :is(button, input)')].filter(each => each.checkVisibility())
  .filter(each => each.getBoundingClientRect().height < 48 || each.getBoundingClientRect().width < 48).map(each => each.outerHTML)"""
# TV-0123, the vane: 138 mm over its pins, as its CAD script and tests/models/exact.json say.
VANE, LONG_MM = "TV-0123", 138.0


@pytest.fixture
def site(demo_site: Path) -> Path:
    return demo_site


@pytest.fixture(params=[1.0, 1.25, 2.0, 2.625])
def tablet(request: pytest.FixtureRequest, chromium: Browser) -> Iterator[tuple[Page, float]]:
    context = chromium.new_context(viewport=PORTRAIT, screen=PORTRAIT, device_scale_factor=request.param)
    yield context.new_page(), request.param
    context.close()


def set_by_card(page: Page, px_per_mm: float) -> None:
    """Whoever sets the scale sees the drawn card as long as a real one, to a quarter of a pixel."""
    page.click(OPEN)
    page.wait_for_selector("dialog.truesize .scale__card")
    page.evaluate(SET, CARD_MM * px_per_mm)
    width, height = page.evaluate(BOX, ".scale__card")
    assert width / height == pytest.approx(85.60 / 53.98, rel=0.01)
    page.click(".scale__set")
    page.wait_for_selector("dialog.truesize .silhouette__outline")


def test_true_on_the_screen(tablet: tuple[Page, float], site: Path) -> None:
    page, ratio = tablet
    px_per_mm = 4.0 / ratio + 2.4  # screens of 160 to 260 pixels an inch
    page.goto(f"{site.as_uri()}/parts/{VANE}.html")
    set_by_card(page, px_per_mm)
    width, _ = page.evaluate(BOX, ".silhouette__outline")
    assert width / px_per_mm == pytest.approx(LONG_MM, abs=CLOSE_MM * LONG_MM / 150)
    told = page.locator(".ruler").get_attribute("aria-label")
    ticks, _ = page.evaluate(BOX, ".ruler__ticks")
    assert ticks / px_per_mm == pytest.approx(float(told.split()[0]), abs=CLOSE_MM)
    # Kept for this screen, and for no other one.
    page.click(".truesize__close")
    wait_until(page, "!(history.state || {})['spares.window']")
    page.reload()
    page.click(OPEN)
    page.wait_for_selector("dialog.truesize .silhouette__outline")
    kept = json.loads(page.evaluate("localStorage.getItem('spares.scale')"))
    kept["ratio"] += 0.5
    page.evaluate("(text) => localStorage.setItem('spares.scale', text)", json.dumps(kept))
    page.click(".truesize__close")
    page.click(OPEN)
    page.wait_for_selector("dialog.truesize .scale__card")


SCREENS = [{"width": 360, "height": 740}, {"width": 844, "height": 390}, {"width": 1024, "height": 768}]


def test_the_window_stands_still_and_what_is_done_in_it_is_in_sight(chromium: Browser, site: Path) -> None:
    context = chromium.new_context(viewport=SCREENS[0], screen=SCREENS[0])
    page = context.new_page()
    page.goto(f"{site.as_uri()}/parts/{VANE}.html")
    for size in SCREENS:
        page.set_viewport_size(size)
        page.click(OPEN)
        page.wait_for_selector("dialog.truesize .scale__card")
        scrolled = page.evaluate("scrollY")
        page.mouse.move(size["width"] / 2, size["height"] / 2)
        page.mouse.wheel(0, 900)
        page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
        assert page.evaluate("[scrollY, getComputedStyle(document.querySelector('dialog.truesize')).position]") == [scrolled, "fixed"]
        box = page.locator(".scale__set").bounding_box()
        assert box["y"] + box["height"] <= size["height"], "keeping the scale needs no scrolling"
        width, height = page.evaluate(BOX, ".scale__card")
        assert (width > height) == (size["width"] > 440), "it lies where it has room to lie"
        assert page.evaluate(SMALL) == []
        page.evaluate("history.back()")
        page.wait_for_selector("dialog.truesize", state="detached")
        assert page.url.endswith(f"{VANE}.html")
    context.close()


def test_true_on_paper(chromium: Browser, site: Path, tmp_path: Path) -> None:
    context = chromium.new_context(viewport=PORTRAIT, screen=PORTRAIT)
    page = context.new_page()
    page.goto(f"{site.as_uri()}/parts/{VANE}.html")
    set_by_card(page, 5.0)
    assert in_both(page) == []
    assert page.evaluate(SMALL) == []
    page.click(".truesize__ways button:first-child")
    page.wait_for_selector("dialog.truesize .scale__card")
    assert in_both(page) == []
    assert page.evaluate(SMALL) == []
    page.click(".scale__set")
    page.wait_for_selector("dialog.truesize .silhouette__outline")
    page.evaluate("window.print = () => {}")
    page.click(".truesize__ways button:last-child")
    page.pdf(path=tmp_path / "true.pdf", prefer_css_page_size=True)
    context.close()
    drawn = subprocess.run(["pdftoppm", "-r", "254", "-gray", "-singlefile", str(tmp_path / "true.pdf")], capture_output=True, check=True)
    assert ruler_mm(drawn.stdout) == pytest.approx(150.0, abs=0.3)
    text = subprocess.run(["pdftotext", str(tmp_path / "true.pdf"), "-"], capture_output=True, check=True, text=True).stdout
    assert VANE in text
    assert "150 mm" in " ".join(text.split())


def ruler_mm(pgm: bytes) -> float:
    """The longest straight dark line of a page, at 254 pixels an inch: ten to the millimetre."""
    header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", pgm)
    assert header
    width, rows = int(header[1]), pgm[header.end() :]
    return max(longest_run(rows[at : at + width]) for at in range(0, len(rows), width)) / 10


def longest_run(row: bytes) -> int:
    return max((len(run) for run in re.findall(rb"[\x00-\xa0]+", row)), default=0)
