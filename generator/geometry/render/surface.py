"""What of a mesh is the same in every view: normals, smooth areas, creases."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.edges import EdgeTable, edge_table
from generator.geometry.mesh import Mesh
from generator.geometry.weld import welded

__all__ = ["Surface", "surface_of"]

# Facets meeting at less than this are one rounded surface: exporters cut a fillet or a bore into
# steps of 6 to 20 degrees, while edges meant as edges are nearly always above 30.
CREASE_DEGREES = 28.0
NO_FACE = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A mesh made ready to be drawn, moved to the origin and scaled to a diagonal of 1.

    points: (n, 3); faces: (m, 3); normals: (m, 3), zero for faces without area.
    corner_normals: (k, 3) smooth normals; corner_of: (m, 3) which of them each corner has.
    is_curved: (m,) whether the corners' normals differ.
    ends: (e, 2) edges; sides: (e, 2) their faces, the second NO_FACE on an open edge.
    bend: (e,) cosine of the angle between the two faces; is_crease: (e,).
    is_closed: whether only fronts can be seen.
    """

    points: NDArray[np.float64]
    faces: NDArray[np.int64]
    normals: NDArray[np.float64]
    corner_normals: NDArray[np.float64]
    corner_of: NDArray[np.int64]
    is_curved: NDArray[np.bool_]
    ends: NDArray[np.int64]
    sides: NDArray[np.int64]
    bend: NDArray[np.float64]
    is_crease: NDArray[np.bool_]
    is_closed: bool


def surface_of(mesh: Mesh) -> Surface:
    """Prepare a mesh once for all its pictures.

    Raises ValueError when no face has an area: there is nothing to see.
    """
    mesh = welded(mesh).mesh
    if not len(mesh.faces):
        raise ValueError("a mesh without faces cannot be drawn")
    points = _at_home(mesh.vertices_mm)
    faces = mesh.faces
    edges = edge_table(faces, len(points))
    pairs = edges.shared_by_two()
    is_closed = len(pairs) == len(edges.uses) and not edges.run_alike(pairs).any()
    corners = points[faces]
    if is_closed and np.einsum("ij,ij->", corners[:, 0], _cross(corners)) < 0:
        faces = faces[:, ::-1]  # inside out: seen from outside it is still the same part
        edges = edge_table(faces, len(points))
        corners = points[faces]
    across = _cross(corners)
    twice_area = np.sqrt(np.einsum("ij,ij->i", across, across))
    if not twice_area.any():
        raise ValueError("a mesh whose faces have no area cannot be drawn")
    normals = across / np.where(twice_area > 0, twice_area, 1)[:, None]
    sides = _sides(edges)
    bend = np.einsum("ij,ij->i", normals[sides[:, 0]], normals[sides[:, 1]])
    is_crease = (bend < np.cos(np.radians(CREASE_DEGREES))) & (sides[:, 1] != NO_FACE)
    is_crease &= (twice_area[sides] > 0).all(axis=1)
    corner_normals, corner_of = _smooth(faces, corners, across, sides, is_crease)
    of_face = corner_normals[corner_of]
    spread = np.einsum("ijk,ik->ij", of_face, normals).min(axis=1)
    return Surface(
        points=points,
        faces=faces,
        normals=normals,
        corner_normals=corner_normals,
        corner_of=corner_of,
        is_curved=spread < 0.99999,
        ends=edges.ends,
        sides=sides,
        bend=bend,
        is_crease=is_crease,
        is_closed=is_closed,
    )


def _at_home(points: NDArray[np.float64]) -> NDArray[np.float64]:
    low, high = points.min(axis=0), points.max(axis=0)
    middle = low / 2 + high / 2
    largest = float((high / 2 - low / 2).max()) or 1.0
    near = (points - middle) / largest
    home: NDArray[np.float64] = near / np.linalg.norm(np.ptp(near, axis=0))
    return home


def _cross(corners: NDArray[np.float64]) -> NDArray[np.float64]:
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    return np.column_stack(
        [
            a[:, 1] * b[:, 2] - a[:, 2] * b[:, 1],
            a[:, 2] * b[:, 0] - a[:, 0] * b[:, 2],
            a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0],
        ]
    )


def _sides(edges: EdgeTable) -> NDArray[np.int64]:
    """The first two faces at each edge; a third of a non-manifold edge is left out."""
    first = edges.half_edges[edges.first] // 3
    second = np.full(len(first), NO_FACE)
    shared = edges.uses > 1
    second[shared] = edges.half_edges[edges.first[shared] + 1] // 3
    return np.column_stack([first, second])


def _smooth(
    faces: NDArray[np.int64],
    corners: NDArray[np.float64],
    across: NDArray[np.float64],
    sides: NDArray[np.int64],
    is_crease: NDArray[np.bool_],
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """One normal for each vertex and smooth area.

    Weighted by area, so that a flat face beside a fillet stays flat to its edge.
    """
    joined = sides[~is_crease & (sides[:, 1] != NO_FACE)]
    links = coo_matrix(
        (np.ones(len(joined), dtype=bool), (joined[:, 0], joined[:, 1])), shape=(len(faces),) * 2
    )
    areas, area_of = connected_components(links, directed=False)
    key = faces.ravel() * int(areas) + np.repeat(area_of.astype(np.int64), 3)
    order = np.argsort(key, kind="stable")
    fresh = np.concatenate(([True], key[order[1:]] != key[order[:-1]]))
    corner_of = np.empty(len(key), dtype=np.int64)
    corner_of[order] = np.cumsum(fresh) - 1
    weighted = np.repeat(across, 3, axis=0) * _angles(corners).ravel()[:, None]
    total = np.column_stack([np.bincount(corner_of, weighted[:, axis]) for axis in range(3)])
    length = np.sqrt(np.einsum("ij,ij->i", total, total))
    return total / np.maximum(length, 1e-300)[:, None], corner_of.reshape(-1, 3)


def _angles(corners: NDArray[np.float64]) -> NDArray[np.float64]:
    """The angle at each corner, in radians: (m, 3)."""
    edge = corners[:, [1, 2, 0]] - corners
    square = np.einsum("ijk,ijk->ij", edge, edge)
    dot = -np.einsum("ijk,ijk->ij", edge, edge[:, [2, 0, 1]])
    cosine = dot / np.sqrt(np.maximum(square * square[:, [2, 0, 1]], 1e-300))
    angle: NDArray[np.float64] = np.arccos(np.clip(cosine, -1, 1))
    return angle
