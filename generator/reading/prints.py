"""Does what was printed agree with the parts and makers of the catalogue, and has it been printed by now?"""

from collections.abc import Iterable, Mapping
from datetime import date

from generator.reading.placing import Finding, must_exist
from generator.records.catalogue import Catalogue
from generator.records.problems import wrong
from generator.rules.recorded import Printed, run_doubts


def prints_findings(catalogue: Catalogue, numbers: set[str], parts: Mapping[str, Printed]) -> Iterable[Finding]:
    """The mistakes of prints.yml: parts and makers that there are not, and runs that teach nothing.

    parts: those whose part.yml can be read. Of makers nothing is said where makers.yml itself cannot be read.
    """
    is_read = not any(each.where.file == "makers.yml" for each in catalogue.problems)
    for at, run in enumerate(catalogue.prints):
        yield from must_exist("part", run.part, numbers, ("prints", at, "part"))
        if catalogue.makers or is_read:
            yield from must_exist("maker", run.maker, catalogue.makers, ("prints", at, "maker"))
    yield from run_doubts(catalogue, parts)


def runs_to_come(catalogue: Catalogue, day: date) -> Iterable[Finding]:
    """Runs that are dated after `day`; they teach nothing until then."""
    for at, run in enumerate(catalogue.prints):
        if run.on > day:
            yield wrong("PRINT04", "to come", path=("prints", at, "on"), on=run.on)
