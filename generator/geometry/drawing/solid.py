"""What of a mesh is the same in every view: faces and normals, and which edges are creases."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.edges import EdgeTable, edge_table, edges_of
from generator.geometry.mesh import Mesh
from generator.geometry.weld import welded

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]
Flags = NDArray[np.bool_]

CREASE_DEG: Final = 28.0
"""Facets of a fillet or a bore meet at 6 to 20 degrees, edges meant as edges nearly always above 30 (common practice)."""
SHALLOW_DEG: Final = 3.0
"""From here two plane faces have an edge between them, unless either is one of a row of facets."""
STRONG_DEG: Final = 55.0
WEAK_DEG: Final = 45.0
FLAT_DEG: Final = 0.3
SLIVER: Final = 2e-5
"""A face lower than this share of the size has no normal of its own: single precision moves its corners by 1e-7."""
ROUGH: Final = 0.12
"""Share of bent edges beyond which a mesh is a scan and only its strong creases are drawn."""
EVENINGS: Final = 12
SPREAD: Final = 0.15
"""One less the cosine of the bend from which a neighbour's normal counts little: some 30 degrees."""
LEAST_CREASE: Final = 0.06
"""Of the size: shorter creases of a scan are noise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """A mesh made ready: moved to the origin, its longest side 1.

    points: (n, 3); faces: (m, 3); normals: (m, 3); low_side: (m,) lowest height of each triangle.
    ends: (e, 2) vertices of each edge; sides: (e, 2) its faces, both the same on an open edge.
    is_crease: (e,); is_open: (e,) edges that have not two faces.
    middle_mm, size_mm: `points * size_mm + middle_mm` are the corners of the mesh.
    """

    points: Floats
    faces: Indices
    normals: Floats
    low_side: Floats
    ends: Indices
    sides: Indices
    is_crease: Flags
    is_closed: bool
    is_rough: bool
    middle_mm: Floats
    size_mm: float


def solid_of(mesh: Mesh) -> Solid | None:
    """The mesh ready for its views; None where no face has an area."""
    whole = welded(mesh).mesh
    points, faces = whole.vertices_mm, whole.faces
    if not len(faces):
        return None
    low, high = points.min(axis=0), points.max(axis=0)
    middle, size = low / 2 + high / 2, float((high / 2 - low / 2).max() * 2)
    if not np.isfinite(size) or size <= 0:
        return None
    points = (points - middle) / size
    edges = edges_of(whole)
    pairs = edges.shared_by_two()
    is_closed = len(pairs) == len(edges.uses) and not edges.run_alike(pairs).any()
    if is_closed and _turned_in(points[faces]):
        faces = faces[:, ::-1]
        edges = edge_table(faces, len(points))
    sides = _sides(edges)
    across = np.cross(points[faces[:, 1]] - points[faces[:, 0]], points[faces[:, 2]] - points[faces[:, 0]])
    length = np.sqrt((across * across).sum(axis=1))
    if not length.any():
        return None
    normals = across / np.where(length > 0, length, 1)[:, None]
    runs = points[edges.ends[:, 1]] - points[edges.ends[:, 0]]
    long = np.sqrt((runs * runs).sum(axis=1))
    half_edge = np.empty(3 * len(faces), dtype=np.int64)
    half_edge[edges.half_edges] = np.repeat(np.arange(len(edges.uses)), edges.uses)
    longest = half_edge.reshape(-1, 3)[np.arange(len(faces)), long[half_edge.reshape(-1, 3)].argmax(axis=1)]
    low_side = length / np.maximum(long[longest], 1e-300)
    normals = _lent(normals, low_side < SLIVER, sides, longest)
    is_open = edges.uses != 2
    is_rough = _is_rough(_bend(normals, sides), sides, length)
    even = _evened(normals, sides, length) if is_rough else normals
    is_crease = _creases(even, sides, is_open, long, edges.ends, is_rough=is_rough)
    return Solid(
        points=points,
        faces=faces,
        normals=normals,
        low_side=low_side,
        ends=edges.ends,
        sides=sides,
        is_crease=is_crease,
        is_closed=is_closed,
        is_rough=is_rough,
        middle_mm=middle,
        size_mm=size,
    )


def _turned_in(corners: Floats) -> bool:
    return float(np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))) < 0


def _sides(edges: EdgeTable) -> Indices:
    """The first two faces of each edge; the only one twice."""
    first = edges.half_edges[edges.first] // 3
    second = first.copy()
    shared = edges.uses > 1
    second[shared] = edges.half_edges[edges.first[shared] + 1] // 3
    return np.column_stack([first, second])


def _lent(normals: Floats, is_sliver: Flags, sides: Indices, longest: Indices) -> Floats:
    """A sliver takes the normal of its neighbour across its longest side, so that no false edge is drawn along it."""
    if not is_sliver.any():
        return normals
    slivers = np.flatnonzero(is_sliver)
    pair = sides[longest[slivers]]
    other = np.where(pair[:, 0] == slivers, pair[:, 1], pair[:, 0])
    normals = normals.copy()
    for _ in range(3):  # slivers beside slivers
        normals[slivers] = normals[other]
    return normals


def _bend(normals: Floats, sides: Indices) -> Floats:
    """The angle between the two faces of each edge, in degrees."""
    bend: Floats = np.degrees(np.arccos(np.clip(np.einsum("ij,ij->i", normals[sides[:, 0]], normals[sides[:, 1]]), -1, 1)))
    return bend


def _evened(normals: Floats, sides: Indices, area: Floats) -> Floats:
    """Normals without the noise of a scan: each the mean of its neighbours', those that bend strongly away for little.

    Bilateral filtering of normals, Zheng, Fu, Au and Tai 2011.
    """
    for _ in range(EVENINGS):
        total = normals * area[:, None]
        for one, other in (sides.T, sides[:, ::-1].T):
            near = normals[other]
            weight = area[other] * np.exp((np.einsum("ij,ij->i", normals[one], near) - 1) / SPREAD)
            for axis in range(3):
                total[:, axis] += np.bincount(one, weight * near[:, axis], minlength=len(normals))
        normals = total / np.maximum(np.sqrt((total * total).sum(axis=1)), 1e-300)[:, None]
    return normals


def _creases(normals: Floats, sides: Indices, is_open: Flags, long: Floats, ends: Indices, *, is_rough: bool) -> Flags:
    """Which edges are lines in every view."""
    bend = _bend(normals, sides)
    if is_rough:
        crease = np.zeros(len(bend), dtype=bool)
        crease[_long_enough(np.flatnonzero(bend > STRONG_DEG), ends, long)] = True
        return crease | is_open
    drawn = ((bend > CREASE_DEG) & ~is_open) | is_open | _shallow(bend, sides, len(normals))
    return _without_faults(drawn, (bend < WEAK_DEG) & (long < LEAST_CREASE) & ~is_open, ends)


def _without_faults(drawn: Flags, is_weak: Flags, ends: Indices) -> Flags:
    """Without short weak creases that end in nothing: where facets of rounded surfaces meet badly."""
    drawn = drawn.copy()
    for _ in range(4):
        degree = np.bincount(ends[drawn].ravel(), minlength=int(ends.max()) + 1)
        fault = drawn & is_weak & (degree[ends] == 1).any(axis=1)
        if not fault.any():
            break
        drawn &= ~fault
    return drawn


def _is_rough(bend: Floats, sides: Indices, area: Floats) -> bool:
    """A constructed part has most of its surface in planes, cylinders and cones, along which facets do not bend in some direction.

    A face counts as free where all three of its neighbours bend away; on a scan or a modelled shape nearly all do.
    """
    bent = np.zeros(len(area), dtype=np.int64)
    for side in (0, 1):
        np.add.at(bent, sides[:, side], (bend > 0.5).astype(np.int64))
    is_free = bent >= 3
    share = float(area[is_free].sum() / max(area.sum(), 1e-300))
    wild = (bend > CREASE_DEG) & (bend < STRONG_DEG + 15)
    return share > 0.6 and len(area) > 2000 and float(wild.mean()) > ROUGH / 20


def _long_enough(edges: Indices, ends: Indices, long: Floats) -> Indices:
    """Of creases those that hang together over some length."""
    if not len(edges):
        return edges
    count = int(ends.max()) + 1
    pairs = ends[edges]
    links = coo_matrix((np.ones(len(edges), dtype=bool), (pairs[:, 0], pairs[:, 1])), shape=(count, count))
    _, group = connected_components(links, directed=False)
    total = np.bincount(group[pairs[:, 0]], long[edges])
    return edges[total[group[pairs[:, 0]]] > LEAST_CREASE]


def _shallow(bend: Floats, sides: Indices, count: int) -> Flags:
    """Edges between two plane faces that lean a little: each has no other neighbour that leans."""
    flat = bend < FLAT_DEG
    joined = sides[flat]
    links = coo_matrix((np.ones(len(joined), dtype=bool), (joined[:, 0], joined[:, 1])), shape=(count, count))
    regions, region = connected_components(links, directed=False)
    leaning = np.flatnonzero((bend >= FLAT_DEG) & (bend <= CREASE_DEG))
    pairs = np.sort(region[sides[leaning]].astype(np.int64), axis=1)
    found = np.zeros(len(bend), dtype=bool)
    pairs_key = pairs[:, 0] * regions + pairs[:, 1]
    distinct, at = np.unique(pairs_key, return_inverse=True)
    if not len(distinct):
        return found
    neighbours = np.bincount(distinct // regions, minlength=regions) + np.bincount(distinct % regions, minlength=regions)
    alone = (neighbours[distinct // regions] == 1) & (neighbours[distinct % regions] == 1)
    found[leaning] = alone[at] & (bend[leaning] >= SHALLOW_DEG)
    return found
