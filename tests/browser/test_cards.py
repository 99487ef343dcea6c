"""Do cards of other parts say today's verdict, and the careful form where they cannot; is the ruler true?"""

from datetime import UTC, datetime
from pathlib import Path
from shutil import copytree

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import PORTRAIT

pytestmark = [pytest.mark.browser, pytest.mark.slow]

PLACE = "vehicles/F1/at-cab.html"
LATCH, VANE, PLUG, BROKEN = "P-0001", "P-0004", "P-0002", "P-0003"

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



@pytest.fixture
def site(sample_site: Path, tmp_path: Path) -> Path:
    return Path(copytree(sample_site, tmp_path / "site"))


def at(page: Page, day: str, site: Path, path: str) -> None:
    page.clock.set_fixed_time(datetime.fromisoformat(f"{day}T12:00:00").replace(tzinfo=UTC))
    page.goto(f"{site.as_uri()}/{path}")


def stand(page: Page, number: str) -> str:
    place = page.locator(f'.stands[data-part="parts/{number}"]')
    return " ".join(place.inner_text().split())


def judged(page: Page) -> None:
    page.locator(".stands[data-judged-on]").first.wait_for(state="attached")


def test_a_card_says_what_the_part_page_says_today(page: Page, site: Path) -> None:
    at(page, "2026-11-25", site, PLACE)
    judged(page)
    assert stand(page, LATCH) == "Fit it"
    assert stand(page, VANE) == "Do not fit labelled revision A: Fit it", "old stock is told apart"
    at(page, "2026-11-25", site, f"parts/{LATCH}.html")
    assert page.locator(".verdict__word").first.inner_text() == "Fit it"


def test_a_card_is_judged_again_on_another_day(page: Page, site: Path) -> None:
    at(page, "2026-11-25", site, PLACE)
    judged(page)
    page.clock.set_fixed_time(datetime(2027, 6, 1, 12, tzinfo=UTC))
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    page.locator('.stands[data-judged-on="2027-06-01"]').first.wait_for()
    assert stand(page, LATCH) == "Ask first", "a copy of half a year ago is too old to say Fit it"


def test_vehicles_that_differ_are_told_by_the_worst(page: Page, site: Path) -> None:
    at(page, "2026-11-25", site, "vehicles/F1/at-roof.html")
    judged(page)
    assert stand(page, PLUG) == "Do not fit on some vehicles"


def test_a_look_alike_shows_each_fleet(page: Page, site: Path) -> None:
    at(page, "2026-11-25", site, f"parts/{PLUG}.html")
    judged(page)
    assert stand(page, LATCH) == "F1 Fit it"


def test_the_list_of_a_state_shows_verdicts(page: Page, site: Path) -> None:
    at(page, "2026-11-25", site, "states/approved.html")
    judged(page)
    assert stand(page, LATCH) == "F1 Fit it"


@pytest.mark.parametrize("spoilt", ["missing", "of another build", "without words"])
def test_a_card_falls_back_to_the_careful_form(page: Page, site: Path, spoilt: str) -> None:
    index, rules = site / "assets/data/finder.js", site / "assets/data/rules.js"
    if spoilt == "missing":
        index.unlink()
    elif spoilt == "of another build":
        index.write_text(index.read_text("utf-8").replace("2026-11-25", "2026-11-24"), "utf-8")
    else:
        rules.write_text(rules.read_text("utf-8").replace('"fit":"Fit it"', '"fit":""'), "utf-8")
    at(page, "2026-11-25", site, PLACE)
    page.wait_for_timeout(500)
    assert "Fit it" not in page.locator(".cards").inner_text()
    assert stand(page, LATCH) in {"", "See its page", "Ask first"}


def test_without_scripts_a_card_never_says_fit_it(chromium: Browser, site: Path) -> None:
    context = chromium.new_context(viewport=PORTRAIT, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{site.as_uri()}/{PLACE}")
    assert stand(page, LATCH) == ""
    assert stand(page, VANE) == ""
    widths = [
        box["width"] for each in page.locator(".true__ruler path").all() if (box := each.bounding_box())
    ]
    assert len(widths) == 2
    assert max(widths) - min(widths) < 0.5
    assert min(widths) > 20
    page.goto(f"{site.as_uri()}/vehicles.html")
    assert stand(page, BROKEN) == "Do not fit"
    context.close()
