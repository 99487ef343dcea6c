"""How do people ask, in English and in the depot's language? From spoken/<language>.yml."""

from collections.abc import Mapping
from functools import cache
from importlib.resources.abc import Traversable
from typing import Any

import yaml

from generator.pages import wording
from generator.pages.language import Fitted, read
from generator.records.problems import Problem

_OWN_LANGUAGE = "en"


def query_words(language: str) -> dict[str, Any]:
    """The lists of English with those of the language behind them; a language leaves out those that add nothing.

    A list that the finder does not know, or that is of another form, is left out; `problems_of_query_words` tells.
    """
    words = _english()
    if language == _OWN_LANGUAGE or not _file(language).is_file():
        return words
    own, _ = _own(language)
    return {key: _together(words[key], own[key]) if key in own else words[key] for key in words}


def problems_of_query_words(language: str) -> tuple[Problem, ...]:
    """What is wrong with the file of a language, without a place; none where there is no file."""
    return _own(language)[1] if language != _OWN_LANGUAGE and _file(language).is_file() else ()


def _together(one: Any, other: Any) -> Any:
    return {**one, **other} if isinstance(one, dict) else [*one, *other]


def _file(language: str) -> Traversable:
    return wording.PAGES / "finder" / "spoken" / f"{language}.yml"


@cache  # asked for every part; the words are read only
def _english() -> dict[str, Any]:
    words: dict[str, Any] = yaml.safe_load(_file(_OWN_LANGUAGE).read_text(encoding="utf-8"))
    return words


@cache
def _own(language: str) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """The lists of a language that the finder can use, and what is wrong with the others."""
    file = read(_file(language), f"finder/spoken/{language}.yml")
    content = file.source.content if isinstance(file.source.content, dict) else {}
    return {key: given for key, given in content.items() if _is_fit(key, given, file)}, tuple(file.problems)


def _is_fit(key: str, given: Any, file: Fitted) -> bool:
    english = _english()
    if key not in english:
        file.told("unknown", (key,))
        return False
    if not _is_alike(given, english[key]):
        file.told("other form", (key,))
        return False
    return True


def _is_alike(given: Any, english: Any) -> bool:
    """Whether a list holds what the English one holds, be it texts, pairs or numbers by word."""
    if isinstance(english, Mapping):
        kinds = tuple({type(each) for each in english.values()} | {int}) if _holds_numbers(english) else (str,)
        return isinstance(given, dict) and all(isinstance(each, kinds) for each in given.values())
    if not isinstance(given, list):
        return False
    if english and isinstance(english[0], list):
        return all(isinstance(each, list) and all(isinstance(one, str) for one in each) for each in given)
    return all(isinstance(each, str) for each in given)


def _holds_numbers(english: Mapping[str, Any]) -> bool:
    return any(isinstance(each, int | float) for each in english.values())
