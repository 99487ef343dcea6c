"""A spreadsheet (.xlsx) → tables: values as they were saved, what is hidden or merged, and formulas without their result."""

import re
import warnings
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime
from io import BytesIO
from typing import Any
from xml.etree.ElementTree import iterparse
from zipfile import ZipFile

from generator.importing.packed import refused
from generator.importing.tables import (
    EMPTY,
    LONGEST_CELL,
    MOST_CELLS,
    MOST_COLUMNS,
    MOST_ROWS,
    Cell,
    CellKind,
    Row,
    Table,
    day_cell,
    number_cell,
    text_cell,
)
from generator.records.problems import Problem, wrong

# As many as any spreadsheet program has rows (ECMA-376: XFD1048576).
_LAST_ROW = 1_048_576
# How the format writes a sign that XML cannot hold (ECMA-376, ST_Xstring), and a unit that it shows behind a number.
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_LITERAL = re.compile(r'"\s*([A-Za-z″]+)\s*"')


class UnreadableWorkbookError(ValueError):
    """The sheet holds more than a list of parts does, or what contradicts itself; it carries the problem."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.problem = problem


def read_workbook(content: bytes) -> tuple[Table, ...] | Problem:
    """Every sheet with something in it, in their order, or why the file is refused. Run it in a guarded child process."""
    if said := refused(content):
        return said
    from openpyxl import load_workbook  # noqa: PLC0415  for this kind of file alone

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of styles and extensions that are not asked about
        book = load_workbook(BytesIO(content), read_only=True, keep_links=False)
        results = load_workbook(BytesIO(content), read_only=True, keep_links=False, data_only=True)
        try:
            with ZipFile(BytesIO(content)) as package:
                pairs = [(one, other) for one, other in zip(book.worksheets, results.worksheets, strict=True)]
                tables = [_table(sheet, result, package) for sheet, result in pairs]
        except UnreadableWorkbookError as error:
            return error.problem
    return tuple(table for table in tables if table.rows)


@dataclass(slots=True)
class _Seen:
    """What the sheet shows of itself, besides its values; rows count from 1, columns from 0."""

    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    """First row, first column, last row, last column."""
    last_row: int = 0
    cells: set[str] = field(default_factory=set)
    """Addresses in the row that is read."""

    def end_row(self, number: int | None) -> None:
        """Rows that stand twice or out of order would be lost without a word."""
        if number is not None:
            if number <= self.last_row:
                raise UnreadableWorkbookError(wrong("LIST02", "broken"))
            self.last_row = number
        self.cells.clear()

    def end_cell(self, address: str | None) -> None:
        if address in self.cells:
            raise UnreadableWorkbookError(wrong("LIST02", "broken"))
        self.cells.update([address] if address else [])

    def covers(self, row: int, column: int) -> bool:
        """Whether the cell lies under a merged one and is not its first."""
        return any(
            top <= row <= bottom and left <= column <= right and (row, column) != (top, left)
            for top, left, bottom, right in self.merged
        )


def _table(sheet: Any, result: Any, package: ZipFile) -> Table:
    seen = _seen(package, sheet._worksheet_path)  # noqa: SLF001  the library tells it nowhere else
    for each in (sheet, result):
        each.reset_dimensions()  # what the file says of its size may be wrong
    rows: list[Row] = []
    coloured: list[int] = []
    cells = 0
    pairs = zip(sheet.iter_rows(), result.iter_rows(), strict=True)
    for number, (written, shown) in enumerate(pairs, start=1):
        if number > _LAST_ROW:
            raise UnreadableWorkbookError(wrong("LIST03", "rows", most=MOST_ROWS))
        if not written:
            continue
        row = _row(number, written, shown, seen)
        if row.is_blank:
            continue
        rows.append(row)
        cells += len(row.cells)
        if any(cell.value is not None and cell.has_style and cell.fill.fill_type for cell in written):
            coloured.append(number)
        if len(rows) > MOST_ROWS or cells > MOST_CELLS:
            key = "rows" if len(rows) > MOST_ROWS else "cells"
            raise UnreadableWorkbookError(wrong("LIST03", key, most=MOST_ROWS if key == "rows" else MOST_CELLS))
    return Table(
        name=sheet.title,
        rows=tuple(rows),
        hidden=sheet.sheet_state != "visible",
        hidden_columns=frozenset(seen.hidden_columns),
        has_remarks=any("comments" in name for name in package.namelist()),
        coloured=tuple(coloured),
    )


def _row(number: int, written: Any, shown: Any, seen: _Seen) -> Row:
    if len(written) > MOST_COLUMNS and any(cell.value is not None for cell in written[MOST_COLUMNS:]):
        raise UnreadableWorkbookError(wrong("LIST03", "columns", most=MOST_COLUMNS))
    cells = [_cell(one, other) for one, other in zip(written[:MOST_COLUMNS], shown[:MOST_COLUMNS], strict=False)]
    if any(top <= number <= bottom for top, _, bottom, _ in seen.merged):
        cells = [Cell(CellKind.EMPTY, covered=True) if seen.covers(number, i) else cell for i, cell in enumerate(cells)]
    while cells and cells[-1] is EMPTY:
        cells.pop()
    struck = any(cell.value is not None and cell.has_style and cell.font.strike for cell in written[: len(cells)])
    return Row(number, tuple(cells), hidden=number in seen.hidden_rows, struck=struck)


def _cell(written: Any, shown: Any) -> Cell:
    """What stands there: of a formula the result that was saved with it."""
    if written.data_type == "f":
        if shown.value is None:
            formula = getattr(written.value, "text", written.value)
            return Cell(CellKind.FORMULA, str(formula)[:LONGEST_CELL])
        return replace(_value(shown), worked_out=True)
    return _value(written)


def _value(cell: Any) -> Cell:
    value = cell.value
    if value is None:
        return EMPTY
    if cell.data_type == "e":
        return Cell(CellKind.ERROR, str(value))
    match value:
        case bool():
            return Cell(CellKind.TRUTH, "true" if value else "false")
        case int() | float():
            return _shown_number(value, cell.number_format or "")
        case datetime():
            return day_cell(value.date()) if _shows_whole_day(cell.number_format or "") else Cell(CellKind.DAY, value.date().isoformat())
        case str():
            return text_cell(_ESCAPED.sub(lambda found: chr(int(found[1], 16)), value))
    return Cell(CellKind.DAY, str(value))  # a time of day, which a spreadsheet made of something else


def _shows_whole_day(number_format: str) -> bool:
    """Whether year and day are both shown: of "mmm yyyy" nobody has typed the day (ECMA-376-1, 18.8.31)."""
    signs = re.sub(r'\[[^\]]*\]|"[^"]*"|\\.', "", number_format).lower()
    return "y" in signs and "d" in signs


def _shown_number(value: float, form: str) -> Cell:
    """A number as the sheet shows it, as far as its format changes what it says."""
    if len(form) > 1 and set(form) == {"0"} and float(value).is_integer() and value >= 0:
        return Cell(CellKind.TEXT, str(int(value)).zfill(len(form)))
    if "E+" in form.upper():
        return Cell(CellKind.NUMBER, f"{value:.2E}")
    if "%" in form:
        return Cell(CellKind.TEXT, f"{value * 100:g} %")
    if found := _LITERAL.findall(form):
        return text_cell(f"{value:g} {' '.join(found)}")
    return number_cell(value)


def _seen(package: ZipFile, path: str) -> _Seen:
    seen = _Seen()
    with package.open(path) as stream:
        for _, element in iterparse(stream):  # noqa: S314  no document type gets here, see packed.py
            name, told = element.tag.rpartition("}")[2], element.attrib
            if name == "mergeCell":
                seen.merged.append(_range(told.get("ref", "")))
            elif name == "c":
                seen.end_cell(told.get("r"))
            elif name == "row":
                seen.end_row(int(told["r"]) if "r" in told else None)
                if told.get("hidden") in ("1", "true"):
                    seen.hidden_rows.add(int(told.get("r", 0)))
            elif name == "col" and told.get("hidden") in ("1", "true"):
                seen.hidden_columns |= set(_columns(told))
            if name in ("row", "c"):
                element.clear()
    return seen


def _columns(told: dict[str, str]) -> Iterator[int]:
    first, last = int(told.get("min", 0)), int(told.get("max", 0))
    yield from range(first - 1, min(last, MOST_COLUMNS))


def _range(ref: str) -> tuple[int, int, int, int]:
    from openpyxl.utils import range_boundaries  # noqa: PLC0415

    left, top, right, bottom = range_boundaries(ref)
    return top or 1, (left or 1) - 1, bottom or _LAST_ROW, (right or MOST_COLUMNS) - 1
