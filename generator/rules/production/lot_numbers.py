"""May two numbers of a supplier be of one lot, written otherwise?

People copy a lot's number from a spool, a letter or a label: with the material or the supplier before it, a word before or behind
it, other signs between, a drum's number behind, zeros more or fewer, O for 0, an umlaut in two letters, the year in two figures or at the
other end, several lots in one line (`lots_listed.py`). Each rule here is about the form of a number, so that it
holds whatever the supplier: no count of one figure more makes two numbers near. All from memory, no source.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from functools import lru_cache, reduce
from itertools import product
from typing import Final

from generator.records.base import as_compared
from generator.rules.production.lots_listed import LANGUAGES as _LISTED_IN
from generator.rules.production.lots_listed import listed

# What people write around a lot's number: that it is one, and what is left of it.
_SAID: Final = {
    "en": ("lot", "lots", "batch", "no", "number", "id", "powder", "rest", "remainder", "remnant", "left", "opened", "new", "old", "used", "first", "second", "of"),
    "de": ("los", "charge", "chargen", "ch", "chg", "nr", "num", "nummer", "chargennr", "lotnr", "pulver", "reste", "restmenge", "offen", "neu", "alt", "gebraucht", "erste", "zweite", "von"),
    "da": ("parti", "partiet", "partinr", "batchnr", "pulver", "resten", "åben", "ny", "gammel", "brugt", "første", "anden", "af"),
}  # fmt: skip
# And which spool or drum it is: "spool 2" is no part of the number.
_SPOOLS: Final = {
    "en": ("spool", "spools", "reel", "roll", "coil", "drum", "bag", "box", "can", "tin", "bottle", "cartridge", "pack", "carton", "pallet", "part"),
    "de": ("rolle", "rollen", "spule", "spulen", "fass", "eimer", "beutel", "sack", "karton", "dose", "flasche", "kartusche", "palette", "teil"),
    "da": ("spole", "spoler", "rulle", "tromle", "pose", "spand", "kasse", "dåse", "flaske", "patron", "palle", "del"),
}  # fmt: skip
LANGUAGES = _SAID.keys() & _SPOOLS.keys() & _LISTED_IN
"""The languages of depots whose words stand here, each by its code."""
_OF_A_SPOOL: Final = frozenset(word for words in _SPOOLS.values() for word in words)
_WORDS: Final = _OF_A_SPOOL | {word for words in _SAID.values() for word in words}
_WEEKS: Final = frozenset({"w", "wk", "week", "cw", "kw", "woche", "uge"})
"""What people write before a calendar week; each is read for the first."""
_TOKEN: Final = re.compile(r"[0-9]+|[^\W\d_]+")
_LOOKS_LIKE: Final = str.maketrans("oilszb", "011528")
"""Letters that are read for figures."""
_LONGEST_END: Final = 2
"""Signs of what stands behind a number and may be a drum of the lot: 3388-B, 3388/2, 3388-12."""
LEAST_NUMBER: Final = 3
"""Signs from which on a number is one by itself; shorter ones are years, weeks or counts."""
_YEARS: Final = re.compile(r"(?:19|20)[0-9]{2}")
_SHORT_YEARS: Final = range(15, 40)
"""Two figures that may be a year; a count below is none."""
_CUT: Final = re.compile(r"(?P<behind>(?:\.{2,}|\*+) ?[0-9]{3,})|(?P<before>[0-9]{3,} ?(?:\.{2,}|\*+))")
"""A long number of which only the last or the first figures are written: ...5678."""
_MEASURE: Final = re.compile(r"(?<![\w.,/-])[0-9]+(?:[.,][0-9]+)? ?(?:g|gr|kg|mg|lbs?|oz|ml|cl|l|mm|cm|m|pcs|pc|stk|stck|stück|°c)(?!\w)")
"""An amount with its unit, which is no number of a lot."""
# Letters of other scripts that look like these, in small ones: what a keyboard or a program that reads pictures put there.
_SAME_SIGN: Final = str.maketrans("кзавсенортхмуіѕαβεζηικμνορτυχ", "k3abcehoptxmyisabezhikmnoptyx")
_IN_TWO: Final = str.maketrans({"ä": "ae", "æ": "ae", "ö": "oe", "ø": "oe", "œ": "oe", "ü": "ue", "å": "aa"})
_BARE: Final = str.maketrans({"ä": "a", "æ": "ae", "ö": "o", "ø": "o", "œ": "oe", "ü": "u", "å": "a"})
_READ_AS_ONE: Final = (("rn", "m"), ("cl", "d"), ("vv", "w"))
"""Two letters that look like one."""

Tokens = tuple[str, ...]


def is_near(one: str, other: str, names: Iterable[str] = ()) -> bool:
    """Whether they may be. names: what may stand before or behind either of them, such as the material and the suppliers."""
    around = tuple(sorted({tokens for each in names if (tokens := _tokens(each))}, key=lambda each: (-len(each), each)))
    pairs = product(_readings(one, around), _readings(other, around))
    return any(_is_alike(first, second) for first, second in pairs) or _is_cut(one, other) or _is_cut(other, one)


def is_year_and_month(figures: str) -> bool:
    """Such as 2611 or 202611, as some suppliers begin their numbers."""
    return bool(re.fullmatch(r"(?:20)?[0-9]{2}(?:0[1-9]|1[0-2])", figures)) and int(figures[-4:-2]) in _SHORT_YEARS


def is_year(figures: str) -> bool:
    """In four figures, or in two."""
    return bool(re.fullmatch(r"(?:20)?[0-9]{2}", figures)) and int(figures[-2:]) in _SHORT_YEARS


def _is_cut(one: str, other: str) -> bool:
    """Whether one is written by its first or last figures only, and they are those of the other."""
    found = _CUT.search(_plain(one))
    if not found:
        return False
    figures = "".join(filter(str.isdecimal, found[0]))
    longer = (each for each in _tokens(other) if each.isdecimal())
    return any(each.endswith(figures) if found["behind"] else each.startswith(figures) for each in longer)


@lru_cache(4096)
def _readings(number: str, around: tuple[Tokens, ...]) -> tuple[Tokens, ...]:
    """The number by itself: as it is written, with O read for 0, with figures that only blanks part as one, and each of several."""
    plain = _plain(number)
    unmeasured = _MEASURE.sub(" ", plain)
    plain = unmeasured if any(map(str.isdecimal, unmeasured)) else plain
    zeros = re.sub(r"(?<=[0-9])o|(?<![^\W\d_])o(?=[0-9])", "0", plain)
    every = (re.sub(r"(?<=[0-9]) (?=[0-9])", between, each) for each in (plain, zeros) for between in ("", " "))
    cores = (found for each in (*every, *listed(plain)) if (found := _core(tuple(_TOKEN.findall(each)), around)))
    return tuple(dict.fromkeys(form for each in dict.fromkeys(cores) for form in _forms(each)))


def _forms(tokens: Tokens) -> Iterator[Tokens]:
    """One number as people write it: an umlaut in two letters or without its dots, the year in two figures, and what stands behind before it."""
    for signs in (_IN_TWO, _BARE):
        plain = tuple(_as_one(each.translate(signs)) for each in tokens)
        plain = tuple("w" if each in _WEEKS and following.isdecimal() else each for each, following in zip(plain, (*plain[1:], ""), strict=True))
        yield plain
        turned = [(plain[-1], *plain[:-1])] if len(plain) > 1 and plain[0].isdecimal() and not plain[-1].isdecimal() else []
        yield from turned
        for each in (plain, *turned):
            yield from _by_year(each)


def _as_one(token: str) -> str:
    for two, single in _READ_AS_ONE:
        token = token.replace(two, single)
    return token


def _by_year(tokens: Tokens) -> Iterator[Tokens]:
    """Beside another figure, each that may be a year in two figures, with a sign of its own behind it; from the end to the beginning."""
    if sum(map(str.isdecimal, tokens)) > 1:
        for at, each in enumerate(tokens):
            if each.isdecimal() and is_year(each):
                before, year, behind = tokens[:at], (each[-2:], "/"), tokens[at + 1 :]
                yield (*before, *year, *behind) if behind else (*year, *before)


def _plain(number: str) -> str:
    """Figures of any script as 0 to 9, without signs that nobody sees."""
    apart = "".join(f" {sign} " if unicodedata.category(sign) == "No" else sign for sign in number)  # 3388² is no 33882
    narrow = as_compared(unicodedata.normalize("NFKC", apart)).translate(_SAME_SIGN)
    return "".join(str(unicodedata.decimal(sign)) if sign.isdecimal() else sign for sign in narrow if unicodedata.category(sign) != "Cf")


def _tokens(name: str) -> Tokens:
    """Its words and figures in turn, without what stands between."""
    return tuple(_TOKEN.findall(_plain(name)))


def _core(tokens: Tokens, around: tuple[Tokens, ...]) -> Tokens:
    """Without the words and names around it, as long as something is left."""
    left = tokens
    while (bare := reduce(_without, around, left)) != left and any(map(str.isdecimal, bare)):
        left = bare
    kept = tuple(each for at, each in enumerate(left) if each not in _WORDS and not _is_count_of_spools(left, at))
    return kept or left


def _is_count_of_spools(tokens: Tokens, at: int) -> bool:
    """Whether it says which spool it is: "spool 2" and, behind the number, "2nd spool"."""
    beside = (tokens[at - 1] if at else "", tokens[at + 1] if 0 < at < len(tokens) - 1 else "")
    return tokens[at].isdecimal() and len(tokens[at]) <= _LONGEST_END and not _OF_A_SPOOL.isdisjoint(beside)


def _without(tokens: Tokens, name: Tokens) -> Tokens:
    """Without the name where it stands at the beginning or end and leaves something."""
    if len(tokens) <= len(name):
        return tokens
    if tokens[: len(name)] == name:
        return tokens[len(name) :]
    return tokens[: -len(name)] if tokens[-len(name) :] == name else tokens


def _is_alike(one: Tokens, other: Tokens) -> bool:
    first, second = "".join(one), "".join(other)
    if first.lstrip("0").translate(_LOOKS_LIKE) == second.lstrip("0").translate(_LOOKS_LIKE):
        return True
    bare, more = sorted((_bare(one), _bare(other)), key=len)
    return _holds(more, bare) or _are_drums(one, other)


def _bare(tokens: Tokens) -> Tokens:
    """Each figure without the zeros before it."""
    return tuple(each.lstrip("0") or "0" if each.isdecimal() else each for each in tokens)


def _holds(long: Tokens, short: Tokens) -> bool:
    """Whether one number is all of the other, with or without something more before or behind it, never a figure more."""
    for at in range(len(long) - len(short) + 1):
        if long[at : at + len(short)] == short:
            before, behind = long[:at], long[at + len(short) :]
            is_a_drum = not before and len(behind) == 1 and len(behind[0]) <= _LONGEST_END
            is_enough = len("".join(short)) >= LEAST_NUMBER and not _YEARS.fullmatch("".join(short))
            is_a_number = any(map(str.isdecimal, short)) and (is_enough or not any(map(str.isdecimal, before + behind)))
            if is_a_drum or is_a_number:
                return True
    return False


def _are_drums(one: Tokens, other: Tokens) -> bool:
    """Whether they are one number with another drum behind: 3388-1 and 3388-2. A year, a month or a short number with a count behind is a supplier's own count: 26-08 and 26-09."""
    *stem, end = one
    *same, last = other
    if stem != same or not stem or not stem[-1].isdecimal():
        return False
    is_a_number = len(stem[-1]) >= LEAST_NUMBER and not _YEARS.fullmatch(stem[-1]) and not is_year_and_month(stem[-1])
    return is_a_number and max(len(end), len(last)) <= _LONGEST_END
