"""Is a millimetre equally long in every picture of a place, as the browser lays them out, and does paper keep it so?"""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from generator.assemble.whole_way import examined
from generator.systems.store import Store
from tests.browser.conftest import LANDSCAPE, PORTRAIT
from tests.pages.conftest import DEMO
from tests.pages.sample import DAY

pytestmark = [pytest.mark.browser, pytest.mark.slow]

PHONE = {"width": 390, "height": 844}
FRONT_PX = 640
# For each card: the part's page, how wide its whole picture is, and how long the ruler is, in px of the screen.
DRAWN = """[...document.querySelectorAll(".cards--true li")].map((card) => [
  card.querySelector(".stands").dataset.part.split("/").pop(),
  card.querySelector("image").getBoundingClientRect().width,
  card.querySelector(".true__ruler path").getBoundingClientRect().width,
  card.querySelector(".true__mm").textContent,
])"""


@pytest.fixture
def site(demo_site: Path) -> Path:
    return demo_site


@pytest.fixture(scope="module")
def mm_per_px(warm_store: Path) -> dict[str, float]:
    sheets = examined(DEMO, DAY, Store(warm_store), lambda *_told: None).sheets
    return {sheet.number: sheet.pictures.front_mm_per_px for sheet in sheets if sheet.pictures}


@pytest.mark.parametrize("size", [PHONE, PORTRAIT, LANDSCAPE], ids=["phone", "upright", "across"])
@pytest.mark.parametrize("place", ["TR4/at-cab", "TR7/at-entrance", "TR4/at-saloon-window"])
def test_a_millimetre_is_equally_long_in_every_picture(
    page: Page, site: Path, mm_per_px: dict[str, float], size: dict[str, int], place: str
) -> None:
    page.set_viewport_size(size)
    page.goto(f"{site.as_uri()}/vehicles/{place}.html")
    cards = page.evaluate(DRAWN)
    assert len(cards) >= 3
    of_pictures = [width / (mm_per_px[number] * FRONT_PX) for number, width, _, _ in cards]
    of_rulers = [length / float(told.split()[0]) for _, _, length, told in cards]
    assert of_pictures == pytest.approx([of_pictures[0]] * len(cards), rel=0.01)
    # The ruler's ends are lines of 2 px.
    assert of_rulers == pytest.approx(of_pictures, rel=0.06)


def test_the_largest_stands_first(page: Page, site: Path, mm_per_px: dict[str, float]) -> None:
    page.goto(f"{site.as_uri()}/vehicles/TR4/at-cab.html")
    scales = [mm_per_px[number] for number, *_ in page.evaluate(DRAWN)]
    assert scales == sorted(scales, reverse=True)


def test_pictures_keep_their_ground_in_pit_mode(page: Page, site: Path) -> None:
    """The frame and what is drawn in it are darkened together, so that no picture shows an edge."""
    page.goto(f"{site.as_uri()}/vehicles/TR4/at-cab.html")
    page.evaluate("document.body.setAttribute('data-md-color-scheme', 'slate')")
    frame = page.locator(".true").first
    assert frame.evaluate("(each) => getComputedStyle(each).filter") == "brightness(0.82)"
    assert frame.evaluate("(each) => getComputedStyle(each).backgroundColor") == "rgb(246, 248, 250)"
