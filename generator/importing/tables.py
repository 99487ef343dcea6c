"""What stands in a list, cell by cell, before anybody has said what it means."""

import re
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

# A depot has some thousand parts with a few dozen columns; what is far larger is no list of parts.
MOST_ROWS = 20_000
MOST_COLUMNS = 2000
MOST_CELLS = 600_000
# As long as the longest text that a record takes.
LONGEST_CELL = 4000


class CellKind(StrEnum):
    """What a cell holds by the list itself."""

    EMPTY = "empty"
    TEXT = "text"
    NUMBER = "number"
    DAY = "day"
    TRUTH = "yes or no"
    ERROR = "error"
    """What a spreadsheet shows where it could not work something out, such as #REF!"""
    FORMULA = "formula"
    """One whose result is not in the file."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell; `text` is what it says, of a number or a day as it is written in a record."""

    kind: CellKind
    text: str = ""
    number: float | None = None
    day: date | None = None
    covered: bool = False
    """Under a merged cell, so that what stands above or beside it may be meant for it too."""
    worked_out: bool = False
    """It is the result of a formula, as it was saved last."""


EMPTY = Cell(CellKind.EMPTY)


@dataclass(frozen=True, slots=True)
class Row:
    """One row with its number as a spreadsheet shows it, also that of a text file: a cell may go over several lines."""

    number: int
    cells: tuple[Cell, ...]
    hidden: bool = False
    struck: bool = False
    """Something in it is crossed out."""

    def cell(self, column: int) -> Cell:
        return self.cells[column] if column < len(self.cells) else EMPTY

    @property
    def is_blank(self) -> bool:
        return all(cell.kind is CellKind.EMPTY for cell in self.cells)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One sheet of a spreadsheet, or the whole of a text file."""

    name: str = ""
    rows: tuple[Row, ...] = ()
    hidden: bool = False
    hidden_columns: frozenset[int] = frozenset()
    has_remarks: bool = False
    """Somebody has put remarks on cells, which are not read."""
    coloured: tuple[int, ...] = ()
    """Rows with a coloured cell; what a colour means is not read either."""
    encoding: str | None = None
    """Of a text file, as it was read; so is the next."""
    delimiter: str | None = None


def text_cell(text: str) -> Cell:
    """A cell of text; white space around it, and of a kind that cannot be told from a space, is none of it."""
    plain = re.sub(r"[^\S\n]+", " ", text.replace("\r\n", "\n").replace("\r", "\n")).strip()
    return Cell(CellKind.TEXT, plain) if plain else EMPTY


def number_cell(number: float) -> Cell:
    whole = isinstance(number, int) or (number.is_integer() and abs(number) < 1e15)
    return Cell(CellKind.NUMBER, str(int(number)) if whole else repr(number), number=float(number))


def day_cell(day: date) -> Cell:
    return Cell(CellKind.DAY, day.isoformat(), day=day)


def column_letters(column: int) -> str:
    """0 → A, 26 → AA, as spreadsheets count columns."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
