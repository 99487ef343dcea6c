"""Which plane faces are parallel and face each other, in or across the material, and how far are they apart?"""

from __future__ import annotations

from typing import Final

import numpy as np

from generator.geometry.features.frames import framed, point
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.sides import Sides

_MOST_SIDES, _MOST_TOLD, _MOST_OF_ONE = 60, 12, 2
_OVERLAP: Final = 0.3  # of the smaller one's length and width that lies before the larger one
_LEAST_SHARE: Final = 0.01  # of the part's area, that the smaller one has


def spacings_of(sides: Sides, slack_mm: float) -> list[Feature]:
    """The largest pairs; each pair of planes once."""
    few = min(len(sides.areas), _MOST_SIDES)
    if not few:
        return []
    normals, offsets, areas = sides.normals[:few], sides.offsets()[:few], sides.areas[:few]
    least = _LEAST_SHARE * float(sides.areas.sum())
    facing = np.argwhere(np.triu(normals @ normals.T < -1 + 1e-6, 1)).tolist()
    pairs = sorted(facing, key=lambda pair: (-round(float(min(areas[pair[0]], areas[pair[1]])), 6), pair))
    found: list[Feature] = []
    used = [0] * few
    seen: set[tuple[float, ...]] = set()
    for one, other in pairs:
        apart = float(offsets[one] + offsets[other])
        if min(areas[one], areas[other]) < least or abs(apart) < 10 * slack_mm or not _overlap(sides, one, other):
            continue
        if max(used[one], used[other]) >= _MOST_OF_ONE:
            continue
        told = _feature(sides, one, other, apart, slack_mm)
        key = tuple(np.round(np.array([*told.axis, apart, np.dot(told.at, told.axis)]), 3).tolist())
        if key not in seen:
            seen.add(key)
            used[one] += 1
            used[other] += 1
            found.append(told)
    return found[:_MOST_TOLD]


def _overlap(sides: Sides, one: int, other: int) -> bool:
    frame = framed(sides.normals[one])
    if frame is None:
        return False
    first, second = frame.flat(sides.corners[one]), frame.flat(sides.corners[other])
    low = np.maximum(first.min(axis=0), second.min(axis=0))
    high = np.minimum(first.max(axis=0), second.max(axis=0))
    smaller = np.minimum(np.ptp(first, axis=0), np.ptp(second, axis=0))
    return bool((high - low > _OVERLAP * smaller).all())


def _feature(sides: Sides, one: int, other: int, apart: float, slack_mm: float) -> Feature:
    normal = sides.normals[one]
    frame = framed(normal)
    axis = frame.axis if frame is not None else normal
    middle = (sides.centres[one] + sides.centres[other]) / 2
    half = float((sides.offsets()[one] - sides.offsets()[other]) / 2)
    return Feature(
        kind=Kind.FACES,
        at=point(middle + (half - middle @ normal) * normal),
        axis=point(axis),
        size_mm=abs(apart),
        within_mm=2 * slack_mm,
        is_inner=apart < 0,
    )
