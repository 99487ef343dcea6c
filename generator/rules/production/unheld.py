"""Which records are named by others though no file holds them, so that what they told is gone with them?

A batch whose file was deleted or renamed tells neither its part nor its lots any more: whoever lists what was printed passes its
pieces over. What names it is still there, for lines are kept apart from batches, batches apart from lots. What nothing names cannot
be known here; the memory of git and of the store tells that (provenance/remembering/produced.py).
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Final

from pydantic import BaseModel

from generator.records.problems import Problem, Where, doubt, wrong
from generator.records.production import Production, number_in
from generator.records.vehicles import read_alike

Parts = frozenset[str] | None
"""Numbers of the parts that a record may speak of; None: of any."""
_RECALL: Final = re.compile(r"(?<![\w-])RC-[0-9]{4,8}(?![\w-])")
_OWN: Final = re.compile(r"RC-([0-9]{4,8})")
_TEXTS: Final = ("why", "note", "accepts")
"""Where people name a recall of their own. A reference is somebody else's number."""


@lru_cache(8)
def unheld_batches(production: Production) -> Mapping[str, Parts]:
    """Batches that lines fit or take off as known ones, of which there is neither a record nor a file that cannot be read; by number.

    What was only found so on a vehicle never had a record: it is looked for (suspects.py), and nothing is gone.
    """
    found = {row.batch for row in production.fitted if row.as_found}
    sites: defaultdict[str, set[tuple[str, str]]] = defaultdict(set)
    for row in production.fitted:
        claimed = ("" if row.as_found else row.batch, "" if row.removed_batch in found else row.removed_batch)
        for name in claimed:
            if name and name not in production.batches:
                sites[name].add((row.fleet, row.place))
    return {name: _going_to(at, production) for name, at in sorted(sites.items()) if not production.may_be_unread("batches", name)}


@lru_cache(8)
def unheld_lots(production: Production) -> Mapping[str, Parts]:
    """Lots that batches name, of which there is no file. Capitals are no matter (settled.py)."""
    there = {name.casefold() for name in production.lots}
    there |= {number_in(file).casefold() for file in production.unread_in("materials/lots")}
    found: defaultdict[str, set[str]] = defaultdict(set)
    for batch in production.batches.values():
        for lot in batch.lots:
            if lot.casefold() not in there:
                found[lot].add(batch.part)
    return {lot: frozenset(parts) for lot, parts in sorted(found.items())}


@lru_cache(8)
def unheld_recalls(production: Production) -> Mapping[str, tuple[str, ...]]:
    """Recalls that the words of records name, of which there is no file, with the files that name them."""
    there = _recalls(production)
    found: defaultdict[str, set[str]] = defaultdict(set)
    for file, record in _every(production):
        for text in _texts(record):
            for name in _RECALL.findall(text):
                if name not in there:
                    found[name].add(file)
    return {name: tuple(sorted(files)) for name, files in sorted(found.items())}


def unheld_files(production: Production, parts: Iterable[str] | None, *, recalls: bool) -> Iterator[str]:
    """The files that are not there. parts: only those that may speak of these. recalls: as for `gaps_of`."""
    batches = {f"batches/{name}.yml": each for name, each in unheld_batches(production).items()}
    lots = {f"materials/lots/{name}.yml": each for name, each in unheld_lots(production).items()} if recalls else {}
    yield from (file for file, of in (batches | lots).items() if parts is None or of is None or not of.isdisjoint(parts))
    yield from (f"recalls/{name}.yml" for name in unheld_recalls(production)) if recalls else ()


def unheld_problems(production: Production) -> Iterator[Problem]:
    """Each record that is gone, told once at its file, instead of at each line that names it; of a single line the line is as likely wrong."""
    for name, lines in lines_of_lost(production).items():
        yield wrong("BAL05", "no record", where=Where(f"batches/{name}.yml"), batch=name, count=len(lines), line=lines[0])
    for name, files in unheld_recalls(production).items():
        yield doubt("RECALL03", "no record", where=Where(f"recalls/{name}.yml"), name=name, files=files)
    yield from (doubt("RECALL03", "hole", where=Where(f"recalls/{name}.yml"), name=name) for name in _holes(production))


def lines_of_lost(production: Production) -> Mapping[str, tuple[str, ...]]:
    """The lines that name a batch of which there is no record, where several do, by its number; of a number that is only written otherwise each is wrong."""
    known = {read_alike(name) for name in production.batches} if unheld_batches(production) else set()
    lost = {name for name in unheld_batches(production) if read_alike(name) not in known}
    found = defaultdict[str, list[str]](list)
    for row in production.fitted if lost else ():
        for name in dict.fromkeys((row.batch, row.removed_batch)):
            if name in lost:
                found[name].append(f"{row.file}:{row.line}")
    return {name: tuple(lines) for name, lines in sorted(found.items()) if len(lines) > 1}


def _going_to(sites: Iterable[tuple[str, str]], production: Production) -> Parts:
    """The parts that go to any of these places of fleets."""
    found: set[str] = set()
    for site in sites:
        there = production.going_to.get(site)
        if not there:
            return None
        found |= there
    return frozenset(found)


def _recalls(production: Production) -> set[str]:
    return {*production.recalls, *(number_in(file).upper() for file in production.unread_in("recalls"))}


def _holes(production: Production) -> Iterator[str]:
    """Numbers between others that no file bears: commands leave none. Where most are missing the depot numbers in its own way."""
    there = {int(own[1]) for name in _recalls(production) if (own := _OWN.fullmatch(name))}
    last = max(there, default=0)
    if last < 2 * len(there):
        named = unheld_recalls(production)
        yield from (name for number in range(1, last) if number not in there and (name := f"RC-{number:04}") not in named)


def _every(production: Production) -> Iterator[tuple[str, BaseModel]]:
    folders: tuple[tuple[str, Mapping[str, BaseModel]], ...] = (
        ("batches", production.batches), ("materials/lots", production.lots), ("recalls", production.recalls),
    )  # fmt: skip
    yield from ((f"{folder}/{name}.yml", record) for folder, records in folders for name, record in records.items())


def _texts(record: BaseModel) -> Iterator[str]:
    for event in getattr(record, "events", ()):
        yield from (text for field in _TEXTS if (text := getattr(event, field, None)))
