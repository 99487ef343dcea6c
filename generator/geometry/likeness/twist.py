"""Which hand has a shape? Measures that change their sign, and nothing else, when it is mirrored."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.likeness.neighbourhoods import apart

__all__ = ["TWISTS", "twist_of"]

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

_BANDS: Final = 6  # of half a radius of gyration each
_PAIRED: Final = (512, 2048)  # so many points look at so many others
TWISTS: Final = _BANDS + 6


def twist_of(points: Singles, ways: Singles, weight: Singles) -> Floats:
    """The twists of a surface in units of its radius of gyration, its middle in the origin."""
    return np.concatenate([_of_pairs(points, ways, weight), _of_moments(points.astype(np.float64), ways.astype(np.float64), weight.astype(np.float64))])


def _of_pairs(points: Singles, ways: Singles, weight: Singles) -> Floats:
    """Two ways out and the way from one point to the other turn right or left; how much at which distance.

    det(n_i, n_j, p_j − p_i), which is the same for i and j exchanged.
    """
    few, many = _PAIRED
    points, ways = points[:many], ways[:many]
    aside = np.cross(ways, points)
    far = apart(points[:few], points)
    turned = ways[:few] @ aside.T + aside[:few] @ ways.T
    turned *= weight[:few, None] * weight[None, :many]
    turned /= np.maximum(far, np.float32(1e-3))
    band = np.minimum((far * 2).astype(np.intp), _BANDS)
    total = np.bincount(band.ravel(), turned.ravel(), _BANDS + 1)
    return total[:_BANDS] / turned.size * 10


def _of_moments(points: Floats, ways: Floats, weight: Floats) -> Floats:
    """Determinants of vectors that turn with the shape: its points and ways out, weighted by how far out they are."""
    far = np.linalg.norm(points, axis=1)[:, None]
    out = np.einsum("ij,ij->i", points, ways)[:, None]
    own = weight[:, None] / weight.sum()
    vectors = [
        (points * far * own).sum(axis=0),
        (points * far**3 * own).sum(axis=0),
        (points * out * own).sum(axis=0),
        (ways * far**2 * own).sum(axis=0),
        (ways * out * far * own).sum(axis=0),
    ]
    triples = [(0, 1, 2), (0, 1, 3), (0, 2, 3), (0, 3, 4), (1, 2, 4), (2, 3, 4)]
    return np.array([np.cbrt(np.linalg.det(np.stack([vectors[i] for i in each]))) for each in triples])
