"""Very many triangles → as many as can be thinned out in time: all corners in one cell of a grid become one.

Each cell's corner is the point nearest to the planes of its faces (Lindstrom, "Out-of-core simplification of large polygonal models",
SIGGRAPH 2000), so plane faces and edges stay where they are and only roundings lose. The work is in proportion to the faces.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.mesh import Mesh

__all__ = ["clustered"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

TRIES: Final = 8
FINEST: Final = 1e-6  # of the longest side: cells are counted in whole numbers
FLAT: Final = 1e-3  # of the largest curvature of a cell's planes: what is flatter says nothing about a direction


def clustered(mesh: Mesh, most: int) -> Mesh:
    """The mesh with at most so many faces: a finer grid is tried first. mesh: welded. The same mesh gives the same answer.

    Where sheets are nearer than a cell, about √(2 · area / `most`), they may become one; `apart_mm` tells how far all that is.
    """
    points, faces = mesh.vertices_mm, mesh.faces
    low = points.min(axis=0)
    corners = points[faces]
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = float(np.linalg.norm(across, axis=1).sum()) / 2
    # A plane has two faces a cell, a slanting one up to twice that.
    cell = max((4 * area / most) ** 0.5, float(np.ptp(points, axis=0).max()) * FINEST)
    if cell <= 0:
        return mesh
    for _ in range(TRIES):
        number = _cells(points - low, cell)
        left = _left(number[faces])
        if len(left) <= most:
            break
        cell *= 1.2
    places = _places(points - low, faces, across, number, cell) + low
    used = np.zeros(len(places), dtype=bool)
    used[left] = True
    return Mesh(vertices_mm=places[used], faces=(np.cumsum(used) - 1)[left])


def _cells(points: Floats, cell: float) -> Ints:
    """(n,) the number of each corner's cell, from 0 in the order of the grid."""
    at = np.floor(points / cell).astype(np.int64)
    wide = at.max(axis=0) + 1
    number: Ints = np.unique((at[:, 0] * wide[1] + at[:, 1]) * wide[2] + at[:, 2], return_inverse=True)[1].astype(np.int64)
    return number


def _left(faces: Ints) -> Ints:
    """The faces that still have three corners, each once; two that lie on one another and look opposite ways were a thin wall, and go."""
    a, b, c = faces.T
    faces = faces[(a != b) & (b != c) & (c != a)]
    first = faces.argmin(axis=1)
    a, b, c = faces[np.arange(len(faces))[:, None], (first[:, None] + np.arange(3)) % 3].T
    way = np.where(b < c, 1, -1)
    count = int(faces.max(initial=0)) + 1
    key, at, where = np.unique((a * count + np.minimum(b, c)) * count + np.maximum(b, c), return_index=True, return_inverse=True)
    looks = np.bincount(where, way, len(key))
    kept = np.flatnonzero(looks)
    turned = looks[kept] * way[at[kept]] < 0
    a, b, c = a[at[kept]], b[at[kept]], c[at[kept]]
    return np.column_stack([a, np.where(turned, c, b), np.where(turned, b, c)])[np.argsort(at[kept], kind="stable")]


def _places(points: Floats, faces: Ints, across: Floats, number: Ints, cell: float) -> Floats:
    """Of each cell the point nearest to its faces' planes, and of all that are as near the one nearest to the middle of its corners."""
    cells = int(number.max()) + 1
    middle = np.column_stack([np.bincount(number, each, cells) for each in points.T]) / np.bincount(number, minlength=cells)[:, None]
    at = number[faces]
    a = np.zeros((cells, 3, 3))
    b = np.zeros((cells, 3))
    for corner in range(3):
        away = np.einsum("ij,ij->i", across, points[faces[:, 0]] - middle[at[:, corner]])
        for i in range(3):
            b[:, i] += np.bincount(at[:, corner], across[:, i] * away, cells)
            for j in range(i, 3):
                a[:, i, j] += np.bincount(at[:, corner], across[:, i] * across[:, j], cells)
    a[:, [1, 2, 2], [0, 0, 1]] = a[:, [0, 0, 1], [1, 2, 2]]
    widths, axes = np.linalg.eigh(a)
    told = widths > FLAT * widths[:, -1:]
    inverse = np.where(told, 1 / np.where(told, widths, 1.0), 0.0)
    step = np.einsum("nij,nj,nkj,nk->ni", axes, inverse, axes, b)
    far = np.linalg.norm(step, axis=1)
    step[far > cell] = 0.0
    places: Floats = np.clip(middle + step, points.min(axis=0), points.max(axis=0))
    return places
