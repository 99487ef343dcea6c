"""Tablets: pages of the one Chromium of all tests."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, ViewportSize

from tests.fixtures.tablets import forgetting, unseen
from tests.pages.conftest import demo_site, hostile_site, sample_site
from tests.pages.sample import DAY

__all__ = ["demo_site", "hostile_site", "sample_site"]  # fixtures here as well

PORTRAIT = {"width": 800, "height": 1280}
LANDSCAPE = {"width": 1280, "height": 800}
PHONE = {"width": 390, "height": 844}
NOON = datetime(DAY.year, DAY.month, DAY.day, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def one_tablet(chromium: Browser) -> Iterator[BrowserContext]:
    """A tablet held upright, by touch: one for all tests of a file, for another costs as much as two pages."""
    context = chromium.new_context(viewport=PORTRAIT, has_touch=True, locale="en-GB")
    yield context
    context.close()


@pytest.fixture
def tablet(one_tablet: BrowserContext) -> Iterator[BrowserContext]:
    """It keeps nothing of the test before but its clock: who installs one or adds scripts takes `own_tablet`."""
    yield one_tablet
    forgetting(one_tablet, PORTRAIT)


@pytest.fixture
def own_tablet(chromium: Browser) -> Iterator[BrowserContext]:
    """One that nobody had before or has after: for a clock that is installed, or for scripts that are added."""
    context = chromium.new_context(viewport=PORTRAIT, has_touch=True, locale="en-GB")
    yield context
    context.close()


@pytest.fixture
def drawn(tablet: BrowserContext) -> Page:
    """A page that draws its frames, at noon of the day that the sites are judged on."""
    page = tablet.pages[0] if tablet.pages else tablet.new_page()
    page.clock.set_fixed_time(NOON)
    return page


@pytest.fixture
def page(drawn: Page) -> Page:
    """What most files overrule by `reader`, and press by `pressed`: frames are a third of what a page costs."""
    return drawn


@pytest.fixture(scope="module")
def one_reader(chromium: Browser) -> Iterator[BrowserContext]:
    """Another tablet, whose page draws no frame."""
    context = chromium.new_context(viewport=PORTRAIT, has_touch=True, locale="en-GB")
    unseen(context)
    yield context
    context.close()


@pytest.fixture
def reader(one_reader: BrowserContext) -> Iterator[Page]:
    """A page at noon of that day for what is only read, for a third less: a tap would wait for ever."""
    one_reader.pages[0].clock.set_fixed_time(NOON)
    yield one_reader.pages[0]
    forgetting(one_reader, PORTRAIT)


@pytest.fixture
def site(demo_site: Path) -> Path:
    """The demo depot's; a file of tests that wants another has its own."""
    return demo_site


def pressed(one: Locator) -> None:
    """Pressed in its middle, whatever lies there, on a page that draws no frame; a tap would first see it stand still for two."""
    one.click(force=True)


def texts(page: Page, selector: str, what: str = "innerText") -> list[str]:
    """Of all that a selector of CSS finds; a locator's own would first bring 300 kB of Playwright into the page's own world."""
    return list(page.evaluate("([selector, what]) => [...document.querySelectorAll(selector)].map(each => each[what])", [selector, what]))


def least(page: Page, selector: str) -> float:
    """The least width or height, px, of all seen that a selector of CSS finds; 0 where none is."""
    sides = """selector => [...document.querySelectorAll(selector)].filter(each => each.checkVisibility({ visibilityProperty: true }))
      .map(each => each.getBoundingClientRect()).flatMap(box => [box.width, box.height])"""
    return float(min(page.evaluate(sides, selector), default=0))


def resized(page: Page, size: ViewportSize) -> None:
    """Of another size, as a page that draws no frame would not hear by itself."""
    page.set_viewport_size(size)
    page.evaluate("window.dispatchEvent(new Event('resize'))")


def gone_to(page: Page, address: str) -> Page:
    """The page, loaded anew; by way of an empty one where its address differs behind the # alone, for that loads nothing."""
    if page.url.partition("#")[0] == address.partition("#")[0]:
        page.goto("about:blank")
    page.goto(address)
    return page
