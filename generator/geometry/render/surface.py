"""What of a mesh is the same in every view: normals, smooth areas, creases."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.edges import EdgeTable, edges_of
from generator.geometry.mesh import Mesh
from generator.geometry.render.bodies import is_crumb
from generator.geometry.render.flats import borders_of_planes
from generator.geometry.render.seams import continuing, partners
from generator.geometry.render.winding import Neighbours, bodies_of, turned_outwards
from generator.geometry.weld import welded

__all__ = ["Surface", "surface_of"]

# Facets meeting at less than this are one rounded surface: exporters cut a fillet or a bore into
# steps of 6 to 20 degrees, while edges meant as edges are nearly always above 30.
CREASE_DEGREES = 28.0
# A scan's noise bends by more: of it only what bends by so much is an edge.
STRONG_DEGREES = 60.0
# Creases of a constructed part run on from each of their points to one other (0.8 to 1.0 of the points in some 60
# files), and most are sharp; noise scatters short and slight ones that end or branch.
SCATTERED, MOSTLY_SLIGHT = (
    0.4,
    0.65,
)  # shares of points that end or branch, and of creases below STRONG_DEGREES
ALL_SCATTERED, SOME_SLIGHT = 0.63, 0.25  # the same of noise so strong that much of it is sharp
SHORT = 0.04  # of the diagonal: half of the creases of noise are shorter, those of a cut stone are not
NO_FACE = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A mesh made ready to be drawn, moved to the origin and scaled to a diagonal of 1.

    Faces that are wound against most of their body, and whole bodies inside out, are turned: for drawing only.

    points: (n, 3); faces: (m, 3); normals: (m, 3), zero for faces without area.
    corner_normals: (k, 3) smooth normals; corner_of: (m, 3) which of them each corner has.
    is_curved: (m,) whether the corners' normals differ.
    ends: (e, 2) edges; sides: (e, 2) their faces, the second NO_FACE on an open edge without another along it.
    bend: (e,) cosine of the angle between the two faces; is_crease: (e,); is_tangent: (e,) where a plane runs
    into a rounding.
    is_rough: whether it is a noisy scan, of which only outlines and strong creases are drawn.
    is_closed: whether only fronts can be seen. is_crumb: (m,) faces of tiny bodies far from the rest.
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
    is_tangent: NDArray[np.bool_]
    is_rough: bool
    is_closed: bool
    is_crumb: NDArray[np.bool_]


def surface_of(mesh: Mesh) -> Surface:
    """Prepare a mesh once for all its pictures.

    Raises ValueError when no face has an area: there is nothing to see.
    """
    mesh = welded(mesh).mesh
    if not len(mesh.faces):
        raise ValueError("a mesh without faces cannot be drawn")
    points, faces = _at_home(mesh.vertices_mm), mesh.faces
    edges = edges_of(mesh)
    corners = points[faces]
    across = _cross(corners)
    twice_area = np.sqrt(np.einsum("ij,ij->i", across, across))
    if not twice_area.any():
        raise ValueError("a mesh whose faces have no area cannot be drawn")
    normals = across / np.where(twice_area > 0, twice_area, 1)[:, None]
    sides, meets = _joined(points, faces, normals, edges)
    body = bodies_of(len(faces), meets.one, meets.other)
    turned = turned_outwards(corners[:, 0], across, meets, body, _whole(edges, body))
    if turned.any():
        faces = np.where(turned[:, None], faces[:, ::-1], faces)
        corners = points[faces]
        across[turned] *= -1
        normals[turned] *= -1
    is_closed = bool((edges.uses == 2).all())
    is_closed &= not (meets.is_alike ^ turned[meets.one] ^ turned[meets.other]).any()
    bend, is_crease, is_tangent, is_rough = _lines(points, edges, sides, normals, across)
    corner_normals, corner_of = _smooth(faces, corners, across, sides, is_crease)
    spread = np.einsum("ijk,ik->ij", corner_normals[corner_of], normals).min(axis=1)
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
        is_tangent=is_tangent,
        is_rough=is_rough,
        is_closed=is_closed,
        is_crumb=is_crumb(corners, body),
    )


def _joined(
    points: NDArray[np.float64], faces: NDArray[np.int64], normals: NDArray[np.float64], edges: EdgeTable
) -> tuple[NDArray[np.int64], Neighbours]:
    """The two faces at each edge, beyond seams and where bodies touch, and all pairs of faces that meet."""
    sides = _with_joints(_sides(edges), normals, points, edges, faces)
    seams = _seams(sides, points, edges, faces)
    sides[seams.edge, 1] = sides[seams.along, 0]
    return sides, _neighbours(edges, sides, seams)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seams:
    """Open edges and others that they run along: (k,) each, and whether the faces of both run the same way there."""

    edge: NDArray[np.int64]
    along: NDArray[np.int64]
    is_alike: NDArray[np.bool_]


def _seams(
    sides: NDArray[np.int64], points: NDArray[np.float64], edges: EdgeTable, faces: NDArray[np.int64]
) -> _Seams:
    free = np.flatnonzero(edges.uses == 1)
    begin, end = points[edges.ends[free, 0]], points[edges.ends[free, 1]]
    third = points[faces[sides[free, 0]]].sum(axis=1) - begin - end
    partner = partners(begin, end, third)
    found = np.flatnonzero(partner >= 0)
    way = (end - begin) * np.where(edges.forward[edges.first[free]], 1.0, -1.0)[:, None]
    alike = np.einsum("ij,ij->i", way[found], way[partner[found]]) > 0
    return _Seams(edge=free[found], along=free[partner[found]], is_alike=alike)


def _with_joints(
    sides: NDArray[np.int64],
    normals: NDArray[np.float64],
    points: NDArray[np.float64],
    edges: EdgeTable,
    faces: NDArray[np.int64],
) -> NDArray[np.int64]:
    """An edge of four faces, as two bodies have that touch, gets the two that go on as one plane, if any do."""
    four = np.flatnonzero(edges.uses == 4)
    if not len(four):
        return sides
    around = edges.half_edges[edges.first[four][:, None] + np.arange(4)] // 3
    begin, end = points[edges.ends[four, 0]], points[edges.ends[four, 1]]
    run = (end - begin) / np.maximum(np.linalg.norm(end - begin, axis=1), 1e-300)[:, None]
    aside = points[faces[around]].sum(axis=2) - (2 * begin + end)[:, None]
    aside -= run[:, None] * np.einsum("ijk,ik->ij", aside, run)[:, :, None]
    chosen = continuing(aside, normals[around])
    found = chosen[:, 0] >= 0
    sides[four[found]] = np.take_along_axis(around[found], chosen[found], axis=1)
    return sides


def _neighbours(edges: EdgeTable, sides: NDArray[np.int64], seams: _Seams) -> Neighbours:
    pairs = edges.shared_by_two()
    one, other = edges.two_faces(pairs)
    return Neighbours(
        one=np.concatenate([one, sides[seams.edge, 0]]),
        other=np.concatenate([other, sides[seams.edge, 1]]),
        is_alike=np.concatenate([edges.run_alike(pairs), seams.is_alike]),
    )


def _whole(edges: EdgeTable, body: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Whether each body is closed: two faces at all of its edges."""
    whole = np.ones(int(body.max()) + 1, dtype=bool)
    odd = np.repeat(edges.uses != 2, edges.uses)
    whole[body[edges.half_edges[odd] // 3]] = False
    return whole


def _lines(
    points: NDArray[np.float64],
    edges: EdgeTable,
    sides: NDArray[np.int64],
    normals: NDArray[np.float64],
    across: NDArray[np.float64],
) -> tuple[NDArray[np.float64], NDArray[np.bool_], NDArray[np.bool_], bool]:
    """How far the faces bend at each edge, the creases, the edges where roundings begin; is it a noisy scan?"""
    bend = np.einsum("ij,ij->i", normals[sides[:, 0]], normals[sides[:, 1]])
    is_crease = (bend < np.cos(np.radians(CREASE_DEGREES))) & (sides[:, 1] != NO_FACE)
    run = points[edges.ends[:, 1]] - points[edges.ends[:, 0]]
    slight, is_tangent = borders_of_planes(across, sides, bend, np.sqrt(np.einsum("ij,ij->i", run, run)))
    is_crease |= slight
    has_area = np.einsum("ij,ij->i", across, across) > 0
    is_crease &= has_area[sides[:, 0]] & has_area[sides[:, 1]]
    is_rough = _is_noise(points, edges.ends[is_crease], bend[is_crease])
    if is_rough:
        is_crease &= bend < np.cos(np.radians(STRONG_DEGREES))
        is_crease &= _scattered(edges.ends[is_crease]) <= SCATTERED  # more noise than that: outlines only
    return bend, is_crease, is_tangent, is_rough


def _is_noise(points: NDArray[np.float64], ends: NDArray[np.int64], bend: NDArray[np.float64]) -> bool:
    """Whether creases are a scan's noise: (k, 2) points they run between, (k,) cosine of their angles."""
    if not len(ends):
        return False
    slight = float(np.mean(bend > np.cos(np.radians(STRONG_DEGREES))))
    scattered = _scattered(ends)
    is_unsteady = (slight > MOSTLY_SLIGHT and scattered > SCATTERED) or (
        slight > SOME_SLIGHT and scattered > ALL_SCATTERED
    )
    run = points[ends[:, 1]] - points[ends[:, 0]]
    return is_unsteady and bool(np.median(np.einsum("ij,ij->i", run, run)) < SHORT * SHORT)


def _scattered(ends: NDArray[np.int64]) -> float:
    """The share of the creases' points from which not exactly two lead away."""
    at = np.bincount(ends.ravel())
    return float(np.mean(at[at > 0] != 2)) if len(at) else 0.0


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
