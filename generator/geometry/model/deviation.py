"""How far do two surfaces lie apart at most? Measured, not promised."""

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from generator.geometry.mesh import Mesh
from generator.geometry.samples import spread_over

__all__ = ["apart_mm"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ASKED = 20_000  # points of a surface whose distance is asked, beside its corners
MOST_CORNERS = 60_000
LANDMARKS = 50_000  # points at least by which the nearest faces are found
NEAR, NEARER_LOOK = 3, 32  # landmarks looked at, and for the worst points again
WORST = 0.05  # share of the points that are looked at again
MOST_ASKED = 2_000_000  # pairs of such a point and a face, some 1 s; beyond, what is told may be too much
LARGE = 4.0  # times the median reach of a face: so large ones are few
EXACT = 400  # of the very worst whose distance is asked of every face that could be nearer


def apart_mm(one: Mesh, other: Mesh) -> float:
    """The symmetric Hausdorff distance of two meshes with faces, at their corners and at points spread evenly over them.

    Each point's distance is to the nearest of the faces looked at, so it is never told too small.
    """
    return max(_farthest(one, other), _farthest(other, one))


def _farthest(asked: Mesh, known: Mesh) -> float:
    corners = asked.vertices_mm[_used(asked)]
    step = -(-len(corners) // MOST_CORNERS)
    spread, _ = spread_over(asked.vertices_mm[asked.faces], min(ASKED, 2 * len(asked.faces) + 100))
    points = np.concatenate([corners[::step], spread])
    triangles = known.vertices_mm[known.faces]
    flats, flat_of = spread_over(triangles, max(LANDMARKS, len(triangles)))
    spines, spine_of = _along_spines(triangles)
    face_at = np.zeros(len(known.vertices_mm), dtype=np.int64)
    face_at[known.faces.ravel()] = np.repeat(np.arange(len(known.faces)), 3)
    used = _used(known)
    tree = cKDTree(np.concatenate([flats, spines, known.vertices_mm[used]]))
    face_of = np.concatenate([flat_of, spine_of, face_at[used]])
    far = _to_near_faces(points, triangles, tree, face_of, NEAR)
    again = np.argsort(far)[-max(int(WORST * len(far)), 50) :]
    far[again] = np.minimum(far[again], _to_near_faces(points[again], triangles, tree, face_of, NEARER_LOOK))
    return _confirmed(points, triangles, far)


def _used(mesh: Mesh) -> Ints:
    """The corners that a face has."""
    is_used = np.zeros(len(mesh.vertices_mm), dtype=bool)
    is_used[mesh.faces] = True
    return np.flatnonzero(is_used)


def _along_spines(triangles: Floats) -> tuple[Floats, Ints]:
    """Points along each face, from its sharpest corner to the middle of its shortest side, and the face of each: no sliver is missed."""
    sides = triangles[:, [2, 0, 1]] - triangles[:, [1, 2, 0]]
    lengths = np.sqrt((sides * sides).sum(axis=2))
    tip = np.argmin(lengths, axis=1)
    row = np.arange(len(triangles))
    start = triangles[row, tip]
    run = (triangles[row, (tip + 1) % 3] + triangles[row, (tip + 2) % 3]) / 2 - start
    long = np.sqrt(_dot(run, run))
    many = np.maximum(np.ceil(long / max(float(long.sum()), 1e-300) * LANDMARKS), 1).astype(np.int64)
    face = np.repeat(row, many)
    share = (np.arange(len(face)) - np.repeat(np.cumsum(many) - many, many) + 0.5) / many[face]
    return start[face] + share[:, None] * run[face], face


def _confirmed(points: Floats, triangles: Floats, far: Floats) -> float:
    """The largest distance, made exact from the largest on until no point that is left could be farther."""
    middle = triangles.mean(axis=1)
    reach = np.sqrt(((triangles - middle[:, None]) ** 2).sum(axis=2).max(axis=1))
    near = _Near(middle, reach)
    exact, asked = 0.0, 0
    order = np.argsort(far)[::-1]
    for place, at in enumerate(order[:EXACT]):
        if far[at] <= exact:
            return exact
        if asked > MOST_ASKED:
            return float(far[order[place]])
        could = near.to(points[at], float(far[at]))
        asked += len(could)
        nearest = _to_triangles(np.broadcast_to(points[at], (len(could), 3)), triangles[could]).min(initial=far[at])
        exact = max(exact, float(nearest))
    return max(exact, float(far[order[EXACT:]].max(initial=0.0)))


class _Near:
    """Faces that may lie within a distance of a point: many of about one size by a tree, the large ones one by one."""

    def __init__(self, middle: Floats, reach: Floats) -> None:
        self._middle, self._reach = middle, reach
        small = reach <= LARGE * np.median(reach)
        self._small, self._large = np.flatnonzero(small), np.flatnonzero(~small)
        self._most = float(reach[small].max(initial=0.0))
        self._tree = cKDTree(middle[self._small])
        self._places = middle[self._large].T.copy()

    def to(self, point: Floats, far: float) -> Ints:
        """Their numbers; none that lies nearer is left out."""
        near = np.array(self._tree.query_ball_point(point, (self._most + far) * (1 + 1e-9)), dtype=np.int64)
        x, y, z = self._places - point[:, None]
        large = np.flatnonzero(x * x + y * y + z * z < (self._reach[self._large] + far) ** 2)
        found = np.concatenate([self._small[near], self._large[large]])
        off = self._middle[found] - point
        could: Ints = found[_dot(off, off) < (self._reach[found] + far) ** 2 * (1 + 1e-9)]
        return could


def _to_near_faces(points: Floats, triangles: Floats, tree: cKDTree, face_of: Ints, many: int) -> Floats:
    """The distance of each point to the nearest of the faces that its nearest landmarks lie on: (n,)."""
    _, at = tree.query(points, k=min(many, tree.n))
    faces = face_of[at.reshape(len(points), -1)]
    best = np.full(len(points), np.inf)
    for column in range(faces.shape[1]):
        # The same face again is asked for no second time.
        fresh = np.flatnonzero((faces[:, :column] != faces[:, column, None]).all(axis=1))
        best[fresh] = np.minimum(best[fresh], _to_triangles(points[fresh], triangles[faces[fresh, column]]))
    return best


def _to_triangles(points: Floats, triangles: Floats) -> Floats:
    """The distance of each point to the triangle in the same row: (n,)."""
    a, b, c = triangles.transpose(1, 0, 2)
    ab, ac, ap = b - a, c - a, points - a
    across = _cross(ab, ac)
    size = np.maximum(_dot(across, across), 1e-300)
    v, w = _dot(_cross(ap, ac), across) / size, _dot(_cross(ab, ap), across) / size
    inside = (v >= 0) & (w >= 0) & (v + w <= 1)
    above = _dot(ap, across) ** 2 / size
    aside = np.minimum(np.minimum(_to_lines(ap, ab), _to_lines(ap, ac)), _to_lines(points - b, c - b))
    near: Floats = np.sqrt(np.where(inside, np.minimum(above, aside), aside))
    return near


def _to_lines(point: Floats, run: Floats) -> Floats:
    """Squared, of points to stretches from the origin."""
    share = np.clip(_dot(point, run) / np.maximum(_dot(run, run), 1e-300), 0, 1)
    rest = point - share[:, None] * run
    return _dot(rest, rest)


def _cross(one: Floats, other: Floats) -> Floats:
    """(n, 3); of a few rows numpy's own takes longer to find out what it is asked than to answer."""
    (a, b, c), (x, y, z) = one.T, other.T
    found = np.empty_like(one)
    found[:, 0], found[:, 1], found[:, 2] = b * z - c * y, c * x - a * z, a * y - b * x
    return found


def _dot(one: Floats, other: Floats) -> Floats:
    total: Floats = np.einsum("ij,ij->i", one, other)
    return total
