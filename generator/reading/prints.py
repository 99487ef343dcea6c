"""Does what was printed agree with the parts and makers of the catalogue?"""

from collections.abc import Iterable

from generator.reading.placing import Finding, must_exist
from generator.records.catalogue import Catalogue


def prints_findings(catalogue: Catalogue, numbers: set[str]) -> Iterable[Finding]:
    """The mistakes of prints.yml: parts and makers that there are not."""
    for at, run in enumerate(catalogue.prints):
        yield from must_exist("part", run.part, numbers, ("prints", at, "part"))
        yield from must_exist("maker", run.maker, catalogue.makers, ("prints", at, "maker"))
