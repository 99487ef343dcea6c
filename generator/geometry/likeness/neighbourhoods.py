"""How does a surface lie about its points: bent, edged, thin, alone?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

__all__ = ["BINS", "LADDER_MM", "apart", "seen_within", "sums_within"]

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

LADDER_MM: Final = (1.5, 2.5, 4.0, 6.5, 10.0, 16.0, 26.0, 42.0, 68.0)
"""Radii at which two parts are compared in their own size, so that a piece of one is known by what is left."""
_STEPS: Final = 7
BINS: Final = 2 * _STEPS * _STEPS
_NEIGHBOURS: Final = 16
_FACING, _LEAST = 0.2, 0.05
_AT_ONCE: Final = 64  # centres: what is worked on stays in the processor's own memory


def apart(some: Singles, every: Singles) -> Singles:
    """The distances of each of some points from each of all."""
    squares = (some * some).sum(axis=1)[:, None] + (every * every).sum(axis=1)[None]
    squares -= 2 * (some @ every.T)
    np.maximum(squares, 0, out=squares)
    far: Singles = np.sqrt(squares, out=squares)
    return far


def evened(points: Floats, ways: Floats) -> tuple[Floats, Floats]:
    """What share of the area at each point is surface that was meant, and the way out there as its neighbours have it.

    A rough surface has more area, and so more points, than the smooth one that was meant: each facet counts as it is seen
    along the mean way out of its neighbours.
    """
    _, which = cKDTree(points).query(points, k=min(_NEIGHBOURS, len(points)))
    facing = np.einsum("ij,ikj->ik", ways, ways[which]) > _FACING
    meant = np.einsum("ik,ikj->ij", facing, ways[which])
    meant /= np.maximum(np.linalg.norm(meant, axis=1), 1e-12)[:, None]
    return np.maximum(np.einsum("ij,ij->i", ways, meant), _LEAST), meant


def sums_within(points: Singles, ways: Singles, weight: Singles, centres: int, radii: Sequence[float]) -> Singles:
    """(radii, centres, 7): the weighted sum of places, of ways out, and the weight of the points within each radius of each centre.

    The centres are the first of the points.
    """
    summed = np.hstack([points, ways, np.ones((len(points), 1), np.float32)]) * weight[:, None]
    found = np.empty((len(radii), centres, 7), np.float32)
    for start in range(0, centres, _AT_ONCE):
        some = slice(start, min(start + _AT_ONCE, centres))
        far = apart(points[some], points)
        for at, radius in enumerate(radii):
            found[at, some] = (far < np.float32(radius)).astype(np.float32) @ summed
    return found


def seen_within(  # noqa: PLR0917  the surface, then the ball
    sums: Singles, points: Singles, ways: Singles, weight: Singles, radius: float, density: float
) -> Floats:
    """Which share of the centres sees what within `radius`: BINS numbers that add up to 1.

    sums: of `sums_within`. density: the area of one point in squares of the unit. In the first half of the bins stands area
    in the ball (of a plane: 1) against how far its middle lies outwards, in the second how far aside it lies against how
    alike the ways out are.
    """
    centres, out_of = points[: len(sums)].astype(np.float64), ways[: len(sums)].astype(np.float64)
    count = np.maximum(sums[:, 6].astype(np.float64), 1e-6)
    own = weight[: len(sums)].astype(np.float64)
    area = count * density / (np.pi * radius * radius)
    offset = (sums[:, :3] / count[:, None] - centres) / radius
    out = np.einsum("ij,ij->i", offset, out_of)
    aside = np.linalg.norm(offset - out[:, None] * out_of, axis=1)
    alike = np.einsum("ij,ij->i", sums[:, 3:6] / count[:, None], out_of)
    one = _shared(np.log2(np.maximum(area, 1e-3)), out, (-1.5, 2.5), (-0.7, 0.35), own)
    other = _shared(aside, alike, (0.0, 0.65), (-0.3, 1.0), own)
    shares: Floats = np.concatenate([one, other]) / (2 * own.sum())
    return shares


def _shared(x: Floats, y: Floats, within_x: tuple[float, float], within_y: tuple[float, float], weight: Floats) -> Floats:
    """A histogram in which each value is shared by its two neighbouring bins, so that a trace of noise moves a trace of it."""
    bins = np.zeros(_STEPS * _STEPS)
    (i, u), (j, v) = _placed(x, *within_x), _placed(y, *within_y)
    for di, du in ((0, 1 - u), (1, u)):
        for dj, dv in ((0, 1 - v), (1, v)):
            bins += np.bincount((i + di) * _STEPS + j + dj, du * dv * weight, len(bins))
    return bins


def _placed(values: Floats, low: float, high: float) -> tuple[NDArray[np.int64], Floats]:
    at = np.clip((values - low) / (high - low), 0, 1) * (_STEPS - 1)
    whole = np.minimum(at.astype(np.int64), _STEPS - 2)
    return whole, at - whole
