"""Which faces hang together as one closed or open shell, and how each shell is wound."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.edges import EdgeTable

__all__ = ["Shells", "shells_of", "signed_volumes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shells:
    """Faces joined by edges.

    of_face: (m,) shell number of each face, 0 to count - 1.
    closed: (count,) whether each edge of the shell has exactly two faces.
    flipped: (m,) faces wound against the rest of their shell, the smaller part of it;
        an alternative for a closed shell is all the other faces.
    orientable: (count,) False where no winding of the faces can agree.
    """

    count: int
    of_face: NDArray[np.int64]
    closed: NDArray[np.bool_]
    flipped: NDArray[np.bool_]
    orientable: NDArray[np.bool_]


def shells_of(face_count: int, edges: EdgeTable) -> Shells:
    """Join faces across their edges and compare their winding."""
    count, of_face = _components(face_count, *edges.neighbours())
    closed = np.ones(count, dtype=bool)
    unpaired = np.flatnonzero(edges.uses != 2)
    closed[of_face[edges.half_edges[edges.first[unpaired]] // 3]] = False
    flipped, orientable = _winding(of_face, count, edges)
    return Shells(count=count, of_face=of_face, closed=closed, flipped=flipped, orientable=orientable)


def signed_volumes(corners: NDArray[np.float64], shells: Shells) -> NDArray[np.float64]:
    """Volume enclosed by each shell, below zero when wound inside out: (count,).

    Divergence theorem: the sum of the signed tetrahedra from one point to each face.
    The point is the middle of the mesh, so that a far-away part loses no digits.

    corners: (m, 3, 3).
    """
    if not len(corners):
        return np.zeros(0)
    a, b, c = np.moveaxis(corners - corners.mean(axis=(0, 1)), 1, 0)
    six = np.einsum("ij,ij->i", a, np.cross(b, c))
    return np.bincount(shells.of_face, six, minlength=shells.count) / 6.0


def _components(nodes: int, a: NDArray[np.int64], b: NDArray[np.int64]) -> tuple[int, NDArray[np.int64]]:
    links = coo_matrix((np.ones(len(a), dtype=bool), (a, b)), shape=(nodes, nodes))
    count, labels = connected_components(links, directed=False)
    return int(count), labels.astype(np.int64)


def _winding(
    of_face: NDArray[np.int64], count: int, edges: EdgeTable
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Two copies of each face, as wound and reversed; neighbours that agree are linked like
    to like, others crosswise. A face linked to its own reverse lies on a one-sided surface.
    """
    faces = len(of_face)
    flipped = np.zeros(faces, dtype=bool)
    orientable = np.ones(count, dtype=bool)
    pairs = edges.shared_by_two()
    alike = edges.run_alike(pairs)
    if not alike.any():
        return flipped, orientable
    a, b = edges.two_faces(pairs)
    other = np.where(alike, faces, 0)
    _, label = _components(
        2 * faces, np.concatenate([a, a + faces]), np.concatenate([b + other, b + faces - other])
    )
    as_wound, reversed_ = label[:faces], label[faces:]
    orientable[of_face[as_wound == reversed_]] = False
    side = as_wound > reversed_
    minority = np.bincount(of_face, side, minlength=count) * 2 > np.bincount(of_face, minlength=count)
    flipped = side ^ minority[of_face]
    return flipped & orientable[of_face], orientable
