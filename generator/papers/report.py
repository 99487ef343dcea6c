"""A report as a PDF: sentences and tables under headings."""

import re
from typing import Any

from generator.pages.wording import Wording
from generator.papers.document import foot, head
from generator.papers.kinds import Report, Section
from generator.papers.typesetting import typeset

_FIGURE = re.compile(r"[-−+<>≤≥≈~]?\s?[0-9][0-9.,\s'’\u202f]*(?:\s?[^\W\d_/]{1,3}[²³]?|\s?%)?|[–—-]?")

_SHORT, _LONG = 14, 60
"""Letters of a cell that is never broken, and of one beyond which no column grows."""


def report(paper: Report, w: Wording) -> bytes:
    """A4 upright; a table goes on over pages under its column names. Raises ValueError for a row of another length than its columns."""
    data = {
        **head(paper.title, w),
        "subtitle": paper.subtitle,
        "foot": foot(paper.title, paper.subtitle),
        "incomplete": list(paper.incomplete),
        "sections": [_section(each) for each in paper.sections],
    }
    return typeset("report", data)


def _section(section: Section) -> dict[str, Any]:
    if any(len(row) != len(section.columns) for row in section.rows):
        raise ValueError(f"a row of '{section.heading}' has not as many cells as there are columns")
    return {
        "heading": section.heading,
        "sentences": list(section.sentences),
        "columns": list(section.columns),
        "figures": [_is_of_figures(cells) for cells in _columns(section)],
        "widths": _widths(section),
        "rows": [list(row) for row in section.rows],
    }


def _columns(section: Section) -> list[list[str]]:
    return [[row[at] for row in section.rows] for at in range(len(section.columns))]


def _widths(section: Section) -> list[int]:
    """How wide each column is beside the others, by its longest cell; 0 of one that is as wide as that, for it stays in one line."""
    longest = [max(map(len, (name, *cells))) for name, cells in zip(section.columns, _columns(section), strict=True)]
    found = [0 if _is_of_figures(cells) or long <= _SHORT else min(long, _LONG) for cells, long in zip(_columns(section), longest, strict=True)]
    return found if any(found) or not found else [_SHORT, *found[1:]]


def _is_of_figures(cells: list[str]) -> bool:
    """Whether a column reads as numbers, which stand to the right: each cell a figure with its unit, or a dash."""
    return any(cells) and all(_FIGURE.fullmatch(each.strip()) for each in cells)
