"""Which words, dates, numbers and sums of money do the pages print, in the depot's language?

The rule of placeholders, the same in the browser (site_src/assets/js):
`{name}` is the value of a fact; a list is joined by `list_separator`; nothing known prints `missing`.
`{name:date}` prints an ISO date in words, and "open" as `dates.open_end`.
`{name:word}` looks each value up in `terms.<name>`; a value without a term stays as it is.
`{name?day|days}` prints what agrees with the number that `{name}` prints.
`[ … ]` is left out when a placeholder inside it has nothing to print.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import lru_cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

import yaml

from generator.pages.lacking import LackingWords, LackingWordsError
from generator.pages.language import fitted, read
from generator.pages.placeholders import GROUP, PLACEHOLDER, in_number
from generator.pages.sorting import Key, sort_key
from generator.records.depot import Language
from generator.records.problems import Problem

Value = str | int | tuple[str, ...] | list[str] | None
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # the same in C is eight times as fast
_BROWSER = (
    "verdict", "reasons", "steps", "needed", "no_permit", "terms", "dates", "missing", "list_separator", "copy", "cards", "finder", "offline",
    "ticks", "in_service", "vehicle", "working", "handed",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Wording:
    """All words of one language: `tree` as in the file, `flat` by dotted keys."""

    language: str
    tree: Mapping[str, Any]
    flat: Mapping[str, Any] = field(repr=False)

    def __call__(self, key: str, **facts: Value) -> str:
        """The words under a dotted key, filled in; LackingWordsError where there are none."""
        text = self.flat[key]
        return self.filled(text, facts) if "{" in text else str(text)

    def count(self, key: str, n: int, **facts: Value) -> str:
        """The words for n things: `<key>.one` or `<key>.other`, with `{n}` filled in.

        One and many are all that CLDR knows of whole numbers in English, Danish and German.
        """
        return self(f"{key}.{'one' if n == 1 else 'other'}", n=self.number(n), **facts)

    def term(self, kind: str, value: str) -> str:
        """The word for a value of a closed set, or the value itself."""
        return str(self.flat.get(f"terms.{kind}.{value}", value))

    def filled(self, text: str, facts: Mapping[str, Any]) -> str:
        """The text with its placeholders filled from facts, by the rule above."""
        kept = GROUP.sub(lambda group: self._group(group[1], facts), text) if "[" in text else text
        told = PLACEHOLDER.sub(lambda found: in_number(found, self._value(found, facts) or str(self.flat["missing"])), kept)
        separator = str(self.flat["list_separator"])
        return told.replace(f".{separator}", separator)  # sentences in a list end with the list

    def _group(self, text: str, facts: Mapping[str, Any]) -> str:
        parts = PLACEHOLDER.finditer(text)
        return text if all(self._value(part, facts) is not None for part in parts) else ""

    def _value(self, found: re.Match[str], facts: Mapping[str, Any]) -> str | None:
        name, form = found[1], found[2]
        value = facts.get(name)
        if value is None or value in ("", (), []):
            return None
        values = [str(each) for each in value] if isinstance(value, tuple | list) else [str(value)]
        if form == "date":
            values = [self.iso_day(each) for each in values]
        elif form:
            values = [self.term(name if form == "word" else form, each) for each in values]
        return str(self.flat["list_separator"]).join(values)

    def iso_day(self, text: str) -> str:
        """A day such as 2026-11-25 in words; "open" as the words for no end; anything else unchanged."""
        if text == "open":
            return str(self.flat["dates.open_end"])
        try:
            return self.day(date.fromisoformat(text))
        except ValueError:
            return text

    def day(self, day: date) -> str:
        """A day in words, such as 25 Nov 2026."""
        months = self.flat["dates.months"]
        facts = {"day": str(day.day), "month": months[day.month - 1], "year": str(day.year)}
        return self.filled(self.flat["dates.format"], facts)

    def number(self, number: float | Decimal, digits: int = 0) -> str:
        """A number with the language's signs for decimals and thousands."""
        plain = f"{number:,.{digits}f}"
        signs = {",": self.flat["numbers.thousands"], ".": self.flat["numbers.decimal"]}
        return "".join(signs.get(sign, sign) for sign in plain)

    def measure(self, number: float | Decimal, most: int = 2) -> str:
        """A length or mass as short as it goes, with so many decimals at most."""
        text = self.number(number, most)
        point = self.flat["numbers.decimal"]
        return text.rstrip("0").removesuffix(point) if point in text else text

    def money(self, amount: float | Decimal, currency: str) -> str:
        """A sum of money with two decimals and its ISO 4217 code."""
        return self("numbers.money", amount=self.number(amount, 2), currency=currency)

    def sort_key(self, name: str) -> Key:
        """By what names are sorted in this language."""
        return sort_key(name, self.language)

    def for_browser(self) -> dict[str, Any]:
        """The part of the words that the scripts need."""
        return {key: self.tree[key] for key in _BROWSER if key in self.tree}


PAGES: Traversable = files("generator.pages")


def languages() -> tuple[str, ...]:
    """The languages that have words files."""
    names = (each.name for each in (PAGES / "words").iterdir())
    return tuple(sorted(name.removesuffix(".yml") for name in names if name.endswith(".yml")))


def wording(language: Language | str) -> Wording:
    """The words of a language; of English where the language has no words files yet."""
    return _read(str(language) if str(language) in languages() else Language.ENGLISH.value)


def problems_of_words(language: Language | str) -> tuple[Problem, ...]:
    """What is wrong with the words files of a language, without a place; none of one that has no words files."""
    name = str(language)
    return _translated(name)[1] if name in languages() and name != Language.ENGLISH else ()


@lru_cache
def _read(language: str) -> Wording:
    if language != Language.ENGLISH:
        return _translated(language)[0]
    tree: dict[str, Any] = {}
    for name, file in words_files(language):
        told = our_file(file)
        if twice := tree.keys() & told.keys():
            raise ValueError(f"{name} has words under {', '.join(sorted(twice))}, as another words file has")
        tree |= told
    return from_tree(language, tree)


@lru_cache
def _translated(language: str) -> tuple[Wording, tuple[Problem, ...]]:
    """Words with English in place of those that are not fit, and what is wrong with these."""
    tree: dict[str, Any] = {}
    problems: list[Problem] = []
    own_files = words_files(language)
    for (_, english), (name, file) in zip(words_files(Language.ENGLISH), own_files, strict=True):
        own = read(file, name)
        tree |= fitted(our_file(english), own)
        problems += own.problems
    return from_tree(language, tree), tuple(problems)


def our_file(file: Traversable) -> dict[str, Any]:
    """What a YAML file of the program itself holds."""
    found: dict[str, Any] = yaml.load(file.read_text(encoding="utf-8"), Loader=_LOADER)  # noqa: S506  our own, by a safe loader
    return found


def words_files(language: str) -> tuple[tuple[str, Traversable], ...]:
    """Where the words of a language stand or should stand, by name: of all pages, then of each kind of page."""
    kinds = sorted(each.name for each in PAGES.iterdir() if (each / "words" / "en.yml").is_file())
    folders = [(PAGES / "words", "words"), *((PAGES / kind / "words", f"{kind}/words") for kind in kinds)]
    return tuple((f"{name}/{language}.yml", folder / f"{language}.yml") for folder, name in folders)


def from_tree(language: str, tree: Mapping[str, Any]) -> Wording:
    """Words from the content of a words file."""
    return Wording(language, tree, _FlatWords(_flat("", tree)))


class _FlatWords(dict[str, Any]):
    """Words by dotted keys; what is not there says so by its key."""

    def __missing__(self, key: str) -> Any:
        raise LackingWordsError(key)


def lacking(key: str) -> LackingWords:
    """In which English words file a dotted key should stand, and which other language has it; reads every words file."""
    path = tuple(key.split("."))
    own, had_by = None, None
    for language in sorted(languages(), key=lambda each: each != Language.ENGLISH):
        for (english, _), (name, file) in zip(words_files(Language.ENGLISH), words_files(language), strict=True):
            source = read(file, name).source
            if (path[0],) in source.keys:
                own = own or english
            if had_by is None and path in source.keys:
                own, had_by = english, f"{name}:{source.where(path, key=True).line}"
    return LackingWords(key=key, file=own, had_by=had_by)


def _flat(prefix: str, tree: Mapping[str, Any]) -> list[tuple[str, Any]]:
    found: list[tuple[str, Any]] = []
    for key, value in tree.items():
        name = f"{prefix}.{key}" if prefix else str(key)
        found += _flat(name, value) if isinstance(value, Mapping) else [(name, value)]
    return found
