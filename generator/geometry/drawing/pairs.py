"""Which triangles may lie over which lines on a plane? By grids of several widths, each triangle in the one that it fits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

FINEST: Final = 9
"""Levels: the narrowest cell is 1/512 of the size."""
_ROWS: Final = 4 << FINEST
PORTION: Final = 1_000_000
"""So many pairs are looked at together."""


class Grids:
    """Triangles on the plane, [-0.75, 0.75] each way, by the cells that their boxes touch."""

    def __init__(self, low: Floats, high: Floats) -> None:
        """low, high: (m, 2) the boxes of the triangles."""
        self._low, self._high = low.T.copy(), high.T.copy()
        width = np.maximum(*(high - low).T)
        level = np.clip(np.floor(-np.log2(np.maximum(width, 1e-12))), 0, FINEST).astype(np.int64)
        self.looked = 0
        """How many pairs of line and triangle were in one cell so far: what the work is counted in."""
        self.met = 0
        """Of how many of them the boxes touch: each costs ten times as much."""
        self._levels = [(each, *_filed(np.flatnonzero(level == each), low, high, each)) for each in np.unique(level).tolist()]

    def over(self, start: Floats, end: Floats) -> Iterator[tuple[Indices, Indices]]:
        """Pairs of line and triangle whose boxes touch, in portions; a pair may come more than once.

        start, end: (n, 2).
        """
        for level, keys, first, count, triangles in self._levels:
            pieces, piece, cells, at = _hits(start, end, level, keys)
            total = np.cumsum(count[at])
            begin = 0
            while begin < len(piece):
                done = int(total[begin - 1]) if begin else 0
                stop = max(int(np.searchsorted(total, done + PORTION, side="right")), begin + 1)
                many = count[at[begin:stop]]
                size = int(total[stop - 1]) - done
                self.looked += size
                of = np.repeat(piece[begin:stop], many)
                place = np.arange(size) - np.repeat(np.cumsum(many) - many, many)
                triangle = triangles[np.repeat(first[at[begin:stop]], many) + place]
                met = self._touching(pieces, of, triangle)
                of, triangle, cell = of[met], triangle[met], np.repeat(cells[begin:stop], many)[met]
                met = self._begins(pieces, of, triangle, level) == cell
                self.met += int(met.sum())
                yield pieces.line[of[met]], triangle[met]
                begin = stop

    def at_once(self, start: Floats, end: Floats, most: int) -> int:
        """How many of the first lines are over at most so many pairs together; at least one."""
        each = np.zeros(len(start), dtype=np.int64)
        for level, keys, _, count, _ in self._levels:
            pieces, piece, _, at = _hits(start, end, level, keys)
            each += np.bincount(pieces.line[piece], count[at], len(start)).astype(np.int64)
        return max(int(np.searchsorted(np.cumsum(each), most, side="right")), 1)

    def _touching(self, pieces: _Pieces, of: Indices, triangle: Indices) -> Indices:
        """Of pairs in one cell those whose boxes touch."""
        met = np.ones(len(of), dtype=bool)
        for low, high, piece_low, piece_high in zip(self._low, self._high, pieces.low.T.copy(), pieces.high.T.copy(), strict=True):
            met &= low[triangle] <= piece_high[of]
            met &= piece_low[of] <= high[triangle]
        return np.flatnonzero(met)

    def _begins(self, pieces: _Pieces, of: Indices, triangle: Indices, level: int) -> Indices:
        """In which cell the common box of a pair begins: it is told there only."""
        key = np.zeros(len(of), dtype=np.int64)
        for axis in (0, 1):
            key = key * _ROWS + _cell(np.maximum(pieces.low[of, axis], self._low[axis][triangle]), level)
        return key


@dataclass(frozen=True, slots=True)
class _Pieces:
    """Lines cut so that none is longer than a cell."""

    line: Indices
    low: Floats
    high: Floats

    @classmethod
    def of(cls, start: Floats, end: Floats, level: int) -> Self:
        count = np.maximum(np.ceil(np.abs(end - start).max(axis=1) * 2.0**level), 1).astype(np.int64)
        line = np.repeat(np.arange(len(start)), count)
        step = np.arange(len(line)) - np.repeat(np.cumsum(count) - count, count)
        run = (end - start)[line] / count[line, None]
        a = start[line] + run * step[:, None]
        return cls(line, np.minimum(a, a + run), np.maximum(a, a + run))


def _hits(start: Floats, end: Floats, level: int, keys: Indices) -> tuple[_Pieces, Indices, Indices, Indices]:
    """The pieces of lines, and where one lies in a cell that holds triangles: which piece, which cell, and its place among `keys`."""
    pieces = _Pieces.of(start, end, level)
    piece, cells = _cells(np.arange(len(pieces.line)), pieces.low, pieces.high, level)
    at = np.minimum(np.searchsorted(keys, cells), len(keys) - 1)
    hit = np.flatnonzero(keys[at] == cells)
    return pieces, piece[hit], cells[hit], at[hit]


def _cell(at: Floats, level: int) -> Indices:
    return np.floor((at + 2) * 2.0**level).astype(np.int64)


def _filed(chosen: Indices, low: Floats, high: Floats, level: int) -> tuple[Indices, Indices, Indices, Indices]:
    """Cells that hold triangles, sorted; where each begins, how many it holds; the triangles."""
    triangle, cells = _cells(chosen, low[chosen], high[chosen], level)
    order = np.argsort(cells, kind="stable")
    keys, first, count = np.unique(cells[order], return_index=True, return_counts=True)
    return keys, first, count, triangle[order]


def _cells(number: Indices, low: Floats, high: Floats, level: int) -> tuple[Indices, Indices]:
    """Each number with every cell that its box touches."""
    at_low = _cell(low, level)
    spread = _cell(high, level) - at_low + 1
    many = spread[:, 0] * spread[:, 1]
    of = np.repeat(np.arange(len(number)), many)
    place = np.arange(len(of)) - np.repeat(np.cumsum(many) - many, many)
    column, row = at_low[of, 0] + place % spread[of, 0], at_low[of, 1] + place // spread[of, 0]
    return number[of], column * _ROWS + row
