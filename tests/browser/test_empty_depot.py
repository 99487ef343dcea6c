"""A depot without any part: every page opens, makes sense, and the finder says that there is none yet."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from generator.edge.cli import main
from tests.browser.audit import violations

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SENSELESS = re.compile(r"\bNaN\b|\bundefined\b|\bnull\b|\b0 of 0\b|\b0 parts?\b|\[object")


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("empty")
    depot = home / "depot"
    with pytest.MonkeyPatch.context() as here:
        assert main(["init", str(depot)]) == 0
        here.chdir(depot)
        assert main(["build", "--strict"]) == 0
    return depot / "site"


def test_every_page_opens_and_makes_sense(reader: Page, site: Path) -> None:
    broken: list[str] = []
    reader.on("pageerror", lambda error: broken.append(str(error)))
    pages = sorted(each.relative_to(site).as_posix() for each in site.glob("**/*.html") if each.name != "404.html")
    assert len(pages) > 12
    for name in pages:
        reader.goto(f"{site.as_uri()}/{name}")
        told = reader.locator("main").inner_text()
        assert len(told) > 20, name
        assert "guide" in name or not SENSELESS.search(told), (name, told)
        assert reader.locator("main table:not(:has(td)), main :not([hidden]) > ul:empty, main .doors:not(:has(li))").count() == 0, name
        dead = reader.evaluate("[...document.querySelectorAll('main a[href]')].map(each => each.href)")
        assert not [each for each in dead if each.startswith("file:") and not (site / each.removeprefix(f"{site.as_uri()}/").split("#")[0]).exists()]
        assert not broken, name


def test_home_says_what_to_type_and_no_finder_finds_nothing(tablet: BrowserContext, site: Path) -> None:
    page = tablet.new_page()
    page.goto(f"{site.as_uri()}/index.html")
    expect(page.locator("main pre").first).to_have_text(re.compile("^spares new 1001 "))
    expect(page.locator("main .finder")).to_have_count(0)
    assert violations(page, "light") == []
    page.goto(f"{site.as_uri()}/states.html")
    page.locator(".finder__input").fill("knob 42 x 18")
    expect(page.locator(".finder__none")).to_have_text("There is no part in this catalogue yet.")
    page.goto(f"{site.as_uri()}/request.html")
    expect(page.locator("main")).to_contain_text("There is no vehicle in this catalogue yet")
    expect(page.locator("main input")).to_have_count(0)
