"""Where does each dimension stand, so that none crosses or covers another, a text or a line of the part under a text?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final

from generator.geometry.drawing.kinds import Flat, View
from generator.geometry.features.kinds import Kind
from generator.pages.drawing.ink import Box, Ink, Segment, cross, meets, overlap
from generator.pages.drawing.paper import Layout, Spot
from generator.pages.drawing.svg import TEXT, width_of
from generator.pages.drawing.wanted import Pointer, Span, Wanted

BALLOON: Final = 2.8
"""Radius."""
_FIRST: Final = 7.0
_NEXT: Final = 6.0
_ROWS: Final = 4
_ARROW: Final = 2.5
_OVER: Final = 1.2
_CLEAR: Final = 0.6
_ANGLES: Final = (45, 135, -45, -135, 60, 120, -60, -120, 30, 150, -30, -150, 15, 165, -15, -165, 75, 105, -75, -105)
_REACH: Final = (4.0, 6.0, 9.0, 13.0, 18.0, 24.0, 31.0, 39.0, 48.0, 60.0, 75.0, 95.0)
_ROUND_SEEN: Final = 8
"""Of 24 places on it."""
_EDGE_MM: Final = 0.05
"""So near the end of a dimension lies the line that it measures from, on the part."""
_INSIDE: Final = 40.0
"""What a text within a view costs, as mm of leader."""
_THROUGH: Final = 0.5
"""What a leader costs for each line of the part that it passes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A dimension on paper."""

    wanted: Wanted
    text: str
    lines: tuple[Segment, ...]
    """The dimension line, or leader and shelf: text and other lines keep off."""
    helpers: tuple[Segment, ...]
    """From the part to the dimension line."""
    arrows: tuple[tuple[Flat, float], ...]
    """Tip, and where it points to in degrees, anticlockwise from the right."""
    at: Flat
    """The middle of its text's baseline."""
    is_turned: bool
    box: Box


@dataclass(slots=True)
class Sheet:
    """What stands on the paper already."""

    layout: Layout
    ink: Ink
    seen: Ink
    """Of the visible lines alone, without centre lines."""
    taken: list[Box] = field(default_factory=list)
    placed: list[Dimension] = field(default_factory=list)
    centres: list[Segment] = field(default_factory=list)
    left_out: int = 0
    unseen: int = 0
    """Features that none of the views shows where a dimension could point."""

    def place(self, wanted: Sequence[Wanted]) -> None:
        """One after the other, the most important first; what finds no place is counted."""
        for each in wanted:
            if not any(self._is_shown(each, place) for place in each.places):
                self.unseen += each.kind is not None and each.kind is not Kind.FACES
                continue
            found = self._straight(each) or self._led(each)
            if found is None:
                self.left_out += 1
            else:
                self.placed.append(found)

    def _straight(self, wanted: Wanted) -> Dimension | None:
        for span in wanted.places:
            if not isinstance(span, Span) or not self._is_shown(wanted, span):
                continue
            spot = self.layout.spots[span.view]
            for made in _straight_ones(wanted, span, spot):
                if self._has_room(made):
                    return made
        return None

    def _led(self, wanted: Wanted) -> Dimension | None:
        best: tuple[float, Dimension] | None = None
        for pointer in wanted.places:
            if not isinstance(pointer, Pointer) or not self._is_shown(wanted, pointer):
                continue
            spot = self.layout.spots[pointer.view]
            for cost, made in _led_ones(wanted, pointer, spot):
                if best is not None and cost >= best[0]:
                    continue
                cost += _INSIDE * any(overlap(made.box, each.box) for each in self.layout.spots.values())  # noqa: PLW2901
                cost += _THROUGH * self.ink.crossed(made.lines[0])  # noqa: PLW2901
                if pointer.radius_mm and not self._is_seen(made.arrows[0][0], 0.5):
                    continue
                if (best is None or cost < best[0]) and self._has_room(made):
                    best = cost, made
        return best[1] if best else None

    def _is_shown(self, wanted: Wanted, place: Span | Pointer) -> bool:
        """Whether the view shows what the dimension would end in."""
        if place.view not in self.layout.spots:
            return False
        spot = self.layout.spots[place.view]
        if isinstance(place, Pointer) and place.radius_mm == 0:
            return self._is_seen(spot.at(place.centre), max(wanted.value_mm / 2 * spot.scale, 0.6))
        if isinstance(place, Pointer):
            return self.is_round_seen(spot.at(place.centre), place.radius_mm * spot.scale)
        if wanted.marks:
            return all(self.is_round_seen(spot.at(each.centre), each.radius_mm * spot.scale) for each in wanted.marks)
        if wanted.is_overall or wanted.kind is None:
            return True
        return all(_has_edge(spot.view, each, level=place.is_level) for each in (place.start, place.end))

    def _is_seen(self, at: Flat, near: float) -> bool:
        """Whether a visible line of the part passes there."""
        return self.seen.under((at[0] - near, at[1] - near, at[0] + near, at[1] + near)) > 0

    def is_round_seen(self, centre: Flat, radius: float) -> bool:
        """Whether enough of a round is drawn to be pointed at."""
        around = (math.radians(15 * step) for step in range(24))
        return sum(self._is_seen((centre[0] + radius * math.cos(each), centre[1] + radius * math.sin(each)), 0.4) for each in around) >= _ROUND_SEEN

    def _has_room(self, made: Dimension) -> bool:
        paper = self.layout.paper
        if made.box[0] < 21 or made.box[1] < 11 or made.box[2] > paper.width - 11 or made.box[3] > self.layout.strip_top - 1:
            return False
        if self.ink.under(made.box) or any(overlap(made.box, each) for each in self.taken):
            return False
        if made.helpers and self.ink.crossed(made.lines[0]):
            return False
        if any(meets(line, each) for line in (*made.lines, *made.helpers) for each in self.taken):
            return False
        return all(_apart(made, other) for other in self.placed)


def _has_edge(view: View, at: Flat, *, level: bool) -> bool:
    """Whether a visible line runs across a level or upright dimension where it ends: a line along it that only passes there shows no face."""
    along, across = (0, 1) if level else (1, 0)
    return any(
        max(abs(one[along] - at[along]), abs(other[along] - at[along])) < _EDGE_MM < abs(one[across] - other[across])
        for line in view.visible
        for one, other in pairwise(line.points)
    )


def _apart(one: Dimension, other: Dimension) -> bool:
    if overlap(one.box, other.box):
        return False
    for a, b in ((one, other), (other, one)):
        if any(meets(line, b.box) for line in (*a.lines, *a.helpers)):
            return False
        if any(cross(line, helper) for line in a.lines for helper in (*b.lines, *b.helpers)):
            return False
    return True


def _label_width(wanted: Wanted, text: str) -> float:
    return width_of(text) + len(wanted.balloons) * (2 * BALLOON + 1.0)


def _straight_ones(wanted: Wanted, span: Span, spot: Spot) -> Iterator[Dimension]:
    """On both sides of the view, row by row; the whole part's outside of the others."""
    start, end = spot.at(span.start), spot.at(span.end)
    left, top, right, bottom = spot.box
    rows = list(range(_ROWS))
    if wanted.is_overall:
        rows = [1, 2, 0, 3]
    middle = (start[1] if span.is_level else start[0], end[1] if span.is_level else end[0])
    centre = sum(middle) / 2
    low, high = (top, bottom) if span.is_level else (left, right)
    # The nearer side first; for the whole part above and to the left.
    is_low = wanted.is_overall or centre - low <= high - centre
    for row in rows:
        for side in (is_low, not is_low):
            off = _FIRST + row * _NEXT
            yield _straight_one(wanted, start, end, low - off if side else high + off, level=span.is_level)


def _straight_one(wanted: Wanted, start: Flat, end: Flat, at: float, *, level: bool) -> Dimension:
    """at: the y of a level dimension line, the x of an upright one."""
    if not level:  # turned by a quarter: the text is read from the right
        start, end = (start[1], start[0]), (end[1], end[0])
    (low, low_base), (high, high_base) = sorted((start, end))
    text = wanted.span_text or wanted.text
    width = _label_width(wanted, text)
    is_wide = high - low >= width + 2.5
    has_arrows_inside = high - low >= 3 * _ARROW
    first, last = (low, high) if has_arrows_inside else (low - 2 * _ARROW, high + 2 * _ARROW)
    middle = (low + high) / 2
    if not is_wide:
        beyond = _ARROW if has_arrows_inside else 2 * _ARROW
        middle = high + beyond + width / 2 if level else low - beyond - width / 2
        first, last = (first, middle + width / 2) if level else (middle - width / 2, last)
    helpers = [((along, _off(base, at, 0.8)), (along, _off(at, base, -_OVER))) for along, base in ((low, low_base), (high, high_base))]
    tall = max(TEXT, 2 * BALLOON) if wanted.balloons else TEXT * 0.8
    box = (middle - width / 2 - _CLEAR, at - 1.4 - tall, middle + width / 2 + _CLEAR, at - 0.6)
    degrees = ((low, 180.0), (high, 0.0)) if has_arrows_inside else ((low, 0.0), (high, 180.0))
    if level:
        return Dimension(
            wanted=wanted,
            text=text,
            lines=(((first, at), (last, at)),),
            helpers=tuple(helpers),
            arrows=tuple(((along, at), turn) for along, turn in degrees),
            at=(middle, at - 1.2),
            is_turned=False,
            box=box,
        )
    # Back: (along, across) of the turned frame is (y, x); text above the line is then left of it.
    return Dimension(
        wanted=wanted,
        text=text,
        lines=(((at, first), (at, last)),),
        helpers=tuple(((a[1], a[0]), (b[1], b[0])) for a, b in helpers),
        arrows=tuple(((at, along), 90.0 if turn == 180.0 else 270.0) for along, turn in degrees),
        at=(at - 1.2, middle),
        is_turned=True,
        box=(box[1], box[0], box[3], box[2]),
    )


def _off(base: float, towards: float, gap: float) -> float:
    """A little from one place towards another; below 0 beyond."""
    return base + math.copysign(gap, towards - base) if abs(towards - base) > abs(gap) else base


def _led_ones(wanted: Wanted, pointer: Pointer, spot: Spot) -> Iterator[tuple[float, Dimension]]:
    """With their length, by direction and reach."""
    x, y = spot.at(pointer.centre)
    radius = pointer.radius_mm * spot.scale
    width = _label_width(wanted, wanted.text)
    tall = max(TEXT, 2 * BALLOON) if wanted.balloons else TEXT * 0.8
    for reach in _REACH:
        for degrees in _ANGLES:
            c, s = math.cos(math.radians(degrees)), -math.sin(math.radians(degrees))
            tip = (x + radius * c, y + radius * s)
            elbow = (x + (radius + reach) * c, y + (radius + reach) * s)
            sign = 1 if c > 0 else -1
            end = (elbow[0] + sign * (width + 1.5), elbow[1])
            middle = (elbow[0] + end[0]) / 2
            box = (min(elbow[0], end[0]) - _CLEAR, elbow[1] - 1.6 - tall, max(elbow[0], end[0]) + _CLEAR, elbow[1] + 0.8)
            yield (
                reach,
                Dimension(
                    wanted=wanted,
                    text=wanted.text,
                    lines=((tip, elbow), (elbow, end)),
                    helpers=(),
                    arrows=((tip, math.degrees(math.atan2(-(y - elbow[1]), x - elbow[0]))),),
                    at=(middle, elbow[1] - 1.2),
                    is_turned=False,
                    box=box,
                ),
            )
