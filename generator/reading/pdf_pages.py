"""Does the way from a PDF's catalogue through its tree of pages end at one (ISO 32000-1, 7.7.2 and 7.7.3)?

Every object of a number counts, whichever of them the table means. What is too long to be read here may be one.
"""

from collections.abc import Iterable, Iterator
from typing import Final

from generator.reading.pdf_objects import Ref, Value, dictionary_at, places_of

_MOST_NODES: Final = 64
_LONGEST: Final = 50_000  # of a list of kids; most have some tens


class _UnseenError(Exception):
    """It leads to what cannot be read here."""


def leads_to_page(content: bytes, roots: Iterable[Value]) -> bool:
    """False where every way ends at nothing or goes in a circle.

    roots: the catalogues as the tables' dictionaries name them. No object of the file is packed.
    """
    seen: list[Value] = []
    try:
        tops = [top for root in roots for catalog in _dictionaries(content, root) for top in _dictionaries(content, catalog.get("Pages"))]
        ahead = [kid for top in tops for kid in _kids(content, top)]
        while ahead and len(seen) <= _MOST_NODES:
            named = ahead.pop()
            if named in seen:
                continue
            seen.append(named)
            for node in _dictionaries(content, named):
                if node.get("Type") == "Page" or "Kids" not in node:
                    return True
                ahead += _kids(content, node)
    except _UnseenError:
        return True
    return len(seen) > _MOST_NODES or any(top.get("Type") == "Page" for top in tops)


def _dictionaries(content: bytes, named: Value) -> Iterator[dict[str, Value]]:
    return (each for each in _values(content, named) if isinstance(each, dict))


def _kids(content: bytes, node: dict[str, Value]) -> list[Value]:
    return [kid for kids in _values(content, node.get("Kids")) if isinstance(kids, list) for kid in reversed(kids)]


def _values(content: bytes, named: Value) -> Iterator[Value]:
    """What is meant, by itself or by its number; raises _UnseenError."""
    if not isinstance(named, Ref):
        yield named
        return
    places = places_of(content, named)
    for at in places:
        end = content.find(b"endobj", at, at + _LONGEST)
        # Up to its end, or its stream's beginning, as the one value of a dictionary.
        held = dictionary_at(content, at) or dictionary_at(b"<</It " + content[at:end] + b">>", 0)
        if end < 0 or held is None:
            raise _UnseenError
        yield held["It"] if list(held) == ["It"] else held
