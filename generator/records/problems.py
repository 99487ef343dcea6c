"""What is wrong with a file, and where; how it is said stands in the words files of the pages."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

Fact = str | int | float | tuple[str, ...]
Given = Fact | date | Iterable[str] | None
Path = tuple[str | int, ...]
"""Keys and indexes that lead to a place inside a YAML file."""


class Severity(StrEnum):
    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True, order=True)
class Where:
    """A place an author can open; `file` is relative to the catalogue, with forward slashes."""

    file: str
    line: int | None = None
    column: int | None = None

    def __str__(self) -> str:
        return ":".join(str(part) for part in (self.file, self.line, self.column) if part is not None)


_NOWHERE = Where("")


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One mistake of an author, from where it arises to where it is shown; made by `wrong`."""

    code: str
    key: str
    """Which sentence of the code says what is wrong."""
    mend: str
    """Which sentence of the code says what to do; 'CODE.key' is one of another code."""
    facts: tuple[tuple[str, Fact], ...] = ()
    """What the sentences are filled with, by name."""
    where: Where = _NOWHERE
    path: Path = ()
    """The place inside its file, as long as `where` is not known yet."""
    severity: Severity = Severity.ERROR

    @property
    def what(self) -> tuple[str, str, tuple[tuple[str, Fact], ...]]:
        """What is wrong, wherever it stands: in a file that changes, lines move."""
        return (self.code, self.key, self.facts)

    def at(self, where: Where) -> "Problem":
        """The same in its place."""
        return replace(self, where=where, path=())

    def telling(self, **facts: Given) -> "Problem":
        """The same with more facts."""
        return replace(self, facts=_plain({**dict(self.facts), **facts}))

    def mended(self, mend: str, **facts: Given) -> "Problem":
        """The same with another sentence that says what to do."""
        return replace(self.telling(**facts), mend=mend)

    @property
    def order(self) -> tuple[str, int, int, str, str, str]:
        """A sort key that never compares None."""
        line, column = self.where.line or 0, self.where.column or 0
        return (self.where.file, line, column, self.code, self.key, repr(self.facts))


def wrong(
    code: str,
    key: str,
    mend: str = "",
    /,
    *,
    where: Where = _NOWHERE,
    path: Path = (),
    severity: Severity = Severity.ERROR,
    **facts: Given,
) -> Problem:
    """A problem by the sentence of its code, filled with facts; `mend` where the sentence to do so has another key.

    Days become ISO text; a fact that is None is left out, and with it what the sentence says of it in brackets.
    """
    known = _plain(facts)
    return Problem(code=code, key=key, mend=mend or key, facts=known, where=where, path=path, severity=severity)


def doubt(
    code: str,
    key: str,
    mend: str = "",
    /,
    *,
    where: Where = _NOWHERE,
    path: Path = (),
    **facts: Given,
) -> Problem:
    """The same as a warning: something that may be right, and that somebody should look at."""
    return wrong(code, key, mend, where=where, path=path, severity=Severity.WARNING, **facts)


def _plain(facts: dict[str, Given]) -> tuple[tuple[str, Fact], ...]:
    return tuple((name, _one(fact)) for name, fact in sorted(facts.items()) if fact is not None)


def _one(fact: Fact | date | Iterable[str]) -> Fact:
    if isinstance(fact, str):
        return str(fact)
    if isinstance(fact, date):
        return fact.isoformat()
    return fact if isinstance(fact, int | float) else tuple(str(each) for each in fact)


class Unfit(ValueError):  # noqa: N818  a reason, spoken of as one
    """Why a value is none that may stand in a record: a sentence of REC03, with what fills it besides name and value."""

    def __init__(self, key: str, **facts: Fact) -> None:
        super().__init__(f"{key} {facts}")
        self.key = key
        self.facts = facts


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Each problem once, sorted by file and line."""
    return tuple(sorted(dict.fromkeys(problems), key=lambda problem: problem.order))
