"""Where solids touch along an edge, which two of its faces belong to one solid?"""

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.edges import EdgeTable, edges_of
from generator.geometry.mesh import Mesh

__all__ = ["parted"]

SAME_DIRECTION = 1e-4  # rad; faces that lie on one another differ by what single precision leaves
MOST_FACES = 64  # at one edge; more are no solids that touch

Pairs = tuple[NDArray[np.int64], NDArray[np.int64]]


def parted(mesh: Mesh) -> Mesh:
    """The same faces, with corners of their own for solids that only touch.

    Welding joins two solids that share a corner, and an edge of both has four faces then. Going round such an
    edge the faces are met by turns where a solid begins and where it ends (Weiler, "The radial edge structure",
    1988); each beginning and the end after it belong together. Where they do not alternate, the edge stays as it is.
    """
    edges = edges_of(mesh)
    if not (edges.uses > 2).any():
        return mesh
    one, other = _pairs(mesh, edges)
    return _with_corners(mesh, *_same_corners(mesh.faces.ravel(), one, other))


def _pairs(mesh: Mesh, edges: EdgeTable) -> Pairs:
    """Half-edges that stay together: (k,) and (k,)."""
    two = edges.first[edges.shared_by_two()]
    ones, others = [edges.half_edges[two]], [edges.half_edges[two + 1]]
    for uses in np.unique(edges.uses[edges.uses > 2]).tolist():
        at = edges.first[edges.uses == uses]
        around = edges.half_edges[at[:, None] + np.arange(uses)]
        order, is_clear = _by_turns(mesh, around, edges.forward[at[:, None] + np.arange(uses)])
        sorted_ = np.take_along_axis(around, order, axis=1)[is_clear]
        ones += [sorted_[:, 0::2].ravel(), around[~is_clear][:, :-1].ravel()]
        others += [sorted_[:, 1::2].ravel(), around[~is_clear][:, 1:].ravel()]
    return np.concatenate(ones), np.concatenate(others)


def _by_turns(
    mesh: Mesh, around: NDArray[np.int64], forward: NDArray[np.bool_]
) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    """The order round each edge, beginning where a solid begins, and whether beginnings and ends alternate: (n, k), (n,)."""
    count, uses = around.shape
    still = np.tile(np.arange(uses), (count, 1))
    if uses % 2 or uses > MOST_FACES:
        return still, np.zeros(count, dtype=bool)
    angle, is_known = _angles(mesh, around, forward)
    begins = ~forward  # turning the way that the edge runs, a face that runs with it has its solid behind it
    order = np.argsort(angle, axis=1, kind="stable")
    steps = np.diff(np.take_along_axis(angle, order, axis=1), axis=1, prepend=0.0) > SAME_DIRECTION
    place = np.empty_like(order)
    np.put_along_axis(place, order, 2 * np.cumsum(steps, axis=1), axis=1)
    order = np.argsort(place + begins, axis=1, kind="stable")  # of two that lie on one another the end comes first
    inside = np.cumsum(np.where(np.take_along_axis(begins, order, axis=1), 1, -1), axis=1)
    start = inside.argmin(axis=1) + 1
    order = np.take_along_axis(order, (start[:, None] + still) % uses, axis=1)
    turns = np.take_along_axis(begins, order, axis=1)
    return order, is_known & turns[:, 0::2].all(axis=1) & ~turns[:, 1::2].any(axis=1)


def _angles(
    mesh: Mesh, around: NDArray[np.int64], forward: NDArray[np.bool_]
) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """How far each face lies from the first one round its edge, 0 to 2 pi, and where that can be said: (n, k), (n,)."""
    faces, corner = around // 3, around % 3
    start = mesh.vertices_mm[mesh.faces[faces, corner]]
    end = mesh.vertices_mm[mesh.faces[faces, (corner + 1) % 3]]
    third = mesh.vertices_mm[mesh.faces[faces, (corner + 2) % 3]]
    along = np.where(forward[..., None], end - start, start - end)[:, :1]
    along = along / np.maximum(np.linalg.norm(along, axis=-1, keepdims=True), 1e-300)
    arm = third - start
    arm = arm - (arm * along).sum(axis=-1, keepdims=True) * along
    is_known = (np.linalg.norm(arm, axis=-1) > 1e-9 * np.linalg.norm(end - start, axis=-1)).all(axis=1)
    first = arm[:, :1]
    x, y = (arm * first).sum(axis=-1), (arm * np.cross(along, first)).sum(axis=-1)
    angle = np.arctan2(y, x) % (2 * np.pi)
    angle[angle > 2 * np.pi - SAME_DIRECTION] = 0.0
    return angle, is_known


def _same_corners(corner: NDArray[np.int64], one: NDArray[np.int64], other: NDArray[np.int64]) -> Pairs:
    """Corners of faces that are one point of one solid, from half-edges that lie on one another."""
    one_end, other_end = _next(one), _next(other)
    alike = corner[one] == corner[other]
    return np.concatenate([one, one_end]), np.concatenate(
        [np.where(alike, other, other_end), np.where(alike, other_end, other)]
    )


def _next(half_edge: NDArray[np.int64]) -> NDArray[np.int64]:
    return half_edge - half_edge % 3 + (half_edge + 1) % 3


def _with_corners(mesh: Mesh, a: NDArray[np.int64], b: NDArray[np.int64]) -> Mesh:
    count = mesh.faces.size
    links = coo_matrix((np.ones(len(a), dtype=bool), (a, b)), shape=(count, count))
    _, label = connected_components(links, directed=False)
    _, first = np.unique(label, return_index=True)
    return Mesh(vertices_mm=mesh.vertices_mm[mesh.faces.ravel()[first]], faces=label.reshape(-1, 3).astype(np.int64))
