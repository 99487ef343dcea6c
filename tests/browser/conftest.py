"""Tablets: pages of the one Chromium of all tests."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.pages.conftest import demo_site, hostile_site, sample_site

__all__ = ["demo_site", "hostile_site", "sample_site"]  # fixtures here as well

PORTRAIT = {"width": 800, "height": 1280}
LANDSCAPE = {"width": 1280, "height": 800}


@pytest.fixture
def tablet(chromium: Browser) -> Iterator[BrowserContext]:
    """A tablet held upright, by touch."""
    context = chromium.new_context(viewport=PORTRAIT, has_touch=True, locale="en-GB")
    yield context
    context.close()


@pytest.fixture
def page(tablet: BrowserContext) -> Page:
    return tablet.new_page()
