"""The table of terms tells how the pages really speak: each word of a language stands in its words files or guides."""

from pathlib import Path

import pytest

from tests.pages.translated import LANGUAGES, texts

GUIDES = Path(__file__).parents[2] / "site_src" / "guide"
COLUMN = {"en": 0, "de": 1, "da": 2}
ROWS = [
    [cell.strip() for cell in line.strip("|\n").split("|")]
    for line in (GUIDES / "terms.md").read_text(encoding="utf-8").splitlines()
    if line.startswith("| ") and not line.startswith("| English")
]


def test_each_row_names_its_source():
    assert len(ROWS) > 40
    assert all(len(row) == 4 and row[3] for row in ROWS)


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_term_is_what_the_pages_say(language):
    said = " ".join(text for _, text in texts(language))
    guides = " ".join(file.read_text(encoding="utf-8") for file in GUIDES.glob(f"*.{language}.md"))
    spoken = f"{said} {guides}".casefold()
    named = [term for row in ROWS for term in row[COLUMN[language]].replace(" / ", ", ").split(", ") if term != "–"]
    left = [term for term in named if stem(term) not in spoken]
    assert left == []


def stem(term):
    """Without the endings of gender and case, and without a type's number."""
    return term.casefold().rstrip(" .0123456789")[:-2].strip()
