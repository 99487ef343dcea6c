"""Which letters of what is put on paper do the fonts lack, so that it would show boxes in their place?

The typesetter carries its fonts with it, and takes a letter from another of them where the one asked for lacks it; it is asked whether any has it.
"""

import unicodedata
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from generator.papers import letters
from generator.papers.seen import as_seen
from generator.papers.typesetting import can_be_set

_SURE = "\u0180"
"""Below it (ASCII, Latin-1, Latin Extended-A) the fonts have all."""
_UNSHOWN = ("M", "C", "Z")
"""Marks upon letters, format characters and blanks are nothing by themselves."""
_MOST = 200


def lacking(*values: object) -> tuple[str, ...]:
    """Each letter once, in the order in which it comes up in these papers' values."""
    odd = dict.fromkeys(each for text in _texts(values) for each in as_seen(text) if each >= _SURE and unicodedata.category(each)[0] not in _UNSHOWN)
    listed = list(odd)[:_MOST]
    without = letters.lacking(listed, can_be_set)
    return tuple(each for each in listed if each in without)


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _texts(each)
    elif is_dataclass(value):
        for one in fields(value):
            yield from _texts(getattr(value, one.name))
