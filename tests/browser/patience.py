"""Waiting for a page to come to say something, under its own policy, which forbids the eval of Playwright's waiting."""

import time

from playwright.sync_api import Error, Page, TimeoutError  # noqa: A004


def wait_until(page: Page, expression: str, timeout: float = 60_000) -> None:
    """Ask every tenth of a second until the expression is true; TimeoutError after `timeout` milliseconds."""
    ends = time.monotonic() + timeout / 1000
    while not _is_true(page, expression):
        if time.monotonic() > ends:
            raise TimeoutError(f"never came true: {expression}")
        page.wait_for_timeout(100)


def _is_true(page: Page, expression: str) -> bool:
    """A page that is just leaving, such as for a newer catalogue, has nothing to say yet."""
    try:
        return bool(page.evaluate(f"Boolean({expression})"))
    except Error as error:
        if "context was destroyed" not in str(error) and "navigat" not in str(error):
            raise
        return False
