"""A list as text (.csv, .txt, .tsv) → a table: in which letters it was written, what stands between its cells."""

import csv
import re
from collections import Counter
from io import StringIO

from generator.importing.tables import (
    LONGEST_CELL,
    MOST_COLUMNS,
    MOST_ROWS,
    Cell,
    CellKind,
    Row,
    Table,
    text_cell,
)
from generator.reading.csv_rows import RowError, numbered_rows
from generator.reading.written_in import LettersError, decoded
from generator.records.harmless import as_said
from generator.records.problems import Problem, Where, wrong

DELIMITERS = (";", ",", "\t", "|")
# How many lines are looked at to find what stands between the cells.
_SAMPLE_LINES = 200
_SEPARATOR_SAID = re.compile(r"\s*sep=(.)\s*(?:\n|$)", re.IGNORECASE)


def read_text_list(
    content: bytes, encoding: str | None = None, delimiter: str | None = None
) -> tuple[Table, ...] | Problem:
    """The one table of a text file, or why it cannot be read; `encoding` and `delimiter` as the map says, else found."""
    try:
        text, taken = decoded(content, encoding)
    except LettersError as error:
        return error.problem
    said = _SEPARATOR_SAID.match(text)
    lines_before = 0
    if said:
        text, lines_before = text[said.end() :], max(1, said[0].count("\n"))
    between = delimiter or (said[1] if said else None) or _delimiter(text)
    if between is None:
        return wrong("LIST04", "no delimiter")
    rows = _rows(text, between, lines_before)
    if isinstance(rows, Problem):
        return rows
    return (Table(rows=rows, encoding=taken, delimiter=between),)


def _delimiter(text: str) -> str | None:
    """What parts most lines into the same number of cells; None where two do it alike, or none does."""
    scores = sorted(((_score(text, sign), sign) for sign in DELIMITERS), reverse=True)
    best, second = scores[0], scores[1]
    return None if best[0] == (0, 0) or best[0] == second[0] else best[1]


def _score(text: str, sign: str) -> tuple[int, int]:
    """How many lines have the most usual number of cells, and that number; one cell a line is no list."""
    widths: Counter[int] = Counter()
    try:
        for number, row in enumerate(csv.reader(StringIO(text, newline=""), delimiter=sign)):
            if number >= _SAMPLE_LINES:
                break
            widths[len(row)] += any(cell.strip() for cell in row)
    except csv.Error:
        return (0, 0)
    fit = [(count, width) for width, count in widths.items() if width > 1]
    return max(fit, default=(0, 0))


def _rows(text: str, delimiter: str, lines_before: int) -> tuple[Row, ...] | Problem:
    rows: list[Row] = []
    try:
        for number, (_, cells) in enumerate(numbered_rows(text, delimiter, lines_before), start=1 + lines_before):
            if not any(cell.strip() for cell in cells):
                continue
            if len(cells) > MOST_COLUMNS:
                return wrong("LIST03", "columns", most=MOST_COLUMNS)
            rows.append(Row(number, tuple(_cell(each) for each in cells)))
            if len(rows) > MOST_ROWS:
                return wrong("LIST03", "rows", most=MOST_ROWS)
    except RowError as error:
        return wrong("LIST04", "quotes", where=Where("", error.line))
    return tuple(rows)


def _cell(text: str) -> Cell:
    if text.startswith("="):
        return Cell(CellKind.FORMULA, text[:LONGEST_CELL])
    return text_cell(as_said(text))
