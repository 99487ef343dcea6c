"""Which places of a dimension does a view show, and where can a leader point to?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from generator.geometry.drawing.kinds import Flat, View, ViewName
from generator.pages.drawing.ink import Ink
from generator.pages.drawing.paper import PaperSize, PlacedView
from generator.pages.drawing.wanted_kinds import Pointer, Span, WantedSize

ANGLES: Final = (45, 135, -45, -135, 60, 120, -60, -120, 30, 150, -30, -150, 15, 165, -15, -165, 75, 105, -75, -105)
"""Of leaders, in degrees, the better first."""
_ROUND_SEEN: Final = 8
"""Of 24 places on it."""
_EDGE_MM: Final = 0.05
"""So near the end of a dimension lies the line that it measures from, on the part."""
_NEAR: Final = 0.4
"""mm on paper."""
_AWAY_DEG: Final = 75
"""A leader leaves a straight side no flatter."""
_ALONG: Final = (-0.8, -0.4, 0.0, 0.4, 0.8)
"""Places on a straight side, in halves of its length; beyond them its corners may be rounded."""
_MOSTLY: Final = 0.9

Tip = tuple[Flat, Sequence[int]]
"""Where an arrow may point, and in which directions its leader may go from there, in degrees."""


@dataclass(frozen=True, slots=True)
class ShownViews:
    """Views on paper, and the visible lines of the part there."""

    spots: Mapping[ViewName, PlacedView]
    ink: Ink

    def is_shown(self, wanted: WantedSize, place: Span | Pointer) -> bool:
        """Whether the view shows what the dimension would end in."""
        if place.view not in self.spots:
            return False
        if isinstance(place, Pointer):
            return bool(self.tips(wanted, place))
        if wanted.marks:
            return all(self._is_marked(each) for each in wanted.marks if each.view is place.view)
        if wanted.is_overall or (wanted.kind is None and not wanted.is_apart):
            return True
        return all(has_edge(self.spots[place.view].view, each, level=place.is_level) for each in (place.start, place.end))

    def tips(self, wanted: WantedSize, pointer: Pointer) -> list[Tip]:
        """None where the view does not show it."""
        spot = self.spots[pointer.view]
        centre, radius = spot.at(pointer.centre), pointer.radius_mm * spot.scale
        if radius == 0:
            return [(centre, ANGLES)] if self._is_seen(centre, max(wanted.value_mm / 2 * spot.scale, 0.6)) else []
        if pointer.flats or pointer.long_mm:
            return self._flat_tips(pointer, spot)
        if not self.is_round_seen(centre, radius):
            return []
        found = [(_towards(centre, radius, each), (each,)) for each in ANGLES]
        return [each for each in found if self._is_seen(each[0], 0.5)]

    def is_round_seen(self, centre: Flat, radius: float) -> bool:
        """Whether enough of a round is drawn to be pointed at."""
        return sum(self._is_seen(_towards(centre, radius, 15 * step), _NEAR) for step in range(24)) >= _ROUND_SEEN

    def _is_marked(self, pointer: Pointer) -> bool:
        spot = self.spots[pointer.view]
        if pointer.flats or pointer.long_mm:
            return bool(self._flat_tips(pointer, spot))
        return self.is_round_seen(spot.at(pointer.centre), pointer.radius_mm * spot.scale)

    def _flat_tips(self, pointer: Pointer, spot: PlacedView) -> list[Tip]:
        """On the straight sides of a square, a hexagon, a flat or a slot, where all of them are drawn."""
        centre = spot.at(pointer.centre)
        for sides in _turned_sides(pointer, spot.scale):
            on = [point for side in sides for point in side.points(centre)]
            if sum(self._is_seen(each, _NEAR / 2) for each in on) >= _MOSTLY * len(on):
                return [(side.points(centre)[2], [each for each in ANGLES if _between(each, side.turn) <= _AWAY_DEG]) for side in sides]
        return []

    def _is_seen(self, at: Flat, near: float) -> bool:
        """Whether a visible line of the part passes there."""
        return self.ink.under((at[0] - near, at[1] - near, at[0] + near, at[1] + near)) > 0


def alone(view: View, name: ViewName, scale: float) -> ShownViews:
    """What a view shows that is on no sheet yet."""
    spot = PlacedView(view=view, x=2 - view.low[0] * scale, y=2 + view.high[1] * scale, scale=scale)
    paper = PaperSize("", 4 + (view.high[0] - view.low[0]) * scale, 4 + (view.high[1] - view.low[1]) * scale)
    return ShownViews({name: spot}, Ink(paper, ([spot.at(point) for point in line.points] for line in view.visible)))


@dataclass(frozen=True, slots=True)
class _Side:
    """A straight side on paper: how far from the middle, towards where, half of its length."""

    off: float
    turn: float
    half: float

    def points(self, centre: Flat) -> list[Flat]:
        x, y = _towards(centre, self.off, self.turn)
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return [(x + each * self.half * s, y + each * self.half * c) for each in _ALONG]


def _turned_sides(pointer: Pointer, scale: float) -> Iterator[list[_Side]]:
    """Each way in which the shape could lie."""
    radius = pointer.radius_mm * scale
    if pointer.long_mm:
        end = pointer.long_mm / 2 * scale
        for turn in (0, 90, *range(3, 90, 3), *range(93, 180, 3)):
            long = [_Side(radius, turn + each, end - radius) for each in (90, 270)]
            yield [*long, *(_Side(end, turn + each, 0.0) for each in (0, 180))]
        return
    count = pointer.flats
    half = math.sqrt(max((pointer.round_mm / 2 * scale) ** 2 - radius**2, 0.0)) if pointer.round_mm else radius * math.tan(math.pi / count)
    for turn in range(0, 360 // count, 5):
        yield [_Side(radius, turn + 360 / count * each, half) for each in range(count)]


def _towards(centre: Flat, radius: float, degrees: float) -> Flat:
    return centre[0] + radius * math.cos(math.radians(degrees)), centre[1] - radius * math.sin(math.radians(degrees))


def _between(one: float, other: float) -> float:
    return abs((one - other + 180) % 360 - 180)


def has_edge(view: View, at: Flat, *, level: bool) -> bool:
    """Whether a visible line runs across a level or upright dimension where it ends: a line along it that only passes there shows no face."""
    along, across = (0, 1) if level else (1, 0)
    return any(
        max(abs(one[along] - at[along]), abs(other[along] - at[along])) < _EDGE_MM < abs(one[across] - other[across])
        for line in view.visible
        for one, other in pairwise(line.points)
    )
