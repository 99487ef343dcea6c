"""A table with known columns, as a spreadsheet of any country saved it: commas, semicolons or tabs, and whichever letters.

Its first line tells all of that, since it is known what must stand there.
"""

from collections.abc import Iterable, Iterator, Sequence

from generator.reading.csv_rows import RowError, numbered_rows
from generator.reading.written_in import LettersError, decoded
from generator.records.problems import Problem, Where, wrong

_SIGNS = (",", ";", "\t")
_START = Where("", 1)
_PACKED = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
"""How workbooks begin, newer and older ones."""


class TableError(ValueError):
    """The table cannot be read; it carries the problem, without its file."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.problem = problem


def handed_table(raw: bytes, *heads: Sequence[str]) -> Iterator[tuple[int, list[str]]]:
    """Its rows, the first with the names of its columns; each with the line on which it begins. heads: the columns that it may have.

    Columns behind the last one that are empty, their heads too, are left out. Raises TableError; while the rows are read, RowError.
    """
    if raw.startswith(_PACKED):
        raise TableError(wrong("FITTED02", "workbook", where=_START))
    try:
        text, _ = decoded(raw)
    except LettersError as error:
        line = error.problem.where.line or 1
        is_text = error.problem.key != "no text"
        raise TableError(wrong("FITTED02", "letters" if is_text else "no text", where=Where("", line))) from None
    lines_before = 0
    if text[:4].lower() == "sep=":  # a spreadsheet's own word for what parts the cells
        text, lines_before = text.partition("\n")[2], 1
    found = _parted(text, heads)
    if found is None:
        raise TableError(wrong("FITTED02", "head", where=Where("", 1 + lines_before), columns=",".join(heads[0])))
    sign, width = found
    return _narrowed(numbered_rows(text, sign, lines_before), width)


def parts_otherwise(text: str, *heads: Sequence[str]) -> bool:
    """Whether a text would be such a table with another sign between its cells than a comma, or with its head written otherwise."""
    return _parted(text, heads) is not None


def _parted(text: str, heads: Iterable[Sequence[str]]) -> tuple[str, int] | None:
    """The sign between its cells, and how many columns it has."""
    return next(((sign, len(head)) for sign in _SIGNS for head in heads if _head(text, sign) == list(head)), None)


def _head(text: str, sign: str) -> list[str]:
    """The names in the first line, in small letters, without empty ones at its end."""
    try:
        _, cells = next(numbered_rows(text, sign), (1, []))
    except RowError:
        return []
    names = [cell.strip().lower() for cell in cells]
    while names and not names[-1]:
        names.pop()
    return names


def _narrowed(rows: Iterator[tuple[int, list[str]]], width: int) -> Iterator[tuple[int, list[str]]]:
    """A row that is as wide as the first one loses the same empty cells; a wider one has a comma too many, and stays."""
    line, head = next(rows)
    yield line, head[:width]
    for line, cells in rows:
        yield line, cells[:width] if len(cells) == len(head) and not any(map(str.strip, cells[width:])) else cells
