"""What a check of the records finds, before it has its place in a file."""

import difflib
from collections import defaultdict
from collections.abc import Callable, Iterable
from functools import partial
from typing import NamedTuple

from generator.reading.yaml_places import Path, Written
from generator.records.problems import Problem, Severity, Where

# A mistake made a thousand times in one file is one mistake; more of it would only hide the others.
MOST_ALIKE = 20


class Finding(NamedTuple):
    """A disagreement, by the path of keys inside its file; a mend that takes work is asked for where it is shown."""

    code: str
    path: Path
    says: str
    fix: str | Callable[[], str]
    severity: Severity = Severity.ERROR


def put(problems: list[Problem], source: Written, findings: Iterable[Finding]) -> None:
    """Add the findings to `problems`, each at its line of `source`; of many alike the first ones, and their number."""
    alike: defaultdict[str, list[Finding]] = defaultdict(list)
    for finding in findings:
        alike[finding.code].append(finding)
    for same in alike.values():
        for code, path, says, fix, severity in same[:MOST_ALIKE]:
            mend = fix if isinstance(fix, str) else fix()
            where = source.where(path)
            problems.append(Problem(code=code, where=where, says=says, fix=mend, severity=severity))
        if len(same) > MOST_ALIKE:
            first = same[MOST_ALIKE]
            where = source.where(first.path)
            problems.append(more_like_it(first.code, where, len(same) - MOST_ALIKE, first.severity))


def more_like_it(code: str, where: Where, count: int, severity: Severity = Severity.ERROR) -> Problem:
    """Stands for the mistakes of a kind that are not listed one by one; `where` is the first of them."""
    says = f"and {count:,} more like it, from here on"
    fix = "mend these together; they have one cause"
    return Problem(code=code, where=where, says=says, fix=fix, severity=severity)


def known(kind: str, name: str, names: Iterable[str], path: Path) -> Iterable[Finding]:
    """Nothing where `name` is among the names; else a finding with the near one, or with all."""
    among = names if isinstance(names, set | frozenset | dict) else set(names)
    if name not in among:
        mend = partial(_near, name, among)
        yield Finding("LINK01", path, f"names the {kind} '{name}', which does not exist", mend)


def _near(name: str, names: Iterable[str]) -> str:
    listed = sorted(names)
    close = difflib.get_close_matches(name, listed, n=1, cutoff=0.6)
    return (
        f"did you mean '{close[0]}'?"
        if close
        else f"use one of: {', '.join(listed) or 'none is defined yet'}"
    )
