"""How is a PDF encrypted, by all the dictionaries in which a reader may look for that?

Each table of objects has one (ISO 32000-1, 7.5.5 and 7.5.8), and names those before it (/Prev) and beside it (/XRefStm). An update
that says nothing of /Encrypt takes none away here: it has to say all again (7.5.6), and readers differ in what they make of it.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from generator.reading.pdf_acts import name_of
from generator.reading.pdf_lock import opens_for_everybody
from generator.reading.pdf_objects import GAP, SPACE, Ref, Value, dictionary_at, places_of

_TABLE = re.compile(SPACE + rb"*(?:(xref)" + SPACE + rb"|[0-9]+" + GAP + rb"[0-9]+" + GAP + rb"obj)")
_TRAILER = re.compile(rb"trailer(?:" + GAP + rb")?(?=<<)")
_ENCRYPT: Final = name_of("Encrypt")
_MOST_TABLES: Final = 500


class Seal(Enum):
    """Whether it is encrypted."""

    NONE = auto()
    OPEN = auto()
    """Whoever gets it can open it."""
    LOCKED = auto()
    """Or nobody here can tell."""


@dataclass(frozen=True, slots=True)
class _Trailers:
    found: tuple[dict[str, Value], ...]
    are_all: bool
    """Whether each place that was named held one."""


def is_table(content: bytes, at: int) -> bool:
    """A plain table, or a stream that is of that type, as far as it can be read."""
    table = _TABLE.match(content, at)
    told = dictionary_at(content, table.end()) if table and not table[1] else None
    return table is not None and (told is None or told.get("Type") == "XRef")


def seal(content: bytes, starts: Iterable[int]) -> Seal:
    """starts: where the tables lie that a reader may begin at."""
    trailers = _trailers(content, starts)
    named = [each["Encrypt"] for each in trailers.found if each.get("Encrypt") is not None]
    if not named:
        return Seal.NONE if trailers.are_all or not _ENCRYPT.search(content) else Seal.LOCKED
    locks = [lock for each in named for lock in _meant(content, each)]
    identifiers = {first for each in trailers.found if isinstance(pair := each.get("ID"), list) and pair and isinstance(first := pair[0], bytes)}
    return Seal.OPEN if all(lock is not None and opens_for_everybody(lock, identifiers) for lock in locks) else Seal.LOCKED


def roots(content: bytes, starts: Iterable[int]) -> list[Value]:
    """The catalogues that they name."""
    return [root for each in _trailers(content, starts).found if (root := each.get("Root")) is not None]


def _trailers(content: bytes, starts: Iterable[int]) -> _Trailers:
    ahead, seen, are_all = list(starts), set[int](), True
    found: list[dict[str, Value]] = []
    while ahead and len(seen) < _MOST_TABLES:
        at = ahead.pop()
        if at in seen:
            continue
        seen.add(at)
        here = _trailers_of(content, at)
        are_all = are_all and bool(here) and None not in here
        for trailer in filter(None, here):
            found.append(trailer)
            ahead += [each for key in ("Prev", "XRefStm") if isinstance(each := trailer.get(key), int) and each > 0]
    return _Trailers(tuple(found), are_all and bool(found) and not ahead)


def _trailers_of(content: bytes, at: int) -> list[dict[str, Value] | None]:
    """Of the table that lies there; of a plain one each before the next `startxref`, for one may stand in a comment. None of what cannot be read."""
    table = _TABLE.match(content, at)
    if table is None or not table[1]:
        return [dictionary_at(content, table.end())] if table else []
    end = content.find(b"startxref", at)
    begins = _TRAILER.finditer(content, at, end if end >= 0 else len(content))
    return [dictionary_at(content, each.end()) for each in begins]


def _meant(content: bytes, named: Value) -> Iterator[dict[str, Value] | None]:
    """The dictionary, or each object of that number that the file has: which of them counts need not be told where all open."""
    if not isinstance(named, Ref):
        yield named if isinstance(named, dict) else None
        return
    places = places_of(content, named)
    yield from (dictionary_at(content, each) for each in places)
    if not places:
        yield None
