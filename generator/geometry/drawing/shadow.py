"""The outline of what a mesh covers in a view as closed lines, where its edges leave gaps: of a scan, whose noise cuts them up."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw
from scipy.spatial import cKDTree

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

CELLS: Final = 1000
"""To the longest side: on paper a cell is a tenth of a millimetre or two."""
STEP: Final = 0.7
"""Of a cell, at most, between two samples of a face."""
SMALL: Final = 10
"""Steps along its longest side: a face with more is filled by itself."""
LEAST_CELLS: Final = 12
"""Smaller rings are pinholes between samples."""
EVENED: Final = 5
"""Neighbours over which the steps of cells are evened."""
NEAR: Final = 2.5
"""Cells: a line that runs so near to the outline is the outline."""


_SIDES: Final = ((-1, 0, (0, 0), (1, 0)), (0, 1, (1, 0), (1, 1)), (1, 0, (1, 1), (0, 1)), (0, -1, (0, 1), (0, 0)))
"""Of a cell: where its neighbour lies (row, column), and from which corner to which the side goes, anticlockwise (x, y)."""


def shadow_rings(flat: Floats, faces: Indices) -> list[Floats]:
    """Closed lines (n, 2) around all that faces cover, outer ones anticlockwise; flat: (n, 2) in shares of the size, about the origin."""
    covered = _covered(flat * CELLS, faces)
    return [_evened(ring) / CELLS for ring in _rings(covered, low=np.floor(flat.min(axis=0) * CELLS) - 1)]


def away_from(rings: list[Floats], chains: list[Floats], least: float) -> list[Floats]:
    """What of other lines is no part of the outline; least: shorter rests are left out."""
    tree = cKDTree(np.concatenate([_dense(ring) for ring in rings]))
    found: list[Floats] = []
    for chain in chains:
        dense = _dense(chain)
        is_free = np.asarray(tree.query(dense)[0] > NEAR / CELLS)
        ends = np.flatnonzero(is_free[1:] != is_free[:-1]) + 1
        runs = np.split(np.arange(len(dense)), ends)
        found += [dense[run] for run in runs if is_free[run[0]] and len(run) / CELLS > least]
    return found


def _dense(line: Floats) -> Floats:
    """With a corner in each cell that it passes."""
    run = np.diff(line, axis=0)
    count = np.maximum(np.ceil(np.hypot(*run.T) * CELLS), 1).astype(np.int64)
    of = np.repeat(np.arange(len(run)), count)
    share = (np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)) / count[of]
    return np.vstack([line[of] + share[:, None] * run[of], line[-1:]])


def _covered(at: Floats, faces: Indices) -> NDArray[np.bool_]:
    """Which cells faces cover; the outermost are empty. Small faces by samples, all at once; each larger one is filled."""
    low = np.floor(at.min(axis=0)) - 1
    columns, rows = (np.floor(at.max(axis=0)) - low).astype(np.int64) + 2
    corners = (at - low)[faces]
    sides = np.roll(corners, -1, axis=1) - corners
    steps = np.ceil(np.sqrt(np.einsum("fkd,fkd->fk", sides, sides).max(axis=1)) / STEP).astype(np.int64)
    picture = Image.new("1", (int(columns), int(rows)))
    draw = ImageDraw.Draw(picture)
    for each in corners[steps > SMALL].astype(np.int64).reshape(-1, 6).tolist():
        draw.polygon(each, fill=1, outline=1)
    found = np.array(picture)
    for count in range(1, SMALL + 1):
        of = corners[np.maximum(steps, 1) == count]
        for shares in _lattice(count):
            column, row = np.moveaxis(np.einsum("k,fkd->fd", shares, of).astype(np.int64), 1, 0)
            found[row, column] = True
    return found


def _lattice(count: int) -> Floats:
    """Points of a triangle at equal steps, as shares of its corners: (n, 3)."""
    i, j = np.meshgrid(np.arange(count + 1), np.arange(count + 1), indexing="ij")
    inside = i + j <= count
    shares = np.column_stack([i[inside], j[inside]]) / count
    return np.column_stack([1 - shares.sum(axis=1), shares])


def _rings(covered: NDArray[np.bool_], low: Floats) -> list[Floats]:
    """Around covered cells, from corner to corner, what is covered to the left."""
    onward: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for row_step, column_step, (x, y), (to_x, to_y) in _SIDES:
        is_edge = covered & ~np.roll(covered, (-row_step, -column_step), axis=(0, 1))
        for row, column in np.argwhere(is_edge).tolist():
            onward.setdefault((column + x, row + y), []).append((column + to_x, row + to_y))
    found = []
    while onward:
        start = next(iter(onward))
        ring, at = [start], start
        while True:
            following = onward[at]
            step = following.pop()
            if not following:
                del onward[at]
            at = step
            ring.append(at)
            if at == start:
                break
        corners = np.array(ring, dtype=np.float64)
        x, y = corners[:-1].T
        if abs(float((x * corners[1:, 1] - y * corners[1:, 0]).sum())) / 2 > LEAST_CELLS:
            found.append(corners + low)
    return found


def _evened(ring: Floats) -> Floats:
    """Without the steps of cells: the mean of some neighbours all around."""
    open_ring = ring[:-1]
    middle = sum(np.roll(open_ring, shift, axis=0) for shift in range(-(EVENED // 2), EVENED // 2 + 1)) / EVENED
    even = np.asarray(middle, dtype=np.float64)
    return np.vstack([even, even[:1]])
