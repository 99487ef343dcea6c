"""All words of the pages stand in the words file: in a language of Greek letters no Latin word is left over."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.pages import wording
from generator.pages.wording import from_tree
from tests.fixtures.greek import in_greek
from tests.pages.built import Built
from tests.pages.conftest import build_site
from tests.pages.sample import CATALOGUE

pytestmark = pytest.mark.slow

WORD = re.compile(r"\b[A-Za-z]{2,}\b")  # a sum in hexadecimal is no word
# Units, signs and names of standards are the same in every language.
STANDARDS = Path(wording.__file__).parents[1] / "standards"
THEME = {"Skip", "to", "content"}  # the theme's own link, in the theme's own language files
INTERNATIONAL = {
    "mm",
    "cm",
    "kB",
    "EUR",
    "SHA",
    "EN",
    "HL",
    "utf",
    "width",
    "device",
    "initial",
    "scale",
    "light",
    "dark",
}


@pytest.fixture
def greek(monkeypatch: pytest.MonkeyPatch) -> None:
    tree = wording.wording("en").tree
    monkeypatch.setattr(wording, "_read", lambda _language: from_tree("en", in_greek(tree)))


def words_of_records() -> set[str]:
    """Of the catalogue, and of what we hold of the fire standard, which is data that a depot may replace."""
    standard = " ".join(each.read_text(encoding="utf-8") for each in STANDARDS.glob("*.yml"))
    files = [each for each in CATALOGUE.rglob("*") if each.is_file()]
    texts = [each.read_text(encoding="utf-8") for each in files if each.suffix in (".yml", ".md", ".txt")]
    return set(WORD.findall(" ".join([standard, *texts, *(str(each.relative_to(CATALOGUE)) for each in files)])))


def shown_words(page: Built) -> Iterator[str]:
    """What a reader sees or hears: text, titles, labels."""
    yield from page.pieces
    yield from (each.text for each in page.every("title"))
    for element in page.elements:
        if "http-equiv" in element.attributes:  # a policy for the browser, never shown
            continue
        for name in (
            "alt",
            "title",
            "aria-label",
            "placeholder",
            "content",
            "data-copy",
            "data-copied",
            "data-not-copied",
        ):
            yield element.attributes.get(name, "")


def test_no_word_of_ours_stands_outside_the_words_file(greek: None, tmp_path: Path, warm_store: Path) -> None:
    site = build_site(CATALOGUE, tmp_path / "site", warm_store)
    known = words_of_records() | INTERNATIONAL | THEME
    generated = [
        each for each in site.rglob("*.html") if "guide" not in each.parts and each.name != "changelog.html"
    ]
    assert len(generated) > 10
    for file in sorted(generated):
        found = {word for text in shown_words(Built(file)) for word in WORD.findall(text)}
        left = found - known
        assert not left, (file.name, left)
