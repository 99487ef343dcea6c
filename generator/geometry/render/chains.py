"""Which seen pieces of lines hang together in the picture, and which are so short that they are no lines but crumbs?"""

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import label

__all__ = ["in_long_chains"]

Flags = NDArray[np.bool_]


def in_long_chains(at: NDArray[np.float64], kept: Flags, size_px: tuple[int, int], least: float) -> Flags:
    """Which dots of lines hang together with at least so many, or with one that is to be kept: (k,).

    Dots hang together whose pixels touch, if only by a corner, whatever edges they belong to: an outline runs over
    many short ones. at: (k, 2) in px; kept: (k,); size_px: width and height; least: number of pixels.
    """
    width, height = size_px
    x = np.clip(at[:, 0].astype(np.int64), 0, width - 1)
    y = np.clip(at[:, 1].astype(np.int64), 0, height - 1)
    inked = np.zeros((height, width), dtype=bool)
    inked[y, x] = True
    pieces, count = label(inked, structure=np.ones((3, 3)))
    long: Flags = np.bincount(pieces.ravel(), minlength=count + 1) >= least
    piece = pieces[y, x]
    long[piece[kept]] = True
    return long[piece]
