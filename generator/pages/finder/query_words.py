"""How do people ask, in English and in the depot's language? From spoken/<language>.yml."""

from collections.abc import Mapping
from functools import cache
from importlib.resources.abc import Traversable
from typing import Any

from generator.pages import wording
from generator.pages.language import FitWords, read
from generator.records.problems import Problem

_OWN_LANGUAGE = "en"


_OF_SENTENCES = frozenset(
    {
        *("fillers", "about", "by", "glue", "round", "axes", "units", "vehicles", "between", "and", "round_names"),
        *("spoken", "spoken_inside", "spoken_and", "point", "signs", "double", "digits", "letters"),
        *("features", "shapes", "thread_to", "pitch", "caliper", "tape", "lacking", "none", "less", "counting", "denied", "until", "ways", "goes_in", "meant_for", "beside", "shaped", "hands"),
        *("asking", "leading", "numbering", "joining"),
    }
)
"""Lists that every language of the floor adds to; the others are of one language alone, such as its endings."""


def asked_in(language: str, floor: tuple[str, ...]) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """The lists of `query_words`, with those of sentences from the floor; and for each language there what its words mean."""
    words = query_words(language)
    lexicons = []
    for each in dict.fromkeys(floor):
        if each == _OWN_LANGUAGE or not _file(each).is_file():
            continue
        own, _ = _own(each)
        if each != language:
            words = {key: _together(words[key], own[key]) if key in own and key in _OF_SENTENCES else words[key] for key in words}
        lexicons.append({"means": own.get("means", {}), "links": own.get("links", []), "endings": own.get("endings", [])})
    return {**words, "means": {}}, lexicons


def feature_of(name: str, features: Mapping[str, str]) -> str | None:
    """The kind of feature that the name of a check speaks of, by the longest phrase in it; None where it tells none."""
    words = f" {' '.join(name.lower().replace('-', ' ').replace(',', ' ').split())} "
    found = [phrase for phrase in features if f" {phrase} " in words]
    return features[max(found, key=lambda phrase: (len(phrase.split()), -words.index(f" {phrase} ")))].split()[0] if found else None


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
    return wording.our_file(_file(_OWN_LANGUAGE))


@cache
def _own(language: str) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """The lists of a language that the finder can use, and what is wrong with the others."""
    file = read(_file(language), f"finder/spoken/{language}.yml")
    content = file.source.content if isinstance(file.source.content, dict) else {}
    return {key: given for key, given in content.items() if _is_fit(key, given, file)}, tuple(file.problems)


def _is_fit(key: str, given: Any, file: FitWords) -> bool:
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
