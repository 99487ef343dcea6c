"""Which drives, heads and windows has a part: squares, hexagons and slots with corners, by plane faces around one axis?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np

from generator.geometry.features.facets import Floats
from generator.geometry.features.frames import Frame, point
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.piercing import Piercing
from generator.geometry.features.sides import Sides

_ANGLE: Final = 0.004  # radians beside a right angle or 60°
_EQUAL: Final = (0.02, 0.002)  # mm and share by which the spacings of a square's or hexagon's sides may differ
_OVERLAP: Final = 0.5  # of the shorter one's length, along the axis and across it, that opposite sides share
# Of the side that a sharp-cornered one would have: with larger radii it is another shape, and every second side of one with
# twelve has 0.46 of a hexagon's.
_SIDE: Final = {Kind.HEXAGON: 0.55, Kind.SQUARE: 0.25, Kind.SLOT: 0.25}
_MOST_PAIRS: Final = 120


@dataclass(frozen=True, eq=False)
class _Pair:
    """Two sides that are parallel. apart: between them, mm; middle: along `direction`, (3,) unit; low, high: along the axis."""

    sides: tuple[int, int]
    direction: Floats
    apart: float
    middle: float
    is_inner: bool
    low: float
    high: float


def polygons_of(sides: Sides, frames: Sequence[Frame], axes: Piercing, slack_mm: float) -> list[Feature]:
    """Squares, hexagons and slots with four corners."""
    found: list[Feature] = []
    for frame in frames:
        pairs = _pairs(sides, frame)
        used: set[int] = set()
        for kind, ring in (*_hexagons(sides, frame, pairs), *_fours(sides, frame, pairs)):
            numbers = {each for pair in ring for each in pair.sides}
            if numbers & used:
                continue
            used |= numbers
            feature = _feature(kind, ring, frame, axes, slack_mm)
            found += [] if feature is None else [feature]
    return found


def _pairs(sides: Sides, frame: Frame) -> list[_Pair]:
    beside = sides.beside(frame)
    normals, offsets = sides.normals[beside], sides.offsets()[beside]
    facing = np.argwhere(np.triu(normals @ normals.T < -1 + _ANGLE**2 / 2, 1))
    found = []
    for one, other in facing[:_MOST_PAIRS].tolist():
        apart = float(offsets[one] + offsets[other])
        first, second = int(beside[one]), int(beside[other])
        across = np.cross(frame.axis, normals[one])
        low, high, share = _shared(sides.span(first, frame.axis), sides.span(second, frame.axis))
        if abs(apart) < 1e-6 or share < _OVERLAP or _shared(sides.span(first, across), sides.span(second, across))[2] < _OVERLAP:
            continue
        middle = float(offsets[one] - offsets[other]) / 2
        found.append(
            _Pair(
                sides=(first, second),
                direction=normals[one],
                apart=abs(apart),
                middle=middle,
                is_inner=apart < 0,
                low=low,
                high=high,
            )
        )
    return found


def _shared(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float, float]:
    """From where to where both reach, and which share of the shorter one that is."""
    low, high = max(one[0], other[0]), min(one[1], other[1])
    shorter = min(one[1] - one[0], other[1] - other[0])
    return low, high, (high - low) / shorter if shorter > 0 else 0.0


def _hexagons(sides: Sides, frame: Frame, pairs: Sequence[_Pair]) -> Iterator[tuple[Kind, tuple[_Pair, ...]]]:
    for one, two in combinations(pairs, 2):
        if not _match(one, two, 0.5):
            continue
        for three in pairs:
            if three is two or three is one or not (_match(one, three, 0.5) and _match(two, three, 0.5)):
                continue
            ring = (one, two, three)
            if one.sides < two.sides < three.sides and _closed(sides, frame, ring, Kind.HEXAGON):
                yield Kind.HEXAGON, ring


def _fours(sides: Sides, frame: Frame, pairs: Sequence[_Pair]) -> Iterator[tuple[Kind, tuple[_Pair, ...]]]:
    for one, two in combinations(pairs, 2):
        if abs(float(one.direction @ two.direction)) > _ANGLE or one.is_inner is not two.is_inner:
            continue
        is_square = abs(one.apart - two.apart) <= _EQUAL[0] + _EQUAL[1] * one.apart
        kind = Kind.SQUARE if is_square else Kind.SLOT
        ring = (one, two) if one.apart <= two.apart else (two, one)
        if (is_square or one.is_inner) and _closed(sides, frame, ring, kind):
            yield kind, ring


def _match(one: _Pair, two: _Pair, cosine: float) -> bool:
    equal = abs(one.apart - two.apart) <= _EQUAL[0] + _EQUAL[1] * one.apart
    turned = abs(abs(float(one.direction @ two.direction)) - cosine) < _ANGLE
    return equal and turned and one.is_inner is two.is_inner


def _closed(sides: Sides, frame: Frame, ring: tuple[_Pair, ...], kind: Kind) -> bool:
    """Whether each side lies where the others leave it room: about the middle, long enough, and at one height."""
    low, high = max(each.low for each in ring), min(each.high for each in ring)
    if high - low < _OVERLAP * min(each.high - each.low for each in ring) or high <= low:
        return False
    centre = _centre(ring, frame)
    for pair in ring:
        across = np.cross(frame.axis, pair.direction)
        full = pair.apart / np.sqrt(3) if kind is Kind.HEXAGON else next(each for each in ring if each is not pair).apart
        at = float(centre @ across)
        if abs(float(centre @ pair.direction) - pair.middle) > 0.01 * pair.apart:
            return False
        for side in pair.sides:
            start, end = sides.span(side, across)
            if end - start < _SIDE[kind] * full or start < at - 0.52 * full or end > at + 0.52 * full:
                return False
    return True


def _centre(ring: tuple[_Pair, ...], frame: Frame) -> Floats:
    """The point on the axis at height 0 that is in the middle of the first two pairs."""
    system = np.stack([ring[0].direction, ring[1].direction, frame.axis])
    centre: Floats = np.linalg.solve(system, np.array([ring[0].middle, ring[1].middle, 0.0]))
    return centre


def _feature(kind: Kind, ring: tuple[_Pair, ...], frame: Frame, axes: Piercing, slack_mm: float) -> Feature | None:
    """None for an inner one without an opening: a cavity is no drive and no slot."""
    low, high = max(each.low for each in ring), min(each.high for each in ring)
    centre = frame.flat(_centre(ring, frame)[None])[0]
    size = float(np.mean([each.apart for each in ring])) if kind is not Kind.SLOT else ring[0].apart
    reach = (0.25 * (high - low), 0.1 * size)
    # Beside the middle, for a smaller hole may go on from a drive's floor.
    beside = [centre + 0.4 * sign * ring[0].apart * frame.flat(ring[0].direction[None])[0] for sign in (-1, 1)]
    closed_low = all(axes.is_closed(frame, each, low, -1.0, reach) for each in beside)
    closed_high = all(axes.is_closed(frame, each, high, 1.0, reach) for each in beside)
    is_inner = ring[0].is_inner
    if is_inner and closed_low and closed_high:
        return None
    # Inner: it opens where nothing closes it. Outer: its top is where a face ends it.
    low_first = (closed_high and not closed_low) if is_inner else (closed_low and not closed_high)
    end, sense = (low, -1.0) if low_first else (high, 1.0)
    return Feature(
        kind=kind,
        at=point(frame.space(centre, end)),
        axis=point(sense * frame.axis),
        size_mm=size,
        within_mm=2 * slack_mm,
        length_mm=high - low,
        second_mm=ring[1].apart if kind is Kind.SLOT else None,
        is_inner=is_inner,
        is_through=not (closed_low or closed_high) if is_inner else None,
    )
