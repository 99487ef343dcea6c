"""One Chromium for all browser tests: Debian's, by its path, with every other host out of reach."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

CHROMIUM = os.environ.get("SPARES_CHROMIUM", "/usr/bin/chromium")
PORTRAIT = {"width": 800, "height": 1280}
LANDSCAPE = {"width": 1280, "height": 800}


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    if not Path(CHROMIUM).exists():
        if os.environ.get("CI"):
            pytest.fail(f"there is no Chromium at {CHROMIUM}; the CI machine must have one")
        pytest.skip(f"there is no Chromium at {CHROMIUM}; name yours in SPARES_CHROMIUM")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--disable-background-networking"]
        )
        yield browser
        browser.close()


@pytest.fixture
def tablet(chromium: Browser) -> Iterator[BrowserContext]:
    """A tablet held upright, by touch."""
    context = chromium.new_context(viewport=PORTRAIT, has_touch=True, locale="en-GB")
    yield context
    context.close()


@pytest.fixture
def page(tablet: BrowserContext) -> Page:
    return tablet.new_page()
