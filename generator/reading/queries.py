"""Does a list of what was looked for in vain agree with itself and with the requests?"""

from collections.abc import Iterable, Sequence
from datetime import date

from generator.reading.placing import Finding, must_exist
from generator.records.catalogue import Catalogue
from generator.records.problems import wrong
from generator.records.queries import LookedFor, Queries


def queries_findings(queries: Queries, catalogue: Catalogue) -> Iterable[Finding]:
    """The mistakes of one file of queries/."""
    if queries.with_request:
        yield from must_exist("request", queries.with_request, catalogue.requests, ("with_request",))
    yield from days_findings(queries.looked_for, queries.collected)


def days_findings(looked_for: Sequence[LookedFor], collected: date) -> Iterable[Finding]:
    """Entries that were typed after the list was handed over."""
    for at, each in enumerate(looked_for):
        if each.last > collected:
            path = ("looked_for", at, "last")
            yield wrong("QRY01", "later", path=path, last=each.last, collected=collected)
