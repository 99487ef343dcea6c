"""Sayings that say nothing, though a word of them might elsewhere: "looks good" is none where "looks fine" is one, "3.1" is no number.

In the languages of depots, as data; from memory, no source. Patterns over words as empty_words.py has them: in small letters, umlauts
written out, one blank between two, figures and letters alone ("1.75 mm" is "1 75 mm").
"""

import re
from collections.abc import Iterable
from typing import Final

# What a lot is made of or looks like, and on what it comes: with a measure beside it still no name. Beside a letter it may be one.
_STUFF: Final = {
    "en": "black white grey gray natural red blue green yellow orange transparent clear filament powder resin granulate spool reel drum bag box rest remainder leftover of",
    "de": "schwarz schwarze weiss weisse grau graue natur rot rote blau blaue gruen gruene gelb gelbe pulver harz granulat rolle spule fass beutel eimer rest",
    "da": "sort hvid graa natur roed blaa groen gul pulver harpiks granulat rulle spole tromle pose spand rest af",
}  # fmt: skip
_KINDS: Final = ("pc", "petg", "pet", "pla", "abs", "asa", "tpu", "tpe", "pa", "nylon", "pp", "pps", "pei", "peek", "pekk", "pvdf", "pom")
_MONTHS: Final = "jan(?:uary|uar)?|feb(?:ruary|ruar)?|mar(?:ch|ts|s)?|maerz|apr(?:il)?|may|mai|maj|june?|juni|july?|juli|aug(?:ust)?|sept?(?:ember)?|o[ck]t(?:ober)?|nov(?:ember)?|de[cz](?:ember)?"
_YEAR: Final = r"(?: (?:20)?[0-9]{2})?"
_DAY: Final = rf"[0-9]{{1,2}} [0-9]{{1,2}}{_YEAR}|20[0-9]{{2}} [0-9]{{1,2}} [0-9]{{1,2}}|[0-9]{{1,2}} (?:{_MONTHS}){_YEAR}|(?:{_MONTHS}) [0-9]{{1,2}}{_YEAR}"
_QUALITY: Final = r"(?:quality|qualitaet|kvalitete?n?|qs)"
_SAID: Final = r"(?:says|said|sagt|siger|ok|okay|approved|approves|released|freigegeben|frigav|godkendte)"
_LOOKS_GOOD: Final = r"(?:good|great|ok|okay|alright|all right)"
_NO_REASONS: Final = (
    rf"looks? {_LOOKS_GOOD}(?: (?:to|for) me)?", r"sieht (?:ganz )?(?:gut|ok|okay) aus", r"ser (?:fint|godt|ok|okay) ud",
    r"geht (?:schon|so|wohl|klar|wieder|in ordnung)", r"gaar (?:nok|an|fint|godt)", r"(?:boer|burde|maa|skal) gaa",
    r"nothing (?:new )?to (?:report|add|say)", r"nichts (?:neues )?zu (?:melden|berichten|bemerken|sagen)", r"intet (?:nyt )?at (?:melde|rapportere|bemaerke|sige)",
    rf"(?:by|durch|von|af)(?: the| die| der)? {_QUALITY}", rf"{_QUALITY} (?:has )?{_SAID}", rf"^{_QUALITY}$",
    r"recall (?:is |was |has been )?(?:lifted|over|closed)", r"rueckruf (?:ist |wurde )?(?:aufgehoben|vorbei)", r"tilbagekaldelsen? (?:er |blev )?(?:ophaevet|forbi)",
    r"(?:customer|kunden?) (?:wants|needs|waits|is waiting|wartet|braucht|venter|vil have|skal have)(?: it| es| den| det)?", r"kunde will(?: es| ihn| sie)?(?: haben)?",
    r"(?:gez|gezeichnet|unterschrieben von|signed|sgd|underskrevet af)(?: by(?! mistake))?(?: (?!by)[^0-9 ]+){1,2}$",
    rf"^(?:am |on |vom |den |of |the |fra |d )?(?:{_DAY})$",
)  # fmt: skip


LANGUAGES: Final = _STUFF.keys()
"""The languages of depots whose sayings stand here, each by its code."""
_MADE_OF: Final = "(?:" + "|".join(sorted({*" ".join(_STUFF.values()).split(), *_KINDS}, key=lambda word: (-len(word), word))) + ")"
_MEASURE: Final = r"[0-9]{1,6}(?: [0-9]{1,3})? ?(?:mm|kg|g|m|gram|gramm|kilo)"
_TYPES: Final = "(?:din|en|iso|10204|type|typ|inspection|certificate|cert|zeugnis|abnahmepruefzeugnis|werkszeugnis|attest|certifikat)"
NO_NUMBERS: Final = (
    "20[12][0-9]",  # a bare year
    rf"(?:{_TYPES} )*(?:[23] [12]|10204)",  # a kind of inspection document (EN 10204)
    rf"(?:(?:the|a|der|die|das|den|det|en) )?(?:{_MADE_OF}|{_MEASURE})(?: (?:{_MADE_OF}|{_MEASURE}|ones?))*",
    r"(?:the|der|die|das|den|det) (?:old|new|alten?|neuen?|gamle|nye)(?: ones?)?",
    r"(?:the one|der|die|das|den|det) (?:of|from|von|vom|fra|af)(?: [^0-9 ]+){1,2}",  # somebody's
    r"(?:some|any|irgend ?ein[^0-9 ]*|irgendwelche[^0-9 ]*|en eller anden|et eller andet|nogen|(?:a )?borrowed|geliehene[^0-9 ]*|(?:en )?laant)(?: [^0-9 ]{2,}){1,2}",
)
"""Patterns of whole texts that name no gauge, letter or lot; for a program that asks in the browser, too."""
_SAYINGS: Final = re.compile("|".join(rf"(?<![^ ])(?:{each})(?![^ ])" for each in _NO_REASONS))
_UNNAMED: Final = re.compile("|".join(f"(?:{each})" for each in NO_NUMBERS))


def without_sayings(said: str) -> str:
    """What is left of a reason."""
    return _SAYINGS.sub(" ", said)


def is_unnamed(words: Iterable[str]) -> bool:
    """Whether the whole names nothing."""
    return _UNNAMED.fullmatch(" ".join(words)) is not None
