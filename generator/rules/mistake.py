"""Which mistake keeps the record of a part from being judged?"""

from collections.abc import Iterable

from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, Severity, Where, wrong

_DEPOT_FILE = "depot.yml"
_NO_DEPOT = wrong("REC01", "no depot", where=Where(_DEPOT_FILE))


def mistake_in(problems: Iterable[Problem], catalogue: Catalogue) -> Problem | None:
    """The first error among the problems of a part, else that of a depot that cannot be read."""
    own = next((each for each in problems if each.severity is Severity.ERROR), None)
    if own is not None or catalogue.depot is not None:
        return own
    return next((each for each in catalogue.problems if each.where.file == _DEPOT_FILE), _NO_DEPOT)
