"""Are these headings? A list without any would lose its first part, so what looks like a part is asked about."""

import re
from collections.abc import Iterator

from generator.importing.headings import Headings, as_compared, meaning_of
from generator.records.catalogue import Catalogue
from generator.records.vehicles import vehicles_in

# A number of a part, a vehicle or a count (7001, 12.345-6, K-7001, TRK4711) and a day; Rev2 and Spalte1 are headings.
_NUMBER = re.compile(r"[0-9][0-9./-]*|[A-Za-z]{1,6}[-.][0-9][\w.-]*|[A-Za-z]{1,6}[0-9]{3,}[\w.-]*")


def data_in(headings: Headings, catalogue: Catalogue) -> tuple[str, ...]:
    """The headings that look like the data of a part: a number, a day, or what the depot itself calls something."""
    called = {as_compared(text) for text in _called(catalogue)}
    texts = (each.text for each in headings.columns if each.text and meaning_of(each.text) is None)
    return tuple(text for text in texts if _NUMBER.fullmatch(text) or as_compared(text) in called)


def _called(catalogue: Catalogue) -> Iterator[str]:
    for fleet in catalogue.fleets.values():
        yield from (fleet.id, fleet.name, *vehicles_in(fleet.vehicles))
    yield from (text for name, one in catalogue.materials.items() for text in (name, one.name))
    yield from (text for name, one in catalogue.makers.items() for text in (name, one.name))
    yield from (part.number for part in catalogue.parts)


def none_known(headings: Headings) -> bool:
    return known_count(headings) == 0


def known_count(headings: Headings) -> int:
    """How many headings are known; one alone may be the name of a part, such as a shelf (Regal)."""
    return sum(meaning_of(each.text) is not None for each in headings.columns)
