"""The whole way on one screen: read → measure → compare → judge → render."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from generator.assemble.asked import asked_problems, asked_shapes
from generator.geometry.measured import Worked
from generator.measuring.alike import alike_among
from generator.measuring.all_meshes import orders_of, work_all
from generator.pages.wording import languages, problems_of_words
from generator.provenance.remembering.as_of import AsOf
from generator.provenance.remembering.compared import (
    Memory,
    compared,
    for_site,
    memory,
    memory_as_of,
    to_remember,
)
from generator.provenance.remembering.kept import FILE as REMEMBERED
from generator.provenance.remembering.kept import as_bytes, memory_file, remember
from generator.provenance.remembering.produced import produced_compared, produced_to_remember
from generator.provenance.signing.checking import may_be_unsigned, signatures_checked
from generator.reading.catalogue import read_catalogue
from generator.reading.disk import Disk
from generator.reading.papers import days_to_come
from generator.reading.placing import once_each_cause, put
from generator.reading.starting import depot_notes
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.depot import Language
from generator.records.problems import Problem, Where, doubt, in_order
from generator.rules.alike import told_once
from generator.rules.asked_alike import AskedShape
from generator.rules.between import Between, between_parts
from generator.rules.facts.case import Copy
from generator.rules.past import Past
from generator.rules.plausible import without_models
from generator.rules.production.settled import settled
from generator.rules.sheet import Sheet, sheet
from generator.systems.store import Store

if TYPE_CHECKING:
    from generator.pages.outputs import Asset
    from generator.pages.site import Site
    from generator.rules.lately import Lately

UNUSED_DAYS = 30
"""So long the store keeps what no build and no command uses."""
Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredCatalogue:
    """A catalogue with what was made of its meshes, by the part's folder, and what only shows between parts."""

    catalogue: Catalogue
    worked: Mapping[str, Worked | Problem]
    between: Between


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled:
    """A catalogue, judged on a day, and its pages; `site` is None where the depot itself cannot be read."""

    catalogue: Catalogue
    sheets: tuple[Sheet, ...]
    problems: tuple[Problem, ...]
    site: Site | None
    notes: tuple[Problem, ...] = ()
    """What should be known and is no mistake: of the depot, and what cannot be told of the records' past."""
    records: Mapping[str, Past] = field(default_factory=dict)
    """What may be remembered of the records from now on, by number."""
    before: Memory | None = None
    asked: Mapping[str, AskedShape] = field(default_factory=dict)
    """The models of open requests, by the request's id."""


def assembled(
    root: Path,
    day: date,
    store: Store,
    progress: Progress,
    *,
    workers: int | None = None,
    published: Path | None = None,
) -> Assembled:
    """Read the catalogue in `root`, measure and draw its meshes, judge it on `day`, and write its pages.

    published: the site that is to be replaced, which remembers what the records said.
    """
    # Those who only examine a catalogue load nothing of its pages.
    from generator.measuring.kept_icons import kept_icons  # noqa: PLC0415
    from generator.measuring.kept_sheets import kept_sheet  # noqa: PLC0415
    from generator.pages.site import site  # noqa: PLC0415

    read = examined(root, day, store, progress, workers=workers, published=published)
    icons, keep = partial(kept_icons, store), partial(kept_sheet, store)
    changed = _lately(root, read.catalogue, memory_file(store.folder, root).with_suffix(".lately.json"))
    pages = site(read.catalogue, read.sheets, read.problems, day, icons, keep=keep, asked=read.asked, lately=changed) if read.catalogue.depot else None
    if pages and read.before:
        pages = replace(pages, assets=(*pages.assets, _remembered(read.before, read.records)))
    store.prune(UNUSED_DAYS)
    return replace(read, site=pages)


def _lately(root: Path, catalogue: Catalogue, file: Path) -> Lately:
    """By commits as far as these are the depot's past, else by the days that its records give."""
    from generator.provenance.remembering.lately import lately  # noqa: PLC0415  as above
    from generator.rules.lately_by_days import lately_by_days, told_since  # noqa: PLC0415

    found, since = lately(root, file), catalogue.depot.records_kept_since if catalogue.depot else None
    if found is None or since is None:
        return found or lately_by_days(catalogue)
    return told_since(found, lately_by_days(catalogue), since.day)


def _remembered(before: Memory, records: Mapping[str, Past]) -> Asset:
    from generator.pages.outputs import Asset  # noqa: PLC0415  as above

    return Asset(path=REMEMBERED, content=as_bytes(for_site(before, records)))


def examined(
    root: Path,
    day: date,
    store: Store,
    progress: Progress,
    *,
    workers: int | None = None,
    published: Path | None = None,
) -> Assembled:
    """The same without pages: what `check` and `find` need."""
    progress("read", 0, 1)
    catalogue, before = read_with_past(root, store, published)
    as_written, catalogue = catalogue, meant_on(catalogue, day)
    found = measured(catalogue, root, store, progress, workers=workers)
    sheets = tuple(judged(folder, found, day) for folder in catalogue.parts)
    asked = asked_shapes(catalogue, found.worked, root, store)
    every = in_order(
        [
            *catalogue.problems,
            *days_to_come(Disk(root), as_written, day),
            *_slips(root, catalogue, sheets, day),
            *left_of_trials(root, catalogue, day),
            *_language_problems(root, catalogue),
            *asked_problems(asked, found.worked, catalogue, Disk(root)),
            *told_once((each.number, problem) for each in sheets for problem in each.problems),
        ]
    )
    return Assembled(
        catalogue=catalogue,
        sheets=sheets,
        problems=once_each_cause(every),
        site=None,
        notes=(*depot_notes(Disk(root), catalogue.depot), *before.notes, *without_models(catalogue.parts)),
        records=to_remember(sheets, may_be_unsigned) | produced_to_remember(as_written, before.now, root, day),
        before=before,
        asked=asked,
    )


def read_with_past(root: Path, store: Store, published: Path | None = None) -> tuple[Catalogue, Memory]:
    """The catalogue, each record compared with what git, the store and the site `published` remember of it."""
    catalogue = signatures_checked(read_catalogue(root, store), root, store)
    before = memory(root, catalogue, store.folder, published / REMEMBERED if published else None)
    return produced_compared(compared(catalogue, before), before, root)


def read_produced(root: Path, store: Store, day: date) -> Catalogue:
    """The catalogue for a list of what sits where: its records of production compared as above, and as they are meant on `day`.

    Approvals are not compared, nor are signatures checked: no such list rests on them.
    """
    catalogue = read_catalogue(root, store)
    found = produced_compared(catalogue, memory(root, catalogue, store.folder, None), root)[0]
    return meant_on(found, day)


def meant_on(catalogue: Catalogue, day: date) -> Catalogue:
    """The same where there is nothing to settle."""
    production = settled(catalogue.production, day)
    return catalogue if production is catalogue.production else replace(catalogue, production=production)


def read_committed(state: AsOf, folder: Path, root: Path, store: Store) -> Catalogue:
    """The catalogue of `root` as a commit has it, written into `folder`; its records compared with what git knew by then."""
    catalogue = signatures_checked(read_catalogue(folder, store), folder, store)
    before = memory_as_of(state, catalogue, memory_file(store.folder, root))
    return produced_compared(compared(catalogue, before), before, folder)[0]


def remembered(root: Path, store: Store, records: Mapping[str, Past]) -> Problem | None:
    """Keep in the store what the records say; where that cannot be, says why."""
    return remember(memory_file(store.folder, root), records)


def measured(
    catalogue: Catalogue, root: Path, store: Store, progress: Progress, *, workers: int | None = None
) -> MeasuredCatalogue:
    """Measure and draw every mesh, then compare all parts with each other.

    workers: how many child processes do it; by default as many as processors and memory allow.
    """
    worked = work_all(catalogue, root, store, progress, workers=workers)
    orders = orders_of(catalogue, root)
    alike = alike_among({name: worked[name] for name in orders}, orders, store)
    pairs = [(each.one, each.other, each.compared) for each in alike]
    return MeasuredCatalogue(catalogue=catalogue, worked=worked, between=between_parts(catalogue.parts, worked, pairs))


def judged(folder: PartFolder, found: MeasuredCatalogue, day: date) -> Sheet:
    """One part of what was measured, as on `day`."""
    depot = found.catalogue.depot
    copy = Copy(day, depot.max_copy_age_days if depot else 1)
    same_model = found.between.same_model.get(folder.folder, ())
    alike = found.between.alike.get(folder.folder, ())
    return sheet(folder, found.worked.get(folder.folder), found.catalogue, copy, same_model, alike)


def _slips(root: Path, catalogue: Catalogue, sheets: tuple[Sheet, ...], day: date) -> list[Problem]:
    """Recorded prints that the reckoning leaves out, since no other agrees with them."""
    if not catalogue.prints and not catalogue.production.batches:
        return []
    from generator.planning.printing import batch_slips, crowded_doubts, models_of, shapes_in, slip_doubts  # noqa: PLC0415  a depot that records none needs none of it

    found: list[Problem] = []
    shapes = shapes_in(sheets)
    models = models_of(catalogue, shapes, day).values()
    if doubts := (*crowded_doubts(catalogue, shapes), *slip_doubts(models)):
        put(found, Disk(root).yaml("prints.yml"), doubts)
    for name, slip in batch_slips(models, catalogue):
        put(found, Disk(root).yaml(f"batches/{name}.yml"), [slip])
    return found


def left_of_trials(root: Path, catalogue: Catalogue, day: date) -> list[Problem]:
    """Pieces of trials that were to come off and sit on vehicles still."""
    if not catalogue.production.fitted:
        return []
    from generator.planning.holding.trials import trial_doubts, trials_of  # noqa: PLC0415  as above

    found: list[Problem] = []
    for folder in catalogue.parts:
        if doubts := trial_doubts(trials_of(folder.number, folder.approval, catalogue, day)):
            put(found, Disk(root).yaml(f"{folder.folder}/approval.yml"), doubts)
    return found


def _language_problems(root: Path, catalogue: Catalogue) -> list[Problem]:
    """What of the depot's language is shown in English instead: all of it, or the words that are not fit."""
    known, language = languages(), catalogue.language
    if language is Language.ENGLISH:
        return []
    from generator.pages.finder.query_words import problems_of_query_words  # noqa: PLC0415  English needs none of it

    found = [*problems_of_words(language), *problems_of_query_words(language)]
    if language not in known:
        found.append(doubt("DEPOT01", "no words", language=language, known=known))
    where = Disk(root).yaml("depot.yml").where(("language",)) if found else Where("depot.yml")
    return [each.at(where) for each in found]
