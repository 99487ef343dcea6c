"""Do shelf, red box and order text follow today's verdict, whatever the page said when it was made?"""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import texts

pytestmark = [pytest.mark.browser, pytest.mark.slow]

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



@pytest.fixture
def site(sample_site: Path) -> Path:
    return sample_site


def at(page: Page, day: str, site: Path, number: str) -> None:
    page.clock.set_fixed_time(datetime.fromisoformat(f"{day}T12:00:00").replace(tzinfo=UTC))
    page.goto(f"{(site / 'parts').as_uri()}/{number}.html")


def test_shelf_and_order_are_offered_while_the_approval_lasts(page: Page, site: Path) -> None:
    at(page, "2026-11-25", site, "P-0001")
    assert page.locator(".shelf__no:visible, .shelf__ask:visible").count() == 0
    assert not page.locator(".order-no").is_visible()
    told = page.locator(".order__text").first.text_content() or ""
    assert "Verdict on 25 Nov 2026: F1 1–4 · Cab · only parts labelled revision A, and newly made ones: Fit it, Approved by letter 7." in told
    assert "3 on the shelf: Rack 1, labelled P-0001 revision A" in page.locator(".shelf").inner_text()


def test_past_the_last_day_nothing_is_to_be_taken_or_ordered(page: Page, site: Path) -> None:
    at(page, "2030-06-01", site, "P-0001")  # the sample's last day is 31 May 2030
    assert page.locator(".shelf__no:visible").all_inner_texts() == ["Do not take."] * 2
    assert page.locator(".shelf__ask:visible").count() == 0
    assert page.locator(".order-no").is_visible()
    told = page.locator(".order__text").first.text_content() or ""
    assert "Verdict on 1 Jun 2030: F1 1–4 · Cab · only parts labelled revision A, and newly made ones: Do not fit, Ended: the last day was 31 May 2030" in told
    assert "Fit it" not in told


def test_ask_first_says_whom(page: Page, site: Path) -> None:
    at(page, "2026-11-25", site, "P-0002")
    (told,) = page.locator(".verdict__ask:visible").all_inner_texts()
    assert told.startswith("Ask: the office")
    assert "may P-0002 Plug, revision" in told
    assert page.locator(".verdict--ask .verdict__ask").is_visible()


def test_the_shelf_asks_where_the_verdict_does_whatever_is_ticked_for_the_piece_in_the_hand(page: Page, site: Path) -> None:
    at(page, "2027-01-12", site, "P-0001")  # the copy is too old
    assert page.locator(".verdict--ask").count() == 1
    for ticked, said in (("", "Ask first."), ("verdict verdict--fit verdict--ticks", "Any other piece on the shelf: ask first.")):
        page.evaluate("""(ticked) => {
          if (ticked) document.querySelector(".verdict").className = ticked;
          document.dispatchEvent(new CustomEvent("spares:judged", { detail: "2027-01-12" }));
        }""", ticked)  # fmt: skip
        assert page.locator(".shelf__ask:visible").all_inner_texts() == [said] * 2
        assert page.locator(".shelf__no:visible").count() == 0


def test_labels_are_told_apart(page: Page, site: Path) -> None:
    at(page, "2026-11-25", site, "P-0004")
    who = texts(page, ".verdict__who")
    assert any("parts labelled revision B, and newly made ones" in each for each in who)
    assert any("only parts labelled revision A" in each for each in who)
    assert page.locator(".order-no").is_visible(), "the old label's verdict speaks of no new part"


def test_without_scripts_the_order_is_careful(chromium: Browser, site: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{(site / 'parts').as_uri()}/P-0001.html")
    assert page.locator(".shelf__ask:visible").count() == 2
    assert "F1 1–4: Ask first" in (page.locator(".order__text").first.text_content() or "")
    context.close()
