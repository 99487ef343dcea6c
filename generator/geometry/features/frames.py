"""Where does a point lie, seen along an axis, and which circle runs through points?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.features.facets import Floats
from generator.geometry.features.kinds import Point

_SNAP: Final = 2e-6  # an axis nearer to one of the mesh's own is that one: what is left is rounding


@dataclass(frozen=True, eq=False)
class Frame:
    """Three directions at right angles, each (3,) and of unit length; the axis points to where it points most along x, y or z."""

    right: Floats
    ahead: Floats
    axis: Floats

    def flat(self, points: Floats) -> Floats:
        """(n, 2): as seen against the axis."""
        return points @ np.column_stack([self.right, self.ahead])

    def along(self, points: Floats) -> Floats:
        """(n,): how far along the axis."""
        return points @ self.axis

    def space(self, flat: Floats, along: float) -> Floats:
        """(3,): the point of the mesh's coordinates."""
        found: Floats = flat[0] * self.right + flat[1] * self.ahead + along * self.axis
        return found


def framed(axis: Floats) -> Frame | None:
    """A frame about an axis, the same for both its senses; None for no direction."""
    length = float(np.linalg.norm(axis))
    if not length > 0:
        return None
    axis = axis / length
    axis = np.where(np.abs(axis) < _SNAP, 0.0, axis)
    axis = axis / np.linalg.norm(axis)
    lead = int(np.argmax(np.round(np.abs(axis), 6)))
    axis = axis * np.sign(axis[lead]) + 0.0
    right = np.zeros(3)
    right[(lead + 1) % 3] = 1.0
    right -= axis * (right @ axis)
    right /= np.linalg.norm(right)
    return Frame(right=right, ahead=np.cross(axis, right), axis=axis)


def circle_through(points: Floats) -> tuple[Floats, float] | None:
    """Centre and radius by least squares (Kåsa 1976, one geometric step after it); None for points on a line. points: (n, 2)."""
    middle = points.mean(axis=0)
    scale = float(np.abs(points - middle).max())
    if not scale > 0:
        return None
    near = (points - middle) / scale
    system = np.column_stack([2 * near, np.ones(len(near))])
    solved, _, rank, singular = np.linalg.lstsq(system, (near**2).sum(axis=1), rcond=None)
    if rank < 3 or singular[-1] < 1e-9 * singular[0]:
        return None
    square = float(solved[2] + solved[:2] @ solved[:2])
    if not 0 < square < 1e8:
        return None
    centre, radius = solved[:2], square**0.5
    away = near - centre
    distance = np.linalg.norm(away, axis=1)
    if (distance > 0).all():
        unit = away / distance[:, None]
        step = np.linalg.lstsq(np.column_stack([unit, np.ones(len(unit))]), distance - radius, rcond=1e-9)[0]
        centre, radius = centre + step[:2], radius + float(step[2])
    return (centre * scale + middle, radius * scale) if radius > 0 else None


def point(numbers: Floats) -> Point:
    """As it is told."""
    x, y, z = (float(each) + 0.0 for each in numbers)
    return x, y, z
