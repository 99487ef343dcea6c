"""Which bodies are crumbs that float beside the part, as scans have them?"""

import numpy as np
from numpy.typing import NDArray

__all__ = ["is_crumb"]

CRUMB = 0.03  # of the largest body's diagonal: what is smaller
APART = 0.02  # of the largest body's diagonal: how far a crumb lies from the box of what is no crumb


def is_crumb(corners: NDArray[np.float64], body: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Which faces belong to tiny bodies far from the rest: (m,). corners: (m, 3, 3); body: (m,) from 0."""
    count = int(body.max()) + 1
    if count == 1:
        return np.zeros(len(body), dtype=bool)
    low, high = np.full((count, 3), np.inf), np.full((count, 3), -np.inf)
    np.minimum.at(low, body, corners.min(axis=1))
    np.maximum.at(high, body, corners.max(axis=1))
    size = np.linalg.norm(high - low, axis=1)
    tiny = size < CRUMB * size.max()
    if not tiny.any():
        return np.zeros(len(body), dtype=bool)
    away = np.maximum(low - high[~tiny].max(axis=0), low[~tiny].min(axis=0) - high).max(axis=1)
    crumb: NDArray[np.bool_] = (tiny & (away > APART * size.max()))[body]
    return crumb
