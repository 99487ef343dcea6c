"""What of a mesh can nobody touch? The walls of voids that are closed all round: nothing on them is a feature.

A closed shell that is wound inwards and whose box lies within that of a larger one, wound outwards. A workshop neither reaches
nor measures it, and a mesh whose only fault is its winding has no such shell.
"""

import numpy as np
from numpy.typing import NDArray

from generator.geometry.bodies import shells_of, signed_volumes
from generator.geometry.edges import edge_table
from generator.geometry.mesh import Mesh
from generator.geometry.weld import welded


def without_voids(mesh: Mesh) -> Mesh:
    """The same without the faces of enclosed voids; the very mesh where it has none."""
    joined = welded(mesh).mesh
    shells = shells_of(len(joined.faces), edge_table(joined.faces, len(joined.vertices_mm)))
    if shells.count < 2:
        return mesh
    corners = joined.vertices_mm[joined.faces]
    volumes = np.where(shells.closed & shells.orientable, signed_volumes(corners, shells), 0.0)
    low, high = _boxes(corners, shells.of_face, shells.count)
    inward, outward = np.flatnonzero(volumes < 0), np.flatnonzero(volumes > 0)
    enclosed = [
        shell
        for shell in inward.tolist()
        if ((low[outward] < low[shell]).all(axis=1) & (high[outward] > high[shell]).all(axis=1) & (volumes[outward] > -volumes[shell])).any()
    ]
    if not enclosed:
        return mesh
    return Mesh(vertices_mm=joined.vertices_mm, faces=joined.faces[~np.isin(shells.of_face, enclosed)])


def _boxes(corners: NDArray[np.float64], of_face: NDArray[np.int64], count: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    low, high = np.full((count, 3), np.inf), np.full((count, 3), -np.inf)
    np.minimum.at(low, of_face, corners.min(axis=1))
    np.maximum.at(high, of_face, corners.max(axis=1))
    return low, high
