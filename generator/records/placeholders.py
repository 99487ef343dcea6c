"""Words that stand where something is still to be written, or where there is nothing to write: in the languages of depots, as data.

Common practice and from memory, no source: what people type to fill a field that they cannot fill yet. Whether "none" is an answer is
the field's to say: of a treatment it is one, of a laboratory it is not. What each free text of the records says: free_texts.py.
"""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache

from generator.records.empty_sayings import NO_NUMBERS as UNNAMED
from generator.records.empty_words import ENDS, KEYS, NO_NUMBERS, is_empty_number, is_empty_reason, spelt

# Without capitals, dots and blanks they are all the same: "k. A.", "K.A." and "ka".
_TO_COME = {
    "en": (
        "tba", "tbc", "tbd", "todo", "to do", "open", "pending", "later", "unknown", "unclear", "missing", "to follow", "will follow", "follows", "in progress", "wip", "placeholder",
        "fill in", "no answer", "no data", "no information", "n/a", "do not know", "don't know", "not yet", "not",
    ),
    "de": (
        "offen", "noch offen", "folgt", "folgt noch", "folgt später", "kommt noch", "kommt später", "später", "steht aus", "steht noch aus", "ausstehend", "fehlt", "fehlt noch", "unbekannt",
        "weiß nicht", "weiß ich nicht", "unklar", "noch unklar", "in Klärung", "noch zu klären", "zu klären", "wird geklärt", "wird noch geklärt", "wird nachgereicht", "wird ergänzt",
        "wird noch ergänzt", "nachzureichen", "zu ergänzen", "noch zu ergänzen", "zu erledigen", "zu bestimmen", "noch zu bestimmen", "festzulegen", "noch festzulegen", "in Arbeit",
        "in Bearbeitung", "Platzhalter", "ausfüllen", "bitte ausfüllen", "k. A.", "keine Angabe", "keine Angaben", "ohne Angabe", "o. A.", "N. N.", "n. b.", "n. v.", "noch nicht",
    ),
    "da": (
        "åben", "åbent", "følger", "følger senere", "kommer", "kommer senere", "senere", "eftersendes", "mangler", "mangler endnu", "afventer", "udestår", "ukendt", "ved ikke",
        "ved jeg ikke", "uklart", "uafklaret", "under afklaring", "skal afklares", "afklares", "afklares senere", "skal udfyldes", "udfyldes", "udfyldes senere", "under arbejde", "i gang",
        "under udarbejdelse", "pladsholder", "uoplyst", "ej oplyst", "ingen oplysninger", "ingen oplysning", "endnu ikke", "i. o.",
    ),
}  # fmt: skip
# Each with "not" and "yet" around it, and in English with "to be" before it.
_NOT = {
    "en": ("looked at", "judged", "answered", "done", "known", "clear", "decided", "defined", "available", "stated", "specified", "checked", "agreed", "written"),
    "de": ("bekannt", "beurteilt", "bewertet", "beantwortet", "erledigt", "geklärt", "entschieden", "festgelegt", "verfügbar", "vorhanden", "angegeben", "geprüft", "vereinbart", "benannt"),
    "da": ("kendt", "vurderet", "besvaret", "gjort", "afklaret", "besluttet", "afgjort", "fastlagt", "tilgængelig", "oplyst", "angivet", "kontrolleret", "aftalt", "set på"),
}  # fmt: skip
_BEFORE = {"en": ("not", "not yet"), "de": ("nicht", "noch nicht"), "da": ("ikke", "endnu ikke")}
_TO_BE = ("done", "written", "decided", "confirmed", "defined", "agreed", "filled in", "added", "announced", "determined", "clarified", "supplied", "checked")
_NONE = {
    "en": ("none", "no", "nil", "nothing", "nobody", "no one", "without", "not applicable", "does not apply", "not required", "not needed"),
    "de": ("keine", "kein", "keiner", "keines", "keinen", "nichts", "niemand", "nein", "ohne", "entfällt", "nicht zutreffend", "trifft nicht zu", "nicht anwendbar", "nicht erforderlich",
           "nicht nötig", "n. z."),
    "da": ("ingen", "intet", "ingenting", "nej", "uden", "bortfalder", "udgår", "ikke relevant", "ikke aktuelt", "ikke nødvendig", "ikke nødvendigt", "finder ikke anvendelse", "i/r"),
}  # fmt: skip
LANGUAGES = _TO_COME.keys() & _NOT.keys() & _BEFORE.keys() & _NONE.keys()
"""The languages of depots whose words stand here, each by its code."""
_NO_WORD = re.compile(r"[\W_]*\d*[\W_]*")
_YEAR = re.compile(r"[\W_]*20[0-9]{2}[\W_]*")
_ONLY_DIGITS = re.compile(r"[\W_]*\d+[\W_]*")
_CROSSES = re.compile("x+")


def _bare(text: str) -> str:
    """The letters and digits alone, however an umlaut is typed."""
    return "".join(sign for sign in spelt(text) if sign.isalnum())


def _to_come() -> Iterator[str]:
    for words in _TO_COME.values():
        yield from words
    for language, words in _NOT.items():
        yield from (f"{before} {word}" for word in words for before in _BEFORE[language])
    yield from (f"not {word} yet" for word in _NOT["en"])
    yield from (f"to be {word}" for word in _TO_BE)


_NOTHING = frozenset(map(_bare, _to_come()))
_NO_NAME = frozenset(_bare(word) for words in _NONE.values() for word in words)
BLANK: Mapping[str, tuple[str, ...]] = {"whole": tuple(sorted(_NOTHING | _NO_NAME)), "words": tuple(sorted(NO_NUMBERS)), "ends": ENDS, "keys": KEYS, "sayings": UNNAMED}
"""For a program that asks in the browser: whole texts by their letters and digits alone, words that say nothing, what says that something comes, rows of keys, and patterns of whole sayings."""


def says_nothing(text: str) -> bool:
    """Whether it only keeps a place free, such as "-", "TBD", "folgt noch" or "ukendt"; "none" is an answer."""
    bare = _bare(text)
    return _NO_WORD.fullmatch(text) is not None or bare in _NOTHING or _CROSSES.fullmatch(bare) is not None


@lru_cache(4096)
def names_nothing(text: str) -> bool:
    """The same where somebody or something is to be named, so that "none", "keine" or "ingen" is no answer either."""
    return says_nothing(text) or _bare(text) in _NO_NAME


@lru_cache(4096)
def numbers_nothing(text: str) -> bool:
    """The same where a number may be the answer, such as that of a lot, a letter or a gauge: digits are one, unless they are all 0."""
    return names_nothing(text) and not (_ONLY_DIGITS.fullmatch(text) and any(int(sign) for sign in text if sign.isdecimal()))


def is_only_year(text: str) -> bool:
    """Whether it is a year and nothing else, which may be a number or stand in for one."""
    return _YEAR.fullmatch(text) is not None


@lru_cache(4096)
def gives_no_reason(text: str) -> bool:
    """The same where somebody is asked why: words that say nothing by themselves are no reason either."""
    return names_nothing(text) or is_empty_reason(text)


@lru_cache(4096)
def identifies_nothing(text: str) -> bool:
    """The same where a lot, a letter or a gauge is to be named, so that somebody finds it."""
    return numbers_nothing(text) or is_empty_number(text)
