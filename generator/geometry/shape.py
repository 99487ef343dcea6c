"""Is it the same surface? A name that a mesh keeps when it is saved anew, in another order, format or place."""

import hashlib

import numpy as np

from generator.geometry.mesh import Mesh

_STEP_MM = (
    0.001  # what single precision and the digits of text formats leave of a coordinate of a depot's part
)


def shape_sha256(mesh: Mesh) -> str:
    """SHA-256 of the triangles, in whole thousandths of a millimetre from the corner of their box.

    A mesh that is turned, mirrored or meshed otherwise has another name: it says "the same", never "alike".
    """
    used = mesh.vertices_mm[mesh.faces]
    corners = np.rint((used - used.min(axis=(0, 1))) / _STEP_MM).astype(np.int64)
    first = np.lexsort(corners.transpose(2, 0, 1)[::-1].reshape(3, len(corners), 3), axis=-1)[:, 0]
    turned = np.stack([corners[np.arange(len(corners)), (first + i) % 3] for i in range(3)], axis=1)
    rows = turned.reshape(len(corners), 9)
    ordered = rows[np.lexsort(rows.T[::-1])]
    return hashlib.sha256(np.ascontiguousarray(ordered, dtype="<i8").tobytes()).hexdigest()
