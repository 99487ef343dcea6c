"""Rows → the text of a table as spreadsheets read it (CSV, RFC 4180); the only place where the tool writes one."""

import csv
from collections.abc import Iterable, Sequence

from generator.records.harmless import harmless

AS_FILE = "utf-8-sig"
"""With a byte order mark: spreadsheets take a file for another encoding without."""


def table_text(rows: Iterable[Sequence[object]], line_end: str = "\r\n") -> str:
    """None is an empty cell, a float has two decimals, a text is never a formula; all else is written as it is."""
    lines = _Lines()
    csv.writer(lines, lineterminator=line_end).writerows([_cell(each) for each in row] for row in rows)
    return "".join(lines)


class _Lines(list[str]):
    """What csv writes into."""

    def write(self, line: str) -> None:
        self.append(line)


def _cell(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.2f}"
    if isinstance(value, str):
        return harmless(value)
    return "" if value is None else str(value)
