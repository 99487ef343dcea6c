"""Does each record of production still say what git, the store and the last site remember of it?

A batch whose record, lot or recall was rewritten makes its own pieces ask: nobody can tell what was taken out. A part does
not ask for a fitted line or a coupon, which no verdict rests on; they are errors at their place all the same, and a list of
what sits where says that it is short of such lines.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Literal

from generator.provenance.remembering.compared import Memory
from generator.provenance.remembering.states import State
from generator.reading.disk import Disk
from generator.reading.placing import MOST_ALIKE, more_like_it
from generator.reading.production_checks import faults_in
from generator.reading.production_days import days_of_production
from generator.reading.validating import record
from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow
from generator.records.problems import Problem, Severity, Where, in_order
from generator.records.production import Production
from generator.records.recalls import Recall
from generator.rules.past import Past
from generator.rules.past_produced import (
    BYTES,
    EVERYTHING,
    WHOLE,
    digits_of,
    file_of,
    is_produced,
    names_of,
    past_of_lines,
    pasts_of,
    unsaid_of,
)
from generator.rules.production.standing_lines import standing_problems
from generator.rules.slips import slips_of_record

Witness = tuple[Past, dict[str, str], State | None]
"""What is remembered, and by whom: the facts of a problem, and of git the state of a commit."""


_LESS: Literal["less"] = "less"
_GONE = "BAL05"
"""That a record is gone, told by lines alone."""


@dataclass(slots=True)
class _Found:
    """What is wrong, by the file, and the batches and parts whose pieces have to be asked about."""

    problems: list[Problem] = field(default_factory=list)
    batches: defaultdict[str, set[str]] = field(default_factory=lambda: defaultdict(set))
    """With the files that say less of each."""
    parts: dict[str, str | None] = field(default_factory=dict)
    lines: set[str] = field(default_factory=set)
    """Files of fitted lines."""


def produced_compared(catalogue: Catalogue, memory: Memory, root: Path) -> tuple[Catalogue, Memory]:
    """The catalogue with what its records of production no longer say; the memory with what they say now."""
    disk, production = Disk(root), catalogue.production
    unread = _unread(catalogue)
    now = pasts_of(_as_written(production, unread, disk)) | _fitted(production, memory, disk)
    found = _Found()
    broken = {gap.file for gap in production.gaps if gap.from_line is not None}
    for name, witnesses in sorted(_witnesses(memory).items()):
        if name not in broken and (name in now or file_of(name) not in unread):
            _compare(name, witnesses, now.get(name), catalogue, memory, disk, found)
    if found.problems:
        production = replace(
            production,
            rewritten=production.rewritten | found.batches.keys(),
            rewritten_in={**production.rewritten_in, **{batch: frozenset(files) for batch, files in found.batches.items()}},
            shortened=production.shortened | found.lines,
            unread=found.parts | production.unread,
            apart={**dict.fromkeys(found.parts, _LESS), **production.apart},
        )
        told = {each.where.file for each in found.problems}
        others = (each for each in catalogue.problems if each.code != _GONE or each.where.file not in told)
        catalogue = replace(catalogue, production=production, problems=in_order([*others, *found.problems]))
    return catalogue, replace(memory, now=now)


def _as_written(production: Production, unfit: Collection[str], disk: Disk) -> Production:
    """The recalls with all their events: of one with a mistake only the calls count."""
    files = [f"recalls/{name}.yml" for name in production.recalls if f"recalls/{name}.yml" in unfit]
    read = {Path(file).stem: each for file in files if (each := record(Recall, disk.yaml(file)))}
    return replace(production, recalls=production.recalls | read) if read else production


def _fitted(production: Production, memory: Memory, disk: Disk) -> dict[str, Past]:
    """Of each file of fitted lines; one that is as the store remembers it is not looked at line by line."""
    rows: defaultdict[str, list[FittedRow]] = defaultdict(list)
    for row in production.fitted:
        rows[row.file].append(row)
    found = {}
    for file, lines in rows.items():
        kept, before = disk.kept(file), memory.stored.get(file)
        if kept is None:
            continue
        is_same = before is not None and (before.keys.get(BYTES), before.keys.get(WHOLE)) == (str(kept.size_bytes), kept.sha256)
        found[file] = before if before and is_same else past_of_lines(lines, kept.size_bytes, kept.sha256)
    return found


def _unread(catalogue: Catalogue) -> set[str]:
    """Files with a mistake: where they give no record they cannot be compared, and that is told already. One that is gone is none of them."""
    return {each.where.file for each in catalogue.problems if each.severity is Severity.ERROR and each.code != _GONE}


def _witnesses(memory: Memory) -> dict[str, list[Witness]]:
    found: defaultdict[str, list[Witness]] = defaultdict(list)
    for state in memory.committed.produced if memory.committed else ():
        found[state.folder].append((state.past, {"memory": "git", "commit": state.commit[:10], "day": state.day}, state))
    for witness, records in (("store", memory.stored), ("site", memory.published)):
        for name, past in records.items():
            if is_produced(name):
                found[name].append((past, {"memory": witness}, None))
    return found


def _compare(  # noqa: PLR0917  of `produced_compared` alone
    name: str, witnesses: Iterable[Witness], now: Past | None, catalogue: Catalogue, memory: Memory, disk: Disk, found: _Found
) -> None:
    told: dict[object, Problem] = {}
    merged = memory.committed.merged.get(name, frozenset()) if memory.committed else frozenset()
    for before, facts, state in witnesses:
        lost = unsaid_of(name, before, now, merged)
        if lost and state and memory.committed:  # what never counted is not held against it
            lost = unsaid_of(name, counted, now, merged) if (counted := memory.committed.counted(state)) else ()
        for each in lost:
            told.setdefault((each.key, each.path, dict(each.facts).get("event"), dict(each.facts).get("line")), each.telling(**facts))
        if lost:
            _asked(name, before, now, catalogue.production, found)
    problems = list(told.values())
    found.problems += [each.at(place) for each, place in _placed(problems[:MOST_ALIKE], name, catalogue.production, disk)]
    if len(problems) > MOST_ALIKE:
        [(first, place)] = _placed([problems[MOST_ALIKE]], name, catalogue.production, disk)
        found.problems.append(more_like_it(first.code, place, len(problems) - MOST_ALIKE))


def _placed(problems: Iterable[Problem], name: str, production: Production, disk: Disk) -> Iterator[tuple[Problem, Where]]:
    file, _, qualification = name.partition("#")
    listed = list(problems)
    if not disk.is_there(file):
        yield from ((each, Where(file)) for each in listed)
    elif file.startswith("fitted/"):
        lines = [row.line for row in production.fitted if row.file == file]
        for each in listed:
            at = int(each.path[0]) if each.path else -1
            yield each, Where(file, lines[at] if 0 <= at < len(lines) else 1)
    else:
        source = disk.yaml(file)
        before = _qualification(file, qualification, production) if qualification else ()
        yield from ((each, source.where((*before, *(("coupons", *each.path[1:]) if qualification else each.path)))) for each in listed)


def _qualification(file: str, qualification: str, production: Production) -> tuple[str | int, ...]:
    machine = production.machines.get(Path(file).stem)
    names = names_of(machine) if machine else ()
    return ("qualifications", names.index(qualification)) if qualification in names else ()


def _asked(name: str, before: Past, now: Past | None, production: Production, found: _Found) -> None:
    """Of which pieces nobody knows any more what their records said."""
    folder, _, file = name.rpartition("/")
    stem = file.removesuffix(".yml")
    said = [each.keys for each in (before, now) if each]
    if folder == "fitted":
        found.lines.add(name)
    elif folder == "batches":
        found.batches[stem].add(name)
        if now is None:
            found.parts[name] = before.keys.get("part")
    elif folder == "materials/lots":
        for batch in (batch for batch, each in production.batches.items() if stem in each.lots):
            found.batches[batch].add(name)
    elif folder == "recalls":
        of_lots = {batch for batch, each in production.batches.items() if any(keys.get("lot") in each.lots for keys in said)}
        for batch in of_lots | {keys["batch"] for keys in said if "batch" in keys}:
            found.batches[batch].add(name)
        found.parts |= {f"{name}#{keys['part']}": keys["part"] for keys in said if "part" in keys}


def produced_to_remember(catalogue: Catalogue, now: Mapping[str, Past], root: Path, day: date) -> dict[str, Past]:
    """What may be remembered of the records of production: all that counts on `day`. What is in error is told and marked as a slip,
    so that a mistake of today is not held against tomorrow; what was remembered as good stays so.
    """
    slips = _slips(catalogue, root, day)
    told = {name: replace(past, slips=slips[name]) if name in slips else past for name, past in now.items()}
    return {name: past for name, past in told.items() if EVERYTHING not in past.slips}


def _slips(catalogue: Catalogue, root: Path, day: date) -> Mapping[str, frozenset[str]]:
    """By the name that a record is remembered by."""
    late = dict(days_of_production(catalogue.production, day))
    unfit = _unread(catalogue) | late.keys()
    written = replace(catalogue, production=_as_written(catalogue.production, unfit, Disk(root)))
    found: dict[str, frozenset[str]] = {}
    for file, each, faults in faults_in(unfit, written, {folder.number for folder in catalogue.parts}):
        found |= slips_of_record(file, each, [*faults, *late.get(file, ())])
    return found | _slips_of_lines(catalogue, day)


def _slips_of_lines(catalogue: Catalogue, day: date) -> dict[str, frozenset[str]]:
    """What sits where it should not counts, but may have been mistyped: until it is committed its line may be mended."""
    found: defaultdict[str, set[str]] = defaultdict(set)
    is_any = any(each.severity is Severity.ERROR and (each.where.file.startswith("fitted/") or each.code == _GONE) for each in catalogue.problems)
    wrong_at = {each.where for each in standing_problems(catalogue) if each.severity is Severity.ERROR} if is_any else set()
    for row in catalogue.production.fitted:
        if row.day > day or (wrong_at and Where(row.file, row.line) in wrong_at):
            found[row.file].add(digits_of(row))
    return {file: frozenset(lines) for file, lines in found.items()}
