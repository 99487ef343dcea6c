"""Which features are the same several times, and do they lie on one circle?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from generator.geometry.drawing.kinds import Point
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.telling import off_axis, span_along

_SAME_MM: Final = 0.03
_SAME_DEPTH_MM: Final = 0.1
_EVEN_DEG: Final = 1.0
_ORDER: Final = (Kind.TURNED, Kind.TEETH, Kind.THREAD, Kind.HEXAGON, Kind.SQUARE, Kind.FLATS, Kind.HOLE, Kind.BOSS, Kind.SLOT, Kind.FACES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """Centres on one circle."""

    centre: Point
    radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureGroup:
    """Features of one kind, size and direction; the seat of each, if it has one."""

    members: tuple[Feature, ...]
    seat: Feature | None = None
    """A counterbore or countersink: the larger round above each of them."""
    ring: Ring | None = None
    is_one_length: bool = True

    @property
    def first(self) -> Feature:
        return self.members[0]


def grouped(found: Sequence[Feature]) -> list[FeatureGroup]:
    """All features but the seats, which go with what lies below them; what tells most first."""
    seats = {each.seat: each for each in found if each.seat is not None and 0 <= each.seat < len(found)}
    groups: list[list[tuple[Feature, Feature | None]]] = []
    for index, feature in enumerate(found):
        if feature.seat is not None and 0 <= feature.seat < len(found):
            continue
        mine = (feature, seats.get(index))
        for group in groups:
            if feature.kind is not Kind.FACES and _alike(*group[0], *mine):
                group.append(mine)
                break
        else:
            groups.append([mine])
    made = [_group(each) for each in groups]
    return sorted(made, key=lambda group: _ORDER.index(group.first.kind))


def _alike(one: Feature, one_seat: Feature | None, other: Feature, other_seat: Feature | None) -> bool:
    if one.kind is not other.kind or one.is_inner != other.is_inner or one.is_through != other.is_through:
        return False
    if (one_seat is None) != (other_seat is None):
        return False
    if one_seat and other_seat and not _alike(one_seat, None, other_seat, None):
        return False
    dot = sum(a * b for a, b in zip(one.axis, other.axis, strict=True))
    if (abs(dot) if one.is_through or one.kind is Kind.BOSS else dot) < 0.9999:
        return False
    if one.kind is Kind.BOSS and abs(one.size_mm - other.size_mm) < _SAME_MM and off_axis(one, other) < _SAME_MM:
        return True
    lengths = one.length_mm, other.length_mm
    same_length = None in lengths or abs((lengths[0] or 0) - (lengths[1] or 0)) < _SAME_DEPTH_MM
    return abs(one.size_mm - other.size_mm) < _SAME_MM and same_length and abs((one.second_mm or 0) - (other.second_mm or 0)) < _SAME_DEPTH_MM


def _group(members: Sequence[tuple[Feature, Feature | None]]) -> FeatureGroup:
    features = _in_one_piece([feature for feature, _ in members])
    lengths = [feature.length_mm or 0.0 for feature, _ in members]
    return FeatureGroup(members=features, seat=members[0][1], ring=_ring(features), is_one_length=max(lengths) - min(lengths) < _SAME_DEPTH_MM)


def _in_one_piece(features: Sequence[Feature]) -> tuple[Feature, ...]:
    """Of rounds in line one, where the gap between them is less than their diameter: ribs part a cradle, and lugs a bore."""
    first = features[0]
    if first.kind not in (Kind.HOLE, Kind.BOSS):
        return tuple(features)
    kept: list[Feature] = []
    ends: list[tuple[Feature, float]] = []
    for each in sorted(features, key=lambda each: span_along(each, first.axis)):
        low, high = span_along(each, first.axis)
        number = next((i for i, (last, end) in enumerate(ends) if off_axis(each, last) < _SAME_MM and low - end < each.size_mm), None)
        if number is None:
            kept.append(each)
            ends.append((each, high))
        else:
            ends[number] = (each, max(high, ends[number][1]))
    return tuple(each for each in features if any(each is one for one in kept))


def _ring(features: Sequence[Feature]) -> Ring | None:
    """Three or more at the same distance from their middle and from their neighbours; a square of four is told by its sides."""
    if len(features) < 3 or len(features) == 4:
        return None
    count = len(features)
    x, y, z = (sum(each.at[i] for each in features) / count for i in range(3))
    axis = features[0].axis
    away = []
    for each in features:
        run = _away(each.at, (x, y, z))
        along = dot(run, axis)
        away.append((run[0] - along * axis[0], run[1] - along * axis[1], run[2] - along * axis[2]))
    radii = [math.hypot(*each) for each in away]
    radius = sum(radii) / count
    if radius < 0.5 or max(abs(each - radius) for each in radii) > max(0.05, 0.002 * radius) or not _is_even(away, axis):
        return None
    return Ring(centre=(x, y, z), radius_mm=radius)


def _is_even(away: Sequence[Point], axis: Point) -> bool:
    """Whether each lies as far around from the next as all do."""
    first = away[0]
    across = (axis[1] * first[2] - axis[2] * first[1], axis[2] * first[0] - axis[0] * first[2], axis[0] * first[1] - axis[1] * first[0])
    turns = sorted(math.degrees(math.atan2(dot(each, across), dot(each, first))) % 360 for each in away)
    steps = [after - before for before, after in zip(turns, [*turns[1:], turns[0] + 360], strict=True)]
    return max(abs(step - 360 / len(away)) for step in steps) < _EVEN_DEG


def _away(one: Point, other: Point) -> Point:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
