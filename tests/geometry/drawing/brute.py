"""Which points of a mesh's edges does an eye at infinity see? Every ray against every face, nothing clever."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from generator.geometry.mesh import Mesh

Points = NDArray[np.float64]


def edges_of(mesh: Mesh) -> tuple[Points, Points, Points]:
    """Each edge of a closed mesh once: its two ends (n, 2, 3) and the normals of its two faces (n, 3), (n, 3)."""
    corners = mesh.vertices_mm[mesh.faces]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    pairs = np.concatenate([mesh.faces[:, [0, 1]], mesh.faces[:, [1, 2]], mesh.faces[:, [2, 0]]])
    owner = np.tile(np.arange(len(mesh.faces)), 3)
    order = np.lexsort(np.sort(pairs, axis=1).T)
    first, second = order[0::2], order[1::2]
    assert (np.sort(pairs[first], axis=1) == np.sort(pairs[second], axis=1)).all(), "the test's mesh is open"
    return mesh.vertices_mm[pairs[first]], normals[owner[first]], normals[owner[second]]


def sampled(ends: Points, apart: float) -> tuple[Points, NDArray[np.int64]]:
    """Points along straight pieces (n, 2, d), no further apart than asked and none at an end; whose piece each is."""
    lengths = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    counts = np.maximum(np.ceil(lengths / apart).astype(int), 1)
    owner = np.repeat(np.arange(len(ends)), counts)
    place = (np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts) + 0.5) / counts[owner]
    return ends[owner, 0] + place[:, None] * (ends[owner, 1] - ends[owner, 0]), owner


def blocked(points: Points, eye: Points, mesh: Mesh, beyond: float) -> NDArray[np.bool_]:
    """Whether a face stands between each point and the eye, further off than `beyond`."""
    a, b, c = mesh.vertices_mm[mesh.faces].transpose(1, 0, 2)
    ab, ac = b - a, c - a
    across = np.cross(eye, ac)
    turn = np.einsum("ij,ij->i", ab, across)
    faces = np.abs(turn) > 1e-9 * np.linalg.norm(ab, axis=1) * np.linalg.norm(ac, axis=1)
    a, ab, ac, across, turn = a[faces], ab[faces], ac[faces], across[faces], turn[faces]
    upright, front = np.cross(ab, eye), np.cross(ab, ac)  # of triple products each is a product with what does not hang on the point
    result = np.zeros(len(points), dtype=bool)
    for start in range(0, len(points), 512):
        some = points[start : start + 512]
        u, v, far = (some @ normal.T - np.einsum("ij,ij->i", a, normal) for normal in (across, upright, front))
        u, v, far = u / turn, v / turn, far / turn
        result[start : start + 512] = ((u >= 0) & (v >= 0) & (u + v <= 1) & (far > beyond)).any(axis=1)
    return result


def seen_of_edges(
    mesh: Mesh, eye: Points, apart: float
) -> tuple[Points, NDArray[np.bool_], NDArray[np.bool_]]:
    """Points on all edges, whether each must be seen or not, and whether its edge must be drawn.

    A point counts as hidden only where a face covers it on both sides of its edge: where it is free on one side,
    an edge is seen there, its own or the one that covers the other side. What must be drawn are edges that turn by
    40° and more; what may be are all.
    """
    ends, one, other = edges_of(mesh)
    points, owner = sampled(ends, apart)
    along = np.cross(ends[:, 1] - ends[:, 0], eye)
    length = np.linalg.norm(along, axis=1)
    size = float(np.linalg.norm(np.ptp(mesh.vertices_mm, axis=0)))
    shown = length > 1e-6 * size
    side = 1e-4 * size * along / np.maximum(length, 1e-12)[:, None]
    hidden = np.ones(len(points), dtype=bool)
    for sign in (1, -1):
        hidden &= blocked(points + sign * side[owner], eye, mesh, 1e-3 * size)
    sharp = np.einsum("ij,ij->i", one, other) < np.cos(np.radians(40))
    flat_edge = np.einsum("ij,ij->i", one, other) > np.cos(np.radians(0.01))
    keep = (shown & ~flat_edge)[owner]
    return points[keep], ~hidden[keep], sharp[owner][keep]
