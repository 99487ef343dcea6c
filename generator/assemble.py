"""The whole way on one screen: read → measure → judge → render."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from generator.measuring.all_meshes import work_all
from generator.measuring.kept_icons import kept_icons
from generator.measuring.store import Store
from generator.pages.finder.query_words import problems_of_query_words
from generator.pages.site import Site, site
from generator.pages.wording import languages, problems_of_words
from generator.reading.catalogue import read_catalogue
from generator.reading.disk import Disk
from generator.reading.papers import papers_to_come
from generator.records.catalogue import Catalogue
from generator.records.depot import Language
from generator.records.problems import Problem, Where, doubt, in_order
from generator.rules.facts.case import Copy
from generator.rules.sheet import Sheet, sheet, twins_among

UNUSED_DAYS = 30
"""So long the store keeps what no build and no command uses."""
Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled:
    """A catalogue, judged on a day, and its pages; `site` is None where the depot itself cannot be read."""

    catalogue: Catalogue
    sheets: tuple[Sheet, ...]
    problems: tuple[Problem, ...]
    site: Site | None


def assembled(root: Path, day: date, store: Store, progress: Progress) -> Assembled:
    """Read the catalogue in `root`, measure and draw its meshes, judge it on `day`, and write its pages."""
    read = examined(root, day, store, progress)
    depot = read.catalogue.depot
    icons = partial(kept_icons, store)
    pages = site(read.catalogue, read.sheets, read.problems, day, icons) if depot else None
    store.prune(UNUSED_DAYS)
    return Assembled(catalogue=read.catalogue, sheets=read.sheets, problems=read.problems, site=pages)


def examined(root: Path, day: date, store: Store, progress: Progress) -> Assembled:
    """The same without pages: what `check`, `find` and `explain` need."""
    progress("read", 0, 1)
    catalogue = read_catalogue(root)
    worked = work_all(catalogue, root, store, progress)
    copy = Copy(day, catalogue.depot.max_copy_age_days if catalogue.depot else 1)
    same = twins_among(catalogue.parts, worked)
    sheets = tuple(
        sheet(folder, worked.get(folder.folder), catalogue, copy, same.get(folder.folder, ()))
        for folder in catalogue.parts
    )
    problems = in_order(
        [
            *catalogue.problems,
            *papers_to_come(Disk(root), catalogue, day),
            *_language_problems(root, catalogue),
            *(problem for each in sheets for problem in each.problems),
        ]
    )
    return Assembled(catalogue=catalogue, sheets=sheets, problems=problems, site=None)


def _language_problems(root: Path, catalogue: Catalogue) -> list[Problem]:
    """What of the depot's language is shown in English instead: all of it, or the words that are not fit."""
    known, language = languages(), catalogue.language
    if language is Language.ENGLISH:
        return []
    found = [*problems_of_words(language), *problems_of_query_words(language)]
    if language not in known:
        found.append(doubt("DEPOT01", "no words", language=language, known=known))
    where = Disk(root).yaml("depot.yml").where(("language",)) if found else Where("depot.yml")
    return [each.at(where) for each in found]
