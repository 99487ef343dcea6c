"""Along which axes is a part drawn: as it was modelled, or turned, because its faces lie askew there?"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError

from generator.geometry.drawing.kinds import AS_MODELLED, Point
from generator.geometry.drawing.solid import Solid

Floats = NDArray[np.float64]

STRAIGHT: Final = 0.99999
"""Cosine, 0.25 degrees: from here a face lies across an axis."""
ALONG: Final = 0.0045
"""Of a normal along an axis, below which the face runs along it: the same 0.25 degrees."""
BETTER: Final = 1.15
"""An axis as modelled stays, unless so many times the surface lies across or along another one."""
ASKEW: Final = 2.0
"""How the part lies about its first axis stays, unless plane faces of so many times the area ask for another."""
LEAST: Final = 0.04
"""Share of the surface: smaller plane faces ask for nothing."""
NEARLY: Final = 0.85
"""Of axes of which so much of the best one's surface is square to, that with the least box is taken."""
ASKED: Final = 60
"""Directions of the largest faces; the others are few."""


def own_axes(solid: Solid) -> tuple[Point, Point, Point]:
    """The part's x, y and z in the coordinates of the mesh, turned no further than its faces ask for.

    First the axis that most of the surface lies across or along, as it does in what is turned or pulled; then about it by the
    largest plane faces. `AS_MODELLED` wherever the axes of the model do about as well, and for scans.
    """
    if solid.is_rough:
        return AS_MODELLED
    corners = solid.points[solid.faces]
    area = np.sqrt((np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) ** 2).sum(axis=1))
    share = area / area.sum()
    asked = _directions(solid.normals, share)
    axes = np.eye(3)
    square = _square(asked, solid.normals, share)
    first = _best(square, _square(axes, solid.normals, share), BETTER)
    if first is not None:
        near = np.flatnonzero(square > NEARLY * square[first])
        outermost = _outermost(solid.points)
        first = min(near.tolist(), key=lambda each: _room(outermost, asked[each]))
        axes = _brought_to(asked[first], int(np.argmax(np.abs(asked[first]))))
    main = int(np.argmax(_square(axes, solid.normals, share)))
    across = asked[np.abs(asked @ axes[main]) < ALONG]
    second = _best(_facing(across, solid.normals, share), _facing(np.delete(axes, main, axis=0), solid.normals, share), ASKEW)
    if second is not None:
        seen = axes @ across[second]
        seen[main] = 0
        axes = _brought_to(seen / np.sqrt(seen @ seen), int(np.argmax(np.abs(seen)))) @ axes
    if first is None and second is None:
        return AS_MODELLED
    x, y, z = (_point(each) for each in axes)
    return x, y, z


def _directions(normals: Floats, share: Floats) -> Floats:
    """The normals of the largest plane faces, (n, 3), those that are as good as one as one."""
    rounded = np.round(normals, 3)
    leading = np.where(rounded[:, 0] != 0, rounded[:, 0], np.where(rounded[:, 1] != 0, rounded[:, 1], rounded[:, 2]))
    _, first, of = np.unique(rounded * np.where(leading < 0, -1, 1)[:, None], axis=0, return_index=True, return_inverse=True)
    total = np.bincount(of.ravel(), share)
    found = normals[first[np.argsort(-total, kind="stable")[:ASKED]]]
    turned = normals @ found.T
    mean = (np.where(np.abs(turned) > STRAIGHT, np.sign(turned), 0) * share[:, None]).T @ normals
    even: Floats = mean / np.sqrt((mean * mean).sum(axis=1))[:, None]
    return even


def _facing(axes: Floats, normals: Floats, share: Floats) -> Floats:
    """The share of the surface across each axis."""
    found: Floats = share @ (np.abs(normals @ axes.T) > STRAIGHT)
    return found


def _square(axes: Floats, normals: Floats, share: Floats) -> Floats:
    """The share of the surface across or along each axis, where some lies across it."""
    along = np.abs(normals @ axes.T)
    facing = share @ (along > STRAIGHT)
    found: Floats = np.where(facing > LEAST / 2, facing + share @ (along < ALONG), 0)
    return found


def _outermost(points: Floats) -> Floats:
    """The corners of the convex hull, which are as far in every direction; all points where they lie flat."""
    try:
        return points[ConvexHull(points).vertices]
    except (QhullError, ValueError):
        return points


def _room(points: Floats, axis: Floats) -> float:
    """The volume of the least box about the part with sides along an axis, to a few percent."""
    across = np.cross(axis, np.eye(3)[int(np.argmin(np.abs(axis)))])
    across /= np.sqrt(across @ across)
    turns = np.radians(np.arange(0, 90, 5))
    sides = np.cos(turns)[:, None] * across + np.sin(turns)[:, None] * np.cross(axis, across)
    wide, deep = np.ptp(points @ sides.T, axis=0), np.ptp(points @ np.cross(axis, sides).T, axis=0)
    return float((wide * deep).min() * np.ptp(points @ axis))


def _best(asked: Floats, as_modelled: Floats, better: float) -> int | None:
    """Which direction is so much better than any axis of the model."""
    if not len(asked) or asked.max() < max(better * as_modelled.max(), LEAST):
        return None
    return int(np.argmax(asked))


def _brought_to(direction: Floats, axis: int) -> Floats:
    """The least turn that brings a direction to lie along an axis, as rows (Rodrigues)."""
    wanted = np.zeros(3)
    wanted[axis] = np.sign(direction[axis])
    about, cosine = np.cross(direction, wanted), float(direction @ wanted)
    skew = np.array([[0, -about[2], about[1]], [about[2], 0, -about[0]], [-about[1], about[0], 0]])
    turn: Floats = np.eye(3) + skew + skew @ skew / (1 + cosine)
    return turn


def _point(numbers: Floats) -> Point:
    x, y, z = (round(float(each), 12) + 0.0 for each in numbers)
    return x, y, z
