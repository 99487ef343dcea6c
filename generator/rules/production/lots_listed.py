"""Which lots does one line name: K 117/118, 3387 u. 88, 3386-3390?

A spool that was refilled, or a delivery of several lots. What may be a drum or a year behind a number (3388-12, 117/26, 2604-11) is no
second lot, and 117/18 may be of 2018. From K 116 to M 119 one prefix is mistyped, and nobody can tell which: it is each lot of
either. All from memory, no source.
"""

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

_AND: Final = {"en": ("and",), "de": ("und", "u"), "da": ("og",)}
_TO: Final = {"en": ("to", "thru", "through", "until"), "de": ("bis",), "da": ("til",)}
LANGUAGES: Final = _AND.keys() & _TO.keys()
"""The languages of depots whose words stand here, each by its code."""
_LINKS: Final = {word: sign for words, sign in ((_AND, "+"), (_TO, "~")) for every in words.values() for word in every}
_LINK: Final = re.compile(rf"(?<=[0-9])\s*\b({'|'.join(_LINKS)})\b\.?\s*(?=[^\W\d_]{{0,4}}[ .-]?[0-9])|(?<=[0-9])(bis|til)(?=[0-9])")
_NUMBER: Final = re.compile(r"(?:([^\W\d_]+)[ .-]*)?([0-9]+)")
_BETWEEN: Final = re.compile(r"\s*(\+|&|;|,|/|~|-|\u2013|\u2014|\.{2,})\s*")
_SAYS_SO: Final = frozenset("+&~")
"""Signs (or words) that stand between two lots only; a drum or a year may follow the others."""
_LISTS: Final = frozenset("+&;,/")
_LONGEST_PREFIX: Final = 3
"""Letters of a prefix that is another one; longer ones are words, such as "roll"."""
_LEAST, _LONGEST, _MOST = 3, 20, 100
"""Figures from which on a number is one by itself, those of the longest, and lots that one line may name."""


def listed(plain: str) -> Iterator[str]:
    """Each lot of a line that names several, as a text such as "k 118"; nothing where it names one. plain: in small letters."""
    text = _LINK.sub(lambda found: _LINKS[found[1] or found[2]], plain)
    first: tuple[str, str] | None = None
    for one, other in pairwise(_NUMBER.finditer(text)):
        link = _BETWEEN.fullmatch(text, one.end(), other.start())
        begin = first or (one[1] or "", one[2])
        first = None
        prefixes = dict.fromkeys((begin[0], other[1] or begin[0]))
        if link is None or (len(prefixes) > 1 and (link[1] in _LISTS or len(other[1]) > _LONGEST_PREFIX)):
            continue
        end = _whole(begin[1], other[2], link[1])
        if end is None:
            continue
        numbers = (int(begin[1]), int(end)) if link[1] in _LISTS else range(int(begin[1]), int(end) + 1)
        yield from (f"{prefix} {each:0{len(begin[1])}}".strip() for prefix in prefixes for each in numbers)
        first = (other[1] or begin[0], end)


def _whole(first: str, second: str, link: str) -> str | None:
    """The second number in full, of which only the last figures may be written; None where it is none, or goes not on from the first."""
    is_said = link in _SAYS_SO
    if not _LEAST <= len(first) <= _LONGEST or len(second) > len(first) or (not is_said and any(map(_may_be_a_date, (first, second)))):
        return None
    if len(second) < len(first):
        is_a_tail = is_said or (len(second) == 2 and second[0] != "0" and not 15 <= int(second) < 40)
        if not is_a_tail:
            return None
    end = first[: len(first) - len(second)] + second
    return end if 0 < int(end) - int(first) <= _MOST or (len(first) == len(second) and link in _LISTS) else None


def _may_be_a_date(figures: str) -> bool:
    """A year, or a year and a month."""
    return bool(re.fullmatch(r"(?:19|20)[0-9]{2}|(?:20)?(?:1[5-9]|2[0-9]|3[0-9])(?:0[1-9]|1[0-2])", figures))
