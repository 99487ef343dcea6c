"""Which lines that somebody hands over can be added to those that stand?

What cannot be what happened is refused for good: no such vehicle, no such day. What must not have been done, or cannot be by
what else is written down, is refused where nobody says more, since most of it is a slip: a place where the part does not fit, a
batch that nobody has released, more pieces than there are. Where somebody says that it was found so on the vehicle, it is
added, and bears that mark: only what is written down is looked for. What was fitted after it was called back is added in any
case.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow
from generator.records.problems import Problem, Severity, Where, wrong
from generator.rules.production.batch_told import batch_told
from generator.rules.production.crowded import crowded
from generator.rules.production.on_vehicles import is_before_release, may_be_found, row_problems

_ADDED_ALL_THE_SAME = ("FITTED09",)
_TAKE_OFF = ("no batch", "rejected", "never released")
_Place = tuple[str, int | None]
_Beside = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Adding:
    """What would be added, what stands already, and why the others cannot be added: by file and line."""

    new: tuple[FittedRow, ...]
    there: tuple[FittedRow, ...]
    against: tuple[Problem, ...]


def adding(handed: Sequence[FittedRow], catalogue: Catalogue, *, good_alone: bool, as_found: bool = False) -> Adding:
    """Lines of files from outside beside the catalogue's own. good_alone: those that can be, without the others; else all or none.

    as_found: lines that may be so all the same were found so on the vehicles. A line that has the row of one that stands and
    says otherwise is told by whoever reads the files.
    """
    standing = catalogue.production.fitted
    known = {row.row or row.alike for row in standing}
    there = [row for row in handed if (row.row or row.alike) in known]
    new = [row for row in handed if (row.row or row.alike) not in known]
    before = set(row_problems(catalogue))
    wrong_already = {(_of(each), each.code) for each in before if each.severity is Severity.ERROR}
    against: dict[Problem, None] = {}
    while True:
        found = [each for each in row_problems(catalogue, (*standing, *new)) if each not in before]
        found += crowded(standing, new, catalogue.production)
        places = {_place(row): row for row in new}
        bad = [each for each in found if _keeps_out(each, places)]
        if any(row.as_found for row in new):  # a line that is wrong as it stands is no less so, and keeps out nothing that was seen
            bad = [each for each in bad if (_of(each), each.code) not in wrong_already]
        taken = _by_batch(new, catalogue)
        told = [each for one in bad if (each := _at_fault(one, taken))]
        marked = _at_odds(told, standing, places) if as_found else set()
        if marked:
            new = [replace(row, as_found=True) if _place(row) in marked else row for row in new]
            continue
        out = {_of(each) for each in told} & places.keys()
        told += [each for each in found if each.code in _ADDED_ALL_THE_SAME and _of(each) in out]
        against.update(dict.fromkeys(_to_do(one, places.get(_of(one))) for one in told))
        if not good_alone or not bad:
            return Adding(() if bad else tuple(new), tuple(there), tuple(against))
        # What spoils a line that stands without being told itself is the last that was handed over.
        new = [row for row in new if _place(row) not in out] if out else new[:-1]


def _at_odds(told: Sequence[Problem], standing: Sequence[FittedRow], places: dict[_Place, FittedRow]) -> set[_Place]:
    """The new lines that contradict the records: those that are told, and those by which a line that stands cannot be."""
    found = {_of(each) for each in told if may_be_found(each)} & places.keys()
    stands = {_place(row): row for row in standing} if len(found) < len(told) else {}
    beside: dict[_Beside, list[FittedRow]] = {}
    for row in places.values() if stands else ():
        if not row.as_found:
            beside.setdefault(_beside(row), []).append(row)
    for each in told:
        line = stands.get(_of(each))
        if line and may_be_found(each):
            found |= {_place(new) for new in beside.get(_beside(line), ()) if new.day <= line.day}
    return found


def _beside(row: FittedRow) -> _Beside:
    return row.fleet, row.vehicle, row.place


def _place(row: FittedRow) -> _Place:
    return row.file, row.line


def _of(problem: Problem) -> _Place:
    return problem.where.file, problem.where.line


def _to_do(problem: Problem, row: FittedRow | None) -> Problem:
    """What is to be done at the vehicle first, where a piece must not be on it; what keeps a line out is an error, and nothing else is."""
    if not may_be_found(problem):
        return problem
    went_on = row is not None and row.batch == batch_told(problem)
    is_to_come_off = went_on and (problem.code == "FITTED09" or problem.key in _TAKE_OFF)
    severity = Severity.WARNING if problem.code in _ADDED_ALL_THE_SAME else Severity.ERROR
    return replace(problem, mend=f"{problem.code}.take off" if is_to_come_off else problem.mend, severity=severity)


@dataclass(frozen=True, slots=True)
class _Taken:
    """The new lines of a batch that were not found so: the last, where each stands, and whether one is of a day before the release."""

    last: FittedRow
    places: frozenset[_Place]
    is_too_early: bool


def _by_batch(new: Sequence[FittedRow], catalogue: Catalogue) -> dict[str, _Taken]:
    rows: dict[str, list[FittedRow]] = {}
    for row in new:
        if row.batch in catalogue.production.batches and not row.as_found:
            rows.setdefault(row.batch, []).append(row)
    return {
        name: _Taken(own[-1], frozenset(map(_place, own)), any(is_before_release(row, catalogue.production.batches[name]) for row in own))
        for name, own in rows.items()
    }


def _at_fault(problem: Problem, taken: Mapping[str, _Taken]) -> Problem | None:
    """Where a batch runs out, the new line that took the piece is told: one before the release, which is told as that, else the last."""
    if problem.code != "FITTED07":
        return problem
    own = taken.get(batch_told(problem) or "")
    if own and own.is_too_early:
        return None
    if not own or _of(problem) in own.places:
        return problem
    line = f"{problem.where.file}:{problem.where.line}"
    where = Where(own.last.file, own.last.line)
    return wrong("FITTED07", "taken", batch=own.last.batch, count=own.last.count, line=line, left=dict(problem.facts)["left"], where=where)


def _keeps_out(problem: Problem, places: dict[_Place, FittedRow]) -> bool:
    """Whether a problem that there was not before speaks against adding; of lines that stand only what is wrong for good."""
    if problem.code in _ADDED_ALL_THE_SAME:
        return False
    row = places.get(_of(problem))
    if row and row.as_found and may_be_found(problem):
        return False
    return row is not None or problem.severity is Severity.ERROR
