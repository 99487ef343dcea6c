"""What axe-core's own rules find on a page: what depends on colours is asked in the dark again, all else once."""

from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

RULES: dict[str, dict[str, Any]] = {
    "light": {},
    "dark": {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}},
}


def violations(page: Page, scheme: str) -> list[tuple[str, str]]:
    """Each with the name of its rule and the first element that breaks it."""
    found = Axe().run(page, options=RULES[scheme] | {"resultTypes": ["violations"]}).response["violations"]
    return [(each["id"], each["nodes"][0]["html"]) for each in found]
