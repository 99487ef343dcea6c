"""Is it the same surface? A name that a mesh keeps when it is saved anew, in another order, format or place."""

import hashlib

import numpy as np
from numpy.typing import NDArray

from generator.geometry.mesh import Mesh

_STEP_MM = (
    0.001  # what single precision and the digits of text formats leave of a coordinate of a depot's part
)
_PACKED = 1 << 21  # three such numbers are one of 63 bits: parts up to two metres


def shape_sha256(mesh: Mesh) -> str:
    """SHA-256 of the triangles, in whole thousandths of a millimetre from the corner of their box.

    A mesh that is turned, mirrored or meshed otherwise has another name: it says "the same", never "alike".
    """
    used = mesh.vertices_mm[mesh.faces]
    corners = np.rint((used - used.min(axis=(0, 1))) / _STEP_MM).astype(np.int64)
    place = _in_order(corners)
    first = place.argmin(axis=1)
    turn = (first[:, None] + np.arange(3)) % 3
    place = np.take_along_axis(place, turn, axis=1)
    order = np.lexsort(place.T[::-1])
    ordered = np.take_along_axis(corners, turn[:, :, None], axis=1)[order]
    return hashlib.sha256(np.ascontiguousarray(ordered, dtype="<i8").tobytes()).hexdigest()


def _in_order(corners: NDArray[np.int64]) -> NDArray[np.int64]:
    """One number a corner, which orders as its three coordinates do one after the other: (m, 3)."""
    if int(corners.max(initial=0)) < _PACKED:
        return (corners[..., 0] * _PACKED + corners[..., 1]) * _PACKED + corners[..., 2]
    _, place = np.unique(corners.reshape(-1, 3), axis=0, return_inverse=True)
    return place.reshape(-1, 3)
