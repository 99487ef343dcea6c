"""A size and a feature as a drawing writes them."""

from __future__ import annotations

import math
from typing import Final

from generator.geometry.features.kinds import Feature, Kind
from generator.pages.drawing.groups import FeatureGroup
from generator.pages.wording import Wording

_FINE_MM: Final = 0.011
"""What is measured of facets is so far off."""


def size_words(size_mm: float, w: Wording) -> str:
    """As a drawing states a size: to 0.05 mm where it is one, else to 0.1 mm; common practice, no source."""
    fine = round(size_mm * 20) / 20
    is_fine = size_mm < 100 and abs(size_mm - fine) < _FINE_MM
    return w.measure(fine, 2) if is_fine else w.measure(size_mm, 1)


def feature_words(group: FeatureGroup, w: Wording) -> str:
    """What stands on the leader: how many, what, how deep."""
    feature = group.first
    text = w(
        "drawing.feature.repeated" if feature.kind is Kind.TEETH and feature.second_mm is None else f"drawing.feature.{feature.kind.value}",
        size=size_words(feature.size_mm, w),
        length=size_words(feature.length_mm, w) if feature.length_mm and group.is_one_length and _tells_length(feature) else None,
        second=size_words(feature.second_mm, w) if feature.second_mm else None,
        pitch=w.measure(feature.second_mm, 1) if feature.second_mm else None,
        count=str(feature.count) if feature.count else None,
        hand=w(f"drawing.hand.{feature.hand.value}") if feature.hand else None,
    )
    if group.seat is not None:
        text = _with_seat(text, group.seat, w)
    if group.ring is not None:
        text = w("drawing.on_ring", feature=text, ring=size_words(2 * group.ring.radius_mm, w))
    return f"{len(group.members)} × {text}" if len(group.members) > 1 else text


def _with_seat(text: str, seat: Feature, w: Wording) -> str:
    """A stepped bore by its depth, a countersink by its whole angle (ISO 129-1, from memory)."""
    wide, deep = size_words(seat.size_mm, w), seat.length_mm or 0.0
    if seat.second_mm is None or not deep:
        return w("drawing.seat", feature=text, seat=wide, depth=size_words(deep, w))
    angle = 2 * math.degrees(math.atan((seat.size_mm - seat.second_mm) / 2 / deep))
    return w("drawing.countersunk", feature=text, seat=wide, angle=w.number(angle, 0))


def _tells_length(feature: Feature) -> bool:
    """How deep a hole or pocket is, how high a boss; the length of other outer shapes is a dimension between faces."""
    return feature.is_through is not True and (feature.is_inner or feature.kind is Kind.BOSS)
