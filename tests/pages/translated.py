"""What the tests of every language besides English share: its words against the English ones, and a site in it."""

import re
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path
from shutil import copytree

import pytest

from generator.pages.wording import languages, wording
from generator.records.depot import Language
from tests.fixtures.shared import made_once
from tests.pages.conftest import build_site
from tests.pages.sample import CATALOGUE

LANGUAGES = [each for each in languages() if each != Language.ENGLISH]
SAME = Path(__file__).with_name("same_words.yml")
_BETWEEN = re.compile(r"\{[^}]*\}|[\[\]]")
_TWO_WORDS = re.compile(r"[A-Za-z]{2,}[^A-Za-z]+[A-Za-z]{2,}")


def catalogue_in(language: str, folder: Path) -> Path:
    """The small catalogue of the page tests, as a depot of that language keeps it."""
    root = Path(copytree(CATALOGUE, folder))
    depot = root / "depot.yml"
    kept = re.sub("(?m)^language:.*\n", "", depot.read_text(encoding="utf-8"))
    depot.write_text(f"language: {language}\n{kept}", encoding="utf-8")
    return root


def site_in(language: str, factory: pytest.TempPathFactory, store: Path) -> Path:
    """Its site, built once a run: look, do not touch."""

    def make(folder: Path) -> None:
        build_site(catalogue_in(language, folder / "catalogue"), folder / "site", store)

    return made_once(factory, f"sample-{language}", make) / "site"


def texts(language: str) -> Iterator[tuple[str, str]]:
    """Every text of the words files with its key; the entries of a list one by one."""
    for key, words in wording(language).flat.items():
        if isinstance(words, list):
            yield from ((f"{key}.{at}", each) for at, each in enumerate(words))
        else:
            yield key, str(words)


def phrases(language: str) -> set[str]:
    """What English says in at least two words in a row, where the language says it otherwise and no record of the tests says it."""
    files = [each for each in CATALOGUE.rglob("*") if each.suffix in (".yml", ".md", ".txt")]
    records = " ".join(file.read_text(encoding="utf-8") for file in files)
    theirs = {piece for _, text in texts(language) for piece in pieces(text)}
    ours = {piece for _, text in texts(Language.ENGLISH) for piece in pieces(text)}
    return {piece for piece in ours - theirs if _TWO_WORDS.search(piece) and piece not in records}


def any_of(said: set[str]) -> re.Pattern[str]:
    """Whichever of the phrases stands somewhere as a whole, the longest of several."""
    by_start = groupby(sorted(said, key=lambda each: (each[:3], -len(each))), key=lambda each: each[:3])
    # A whole start that does not stand there is passed over at once.
    either = "|".join(f"{re.escape(start)}(?:{'|'.join(re.escape(each[3:]) for each in group)})" for start, group in by_start)
    return re.compile(rf"\b(?:{either})\b")


def pieces(text: str) -> Iterator[str]:
    """What of a text is never filled in."""
    yield from (piece.strip(" .,:;") for piece in _BETWEEN.split(text))
