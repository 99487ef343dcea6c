"""What a check of the records finds gets its place in a file."""

import difflib
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from functools import partial
from typing import NamedTuple

from generator.reading.yaml_places import YamlFile
from generator.records.linked import file_to_mend
from generator.records.problems import Path, Problem, Severity, Where, wrong
from generator.rules.short import SHARED

MOST_NAMES, NEAR_NAMES = 8, 5
# A mistake made a thousand times in one file is one mistake; more of it would only hide the others.
MOST_ALIKE = 20


class Unfinished(NamedTuple):
    """A problem whose mend takes work; it is worked out where the problem is shown."""

    problem: Problem
    finish: Callable[[Problem], Problem]


Finding = Problem | Unfinished
"""A disagreement, by the path of keys inside its file."""


def put(problems: list[Problem], source: YamlFile, findings: Iterable[Finding]) -> None:
    """Add the findings to `problems`, each at its line of `source`; of many alike the first ones, and their number."""
    alike: defaultdict[str, list[Finding]] = defaultdict(list)
    for finding in findings:
        alike[_bare(finding).code].append(finding)
    for same in alike.values():
        for finding in same[:MOST_ALIKE]:
            found = finding if isinstance(finding, Problem) else finding.finish(finding.problem)
            problems.append(found.at(source.where(found.path)))
        if len(same) > MOST_ALIKE:
            first = _bare(same[MOST_ALIKE])
            where = source.where(first.path)
            problems.append(more_like_it(first.code, where, len(same) - MOST_ALIKE, first.severity))


def _bare(finding: Finding) -> Problem:
    return finding if isinstance(finding, Problem) else finding.problem


def more_like_it(code: str, where: Where, count: int, severity: Severity = Severity.ERROR) -> Problem:
    """Stands for the mistakes of a kind that are not listed one by one; `where` is the first of them."""
    return wrong(code, "ANY.more", where=where, severity=severity, count=count)


def must_exist(kind: str, name: str, names: Iterable[str], path: Path) -> Iterable[Finding]:
    """Nothing where `name` is among the names; else a finding with the near one, or with all."""
    among = names if isinstance(names, set | frozenset | dict) else set(names)
    if name not in among:
        found = wrong("LINK01", "unknown", "none", path=path, kind=kind, name=name)
        yield Unfinished(found, partial(_with_near, name, among))


def _with_near(name: str, names: Iterable[str], found: Problem) -> Problem:
    """The one that was meant; else all of a few, and of many those that are nearest."""
    listed = sorted(names)
    close = difflib.get_close_matches(name, listed, n=1, cutoff=0.6)
    if close:
        return found.mended("near", near=close[0])
    if len(listed) > MOST_NAMES:
        return found.mended("such as", names=difflib.get_close_matches(name, listed, n=NEAR_NAMES, cutoff=0.0))
    return found.mended("choose", names=tuple(listed)) if listed else found


def once_each_cause(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Where a whole file cannot be read, of all that name what stands in it the first one, with how many more there are.

    Each part keeps its own: it is not fitted for it. The files that all others are judged by come first.
    """
    listed = sorted(problems, key=lambda each: SHARED.index(each.where.file) if each.where.file in SHARED else len(SHARED))
    of_file = {each: file for each in listed if (file := file_to_mend(each)) is not None}
    count = Counter(of_file.values())
    told: list[Problem] = []
    for each in listed:
        file = of_file.get(each)
        if file is None or not count[file]:
            told += [each] if file is None else []
            continue
        more = count.pop(file) - 1
        told.append(each.telling(more=more) if more else each)
    return tuple(told)
