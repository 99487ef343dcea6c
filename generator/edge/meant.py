"""Which batch, lot or part is meant by what was typed? As leniently as the pages read a label; what only looks like one is never taken."""

import re
from collections.abc import Iterable, Mapping

from generator.records.labels import batch_among, label_in, look_alike, squashed

_A_PATH = re.compile(r"[/\\]|^\.")
"""Whoever writes a path means a file."""


def name_meant(typed: str, names: Iterable[str]) -> str | None:
    """As it is written; else in other capitals, with other dashes or blanks or none, or with other zeros, where one alone is meant.

    Figures alone are no number of a part: "417" may be a size.
    """
    every, given = tuple(names), typed.strip()
    if _A_PATH.search(given):
        return None
    for kept in (lambda name: name == given, lambda name: name.casefold() == given.casefold(), lambda name: squashed(name) == squashed(given)):
        found = [name for name in every if kept(name)]
        if len(found) == 1:
            return found[0]
        if found:
            return None
    return None if given.isdecimal() else batch_among(given, (name for name in every if name.count("-") == 1))


def batch_meant(typed: str, parts: Mapping[str, str], numbers: Iterable[str] = ()) -> str | None:
    """The same of a batch, or of a whole label that agrees with its part. parts: of each known batch, its part; "" of which nobody knows."""
    found = name_meant(typed, parts) or batch_among(typed, parts)
    if found:
        return found
    label = label_in(typed, tuple(dict.fromkeys([*numbers, *filter(None, parts.values())])), tuple(parts))
    name = name_meant(label.batch, parts) if label else None
    return name if name and label and label.number in {"", parts[name]} else None


def near(typed: str, names: Iterable[str]) -> list[str]:
    """What only looks like it: a letter for a digit."""
    last = typed.rsplit(maxsplit=1)[-1] if typed.strip() else ""
    every = tuple(names)
    if last.isdecimal():  # the 1 of "L 13" is no L
        return list(look_alike(typed, every))
    return list(dict.fromkeys((*look_alike(typed, every), *look_alike(last, every))))
