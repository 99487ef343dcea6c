"""The rows of a CSV, each with the line of the file on which it begins; a cell may go over several lines."""

import csv
from collections.abc import Iterator
from io import StringIO

_LONGEST_CELL = 10_000_000
"""What is too long is told with its row and column, so here nothing is."""


class RowError(ValueError):
    """A quotation mark that is not closed, or stands where none may; it carries the line on which its row begins."""

    def __init__(self, line: int, reason: str) -> None:
        super().__init__(reason)
        self.line = line


def numbered_rows(text: str, delimiter: str = ",", lines_before: int = 0) -> Iterator[tuple[int, list[str]]]:
    """Each row, a blank line as one without cells. Raises RowError."""
    csv.field_size_limit(_LONGEST_CELL)
    reader = csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True)
    begins = 1 + lines_before
    try:
        for cells in reader:
            yield begins, cells
            begins = reader.line_num + 1 + lines_before
    except csv.Error as error:
        raise RowError(begins, str(error)) from None
