"""Which faces meet at which edge, and in which direction each runs along it."""

from dataclasses import dataclass
from typing import Final
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from generator.geometry.mesh import Mesh

__all__ = ["EdgeTable", "edge_table", "edges_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeTable:
    """Undirected edges of a mesh.

    ends: (e, 2) vertex indices, the smaller first.
    uses: (e,) how many faces use the edge.
    first: (e,) where the edge's half-edges start in `half_edges`.
    half_edges: (3m,) half-edge numbers grouped by edge; number h belongs to face h // 3 and
        runs from corner h % 3 to the next corner.
    forward: (3m,) whether that half-edge runs from the smaller vertex index to the larger.
    """

    ends: NDArray[np.int64]
    uses: NDArray[np.int64]
    first: NDArray[np.int64]
    half_edges: NDArray[np.int64]
    forward: NDArray[np.bool_]

    def shared_by_two(self) -> NDArray[np.int64]:
        """Edges with exactly two faces: (k,) edge numbers."""
        return np.flatnonzero(self.uses == 2)

    def two_faces(self, edges: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """The two faces at each of the given edges: (k,) and (k,)."""
        at = self.first[edges]
        return self.half_edges[at] // 3, self.half_edges[at + 1] // 3

    def run_alike(self, edges: NDArray[np.int64]) -> NDArray[np.bool_]:
        """Whether the two faces run the same way along the edge: one of them is flipped."""
        at = self.first[edges]
        alike: NDArray[np.bool_] = self.forward[at] == self.forward[at + 1]
        return alike

    def neighbours(self) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Pairs of faces that share an edge, however many meet there: (k,) and (k,)."""
        belongs = np.repeat(np.arange(len(self.uses)), self.uses)
        joined = np.flatnonzero(belongs[1:] == belongs[:-1])
        return self.half_edges[joined] // 3, self.half_edges[joined + 1] // 3


_FOUND: Final[WeakKeyDictionary[Mesh, EdgeTable]] = WeakKeyDictionary()


def edges_of(mesh: Mesh) -> EdgeTable:
    """The edges of a mesh, sorted once, whoever asks."""
    if mesh not in _FOUND:
        _FOUND[mesh] = edge_table(mesh.faces, len(mesh.vertices_mm))
    return _FOUND[mesh]


def edge_table(faces: NDArray[np.int64], vertex_count: int) -> EdgeTable:
    """Sort the three half-edges of each face by the edge they lie on.

    faces: (m, 3) vertex indices.
    """
    start = faces.ravel()
    end = faces[:, [1, 2, 0]].ravel()
    key = np.minimum(start, end) * max(vertex_count, 1) + np.maximum(start, end)
    order = np.argsort(key, kind="stable")
    key = key[order]
    first = np.flatnonzero(np.concatenate(([True], key[1:] != key[:-1]))) if len(key) else order
    low, high = np.divmod(key[first], max(vertex_count, 1))
    return EdgeTable(
        ends=np.column_stack([low, high]),
        uses=np.diff(np.concatenate((first, [len(key)]))),
        first=first,
        half_edges=order,
        forward=(start < end)[order],
    )
