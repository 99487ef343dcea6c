"""Does each record still say what git, the store and the last site remember of it?"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from generator.provenance.remembering.kept import UnreadableError, further_of_any, memory_file, remembered
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.depot import RecordsKeptSince
from generator.records.problems import Problem, Severity, Where, doubt, in_order, wrong
from generator.rules.folder_names import owners
from generator.rules.past import Past, past_of, unsaid
from generator.rules.sheet import Sheet

if TYPE_CHECKING:
    from generator.provenance.remembering.as_of import AsOf
    from generator.provenance.remembering.committed import Committed
    from generator.provenance.remembering.states import State

_NO_RECORD = Past({}, ())


@dataclass(frozen=True, slots=True, kw_only=True)
class Memory:
    """What was remembered before, by part number, and what cannot be told."""

    committed: Committed | None
    stored: Mapping[str, Past]
    published: Mapping[str, Past]
    notes: tuple[Problem, ...]
    now: Mapping[str, Past] = field(default_factory=dict)
    """What the records of production say now, by name (rules/past_produced.py)."""


def memory(root: Path, catalogue: Catalogue, store: Path, published: Path | None) -> Memory:
    """Ask git, the store and the site that is to be replaced; published: that site's file, where there may be one."""
    notes: list[Problem] = []
    file = memory_file(store, root)
    stored, on_site = _in_file(file, notes), _in_file(published, notes) if published else {}
    since = catalogue.depot.records_kept_since if catalogue.depot else None
    # Without depot.yml nobody knows which commits are no past of the records.
    by_git = _by_git(root, since, file.with_suffix(".git.json"), notes) if catalogue.depot else None
    if catalogue.depot is None:
        notes.append(doubt("PAST07", "no depot"))
    elif not stored and not on_site and not (by_git and (by_git.states or by_git.produced)) and not notes and catalogue.parts:
        notes.append(doubt("PAST07", "fresh"))
    if since:
        notes.append(doubt("PAST07", "left out", day=since.day, by=since.by, why=since.why))
    return Memory(committed=by_git, stored=stored, published=on_site, notes=tuple(notes))


def memory_as_of(state: AsOf, catalogue: Catalogue, file: Path) -> Memory:
    """What git knew in a commit; what is remembered beside it (`file`) is of later. Raises NoStateError."""
    from generator.provenance.remembering.as_of import NoStateError  # noqa: PLC0415  only where there is git
    from generator.provenance.remembering.committed import committed  # noqa: PLC0415
    from generator.provenance.remembering.git import GitError  # noqa: PLC0415

    if catalogue.depot is None:
        return Memory(committed=None, stored={}, published={}, notes=())
    since = catalogue.depot.records_kept_since
    try:
        found = committed(state.repository, since.day if since else None, file.with_suffix(".at.json"))
    except GitError as error:
        raise NoStateError("at_git", reason=str(error)) from error
    return Memory(committed=found, stored={}, published={}, notes=())


def _in_file(file: Path, notes: list[Problem]) -> dict[str, Past]:
    try:
        return remembered(file)
    except UnreadableError:
        notes.append(doubt("PAST07", "unreadable", file=file.as_posix()))
        return {}


def _by_git(root: Path, since: RecordsKeptSince | None, file: Path, notes: list[Problem]) -> Committed | None:
    place = root.resolve()
    if not any(os.path.lexists(each / ".git") for each in (place, *place.parents)):
        return None
    from generator.provenance.remembering.committed import committed  # noqa: PLC0415  only where there is git
    from generator.provenance.remembering.git import GitError, Repository  # noqa: PLC0415

    try:
        repository = Repository.around(root)
        day = since.day if since else None
        if repository and day and day > (newest := repository.newest()):
            notes.append(doubt("PAST07", "to come", day=day, newest=newest))
            day = None  # it would leave out whatever there is
        found = committed(repository, day, file) if repository else None
    except GitError as error:
        notes.append(doubt("PAST07", "no git", reason=str(error)))
        return None
    if repository and repository.is_shallow:
        notes.append(doubt("PAST07", "shallow"))
    return found


def compared(catalogue: Catalogue, memory: Memory) -> Catalogue:
    """The catalogue with what its records no longer say, as errors of their parts."""
    states = _by_number(catalogue, memory.committed)
    forks = _forks(memory.committed)
    parts = tuple(_compared(folder, memory, states.get(folder.number, ()), forks) for folder in catalogue.parts)
    return replace(catalogue, parts=parts)


def _compared(
    folder: PartFolder, memory: Memory, states: Iterable[State], forks: Mapping[str, list[tuple[State, State]]]
) -> PartFolder:
    file = f"{folder.folder}/approval.yml"
    if folder.approval is None and any(each.where.file == file for each in folder.problems):
        return folder  # what cannot be read cannot be compared, and is an error already
    now = past_of(folder.approval) if folder.approval else _NO_RECORD
    found: dict[object, Problem] = {}
    for before, facts in _witnesses(folder.number, memory, states):
        for problem in unsaid(before, now):
            told = problem.telling(number=folder.number, **facts)
            told = _forked(told, forks.get(folder.folder, ())) or told
            found.setdefault((told.code if told.code == "PAST04" else "", problem.path, dict(problem.facts).get("event")), told)
    if not found:
        return folder
    placed = [each.at(_place(folder, file, each)) for each in found.values()]
    return replace(folder, problems=in_order([*folder.problems, *placed]))


def _witnesses(number: str, memory: Memory, states: Iterable[State]) -> Iterator[tuple[Past, dict[str, str]]]:
    for state in states:
        yield state.past, {"memory": "git", "commit": state.commit[:10], "day": state.day}
    for name, records in (("store", memory.stored), ("site", memory.published)):
        if number in records:
            yield records[number], {"memory": name}


def _forked(problem: Problem, forks: Iterable[tuple[State, State]]) -> Problem | None:
    """The same said of two branches, where each holds another event at that place."""
    index = int(dict(problem.facts).get("event", 0)) - 1  # type: ignore[arg-type]
    for one, other in forks:
        both = one.past.events[index : index + 1] + other.past.events[index : index + 1] if index >= 0 else ()
        if len(both) == 2 and both[0].own != both[1].own:
            here, there = both
            found = wrong(
                "PAST05", "branches", "put one behind", path=problem.path, what=here.what, on=here.on, one=one.commit[:10],
                other_what=there.what, other_on=there.on, other=other.commit[:10],
            )  # fmt: skip
            return found.telling(event=index + 1, number=dict(problem.facts)["number"])
    return None


def _place(folder: PartFolder, file: str, problem: Problem) -> Where:
    if folder.approval is None:
        return Where(folder.folder)
    places = folder.event_places
    return places[int(problem.path[1])] if problem.path[:1] == ("events",) and places else Where(file, 1)


def _by_number(catalogue: Catalogue, found: Committed | None) -> dict[str, list[State]]:
    """The states by the part that they belong to now: a folder may have got another name behind its number."""
    owner = owners(catalogue.parts)
    sorted_out: dict[str, list[State]] = {}
    for state in found.states if found else ():
        if number := owner(state.folder):
            sorted_out.setdefault(number, []).append(state)
    return sorted_out


def _forks(found: Committed | None) -> dict[str, list[tuple[State, State]]]:
    sorted_out: dict[str, list[tuple[State, State]]] = {}
    for one, other in found.forks if found else ():
        sorted_out.setdefault(one.folder, []).append((one, other))
    return sorted_out


def to_remember(sheets: Iterable[Sheet], besides: Callable[[Problem], bool]) -> dict[str, Past]:
    """The records that may be remembered: those without a mistake, so that a slip of today is not held against tomorrow.

    besides: mistakes that no event is the reason of.
    """
    return {
        sheet.number: past_of(sheet.folder.approval)
        for sheet in reversed(tuple(sheets))
        if sheet.folder.approval and not any(_is_of_record(each, sheet.folder) and not besides(each) for each in sheet.problems)
    }


def _is_of_record(problem: Problem, folder: PartFolder) -> bool:
    return problem.severity is Severity.ERROR and problem.where.file in (folder.folder, f"{folder.folder}/approval.yml")


def for_site(memory: Memory, records: Mapping[str, Past]) -> dict[str, Past]:
    """What the next site remembers: what the last one and the store did, and what has come since."""
    found = dict(memory.published)
    for newer in (memory.stored, records):
        found |= {name: further_of_any(name, found.get(name), past) for name, past in newer.items()}
    return found
