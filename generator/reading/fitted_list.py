"""A list of what was fitted, as a tablet or a person hands it over → lines as they would stand in fitted/<year>.csv."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from generator.reading.fitted import handed_file, once, shortened, what_moved
from generator.reading.placing import Finding, put
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile
from generator.records.base import as_compared
from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow
from generator.records.fitted_file import NEWEST_FITTED_FILE, FittedEntry, FittedList
from generator.records.problems import Problem, in_order, wrong
from generator.rules.production.on_vehicles import to_come

Handed = tuple[tuple[FittedRow, ...], tuple[Problem, ...]]
"""The lines of a file, and what is wrong with it."""


def handed_yaml(source: YamlFile, catalogue: Catalogue, today: date, *, as_found: bool = False) -> Handed:
    """Of a tablet's file. as_found: what it tells was seen on the vehicles, so that the batch on a label counts before the part."""
    given = source.content.get("fitted") if isinstance(source.content, dict) else None
    if isinstance(given, int) and not isinstance(given, bool) and given > NEWEST_FITTED_FILE:
        later = wrong("FITTED13", "later", given=given, newest=NEWEST_FITTED_FILE)
        return (), (later.at(source.where(("fitted",))),)
    found = record(FittedList, source)
    if found is None:
        return (), in_order(source.problems)
    put(source.problems, source, _findings(found, catalogue, today, as_found=as_found))
    if any(each.key == "other depot" for each in source.problems):
        return (), in_order(source.problems)
    lines = [source.where(("rows", at)).line or 0 for at in range(len(found.rows))]
    rows = tuple(_row(each, source.file, line) for each, line in zip(found.rows, lines, strict=True))
    kept, again = once(rows)
    return kept, in_order([*source.problems, *again, *shortened(to_come(rows, today))])


def handed_csv(file: str, raw: bytes, by: str | None, today: date) -> Handed:
    """Of a table with the columns of fitted/<year>.csv, of whatever years. by: the role where a line names none."""
    read = handed_file(file, raw, by=by)
    kept, again = once(read.rows)
    return kept, in_order([*read.problems, *shortened(again), *shortened(to_come(read.rows, today))])


def _findings(found: FittedList, catalogue: Catalogue, today: date, *, as_found: bool) -> Iterable[Finding]:
    depot = catalogue.depot
    if depot and (as_compared(found.railway), as_compared(found.depot)) != (as_compared(depot.railway), as_compared(depot.depot)):
        here = f"{depot.railway}, {depot.depot}"
        yield wrong("FITTED13", "other depot", path=("depot",), given=f"{found.railway}, {found.depot}", here=here)
    if found.made_on > today:
        yield wrong("FITTED13", "made to come", path=("made_on",), on=found.made_on)
    for at, each in enumerate(found.rows):
        yield from (replace(problem, path=("rows", at)) for problem in what_moved(_told(each)))
        batch = catalogue.production.batches.get(each.batch or "")
        if batch and each.part and each.part != batch.part and not (as_found or each.as_found):
            yield wrong("FITTED13", "other part", path=("rows", at), part=each.part, batch=each.batch, own=batch.part)


def _told(each: FittedEntry) -> dict[str, str]:
    return {
        "batch": each.batch or "",
        "count": str(each.count or ""),
        "removed_batch": each.removed_batch or "",
        "removed": str(each.removed or ""),
        "why": each.why.value if each.why else "",
    }


def _row(each: FittedEntry, file: str, line: int) -> FittedRow:
    return FittedRow(
        day=each.day,
        fleet=each.fleet,
        vehicle=each.vehicle,
        place=each.place,
        position=each.position or "",
        batch=each.batch or "",
        count=each.count or 0,
        removed_batch=each.removed_batch or "",
        removed=each.removed or 0,
        why=each.why,
        by=each.by,
        row=each.row,
        file=file,
        line=line,
        as_found=each.as_found,
    )
