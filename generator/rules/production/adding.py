"""Which lines that somebody hands over can be added to those that stand?

What is impossible is refused, and what must not have been done where the record can be put right first: a place where the
part does not fit, a batch that nobody has released. What was fitted after it was called back is added all the same:
it sits there, and only what is written down is looked for.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow
from generator.records.problems import Problem, Severity, Where, wrong
from generator.rules.production.on_vehicles import is_before_release, row_problems

_ADDED_ALL_THE_SAME = ("FITTED09",)


@dataclass(frozen=True, slots=True)
class Adding:
    """What would be added, what stands already, and why the others cannot be added: by file and line."""

    new: tuple[FittedRow, ...]
    there: tuple[FittedRow, ...]
    against: tuple[Problem, ...]


def adding(handed: Sequence[FittedRow], catalogue: Catalogue, *, good_alone: bool) -> Adding:
    """Lines of files from outside beside the catalogue's own. good_alone: those that can be, without the others; else all or none.

    A line that has the row of one that stands and says otherwise is told by whoever reads the files.
    """
    standing = catalogue.production.fitted
    known = {row.row or row.alike for row in standing}
    there = [row for row in handed if (row.row or row.alike) in known]
    new = [row for row in handed if (row.row or row.alike) not in known]
    before = set(row_problems(catalogue))
    against: list[Problem] = []
    while True:
        found = [each for each in row_problems(catalogue, (*standing, *new)) if each not in before]
        places = {(row.file, row.line) for row in new}
        bad = [each for each in found if _keeps_out(each, is_own=(each.where.file, each.where.line) in places)]
        told = [each for one in bad if (each := _at_fault(one, new, catalogue))]
        against += [each for each in told if each not in against]
        out = {(each.where.file, each.where.line) for each in told} & places
        if not good_alone or not bad:
            return Adding(() if bad else tuple(new), tuple(there), tuple(against))
        # What spoils a line that stands without being told itself is the last that was handed over.
        new = [row for row in new if (row.file, row.line) not in out] if out else new[:-1]


def _at_fault(problem: Problem, new: Sequence[FittedRow], catalogue: Catalogue) -> Problem | None:
    """Where a batch runs out, the new line that took the piece is told: one before the release, which is told as that, else the last."""
    if problem.code != "FITTED07":
        return problem
    facts = dict(problem.facts)
    own = [row for row in new if row.batch == facts["batch"]]
    batch = catalogue.production.batches[str(facts["batch"])]
    if any(is_before_release(row, batch) for row in own):
        return None
    if not own or any((row.file, row.line) == (problem.where.file, problem.where.line) for row in own):
        return problem
    last, line = own[-1], f"{problem.where.file}:{problem.where.line}"
    return wrong("FITTED07", "taken", batch=last.batch, count=last.count, line=line, left=facts["left"], where=Where(last.file, last.line))


def _keeps_out(problem: Problem, *, is_own: bool) -> bool:
    """Whether a problem that there was not before speaks against adding; of lines that stand only what is wrong for good."""
    if problem.code in _ADDED_ALL_THE_SAME:
        return False
    return is_own or problem.severity is Severity.ERROR

