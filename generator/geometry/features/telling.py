"""Which of what was recognised would nobody call a feature of its own: a groove in a bore's wall, a thread's core?

The finder of features tells every round of the surface. Who reads a drawing or a list takes "hole" for one that was drilled.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from generator.geometry.features.kinds import Feature, Kind

_PARALLEL: Final = 1 - 1e-5
_OPEN_DEG: Final = 330.0
_NARROW: Final = 0.2  # length of a diameter: less within a bore is a ring groove (common practice, no source)
_CORE: Final = 1.5  # pitches from crest to core, in the diameter: 1.23 of ISO 68-1, 0.9 to 1.3 of coarse and round ones


def worth_telling(found: Sequence[Feature]) -> tuple[Feature, ...]:
    """All but grooves in the walls of bores and the cores of threads, in the same order; a seat goes on naming its hole."""
    below = {each.seat for each in found if each.seat is not None}
    kept = [i for i, each in enumerate(found) if i in below or each.seat is not None or not any(_is_of(each, other) for other in found if other is not each)]
    place = {number: at for at, number in enumerate(kept)}
    return tuple(replace(found[i], seat=None if (seat := found[i].seat) is None else place.get(seat)) for i in kept)


def without_cores(found: Sequence[Feature]) -> tuple[Feature, ...]:
    """All but the rounds that are the core, or the land, of a thread, which tells more; seats are not kept in step."""
    threads = [each for each in found if each.kind is Kind.THREAD]
    return tuple(each for each in found if each in threads or not any(_is_of(each, thread) for thread in threads))


def _is_of(feature: Feature, other: Feature) -> bool:
    """Whether a feature is nothing but a part of another."""
    if feature.kind not in {Kind.HOLE, Kind.SLOT, Kind.BOSS} or other.kind not in {Kind.HOLE, Kind.THREAD}:
        return False
    if feature.is_inner is not other.is_inner or abs(_dot(feature.axis, other.axis)) < _PARALLEL:
        return False
    if other.kind is Kind.THREAD:
        return _is_core(feature, other)
    if feature.kind is Kind.SLOT:
        return _is_pair_of_grooves(feature, other)
    return _is_groove_along(feature, other) or _is_ring_groove(feature, other)


def _is_core(feature: Feature, thread: Feature) -> bool:
    """Of a thread's flanks the ground, or the land on top."""
    if feature.kind is Kind.SLOT or off_axis(feature, thread) > 0.02 * thread.size_mm:
        return False
    return abs(thread.size_mm - feature.size_mm) <= _CORE * (thread.second_mm or 0.0) and _shared(feature, thread) > 0.8


def _is_groove_along(feature: Feature, bore: Feature) -> bool:
    """Open towards a wider bore, in whose wall its axis lies."""
    if feature.arc_deg >= _OPEN_DEG or bore.size_mm < 1.5 * feature.size_mm or _shared(feature, bore) < 0.5:
        return False
    return abs(off_axis(feature, bore) - bore.size_mm / 2) < 0.45 * feature.size_mm


def _is_pair_of_grooves(slot: Feature, bore: Feature) -> bool:
    """Two grooves on either side of a bore look like the ends of a slot across it."""
    is_across = slot.size_mm < bore.size_mm < (slot.second_mm or 0.0)
    return is_across and off_axis(slot, bore) < 0.05 * bore.size_mm and _shared(slot, bore) > 0.5


def _is_ring_groove(feature: Feature, bore: Feature) -> bool:
    """A little wider for a little while, between both ends of a bore."""
    if not bore.size_mm < feature.size_mm or (feature.length_mm or 0.0) > _NARROW * feature.size_mm or off_axis(feature, bore) > 0.02 * bore.size_mm:
        return False
    (low, high), (first, last) = span_along(feature, bore.axis), span_along(bore, bore.axis)
    return first < low and high < last


def _shared(feature: Feature, other: Feature) -> float:
    """The share of a feature's length along which the other is, too."""
    (low, high), (first, last) = span_along(feature, other.axis), span_along(other, other.axis)
    return (min(high, last) - max(low, first)) / max(high - low, 1e-9)


def span_along(feature: Feature, axis: tuple[float, float, float]) -> tuple[float, float]:
    """From where to where along a direction a feature goes that lies along it."""
    end = _dot(feature.at, axis)
    start = end - math.copysign(feature.length_mm or 0.0, _dot(feature.axis, axis))
    return min(start, end), max(start, end)


def off_axis(feature: Feature, other: Feature) -> float:
    """How far apart two parallel axes are."""
    run = tuple(a - b for a, b in zip(feature.at, other.at, strict=True))
    along = sum(a * b for a, b in zip(run, other.axis, strict=True))
    return math.sqrt(max(sum(each * each for each in run) - along * along, 0.0))


def _dot(one: tuple[float, float, float], other: tuple[float, float, float]) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
