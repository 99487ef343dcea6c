"""One part of the catalogue, read and judged as the pages judge it."""

import difflib
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from generator.assemble.whole_way import (
    MeasuredCatalogue,
    Progress,
    judged,
    measured,
    read_committed,
    read_with_past,
)
from generator.edge.clock import today
from generator.edge.meant import name_meant, near
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.provenance.remembering.as_of import AsOf, NoStateError, as_of, written
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.depot import NEWEST_CATALOGUE, LaterFormatError
from generator.rules.production.by_then import known_on
from generator.rules.sheet import Sheet
from generator.systems.store import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class OnePart:
    """A part's sheet and the catalogue it was read from."""

    root: Path
    catalogue: Catalogue
    sheet: Sheet
    store: Store
    measured: MeasuredCatalogue
    """Without what was said of prints after `day`."""
    day: date

    def judged_as(self, folder: PartFolder) -> Sheet:
        """The part as it would stand with this folder in place of its own, and the same model."""
        return judged(folder, self.measured, self.day)


def one_part(
    root: Path, number: str | None, day: date, store: Store, report: Progress, *, workers: int | None = None
) -> OnePart:
    """The part with this number, upper or lower case, as on `day`; without one the part in whose folder one stands.

    Raises Refusal, with near numbers, where there is none.
    """
    catalogue, _ = read_with_past(root, store)
    folder = as_on(folder_here(catalogue, root) if number is None else folder_of(catalogue, number, root), day, today())
    every = measured(catalogue, root, store, report, workers=workers)  # the others too: is its model another's?
    found = _known_on(every, day, today())
    return OnePart(
        root=root,
        catalogue=catalogue,
        sheet=judged(folder, found, day),
        store=store,
        measured=found,
        day=day,
    )


def one_part_as_of(  # noqa: PLR0917  as `one_part`, and the moment
    root: Path, number: str | None, at: date | str, on: date | None, store: Store, report: Progress, *, workers: int | None = None
) -> tuple[OnePart, AsOf]:
    """The part as it was written in a commit, or at the end of a day, judged on that day or on `on`; and which commit it was.

    The root of the part is a folder that is gone afterwards. Raises Refusal.
    """
    try:
        state = as_of(root, at)
        with tempfile.TemporaryDirectory(prefix="spares-") as made:
            then = Path(made) / "catalogue"
            written(state, then)
            return _as_of(state, then, root, number, on or (at if isinstance(at, date) else state.day), (store, report, workers)), state
    except NoStateError as error:
        raise refused(error.key, Ending.MISUSE, **error.facts) from error


def _as_of(  # noqa: PLR0917  of `one_part_as_of` alone
    state: AsOf, then: Path, root: Path, number: str | None, day: date, how: tuple[Store, Progress, int | None]
) -> OnePart:
    store, report, workers = how
    about: dict[str, Any] = {"commit": state.short, "day": state.day.isoformat()}
    try:
        catalogue = read_committed(state, then, root, store)
    except LaterFormatError as error:
        given = str(dict(error.problem.facts)["given"])
        raise refused("at_later", given=given, newest=str(NEWEST_CATALOGUE), **about) from error
    folder = folder_here(catalogue, root) if number is None else _folder_then(catalogue, number, root, about)
    found = _known_on(measured(catalogue, then, store, report, workers=workers), day, state.day)
    sheet = judged(as_on(folder, day, state.day), found, day)
    return OnePart(root=then, catalogue=catalogue, sheet=sheet, store=store, measured=found, day=day)


def _folder_then(catalogue: Catalogue, number: str, root: Path, about: Mapping[str, Any]) -> PartFolder:
    """As `folder_of`, where a number of today may have had no folder yet."""
    if name_meant(number, (each.number for each in catalogue.parts)) is None and not _shared(catalogue, number):
        raise refused("at_no_part", Ending.MISUSE, number=number, **about)
    return folder_of(catalogue, number, root)


def as_on(folder: PartFolder, day: date, today: date) -> PartFolder:
    """The folder without the events between `day` and today: nobody knew of them then, and they are no mistake."""
    if folder.approval is None or day >= today:
        return folder
    pairs = zip(folder.approval.events, folder.event_places, strict=True)
    kept = [(event, place) for event, place in pairs if event.on <= day or event.on > today]
    events = tuple(event for event, _ in kept)
    approval = folder.approval.model_copy(update={"events": events})
    return replace(folder, approval=approval, event_places=tuple(place for _, place in kept))


def _known_on(found: MeasuredCatalogue, day: date, today: date) -> MeasuredCatalogue:
    """The same of what was printed and fitted."""
    production = known_on(found.catalogue.production, day, today)
    return found if production is found.catalogue.production else replace(found, catalogue=replace(found.catalogue, production=production))


def folder_here(catalogue: Catalogue, root: Path) -> PartFolder:
    """The part in whose folder, or below it, one stands. Raises Refusal where that is none."""
    here, parts = Path.cwd().resolve(), (root / "parts").resolve()
    inside = here.relative_to(parts).parts if here.is_relative_to(parts) else ()
    found = next((each for each in catalogue.parts if inside and each.folder == f"parts/{inside[0]}"), None)
    if found is None:
        raise refused("no_number", Ending.MISUSE)
    return found


def _shared(catalogue: Catalogue, number: str) -> list[PartFolder]:
    """The folders of a number that several have."""
    return [each for each in catalogue.parts if each.number.casefold() == number.strip().casefold()]


def folder_of(catalogue: Catalogue, number: str, root: Path) -> PartFolder:
    """The folder of the part with this number, however its letters and dashes were typed. Raises Refusal, with near numbers, where there is none."""
    meant = name_meant(number, dict.fromkeys(each.number for each in catalogue.parts))
    found = [each for each in catalogue.parts if each.number == meant] or _shared(catalogue, number)
    if len(found) == 1:
        return found[0]
    if found:
        folders = str(words().flat["commands.and"]).join(each.folder for each in found)
        raise refused("same_number", folders=folders)
    numbers = [each.number for each in catalogue.parts]
    close = [*near(number, numbers)] or difflib.get_close_matches(number.upper(), numbers, n=3, cutoff=0.6)
    raise refused("no_part", Ending.MISUSE, near=close, number=number, root=str(root))
