"""What the few words of a record are called in depots' lists (from memory): proposed to a person, never taken without a map that says so."""

from collections.abc import Mapping

from generator.importing.fields import Field
from generator.importing.headings import as_compared
from generator.records.approvals import Route
from generator.records.depot import Language

OPEN_END = "open"
NO_CONDITIONS = "none"
ALL_VEHICLES = "all"
_Words = Mapping[tuple[Field, str], frozenset[str]]
_CUSTOMER, _AUTHORITY = (Field.APPROVED_FOR, Route.CUSTOMER.value), (Field.APPROVED_FOR, Route.AUTHORITY.value)
_NO_END, _ALL = (Field.VALID_UNTIL, OPEN_END), (Field.VEHICLES, ALL_VEHICLES)
# What has one meaning alone in a language: such a line of the map is proposed as it counts. Never that a letter has no
# conditions, and never a safety role: what is unknown must not pass because nobody took a line out.
_SURE: Mapping[Language, _Words] = {
    Language.GERMAN: {
        _CUSTOMER: frozenset({"kunde", "der kunde", "auftraggeber"}),
        _AUTHORITY: frozenset({"behörde", "die behörde", "aufsichtsbehörde", "sicherheitsbehörde"}),
        _NO_END: frozenset({"unbefristet", "ohne ende", "ohne befristung"}),
        _ALL: frozenset({"alle", "alle fahrzeuge", "alle wagen", "sämtliche"}),
    },
    Language.DANISH: {
        _CUSTOMER: frozenset({"kunde", "kunden"}),
        _AUTHORITY: frozenset({"myndighed", "myndigheden", "sikkerhedsmyndighed", "tilsynsmyndighed"}),
        _NO_END: frozenset({"tidsubegrænset", "ubegrænset", "uden udløb"}),
        _ALL: frozenset({"alle", "alle vogne", "alle køretøjer", "samtlige"}),
    },
    Language.ENGLISH: {
        _CUSTOMER: frozenset({"the customer", "client"}),
        _AUTHORITY: frozenset({"the authority", "safety authority"}),
        _NO_END: frozenset({"unlimited", "no end"}),
        _ALL: frozenset({"all", "all vehicles", "every vehicle"}),
    },
}
# What could mean something else besides: an end that is open may be one that nobody has settled yet.
_DOUBTFUL: _Words = {
    (Field.CONDITIONS, NO_CONDITIONS): frozenset({"keine", "keine auflagen", "ohne", "ohne auflagen", "nein", "ingen", "ingen betingelser", "ingen vilkår", "no", "no conditions"}),
    _NO_END: frozenset({"offen", "åben", "open", "indefinite"}),
    _ALL: frozenset({"every"}),
}  # fmt: skip


def meant(field: Field, text: str, language: Language) -> str | None:
    """The record's own word that a word of a list means in that language beyond doubt."""
    return _of(_SURE[language], field, text)


def likely(field: Field, text: str) -> str | None:
    """The record's own word that a word of a list is likely to mean, in whatever language."""
    found = (_of(words, field, text) for words in (*_SURE.values(), _DOUBTFUL))
    return next((each for each in found if each), None)


def _of(words: _Words, field: Field, text: str) -> str | None:
    said = as_compared(text)
    return next((here for (of, here), called in words.items() if of is field and said in called), None)
