"""A tablet in another language: long words find room on a small screen, and what scripts say is in that language too."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import gone_to, resized
from tests.browser.patience import wait_until
from tests.pages.translated import LANGUAGES, any_of, phrases, site_in

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SCREENS = {"phone": {"width": 390, "height": 844}, "upright": {"width": 800, "height": 1280}}
KINDS = ["index.html", "vehicles.html", "parts/P-0001.html", "parts/P-0004.html", "approvals.html", "evidence.html", "request.html", "guide/mechanics.html"]
LARGE = "document.documentElement.style.setProperty('font-size', '250%', 'important')"
SHOWN = """() => [document.body.innerText, ...[...document.querySelectorAll("[aria-label], [placeholder], [title], [alt]")]
  .flatMap(each => ["aria-label", "placeholder", "title", "alt"].map(name => each.getAttribute(name) || ""))].join(" | ")"""
CUT = """() => [...document.querySelectorAll(".carried__choice, .finder__filters select")].filter(each => each.getClientRects().length).flatMap(each => {
  const style = getComputedStyle(each), pen = document.createElement("canvas").getContext("2d");
  pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
  const text = each.selectedOptions[0].textContent, room = each.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - 20;
  return pen.measureText(text).width <= room ? [] : [text];
})"""

BROKEN = r"""() => [...document.querySelectorAll("th, .button")].filter(each => each.getClientRects().length && each.firstChild?.nodeType === 3).filter(each => {
  const range = document.createRange(), text = each.firstChild;
  return [...text.textContent.matchAll(/[^\s\-–\/.]{2,}/g)].some(word => {
    range.setStart(text, word.index);
    range.setEnd(text, word.index + word[0].length);
    return new Set([...range.getClientRects()].map(box => Math.round(box.top))).size > 1;
  });
}).map(each => each.textContent)"""
"""Heads of tables and buttons in which a word goes on in the next line."""


@pytest.fixture(params=LANGUAGES)
def language(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def site(language: str, tmp_path_factory: pytest.TempPathFactory, warm_store: Path) -> Path:
    return site_in(language, tmp_path_factory, warm_store)


@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one."""
    return reader


def test_long_words_burst_no_screen(page: Page, site: Path) -> None:
    for kind in KINDS:
        page.goto(f"{site.as_uri()}/{kind}")
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true })")
        for name, size in SCREENS.items():
            resized(page, size)
            page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
            assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, (name, kind)
            assert page.evaluate(CUT) == [], (name, kind)
            assert name == "phone" or page.evaluate(BROKEN) == [], (name, kind)  # a phone shows tables as lists
        page.evaluate(LARGE)
        for size in SCREENS.values():
            resized(page, size)
            wait_until(page, "document.documentElement.scrollWidth <= innerWidth", 5_000)  # a script counts the room anew


def test_what_scripts_say_is_in_the_language(page: Page, site: Path, language: str) -> None:
    page.set_viewport_size(SCREENS["phone"])
    english = any_of(phrases(language))
    for kind in ("index.html#q=xyzzy", "index.html#q=latch", "parts/P-0001.html#vehicle=2", "request.html", "requests.html", "guide/tablet.html"):
        gone_to(page, f"{site.as_uri()}/{kind}")
        page.locator(".finder__input").first.wait_for()
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true })")
        assert set(english.findall(page.evaluate(SHOWN))) == set(), kind


def test_no_word_of_the_bar_is_broken(page: Page, site: Path) -> None:
    page.set_viewport_size(SCREENS["phone"])
    page.goto(f"{site.as_uri()}/index.html")
    heights = page.evaluate("[...document.querySelectorAll('.bar span')].map(each => [each.textContent, each.getBoundingClientRect().height / parseFloat(getComputedStyle(each).lineHeight)])")
    assert [word for word, lines in heights if round(lines) > len(word.split())] == []
    assert page.evaluate("[...document.querySelectorAll('.bar span')].every(each => each.getBoundingClientRect().width <= each.parentElement.clientWidth)")
