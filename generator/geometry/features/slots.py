"""Which slots with round ends has a part: two half rounds of one size that face each other?"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import Final

import numpy as np

from generator.geometry.features.facets import Facets, Floats
from generator.geometry.features.frames import point
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.piercing import Piercing
from generator.geometry.features.rounds import Round, arcs_of

_HALF_DEG: Final = (140.0, 194.0)
_AWAY: Final = float(np.cos(np.radians(25)))  # how far an end may look beside the line between the two
_MOST: Final = 200


def slots_of(facets: Facets, rounds: Sequence[Round], axes: Piercing) -> list[Feature]:
    """Each pair once; an end is part of one slot."""
    halves = [each for each in rounds if each.is_inner and _HALF_DEG[0] <= each.arc_deg <= _HALF_DEG[1]][:_MOST]
    looks = [_looks(facets, each) for each in halves]
    found: list[Feature] = []
    used: set[int] = set()
    pairs = sorted(combinations(range(len(halves)), 2), key=lambda pair: _apart(halves[pair[0]], halves[pair[1]]))
    for one, other in pairs:
        if one not in used and other not in used and _face(halves[one], halves[other], looks[one], looks[other]):
            used |= {one, other}
            slot = _slot(halves[one], halves[other], axes)
            found += [] if slot is None else [slot]
    return found


def _looks(facets: Facets, half: Round) -> Floats:
    """(2,): from the axis to the middle of the arc."""
    arcs = np.flatnonzero(arcs_of(facets, half)) + 0.5
    turn = arcs * (2 * np.pi / 720)
    mean = np.array([np.cos(turn).sum(), np.sin(turn).sum()])
    looks: Floats = mean / max(float(np.hypot(*mean)), 1e-12)
    return looks


def _between(one: Round, other: Round) -> Floats:
    middle = other.frame.space(other.centre, (other.low.along + other.high.along) / 2)
    between: Floats = one.frame.flat(middle[None])[0] - one.centre
    return between


def _apart(one: Round, other: Round) -> float:
    return float(np.hypot(*_between(one, other)))


def _face(one: Round, other: Round, looks: Floats, looks_other: Floats) -> bool:
    if abs(one.radius - other.radius) > 0.01 * one.radius or abs(one.frame.axis @ other.frame.axis) < 1 - 1e-5:
        return False
    between = _between(one, other)
    apart = float(np.hypot(*between))
    if apart < 0.02 * one.radius or apart > 30 * one.radius:
        return False
    shared = min(one.high.along, other.high.along) - max(one.low.along, other.low.along)
    if shared < 0.5 * min(one.length, other.length):
        return False
    away = between / apart
    return bool(away @ looks < -_AWAY and away @ looks_other > _AWAY)


def _slot(one: Round, other: Round, axes: Piercing) -> Feature | None:
    """None where both ends are closed: a cavity is no slot."""
    between = _between(one, other)
    centre = one.centre + between / 2
    low, high = max(one.low.along, other.low.along), min(one.high.along, other.high.along)
    reach = (0.25 * (high - low), 0.2 * one.radius)
    closed_low = axes.is_closed(one.frame, centre, low, -1.0, reach)
    closed_high = axes.is_closed(one.frame, centre, high, 1.0, reach)
    if closed_low and closed_high:
        return None
    end, sense = (low, -1.0) if closed_high else (high, 1.0)
    return Feature(
        kind=Kind.SLOT,
        at=point(one.frame.space(centre, end)),
        axis=point(sense * one.frame.axis),
        size_mm=one.radius + other.radius,
        within_mm=max(one.within_mm, other.within_mm),
        length_mm=high - low,
        second_mm=float(np.hypot(*between)) + one.radius + other.radius,
        is_inner=True,
        is_through=not (closed_low or closed_high),
    )
