"""Curves and charts as they are seen: type that can be read on a phone and on a tablet, in the light, in the pit and on paper."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.pages.drawn_plots import HIGH, RUN, STEADY, WILD, charted, drawn
from tests.planning.holding.known import PLACEBO, SIX_MP, seen

pytestmark = pytest.mark.browser
CSS = Path(__file__).parents[2] / "site_src/assets/css"
LEAST_PX = 11.5
MOST_PX = 19
LOOKED_AT = """() => [...document.querySelectorAll('.plot')].map((plot) => {
  const drawing = plot.querySelector('svg'), scale = drawing.getBoundingClientRect().width / 480;
  const words = [...plot.querySelectorAll('text')];
  const boxes = words.map((each) => each.getBoundingClientRect()), frame = plot.getBoundingClientRect();
  return {
    sizes: [...new Set(words.map((each) => parseFloat(getComputedStyle(each).fontSize) * scale))],
    outside: words.filter((_, at) => boxes[at].left < frame.left || boxes[at].right > frame.right || boxes[at].bottom > frame.bottom).map((each) => each.textContent),
    touching: words.filter((_, at) => boxes.some((other, there) => there > at
      && other.left < boxes[at].right && boxes[at].left < other.right && other.top + 3 < boxes[at].bottom && boxes[at].top + 3 < other.bottom)).map((each) => each.textContent),
  };
})"""
COLOURS = """() => {
  const of = (name, property) => getComputedStyle(document.querySelector(name))[property];
  return {
    ground: of('.plot', 'backgroundColor'), text: of('.plot text', 'fill'), title: of('.plot__title', 'fill'), ours: of('.plot__line--ours', 'stroke'),
    theirs: of('.plot__line--theirs', 'stroke'), out: of('.plot__out', 'fill'), run: of('.plot__run', 'stroke'), band: of('.plot__band--ours', 'stroke'),
  };
}"""


def luminance(colour: str) -> float:
    """WCAG 2.2, relative luminance."""
    parts = [int(each) / 255 for each in colour[colour.index("(") + 1 : -1].split(",")[:3]]
    linear = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.fixture
def shown(reader: Page) -> Page:
    styles = "".join((CSS / name).read_text(encoding="utf-8") for name in ("base.css", "plots.css", "print.css"))
    figures = "".join(map(str, (drawn(seen(SIX_MP), seen(PLACEBO)), charted([*STEADY, HIGH, WILD, *RUN]))))
    reader.set_content(f'<style>{styles}</style><body data-md-color-scheme="default" style="margin: 0"><div class="md-typeset">{figures}</div>')
    return reader


def test_type_is_legible_and_nothing_touches_at_any_width(shown: Page) -> None:
    for width in (340, 459, 470, 599, 620, 700, 1180):
        shown.set_viewport_size({"width": width, "height": 800})
        for found in shown.evaluate(LOOKED_AT):
            assert all(LEAST_PX <= each <= MOST_PX for each in found["sizes"]), (width, found["sizes"])
            assert (found["outside"], found["touching"]) == ([], []), width


@pytest.mark.parametrize("ways", [("default", "screen"), ("slate", "screen"), ("default", "print"), ("slate", "print")], ids="-".join)
def test_words_and_lines_stand_out_from_the_ground(shown: Page, ways: tuple[str, str]) -> None:
    """WCAG 2.2: 4.5 for words (1.4.3), 3 for lines (1.4.11); daylight asks for more: 7 for words, as all pages have."""
    scheme, media = ways
    shown.emulate_media(media=media)
    shown.evaluate("scheme => document.body.setAttribute('data-md-color-scheme', scheme)", scheme)
    colours = shown.evaluate(COLOURS)
    ground = colours.pop("ground")
    found = {name: contrast(colour, ground) for name, colour in colours.items()}
    assert min(found["text"], found["title"]) >= 7, found
    assert min(found.values()) >= 4.5, found
