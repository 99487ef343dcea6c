"""What is wrong with a file, where, and how to mend it."""

from dataclasses import dataclass
from enum import StrEnum


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One mistake of an author: what is wrong in `says`, what to do in `fix`."""

    code: str
    where: Where
    says: str
    fix: str
    severity: Severity = Severity.ERROR

    def __str__(self) -> str:
        return f"{self.where}: {self.severity} {self.code}: {self.says}\n    mend: {self.fix}"

    @property
    def order(self) -> tuple[str, int, int, str, str]:
        """A sort key that never compares None."""
        return (self.where.file, self.where.line or 0, self.where.column or 0, self.code, self.says)


def in_order(problems: "list[Problem] | tuple[Problem, ...]") -> tuple[Problem, ...]:
    """Each problem once, sorted by file and line."""
    return tuple(sorted(dict.fromkeys(problems), key=lambda problem: problem.order))
