"""How a letter, certificate or report looks: one page with a head, a few rows, text, a table and a stamp."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tests.models.paper import MM, PORTRAIT, Paper, width_pt, wrapped

LEFT, RIGHT = 22 * MM, PORTRAIT[0] - 20 * MM
GREEN, RED, BLUE = (0.07, 0.36, 0.2), (0.6, 0.12, 0.1), (0.1, 0.25, 0.5)
Rows = Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Letter:
    """The content of a one-page paper."""

    house: str
    """Who writes it."""
    title: str
    rows: Rows
    """Reference, date and the like, name and value."""
    paragraphs: tuple[str, ...]
    signed: str
    stamp: str = ""
    ink: tuple[float, float, float] = BLUE
    table: tuple[tuple[str, ...], ...] = ()
    """A table below the first paragraph, its first row the heads."""


def letter_pdf(letter: Letter) -> bytes:
    """The paper as a PDF page."""
    paper = Paper()
    _head(paper, letter.house)
    y = PORTRAIT[1] - 62 * MM
    for line in wrapped(letter.title, 16, RIGHT - LEFT, bold=True):
        paper.text(LEFT, y, line, 16, bold=True)
        y -= 20
    y = _rows(paper, letter.rows, y - 8) - 16
    for i, paragraph in enumerate(letter.paragraphs):
        for line in wrapped(paragraph, 10, RIGHT - LEFT):
            paper.text(LEFT, y, line, 10)
            y -= 14
        y -= 7
        if i == 0 and letter.table:
            y = _table(paper, letter.table, y) - 18
    _sign(paper, letter, y - 8)
    return paper.pdf(letter.title)


def demo_mark(paper: Paper, x: float, y: float) -> None:
    """The mark that every invented paper carries; (x, y) is the right end of its base line."""
    words = "DEMO - invented"
    wide = width_pt(words, 9, bold=True) + 12
    paper.box(x - wide, y - 5, wide, 16, width=0.8, fill=0.93)
    paper.text(x - 6, y, words, 9, bold=True, align="right")


def _head(paper: Paper, house: str) -> None:
    top = PORTRAIT[1] - 24 * MM
    ours = house.startswith("Tarnvale")
    if ours:
        _track(paper, top)
    left = LEFT + (36 if ours else 0)
    paper.text(left, top + 6, house, 11, bold=True)
    below = "Fleet engineering and workshop" if ours else "An invented house, for this demonstration only"
    paper.text(left, top - 6, below, 8.5, ink=(0.35, 0.37, 0.4))
    demo_mark(paper, RIGHT, top + 4)
    paper.line(LEFT, top - 16, RIGHT, top - 16, width=0.8)
    foot = 14 * MM
    paper.line(LEFT, foot + 10, RIGHT, foot + 10, width=0.4, grey=0.5)
    says = "DEMO - invented. Railway, roles, letters and figures exist only in this demonstration catalogue."
    paper.text(LEFT, foot, says, 8, ink=(0.35, 0.37, 0.4))


def _track(paper: Paper, top: float) -> None:
    """The depot's mark: two rails on five sleepers."""
    for i in range(2):
        paper.line(LEFT, top + 9 - 5 * i, LEFT + 26, top + 9 - 5 * i, width=1.6)
    for i in range(5):
        paper.line(LEFT + 3 + 5 * i, top + 1, LEFT + 3 + 5 * i, top + 12, width=1.2)


def _rows(paper: Paper, rows: Rows, y: float) -> float:
    for name, value in rows:
        paper.text(LEFT, y, name, 9.5, ink=(0.35, 0.37, 0.4))
        for line in wrapped(value, 10, RIGHT - LEFT - 36 * MM, bold=True):
            paper.text(LEFT + 36 * MM, y, line, 10, bold=True)
            y -= 14
        y -= 1
    paper.line(LEFT, y + 6, RIGHT, y + 6, width=0.4, grey=0.6)
    return y


def _table(paper: Paper, rows: tuple[tuple[str, ...], ...], y: float) -> float:
    share = [max(width_pt(row[i], 9.5, bold=True) for row in rows) + 14 for i in range(len(rows[0]))]
    stretch = (RIGHT - LEFT) / sum(share)
    starts = [LEFT + sum(share[:i]) * stretch for i in range(len(share))]
    for n, row in enumerate(rows):
        if n % 2 == 0:
            paper.box(LEFT, y - 4.5, RIGHT - LEFT, 16, width=0, fill=0.88 if n == 0 else 0.96)
        for x, cell in zip(starts, row, strict=True):
            paper.text(x + 4, y, cell, 9.5, bold=n == 0)
        y -= 16
    paper.line(LEFT, y + 11, RIGHT, y + 11, width=0.4, grey=0.5)
    return y


def _sign(paper: Paper, letter: Letter, y: float) -> None:
    y = max(y, 44 * MM)
    paper.line(LEFT, y - 18, LEFT + 75 * MM, y - 18, width=0.4)
    paper.text(LEFT, y - 30, letter.signed, 9.5)
    paper.text(LEFT, y - 12, "signed for the role", 9, ink=(0.2, 0.25, 0.45))
    if letter.stamp:
        wide = width_pt(letter.stamp, 13, bold=True) + 26
        shade = letter.ink
        paper.box(RIGHT - wide, y - 30, wide, 32, width=1.4)
        paper.text(RIGHT - wide / 2, y - 18.5, letter.stamp, 13, bold=True, align="middle", ink=shade)
