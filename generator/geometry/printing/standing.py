"""On which sides can a part stand? Its own plane faces on its convex hull, the sides that it rests on by itself, and the six axes.

A body stands still on a side of its hull where its centre of mass is right above it (the plain statics of a rigid body). On
a plane face of its own it is printed all the same where it would fall over, for it sticks to the plate. Faces that look the
same way are one side; of a ball, which has as many as it has facets, the largest count.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError

from generator.geometry.printing.pose import AXES, Point

__all__ = ["Frame", "Hull", "frames", "hull_of", "stands"]

Points = NDArray[np.float64]
MOST_SIDES: Final = 8
LOOKED_AT: Final = 32  # sides of a hull, the largest first
OWN_MM2: Final = 1e-4  # of the diagonal squared: what lies on the plate by less is no plane face
MANY: Final = 20_000  # points; of more, those that are farthest off in each direction make the hull
BINS: Final = 48  # to a side of a cube of directions
SAME_SIDE_COS: Final = float(np.cos(np.radians(1.0)))
AXIS_COS: Final = float(np.cos(np.radians(0.05)))
TOUCHING: Final = 1e-4  # of the diagonal: what is no higher lies on the plate


@dataclass(frozen=True, slots=True, eq=False)
class Hull:
    """The convex hull: its corners (n, 3), its sides' outward directions (m, 3), the largest first, and the centre of mass."""

    corners: Points
    sides: Points
    centre: Points
    diagonal: float


@dataclass(frozen=True, slots=True, eq=False)
class Frame:
    """Rows x, y and upwards, in coordinates of the mesh."""

    rows: Points
    is_stable: bool

    @property
    def up(self) -> Point:
        x, y, z = (round(float(each), 12) + 0.0 for each in self.rows[2])
        return x, y, z


def hull_of(points: Points, faces: NDArray[np.int64]) -> Hull:
    """Of points (n, 3) and triangles (m, 3) of them; of what is flat, or too small to tell, all points and no sides."""
    diagonal, every = float(np.linalg.norm(np.ptp(points, axis=0))), points
    if len(points) > MANY:
        points = _farthest(points)
    try:
        hull = ConvexHull(points)
    except (QhullError, ValueError):
        return Hull(points, np.zeros((0, 3)), points.mean(axis=0), diagonal)
    facets = points[hull.simplices]
    areas = np.linalg.norm(np.cross(facets[:, 1] - facets[:, 0], facets[:, 2] - facets[:, 0]), axis=1) / 2
    return Hull(points[hull.vertices], _sides(hull.equations[:, :3], areas), _centre(every[faces], facets, hull.equations), diagonal)


def _farthest(points: Points) -> Points:
    """Of the points that lie in one direction from the middle, a square degree or two, the one that is farthest off."""
    from_middle = points - (points.min(axis=0) + points.max(axis=0)) / 2
    size = np.abs(from_middle)
    axis = size.argmax(axis=1)
    row = np.arange(len(points))
    along = np.maximum(size[row, axis], 1e-300)
    cell = axis * 2 + (from_middle[row, axis] > 0)
    for step in (1, 2):
        share = from_middle[row, (axis + step) % 3] / along
        cell = cell * BINS + np.clip((share + 1) / 2 * BINS, 0, BINS - 1).astype(np.int64)
    order = np.lexsort((-np.einsum("ij,ij->i", from_middle, from_middle), cell))
    first = np.ones(len(order), dtype=bool)
    first[1:] = cell[order][1:] != cell[order][:-1]
    return points[np.sort(order[first])]


def _sides(normals: Points, areas: Points) -> Points:
    """One direction for the facets that look nearly the same way, that of the most area first."""
    same, index = np.unique(np.round(normals, 5), axis=0, return_inverse=True)
    total = np.bincount(index.ravel(), areas, len(same))
    order = np.lexsort((*same.T[::-1], -np.round(total, 6)))[:LOOKED_AT]
    kept: list[Points] = []
    members = np.argsort(index.ravel(), kind="stable")
    starts = np.searchsorted(index.ravel()[members], np.arange(len(same) + 1))
    for each in order:
        own = members[starts[each] : starts[each + 1]]
        # The mean of what was rounded to the same: truer than the rounded direction.
        facing = (normals[own] * areas[own, None]).sum(axis=0)
        length = float(np.linalg.norm(facing))
        if length > 0 and not any(float(facing @ other) / length > SAME_SIDE_COS for other in kept):
            kept.append(facing / length)
    return np.array(kept).reshape(-1, 3)


def _centre(corners: Points, facets: Points, equations: Points) -> Points:
    """The centre of mass; of a mesh that encloses nothing that of its hull."""
    home = facets.reshape(-1, 3).mean(axis=0)
    own = _enclosed(corners - home)
    if own is None:
        turned = np.einsum("ij,ij->i", np.cross(facets[:, 1] - facets[:, 0], facets[:, 2] - facets[:, 0]), equations[:, :3]) < 0
        outwards = np.where(turned[:, None, None], facets[:, ::-1], facets)
        own = _enclosed(outwards - home)
    centre: Points = home + (np.zeros(3) if own is None else own)
    return centre


def _enclosed(corners: Points) -> Points | None:
    a, b, c = corners.transpose(1, 0, 2)
    volumes = np.einsum("ij,ij->i", a, np.cross(b, c)) / 6
    volume, reach = float(volumes.sum()), float(np.abs(volumes).sum())
    if volume <= 1e-6 * reach:
        return None
    centre: Points = (volumes[:, None] * (a + b + c)).sum(axis=0) / 4 / volume
    low, high = corners.reshape(-1, 3).min(axis=0), corners.reshape(-1, 3).max(axis=0)
    return centre if ((centre >= low) & (centre <= high)).all() else None


def frames(hull: Hull, lying: Callable[[Points], float], *, most_sides: int, looked_at: int) -> list[Frame]:
    """The six axes, as modelled first, then the part's own plane faces and last what else it rests on, each the largest first.

    looked_at: of so many sides, the largest, it is asked whether they are the part's own.
    lying: how much of the surface lies on the plate, mm², with this direction down.
    """
    ups = [np.array(up) for up in AXES.values()]
    found = [Frame(rows, stands(hull, rows)) for rows in (_tightest(hull.corners, up) for up in ups)]
    askew = [side for side in hull.sides[:looked_at] if max(float(-side @ up) for up in ups) < AXIS_COS]
    own = [lying(side) for side in askew]
    largest = sorted((at for at in range(len(askew)) if own[at] > OWN_MM2 * hull.diagonal**2), key=lambda at: (-round(own[at], 3), at))
    for at in (*largest, *(at for at in range(len(askew)) if at not in largest)):
        if len(found) >= len(AXES) + most_sides:
            break
        rows = _tightest(hull.corners, -askew[at])
        if stands(hull, rows) or at in largest:
            found.append(Frame(rows, stands(hull, rows)))
    return found


def _tightest(points: Points, up: Points) -> Points:
    """The frame in which the box round the points has the smallest floor, its longer side along x.

    A rectangle of the least area has a side along one of the outline's edges (Freeman and Shapira 1975, from memory).
    """
    least = np.eye(3)[int(np.argmin(np.abs(up)))]
    across = np.cross(up, least)
    across /= np.linalg.norm(across)
    flat = points @ np.stack([across, np.cross(up, across)]).T
    try:
        outline = flat[ConvexHull(flat).vertices]
    except (QhullError, ValueError):
        outline = flat
    edges = np.roll(outline, -1, axis=0) - outline
    turns = np.unique(np.round(np.arctan2(edges[:, 1], edges[:, 0]) % (np.pi / 2), 9))
    cos, sin = np.cos(turns)[:, None], np.sin(turns)[:, None]
    width = np.ptp(cos * outline[:, 0] + sin * outline[:, 1], axis=1)
    depth = np.ptp(cos * outline[:, 1] - sin * outline[:, 0], axis=1)
    best = int(np.argmin(np.round(width * depth, 9)))
    x = np.cos(turns[best]) * across + np.sin(turns[best]) * np.cross(up, across)
    if depth[best] > width[best]:
        x = np.cross(up, x)
    return np.stack([x, np.cross(up, x), up])


def stands(hull: Hull, rows: Points) -> bool:
    """Whether the centre of mass is over what touches the plate."""
    placed = hull.corners @ rows.T
    touching = placed[placed[:, 2] <= placed[:, 2].min() + TOUCHING * hull.diagonal, :2]
    centre = rows[:2] @ hull.centre
    try:
        equations = ConvexHull(touching).equations
    except (QhullError, ValueError):
        return False  # an edge or a corner
    return bool((equations[:, :2] @ centre + equations[:, 2] <= TOUCHING * hull.diagonal).all())
