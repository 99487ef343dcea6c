"""Four part pages, a list and the requests as Markdown, word for word; UPDATE_GOLDEN=1 writes them anew."""

import os
from pathlib import Path

import pytest

from generator.pages.site import Site, site
from tests.pages.sample import DAY, judged_sample

GOLDEN = Path(__file__).parents[1] / "golden"
PAGES = [
    "index.md",
    "catalogue.md",
    "approvals.md",
    "requests.md",
    "looked-for.md",
    "vehicles.md",
    "vehicles/F1/at-cab.md",
    "states/approved.md",
    "parts/P-0001.md",  # approved
    "parts/P-0002.md",  # approved with a condition, for some vehicles
    "parts/P-0003.md",  # broken
    "parts/P-0004.md",  # changed since approval
    "parts/P-0005.md",  # bought, without a model
]


def no_icons(_front, _wanted):
    return {}


@pytest.fixture(scope="module")
def made() -> Site:
    return site(*judged_sample(), DAY, no_icons)


@pytest.mark.parametrize("path", PAGES)
def test_page_is_as_it_was(made: Site, path: str) -> None:
    text = next(page.text for page in made.pages if page.path == path)
    file = GOLDEN / path.replace("/", "_")
    if os.environ.get("UPDATE_GOLDEN"):
        file.write_text(text, encoding="utf-8")
    assert text == file.read_text(encoding="utf-8")


def test_same_catalogue_gives_the_same_bytes(made: Site) -> None:
    assert site(*judged_sample(), DAY, no_icons) == made


def test_static_verdicts_never_say_fit_it(made: Site) -> None:
    """A page without scripts cannot know today's date, so that what was "Fit it" says "Ask first"."""
    page = next(page.text for page in made.pages if page.path == "parts/P-0001.md")
    assert 'class="verdict verdict--ask"' in page
    assert "On 25 Nov 2026 the answer was: Fit it." in page
    assert not any("verdict--fit" in page.text for page in made.pages)
