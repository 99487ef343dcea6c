"""Which box is the smallest that holds the part, however it was turned when modelled."""

from dataclasses import dataclass
from typing import Final
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError

from generator.geometry.facts import Size
from generator.geometry.mesh import Mesh

__all__ = ["OrientedBox", "box_of", "oriented_box"]

Points = NDArray[np.float64]

MANY = 20_000  # beyond this only the outermost points in SPREAD directions make the hull
SPREAD = 1200
AT_ONCE = 4096  # points held against all directions
DIRECTIONS = 360  # directions that choose the outermost points for the first, coarse look
ANGLES = 60  # turns about each candidate, in steps of 1.5 degrees
CANDIDATES = 240  # flat sides of the hull looked at, largest first
REFINED = 6  # best of them turned on exactly


@dataclass(frozen=True, slots=True, kw_only=True)
class OrientedBox:
    """The size, longest side first, and the directions of its sides: (3, 3), one a row."""

    size_mm: Size
    axes: Points


def oriented_box(points_mm: Points) -> OrientedBox:
    """The smallest box, or one larger by well below a thousandth in rare rounded parts.

    points_mm: (n, 3). One side of a smallest box nearly always lies on a flat side of the
    convex hull (O'Rourke 1985 gives the exceptions), so each such side is tried, the best are
    turned about each of their own axes in turn until nothing shrinks. As modelled is tried too
    and wins a tie.
    """
    if points_mm.ndim != 2 or points_mm.shape[1] != 3 or not len(points_mm):
        raise ValueError(f"points must be (n, 3) with n > 0, not {points_mm.shape}")
    middle = (points_mm.min(axis=0) + points_mm.max(axis=0)) / 2
    scale = float(np.ptp(points_mm, axis=0).max()) or 1.0
    points = (points_mm - middle) / scale
    if len(points) <= MANY:
        axes = _smallest(*_hull(points))
    else:  # a few outermost points first, then those that stick out of the box so found
        few = _outermost(points, _around(SPREAD))
        axes = _smallest(*_hull(few))
        for _ in range(3):
            few = np.vstack([few, _outermost(points, _close_to(axes))])
            axes = min(_shrunk(few, axes), _shrunk(few, np.eye(3)), key=lambda box: box[1])[0]
    return _longest_first(points * scale, axes)


_FOUND: Final[WeakKeyDictionary[Mesh, OrientedBox]] = WeakKeyDictionary()


def box_of(mesh: Mesh) -> OrientedBox:
    """The smallest box of all vertices of a mesh, found once, whoever asks: facts and features do. Raises ValueError as `oriented_box`."""
    if mesh not in _FOUND:
        _FOUND[mesh] = oriented_box(mesh.vertices_mm)
    return _FOUND[mesh]


def _smallest(hull: Points, sides: Points) -> Points:
    best_axes, best = np.eye(3), _volume(hull, np.eye(3))
    for axes in _starts(hull, sides):
        turned, volume = _shrunk(hull, axes)
        if volume < best * (1 - 1e-6):
            best_axes, best = turned, volume
    return best_axes


def _hull(points: Points) -> tuple[Points, Points]:
    """Corner points of the convex hull and the directions of its flat sides, largest first."""
    try:
        hull = ConvexHull(points)
    except (QhullError, ValueError):  # all points in one plane, on one line, or fewer than four
        _, _, across = np.linalg.svd(points - points.mean(axis=0), full_matrices=True)
        return points, across[2:3]
    corners = points[hull.simplices]
    area = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1)
    normals = hull.equations[:, :3]
    leading = np.abs(normals) > 1e-6
    sign = np.sign(normals[np.arange(len(normals)), leading.argmax(axis=1)])
    rounded = np.round(normals * sign[:, None], 5) + 0.0
    sides, which = np.unique(rounded, axis=0, return_inverse=True)
    areas = np.round(np.bincount(which.ravel(), area), 9)
    largest = np.argsort(-areas, kind="stable")[:CANDIDATES]
    return points[hull.vertices], sides[largest] / np.linalg.norm(sides[largest], axis=1)[:, None]


def _starts(hull: Points, sides: Points) -> list[Points]:
    """The most promising boxes of a coarse look: sides of the hull, turned in steps."""
    outer = _outermost(hull, _around(DIRECTIONS))
    right, up = _across(sides)
    angle = np.arange(ANGLES) * (np.pi / 2 / ANGLES)
    cos, sin = np.cos(angle)[None, :, None], np.sin(angle)[None, :, None]
    x = cos * right[:, None] + sin * up[:, None]
    y = cos * up[:, None] - sin * right[:, None]
    flat = _widths(outer, x.reshape(-1, 3)) * _widths(outer, y.reshape(-1, 3))
    volume = flat.reshape(len(sides), ANGLES) * _widths(outer, sides)[:, None]
    turn = volume.argmin(axis=1)
    best = np.argsort(np.round(volume.min(axis=1), 12), kind="stable")[:REFINED]
    boxes = [np.stack([sides[i], x[i, turn[i]], y[i, turn[i]]]) for i in best.tolist()]
    return [np.eye(3), *boxes]


def _shrunk(hull: Points, axes: Points) -> tuple[Points, float]:
    """Turn the box about each of its axes in turn as long as it gets smaller."""
    volume = np.inf
    for _ in range(12):
        for _ in range(3):
            axes = _best_turn(hull, np.roll(axes, 1, axis=0))
        smaller = _volume(hull, axes)
        if smaller >= volume * (1 - 1e-9):
            break
        volume = smaller
    return axes, _volume(hull, axes)


def _best_turn(hull: Points, axes: Points) -> Points:
    """The smallest rectangle about the first axis: one side lies on an edge of the 2D hull."""
    flat = hull @ axes[1:].T
    try:
        outline = flat[ConvexHull(flat).vertices]
    except (QhullError, ValueError):  # all points on one line: along it the box is smallest
        _, _, along = np.linalg.svd(flat - flat.mean(axis=0), full_matrices=True)
        return np.stack([axes[0], *(along @ axes[1:])])
    edge = np.roll(outline, -1, axis=0) - outline
    edge /= np.linalg.norm(edge, axis=1)[:, None]
    across = np.column_stack([-edge[:, 1], edge[:, 0]])
    if len(outline) > 400:  # a round outline: bounds the memory, keeps every n-th edge
        few = np.linspace(0, len(edge) - 1, 400).astype(int)
        edge, across = edge[few], across[few]
    area = np.ptp(outline @ edge.T, axis=0) * np.ptp(outline @ across.T, axis=0)
    best = int(np.argmin(np.round(area, 12)))
    return np.stack([axes[0], edge[best] @ axes[1:], across[best] @ axes[1:]])


def _longest_first(points: Points, axes: Points) -> OrientedBox:
    widths = _widths(points, axes)
    order = np.argsort(-widths, kind="stable")
    a, b, c = widths[order].tolist()
    return OrientedBox(size_mm=(a, b, c), axes=axes[order])


def _volume(points: Points, axes: Points) -> float:
    """Volume of the box, each side longer by a trace: of two flat boxes the smaller wins too."""
    return float(np.prod(_widths(points, axes) + 1e-7))


def _widths(points: Points, directions: Points) -> Points:
    """How far the points reach along each direction: (k,)."""
    width: Points = np.ptp(points @ directions.T, axis=0)
    return width


def _across(directions: Points) -> tuple[Points, Points]:
    """Two unit vectors square to each direction."""
    aside = np.where(np.abs(directions[:, :1]) < 0.6, [[1.0, 0.0, 0.0]], [[0.0, 1.0, 0.0]])
    right = np.cross(directions, aside)
    right /= np.linalg.norm(right, axis=1)[:, None]
    return right, np.cross(directions, right)


def _outermost(points: Points, directions: Points) -> Points:
    """Points that reach furthest in one of the directions, or within single precision as far, in bounded memory.

    They only choose the box; it is measured with all points. Pieces that fit a processor's own memory and single
    precision make it five times as fast.
    """
    count = len(directions)
    furthest = np.full(count, -np.inf, dtype=np.float32)
    which = np.zeros(count, dtype=np.int64)
    directions, near = directions.astype(np.float32), points.astype(np.float32)
    for start in range(0, len(points), AT_ONCE):
        reach = directions @ near[start : start + AT_ONCE].T
        at = reach.argmax(axis=1)
        reached = reach[np.arange(count), at]
        further = reached > furthest
        furthest[further], which[further] = reached[further], at[further] + start
    chosen = np.zeros(len(points), dtype=bool)
    chosen[which] = True
    return points[chosen]


def _close_to(axes: Points) -> Points:
    """Each axis both ways, and directions leaning away from it by 0.1 to 4 degrees."""
    turn = np.arange(12) * (np.pi / 6)
    lean = np.outer([0.0, 0.002, 0.008, 0.025, 0.07], np.ones(12)).ravel()
    x, y = lean * np.tile(np.cos(turn), 5), lean * np.tile(np.sin(turn), 5)
    both = np.vstack([axes, -axes])
    right, up = _across(both)
    near = both[:, None] + x[None, :, None] * right[:, None] + y[None, :, None] * up[:, None]
    return np.unique(near.reshape(-1, 3), axis=0)


def _around(count: int) -> Points:
    """Directions spread evenly over the sphere (a Fibonacci spiral): (count, 3)."""
    step = np.arange(count) + 0.5
    z = 1 - 2 * step / count
    turn = np.pi * (1 + 5**0.5) * step
    ring = np.sqrt(1 - z * z)
    return np.column_stack([ring * np.cos(turn), ring * np.sin(turn), z])
