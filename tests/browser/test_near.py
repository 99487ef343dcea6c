"""Are the same parts near to a new request on its page, at the terminal, and in the engine between them?"""

import json
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from generator.finder.engine import Finder, Wish
from generator.finder.near import _wish
from generator.reading.catalogue import read_catalogue
from generator.records.requests import Request
from tests.finder import catalogues

DAY = datetime(catalogues.BUILT.year, catalogues.BUILT.month, catalogues.BUILT.day, 12, tzinfo=UTC)
CATALOGUE = catalogues.ROOT / "catalogue"
pytestmark = [pytest.mark.browser, pytest.mark.slow]

WISHES = (
    Wish(name="knob for the window", fleet="TR4", place="Saloon window", sizes=(35.0, 12.5)),
    Wish(name="clip", fleet="TR7"),
    Wish(name="", fleet="TR4", sizes=(42.0, 18.0, 9.0)),
    Wish(name="cap", fleet="TR4", numbers=("4-117-0417", "TV-0276")),
    Wish(name="flux capacitor", fleet="TR4"),
)

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



@pytest.fixture(scope="module")
def finder(demo_site: Path) -> Iterator[Finder]:
    text = (demo_site / "assets/data/finder.js").read_text(encoding="ascii").splitlines()[0]
    data = json.loads(json.loads(text[text.index("(") + 1 : text.rindex(")")]))
    with Finder(data, catalogues.SCRIPTS) as found:
        yield found


def ask_on_the_page(page: Page, site: Path, wish: Wish) -> None:
    page.clock.set_fixed_time(DAY)
    page.goto(f"{site.as_uri()}/request.html")
    page.get_by_label(wish.fleet).check(force=True)
    if wish.place:
        page.get_by_label(wish.place, exact=True).check(force=True)
    for side, size in zip(("Longest", "Middle", "Shortest"), wish.sizes, strict=False):
        page.get_by_label(side).fill(f"{size:g}")
    page.get_by_label("Number on the old part").fill(", ".join(wish.numbers))
    page.get_by_label("What is it called?").fill(wish.name)


@pytest.mark.parametrize("wish", WISHES, ids=lambda wish: wish.name or "sizes alone")
def test_the_page_and_the_engine_give_the_same_list(page: Page, demo_site: Path, finder: Finder, wish: Wish) -> None:
    near = [each.number for each in finder.near(wish)]
    assert len(near) <= 6
    assert bool(near) == ("flux" not in wish.name)
    ask_on_the_page(page, demo_site, wish)
    expect(page.locator(".near__told")).to_have_text(re.compile(r"\d" if near else "Nothing|No "))
    expect(page.locator(".near .hit__number")).to_have_text(near)


def test_the_terminal_asks_what_the_page_asks() -> None:
    catalogue = read_catalogue(CATALOGUE)
    request = catalogue.requests["R-0024"]
    wish = _wish(request, catalogue, {"R-0024"})
    place = catalogue.place(request.fleet, request.place or "")
    assert (wish.name, wish.fleet, wish.place) == (request.name, request.fleet, place.name if place else "")
    assert (wish.words, wish.sizes, wish.numbers) == (request.words, request.sizes_mm, request.numbers)
    assert wish.without == ("R-0024",)
    assert isinstance(request, Request)


def test_a_request_is_not_near_to_itself_and_its_words_count(finder: Finder) -> None:
    alone, said = (finder.near(Wish(name="peg", fleet="TR7", words=words)) for words in ((), ("coat", "hook")))
    assert [each.number for each in alone] != [each.number for each in said]
    nearest = said[0].number
    without = finder.near(Wish(name="peg", fleet="TR7", words=("coat", "hook"), without=(nearest,)))
    assert [each.number for each in without][: len(said) - 1] == [each.number for each in said[1:]]
