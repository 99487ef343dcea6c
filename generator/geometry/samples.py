"""Points spread evenly over a surface, the same for the same mesh."""

import numpy as np
from numpy.typing import NDArray

__all__ = ["spread_over"]

# Roberts' R3 sequence: multiples of the powers of the root of x⁴ = x + 1 fill a cube evenly (from memory).
_ROOT = 1.2207440846057596
_STEPS = np.array([_ROOT**-1, _ROOT**-2, _ROOT**-3])


def spread_over(corners: NDArray[np.float64], count: int) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """The same number of points for the same area: (count, 3), and the face of each.

    corners: (m, 3, 3). One point falls into each of `count` equal shares of the area, the faces in their order; where in
    its share comes from the sequence, so that no regular mesh is met at the same spot of each row.
    """
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    until = np.cumsum(np.linalg.norm(across, axis=1))
    number = np.arange(count)
    shift, u, v = ((number[:, None] + 1) * _STEPS % 1).T
    face = np.searchsorted(until, (number + shift) / count * until[-1], side="right")
    face = np.minimum(face, len(corners) - 1)
    folded = u + v > 1
    u, v = np.where(folded, 1 - u, u), np.where(folded, 1 - v, v)
    a, b, c = corners[face].transpose(1, 0, 2)
    return a + u[:, None] * (b - a) + v[:, None] * (c - a), face
