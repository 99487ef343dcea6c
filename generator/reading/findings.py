"""What a check of the records finds, before it has its place in a file."""

import difflib
from collections.abc import Iterable
from typing import NamedTuple

from generator.reading.yaml_places import Path, Written
from generator.records.problems import Problem, Severity


class Finding(NamedTuple):
    """A disagreement, by the path of keys inside its file."""

    code: str
    path: Path
    says: str
    fix: str
    severity: Severity = Severity.ERROR


def put(problems: list[Problem], source: Written, findings: Iterable[Finding]) -> None:
    """Add the findings to `problems`, each at its line of `source`."""
    for finding in findings:
        where = source.where(finding.path)
        problems.append(
            Problem(
                code=finding.code, where=where, says=finding.says, fix=finding.fix, severity=finding.severity
            )
        )


def known(kind: str, name: str, names: Iterable[str], path: Path) -> Iterable[Finding]:
    """Nothing where `name` is among the names; else a finding with the near one, or with all."""
    listed = sorted(names)
    if name in listed:
        return
    close = difflib.get_close_matches(name, listed, n=1, cutoff=0.6)
    fix = (
        f"did you mean '{close[0]}'?"
        if close
        else f"use one of: {', '.join(listed) or 'none is defined yet'}"
    )
    yield Finding("LINK01", path, f"names the {kind} '{name}', which does not exist", fix)
