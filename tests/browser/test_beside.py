"""A photo of the old part lies beside the part's picture at one scale: read off the pixels."""

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import Page

from tests.browser.conftest import gone_to

pytestmark = [pytest.mark.browser, pytest.mark.slow]

BAR_MM = 34.0
WIDTH_OF_BAR = """canvas => {
  const { width, height } = canvas, pixels = canvas.getContext("2d").getImageData(0, height / 2, width, 1).data;
  let red = 0;
  for (let at = 0; at < width; at += 1) red += pixels[4 * at] > 200 && pixels[4 * at + 1] < 80 ? 1 : 0;
  return red;
}"""


def photo() -> bytes:
    """A red bar of 400 px on a plain ground."""
    drawn = Image.new("RGB", (1200, 900), "#c8b89a")
    ImageDraw.Draw(drawn).rectangle((400, 440, 799, 460), fill="#ff0000")
    held = BytesIO()
    drawn.save(held, "PNG")
    return held.getvalue()


def test_two_marks_and_their_distance_give_the_photo_the_scale_of_the_picture(page: Page, site: Path) -> None:
    gone_to(page, f"{site.as_uri()}/parts/TV-0235.html")
    place = page.locator("details.beside")
    place.locator("summary").click()
    page.set_input_files("#beside-file", {"name": "old.png", "mimeType": "image/png", "buffer": photo()})
    stage = page.locator(".beside__stage")
    stage.scroll_into_view_if_needed()
    box = stage.bounding_box()
    assert box
    for x in (1 / 3, 2 / 3):
        page.mouse.click(box["x"] + box["width"] * x, box["y"] + box["height"] / 2)
    page.fill("#beside-mm", "no number")
    assert not page.locator(".beside__both").is_visible()
    assert page.locator(".beside__told").inner_text() != ""
    page.fill("#beside-mm", "34")
    mm_per_px = float(page.locator("[data-beside]").get_attribute("data-mm-per-px") or "0")
    assert page.locator(".beside__cut").evaluate(WIDTH_OF_BAR) == pytest.approx(BAR_MM / mm_per_px, rel=0.02)
    shown = [page.locator(each).bounding_box() for each in (".beside__cut", ".beside__front")]
    cut, front = shown
    assert cut
    assert front
    assert cut["width"] == pytest.approx(front["width"], abs=1)
    mark = page.locator(".beside__mark").first
    size = mark.bounding_box()
    assert size
    assert min(size["width"], size["height"]) >= 48
    before = page.locator(".beside__cut").evaluate(WIDTH_OF_BAR)
    mark.focus()
    for _ in range(5):
        mark.press("Shift+ArrowLeft")  # the marks are farther apart: the same 34 mm are more pixels, and the bar shrinks
    assert page.locator(".beside__cut").evaluate(WIDTH_OF_BAR) < before * 0.9
