"""Of what hangs over, how much is carried by the part below it? Columns of a grid on the plate are looked at one by one.

Each column is a point in its cell of the grid, at another spot of each cell, so that no straight edge of a part is met by
all columns of a row at once. The work is bounded: where large thin faces would be met by too many cells, the grid is made
coarser.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

__all__ = ["Grid", "carried_mm3", "grid_over"]

CELLS_ACROSS: Final = 128
MOST_MET: Final = 2_000_000  # pairs of a face and a cell of its box
# Roberts' R2 sequence: multiples of the powers of the root of x³ = x + 1 fill a square evenly (from memory).
_ROOT = 1.32471795724474602596
_STEPS = (_ROOT**-1, _ROOT**-2)

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """Square cells, row by row, each with its column at `spot_x`, `spot_y`."""

    low: tuple[float, float]
    cell_mm: float
    across: int
    deep: int
    spot_x: Array
    spot_y: Array


def grid_over(low: tuple[float, float], high: tuple[float, float], across: int = CELLS_ACROSS) -> Grid:
    """Square cells over a rectangle, about `across` squared of them."""
    width, depth = (max(end - start, 1e-9) for start, end in zip(low, high, strict=True))
    cell_mm = max(float(np.sqrt(width * depth)) / across, max(width, depth) / across**2)
    columns, rows = int(width / cell_mm) + 1, int(depth / cell_mm) + 1
    cells = np.arange(columns * rows)
    return Grid(
        low=low,
        cell_mm=cell_mm,
        across=columns,
        deep=rows,
        spot_x=low[0] + (cells % columns + (cells + 1) * _STEPS[0] % 1) * cell_mm,
        spot_y=low[1] + (cells // columns + (cells + 1) * _STEPS[1] % 1) * cell_mm,
    )


def carried_mm3(over: Array, below: Array, kinds: Indices, count: int) -> Array:
    """The volume between the plate, z = 0, and the part below, under faces that hang over: (count,), by their kind.

    over: faces that hang over, (coordinate, corner, m), each of a kind from 0 to count - 1; below: those that look up.
    """
    low, high = ((float(each(over[0])), float(each(over[1]))) for each in (np.min, np.max))
    below = _within(below, low, high)
    grid = _coarse_enough(over, below, low, high)
    hung, cell, height = _met(over, grid)
    asked = np.zeros(grid.across * grid.deep, dtype=bool)
    asked[cell] = True
    _, floor_cell, floor = _met(below, grid)
    floor_cell, floor = floor_cell[asked[floor_cell]], floor[asked[floor_cell]]
    # All in one order, cell by cell from below: of a face that hangs over the last floor before it is the one below it.
    tall = 1 + max(float(height.max(initial=0.0)), float(floor.max(initial=0.0)))
    floor_key = np.sort(floor_cell * tall + floor)
    if not len(floor_key):
        return np.zeros(count)
    before = np.searchsorted(floor_key, cell * tall + height - 1e-9 * tall) - 1
    lies = floor_key[np.maximum(before, 0)] - cell * tall
    lies = np.where((before >= 0) & (lies > 0), lies, 0.0)
    carried: Array = np.bincount(kinds[hung], lies, count).astype(np.float64) * grid.cell_mm**2
    return carried


def _coarse_enough(over: Array, below: Array, low: tuple[float, float], high: tuple[float, float]) -> Grid:
    across = CELLS_ACROSS
    grid = grid_over(low, high, across)
    while across > 1 and _pairs(over, grid) + _pairs(below, grid) > MOST_MET:
        across //= 2
        grid = grid_over(low, high, across)
    return grid


def _least(three: Array) -> Array:
    found: Array = np.minimum(np.minimum(three[0], three[1]), three[2])
    return found


def _most(three: Array) -> Array:
    found: Array = np.maximum(np.maximum(three[0], three[1]), three[2])
    return found


def _within(faces: Array, low: tuple[float, float], high: tuple[float, float]) -> Array:
    near = np.ones(faces.shape[2], dtype=bool)
    for axis in (0, 1):
        near &= (_least(faces[axis]) <= high[axis]) & (_most(faces[axis]) >= low[axis])
    return faces[:, :, near]


def _boxes(faces: Array, grid: Grid) -> tuple[Indices, Indices, Indices, Indices]:
    """First column and row of each face's box, and how many of them it has."""
    found: list[Indices] = []
    for axis, cells in ((0, grid.across), (1, grid.deep)):
        first, last = (each(faces[axis]) - grid.low[axis] for each in (_least, _most))
        found += [np.clip(each / grid.cell_mm, 0, cells - 1).astype(np.int64) for each in (first, last)]
    return found[0], found[2], found[1] - found[0] + 1, found[3] - found[2] + 1


def _pairs(faces: Array, grid: Grid) -> int:
    _, _, across, deep = _boxes(faces, grid)
    return int((across * deep).sum())


def _met(faces: Array, grid: Grid) -> tuple[Indices, Indices, Array]:
    """Which faces which columns meet, and how high: (k,) face, cell and z."""
    column, row, across, deep = _boxes(faces, grid)
    count = across * deep
    face = np.repeat(np.arange(len(count)), count)
    step = np.arange(len(face)) - np.repeat(np.cumsum(count) - count, count)
    down = step // across[face]
    cell = (row[face] + down) * grid.across + column[face] + step - down * across[face]
    a, ab, ac = faces[:, 0], faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0]
    twice = ab[0] * ac[1] - ab[1] * ac[0]
    twice = np.where(twice == 0, np.inf, twice)  # upright: no column meets it
    # Shares of the two edges: barycentric coordinates. A point on an edge may be met by both faces, which does no harm.
    by_x = np.stack([ac[1], -ab[1]]) / twice
    by_y = np.stack([-ac[0], ab[0]]) / twice
    dx, dy = grid.spot_x[cell] - a[0][face], grid.spot_y[cell] - a[1][face]
    u, v = dx * by_x[0][face] + dy * by_y[0][face], dx * by_x[1][face] + dy * by_y[1][face]
    inside = (u >= 0) & (v >= 0) & (u + v <= 1) & np.isfinite(twice)[face]
    face, cell, u, v = face[inside], cell[inside], u[inside], v[inside]
    return face, cell, a[2][face] + u * ab[2][face] + v * ac[2][face]
