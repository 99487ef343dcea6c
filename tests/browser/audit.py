"""What axe-core's own rules find on a page: what depends on colours is asked in the dark again, all else once.

Colours take two thirds of the time, and are the same on a wider screen: there the page's shape alone is asked.
"""

from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

COLOURS = ["color-contrast", "link-in-text-block"]
RULES: dict[str, dict[str, Any]] = {"light": {}, "dark": {"runOnly": {"type": "rule", "values": COLOURS}}}
SHAPE = {"rules": {rule: {"enabled": False} for rule in COLOURS}}


def violations(page: Page, asked: str) -> list[tuple[str, str]]:
    """Each with the name of its rule and the first element that breaks it."""
    found = Axe().run(page, options={**RULES, "shape": SHAPE}[asked] | {"resultTypes": ["violations"]}).response["violations"]
    return [(each["id"], each["nodes"][0]["html"]) for each in found]
