"""Where on the sheet is something drawn already, and what crosses what?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.drawing.kinds import Flat
from generator.pages.drawing.paper import PaperSize

Box = tuple[float, float, float, float]
"""Left, top, right, bottom in mm on paper."""
Segment = tuple[Flat, Flat]

_CELL: Final = 0.4
"""mm; a text stays further from a line than a cell."""


class Ink:
    """The lines of the part itself, in cells: which of them a box would cover."""

    def __init__(self, paper: PaperSize, polylines: Iterable[Sequence[Flat]]) -> None:
        self._columns, self._rows = int(paper.width / _CELL) + 2, int(paper.height / _CELL) + 2
        cells = np.zeros((self._rows, self._columns), dtype=np.uint8)
        starts: list[Flat] = []
        ends: list[Flat] = []
        for line in polylines:
            starts += line[:-1]
            ends += line[1:]
        if starts:
            row, column = self._along(np.array(starts), np.array(ends))
            cells[row, column] = 1
        self._cells = cells
        self._sums = np.zeros((self._rows + 1, self._columns + 1), dtype=np.int32)
        np.cumsum(cells, axis=0, dtype=np.int32, out=self._sums[1:, 1:])
        np.cumsum(self._sums[1:, 1:], axis=1, out=self._sums[1:, 1:])

    def _along(self, start: NDArray[np.float64], end: NDArray[np.float64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Rows and columns of the cells that straight lines pass."""
        run = end - start
        count = np.ceil(np.abs(run).max(axis=1) / (_CELL / 2)).astype(np.int64) + 1
        of = np.repeat(np.arange(len(start)), count)
        step = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
        at = start[of] + run[of] * (step / np.maximum(count[of] - 1, 1))[:, None]
        column = np.clip((at[:, 0] / _CELL).astype(np.int64), 0, self._columns - 1)
        row = np.clip((at[:, 1] / _CELL).astype(np.int64), 0, self._rows - 1)
        return row, column

    def under(self, box: Box) -> int:
        """How many inked cells a box touches."""
        left, top = max(int(box[0] / _CELL), 0), max(int(box[1] / _CELL), 0)
        right, bottom = min(int(box[2] / _CELL) + 1, self._columns), min(int(box[3] / _CELL) + 1, self._rows)
        if right <= left or bottom <= top:
            return 0
        sums = self._sums
        return int(sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left])

    def crossed(self, segment: Segment) -> int:
        """How many inked cells a straight line passes."""
        (x, y), (to_x, to_y) = segment
        if x == to_x or y == to_y:
            return self.under((min(x, to_x), min(y, to_y), max(x, to_x), max(y, to_y)))
        row, column = self._along(np.array([segment[0]]), np.array([segment[1]]))
        return int(self._cells[row, column].sum())


def meets(segment: Segment, box: Box) -> bool:
    """Whether a straight line touches a box (Liang and Barsky 1984)."""
    (x, y), (to_x, to_y) = segment
    low, high = 0.0, 1.0
    for start, run, least, most in ((x, to_x - x, box[0], box[2]), (y, to_y - y, box[1], box[3])):
        if abs(run) < 1e-9:
            if start < least or start > most:
                return False
            continue
        one, other = (least - start) / run, (most - start) / run
        low, high = max(low, min(one, other)), min(high, max(one, other))
    return low <= high


def cross(one: Segment, other: Segment) -> bool:
    """Whether two straight lines cross, or lie on each other; one that only ends where the other does crosses nothing."""
    (a, b), (c, d) = one, other
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    sides = (_side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b))
    if all(abs(each) < 1e-6 for each in sides):
        return min(max(a[0], b[0]), max(c[0], d[0])) - max(min(a[0], b[0]), min(c[0], d[0])) + min(
            max(a[1], b[1]), max(c[1], d[1])
        ) - max(min(a[1], b[1]), min(c[1], d[1])) > 0.05
    return sides[0] * sides[1] < -1e-9 and sides[2] * sides[3] < -1e-9


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share some area."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _side(a: Flat, b: Flat, p: Flat) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
