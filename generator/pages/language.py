"""Which words of a language are fit to be shown, and what is wrong with the others? English stands in for them.

These files come with the program, so that whatever is wrong in one is an error; a site is built all the same.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib.resources.abc import Traversable
from typing import Any

from generator.pages.placeholders import GROUP, PLACEHOLDER
from generator.reading.yaml_places import YamlFile, read_yaml
from generator.records.problems import Path, Problem, wrong

_MOST_ALIKE = 20
_FORMS = {None, "date", "word"}


@dataclass(slots=True)
class FitWords:
    """The words of one file as far as they are fit, English for the rest, and why; the problems have no place yet."""

    name: str
    source: YamlFile
    problems: list[Problem] = field(default_factory=list)

    def told(self, key: str, path: Path) -> None:
        """Note what is wrong at a place of the file; of many alike the first ones, the last of them with their number."""
        alike = [at for at, each in enumerate(self.problems) if each.key == key]
        if len(alike) < _MOST_ALIKE:
            line = self.source.where(path if path in self.source.keys else path[:-1], key=True).line
            words = ".".join(map(str, path))
            self.problems.append(wrong("DEPOT02", key, file=self.name, line=line, words=words))
            return
        last = self.problems[alike[-1]]
        more = dict(last.facts).get("more", 0)
        self.problems[alike[-1]] = last.telling(more=int(more) + 1 if isinstance(more, int) else 1)


def read(file: Traversable, name: str) -> FitWords:
    """A words file by the strict reader; one that cannot be read at all has no content and says so."""
    if not file.is_file():
        return FitWords(name, YamlFile(name), [wrong("DEPOT02", "no file", file=name)])
    try:
        source = read_yaml(name, file.read_bytes())
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        return FitWords(name, YamlFile(name), [wrong("DEPOT02", "unreadable", file=name, reason=reason)])
    problems = [_unused(name, each) for each in source.problems[:1]]
    if not problems and not isinstance(source.content, dict):
        problems = [wrong("DEPOT02", "no keys", file=name)]
    return FitWords(name, source if not problems else YamlFile(name), problems)


def _unused(name: str, problem: Problem) -> Problem:
    """The first thing that the strict reader does not take, with its own word on how to mend it."""
    found = wrong("DEPOT02", "unused", "YAML10.look", file=name, line=problem.where.line)
    return found.mended(f"{problem.code}.{problem.mend}", **dict(problem.facts))


def fitted(english: Mapping[str, Any], own: FitWords) -> dict[str, Any]:
    """The words of `own` where they are fit to stand for the English ones; the problems go into `own`."""
    content = own.source.content
    return _keys(english, content, (), own) if isinstance(content, dict) else dict(english)


def _fit(english: Any, given: Any, path: Path, own: FitWords) -> Any:
    if isinstance(english, Mapping):
        if isinstance(given, dict):
            return _keys(english, given, path, own)
    elif isinstance(english, list):
        if isinstance(given, list) and len(given) == len(english) and all(isinstance(each, str) for each in given):
            return given
    elif isinstance(given, str):
        if is_filled_alike(str(english), given):
            return given
        own.told("placeholder", path)
        return english
    own.told("other form", path)
    return english


def _keys(english: Mapping[str, Any], given: dict[str, Any], path: Path, own: FitWords) -> dict[str, Any]:
    for key in given:
        if key not in english:
            own.told("unknown", (*path, key))
    found = {}
    for key, words in english.items():
        if key in given:
            found[key] = _fit(words, given[key], (*path, key), own)
        else:
            own.told("lacks", (*path, key))
            found[key] = words
    return found


def is_filled_alike(english: str, given: str) -> bool:
    """Whether a sentence asks for the facts of the English one, every bracket and brace is of use, and none is HTML."""
    ours, theirs = list(PLACEHOLDER.finditer(english)), list(PLACEHOLDER.finditer(given))
    names = _printed(theirs) == _printed(ours) and {found[1] for found in theirs} <= {found[1] for found in ours}
    may_lack = _optional(given) == _optional(english)  # else a fact that is not known would leave a dash
    forms = {found[2] for found in theirs} <= _FORMS | {found[2] for found in ours}
    bare = PLACEHOLDER.sub("", GROUP.sub(r"\1", given))
    is_text = set("<>") & set(given) <= set("<>") & set(english)
    return names and may_lack and forms and is_text and not re.search(r"[\[\]{}]", bare)


def _printed(found: list[re.Match[str]]) -> set[str]:
    """The facts that are printed themselves, not only agreed with."""
    return {each[1] for each in found if each[3] is None}


def _optional(text: str) -> set[str]:
    """The facts that stand in a bracket, which is left out where one of them is not known."""
    return {found[1] for group in GROUP.findall(text) for found in PLACEHOLDER.finditer(group)}
