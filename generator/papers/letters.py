"""Which letters do the typesetter's own fonts lack? Each is written by its number, for a PDF/A shows no sign that nobody can read.

No table of letters is kept here: the typesetter is asked, of all that a paper holds at once, and where it refuses, by halves.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

_PLAIN = re.compile("[\x00-\x7f\u00a0-\u017f]")
"""Latin letters, which all its fonts have."""


def letters_in(value: Any) -> frozenset[str]:
    """Every letter beyond plain Latin in the texts of plain data."""
    found: set[str] = set()
    for text in _texts(value):
        found |= set(_PLAIN.sub("", text))
    return frozenset(found)


def _texts(value: Any) -> Iterable[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list | tuple) and not (value and isinstance(value[0], int)):
        for each in value:
            yield from _texts(each)


def lacking(letters: Iterable[str], can_be_set: Callable[[str], bool]) -> frozenset[str]:
    """Those that cannot be set."""
    every = sorted(letters)
    if not every or can_be_set(" ".join(every)):
        return frozenset()
    if len(every) == 1:
        return frozenset(every)
    half = len(every) // 2
    return lacking(every[:half], can_be_set) | lacking(every[half:], can_be_set)


def spelled(value: Any, without: frozenset[str]) -> Any:
    """The data with each of these letters by its number, such as [U+6F22]."""
    if not without:
        return value
    if isinstance(value, str):
        return "".join(f"[U+{ord(each):04X}]" if each in without else each for each in value)
    if isinstance(value, Mapping):
        return {key: spelled(each, without) for key, each in value.items()}
    if isinstance(value, list | tuple) and not (value and isinstance(value[0], int)):
        return [spelled(each, without) for each in value]
    return value
