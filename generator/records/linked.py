"""A record that names one whose own file has a mistake: what is said of it, and which file is to be mended."""

from generator.records.problems import Path, Problem, wrong

_UNREADABLE = "LINK03"


def unreadable_link(kind: str, name: str, file: str, path: Path) -> Problem:
    """file: where the named record would stand."""
    return wrong(_UNREADABLE, "unreadable", path=path, kind=kind, name=name, file=file)


def file_to_mend(problem: Problem) -> str | None:
    """The file that such a problem follows from; None of any other problem."""
    return str(dict(problem.facts)["file"]) if problem.code == _UNREADABLE else None
