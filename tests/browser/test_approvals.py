"""Is the board of approvals as wide as the page, and does every word stay whole, on a tablet and on a phone?"""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import LANDSCAPE, PORTRAIT, pressed
from tests.pages.sample import DAY

pytestmark = [pytest.mark.browser, pytest.mark.slow]

PHONE = {"width": 390, "height": 844}
# Words of which one part stands on another line than the rest; a hyphen is a place to break.
BROKEN_WORDS = """[...document.querySelectorAll(".board")].flatMap((board) => {
  const found = [];
  const walker = document.createTreeWalker(board, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    for (const word of walker.currentNode.data.matchAll(/[\\p{L}\\p{N}]+/gu)) {
      const range = document.createRange();
      range.setStart(walker.currentNode, word.index);
      range.setEnd(walker.currentNode, word.index + word[0].length);
      if (new Set([...range.getClientRects()].map((box) => Math.round(box.top))).size > 1) found.push(word[0]);
    }
  }
  return found;
})"""

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



@pytest.fixture
def site(demo_site: Path) -> Path:
    return demo_site


@pytest.mark.parametrize("size", [PHONE, PORTRAIT, LANDSCAPE], ids=["phone", "upright", "across"])
def test_the_board_fills_the_page_and_no_word_is_broken(page: Page, site: Path, size: dict[str, int]) -> None:
    page.set_viewport_size(size)
    page.goto(f"{site.as_uri()}/approvals.html")
    assert page.locator(".board tbody tr").count() > 20
    wide = page.evaluate("document.querySelector('article').getBoundingClientRect().width")
    for table in page.locator(".board table").all():
        box = table.bounding_box()
        assert box
        assert box["width"] == pytest.approx(wide, abs=4)
    assert page.evaluate(BROKEN_WORDS) == []


def test_every_foot_leads_to_the_approvals(page: Page, site: Path) -> None:
    page.goto(f"{site.as_uri()}/parts/TV-0417.html")
    pressed(page.locator(".foot").get_by_role("link", name="Approvals"))
    assert page.locator("h1").inner_text() == "Approvals"
    assert page.get_by_text(f"stood on {DAY.day} Nov {DAY.year}").is_visible()
