"""The least and the most of the three corners of each face: written out it takes a fifth of the time of a reduction over so short an axis."""

import numpy as np
from numpy.typing import NDArray

__all__ = ["least", "most"]

Floats = NDArray[np.float64]


def least(corners: Floats) -> Floats:
    """(m, …) of (m, 3, …)."""
    found: Floats = np.minimum(np.minimum(corners[:, 0], corners[:, 1]), corners[:, 2])
    return found


def most(corners: Floats) -> Floats:
    """(m, …) of (m, 3, …)."""
    found: Floats = np.maximum(np.maximum(corners[:, 0], corners[:, 1]), corners[:, 2])
    return found
