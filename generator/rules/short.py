"""What could not be read of the whole catalogue, so that a figure or a plan made of all records may be short of it?

And which lines of fitted/ contradict other records: they count in figures as in lists of pieces, since what sits on a vehicle sits there, and that is told.

More than what lists of pieces are short of (production/incomplete.py): every other record with a mistake, for nobody knows what it would have
said. Requests are left out: no figure is made of them.
"""

from collections import defaultdict
from collections.abc import Iterator

from generator.records.catalogue import Catalogue
from generator.records.fitted import FileGap
from generator.records.problems import Problem, Severity
from generator.rules.production.contradicting import line_problems
from generator.rules.production.incomplete import gaps_of

SHARED = ("depot.yml", "makers.yml", "fleets.yml")
"""Nothing can be planned while one of these has a mistake."""
_TOLD_APART = ("batches/", "fitted/", "materials/lots/", "recalls/", "requests/")
"""Of these `gaps_of` knows what could not be read; a mistake that leaves a record whole takes nothing from a figure."""


def short_of(catalogue: Catalogue) -> tuple[FileGap, ...]:
    """Files and lines that could not be read, each once, then records with mistakes."""
    gaps = gaps_of(catalogue.production)
    mistaken = {file for file in catalogue.mistaken if not file.startswith(_TOLD_APART)} | set(_parts(catalogue))
    return (*gaps, *(FileGap(file=file, why="mistakes") for file in sorted(mistaken - {gap.file for gap in gaps})))


def contradicting_lines(catalogue: Catalogue) -> Iterator[FileGap]:
    """Lines that are errors, by their file: nothing is missing by them. What was found so on a vehicle, or has come off, only warns and is told with its pieces."""
    lines: defaultdict[str, set[int]] = defaultdict(set)
    for each in line_problems(catalogue):
        if each.severity is Severity.ERROR and each.where.line:
            lines[each.where.file].add(each.where.line)
    yield from (FileGap(file=file, lines=tuple(sorted(found)), why="contradicts") for file, found in sorted(lines.items()))


def shared_mistakes(catalogue: Catalogue) -> tuple[Problem, ...]:
    """The mistakes of the files that every plan is made of."""
    return tuple(each for each in catalogue.problems if each.severity is Severity.ERROR and each.where.file in SHARED)


def _parts(catalogue: Catalogue) -> Iterator[str]:
    """Of a part its own record alone: what is wrong with its approval keeps it from being fitted, and no figure from being right."""
    every = (each for folder in catalogue.parts for each in folder.problems if each.severity is Severity.ERROR)
    yield from (each.where.file for each in every if each.where.file.endswith("/part.yml"))
