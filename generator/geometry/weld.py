"""Which corners of a triangle soup are the same point, and which faces vanish with that."""

from dataclasses import dataclass
from typing import Final
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from generator.geometry.close import is_crowded
from generator.geometry.distinct import distinct
from generator.geometry.edges import edge_table
from generator.geometry.equal import first_equal
from generator.geometry.mesh import Mesh

__all__ = ["Welded", "welded"]

# Half the resolution of single precision: two exports of one corner differ by no more than this
# share of the largest coordinate, while real features of printable parts are far bigger.
RELATIVE_TOLERANCE = 4.0 * float(np.finfo(np.float32).eps)


@dataclass(frozen=True, slots=True, kw_only=True)
class Welded:
    """A mesh whose equal corners are one vertex, used by at least one face."""

    mesh: Mesh
    vanished: int  # faces with two corners in one point


_FOUND: Final[WeakKeyDictionary[Mesh, Welded | None]] = WeakKeyDictionary()
"""None for a mesh that came out of here: it is its own."""


def welded(mesh: Mesh) -> Welded:
    """Merge equal corners, drop faces that collapse, drop vertices nobody uses.

    Corners are merged when exactly equal; only corners on open edges are then also
    merged within the rounding of single precision, so that sound fine detail stays. A mesh is welded once, whoever asks.
    """
    if mesh not in _FOUND:
        found = _welded(mesh)
        _FOUND[mesh], _FOUND[found.mesh] = found, None
    return _FOUND[mesh] or Welded(mesh=mesh, vanished=0)


def _welded(mesh: Mesh) -> Welded:
    vertices, faces = _merged(mesh.vertices_mm, mesh.faces, first_equal(mesh.vertices_mm))
    faces, vanished = _without_collapsed(faces)
    close = _close_open_corners(vertices, faces)
    if close is not None:
        vertices, faces = _merged(vertices, faces, close)
        faces, more = _without_collapsed(faces)
        vanished += more
    used = np.zeros(len(vertices), dtype=bool)
    used[faces] = True
    place = np.cumsum(used) - 1
    return Welded(mesh=Mesh(vertices_mm=vertices[used], faces=place[faces]), vanished=vanished)


def _merged(
    vertices: NDArray[np.float64], faces: NDArray[np.int64], stands_for: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Keep the vertices that stand for themselves; order of first appearance stays."""
    kept = stands_for == np.arange(len(vertices))
    place = np.cumsum(kept) - 1
    return vertices[kept], place[stands_for[faces]]


def _without_collapsed(faces: NDArray[np.int64]) -> tuple[NDArray[np.int64], int]:
    a, b, c = faces.T
    kept = (a != b) & (b != c) & (c != a)
    return faces[kept], int(len(faces) - kept.sum())


def _close_open_corners(vertices: NDArray[np.float64], faces: NDArray[np.int64]) -> NDArray[np.int64] | None:
    """For each vertex the first one it is the same as; None when no open corners are close, or so many that nobody could tell which."""
    edges = edge_table(faces, len(vertices))
    corners = distinct(edges.ends[edges.uses == 1])
    if not len(corners):
        return None
    tolerance = RELATIVE_TOLERANCE * float(np.abs(vertices).max())
    if is_crowded(vertices[corners], tolerance):
        return None
    pairs = cKDTree(vertices[corners]).query_pairs(tolerance, output_type="ndarray")
    if not len(pairs):
        return None
    links = coo_matrix(
        (np.ones(len(pairs), dtype=bool), (pairs[:, 0], pairs[:, 1])), shape=(len(corners),) * 2
    )
    _, label = connected_components(links, directed=False)
    _, first = np.unique(label, return_index=True)
    stands_for = np.arange(len(vertices))
    stands_for[corners] = corners[first[label]]
    return stands_for
