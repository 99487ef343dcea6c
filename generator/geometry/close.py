"""Which points lie within a small distance of each other, in bounded memory, however many fall on one spot?"""

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from generator.geometry.equal import first_equal

__all__ = ["close_pairs", "is_crowded"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

MOST_CROWDED: Final = 4_000_000
"""The squares of how many points each cell holds, together: of evenly strewn points twice as many pairs, 100 MB; never fourteen times."""


def close_pairs(points: Floats, within: float) -> Ints:
    """Pairs by which points hang together that lie no farther than that from one another: (k, 2).

    points: (n, 1 to 3). Equal points have a pair with the first of them alone. Where too many crowd, all that lie in one cell
    of a grid of that width count as one, however far it is across the cell.
    """
    stands_for = first_equal(points)
    if is_crowded(points[stands_for == np.arange(len(points))], within):
        stands_for = _first_in_cell(points, within)
    itself = stands_for == np.arange(len(points))
    first, others = np.flatnonzero(itself), np.flatnonzero(~itself)
    near = first[cKDTree(points[first]).query_pairs(within, output_type="ndarray")] if len(first) > 1 else np.zeros((0, 2), dtype=np.int64)
    return np.concatenate([np.column_stack([stands_for[others], others]), near.reshape(-1, 2)])


def is_crowded(points: Floats, within: float) -> bool:
    """Whether more pairs of points may lie so near to each other than memory should hold."""
    count = np.bincount(_first_in_cell(points, within))
    return int((count * count).sum()) > MOST_CROWDED


def _first_in_cell(points: Floats, width: float) -> Ints:
    """Of each point the first that lies in the same cell: (n,)."""
    return first_equal(np.floor((points - points.min(axis=0, initial=np.inf)) / width) if width > 0 else points)
