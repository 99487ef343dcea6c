"""Where does each dimension stand, so that none crosses or covers another, a text or a line of the part under a text?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Final

from generator.geometry.drawing.kinds import Flat, ViewName
from generator.geometry.features.kinds import Kind
from generator.pages.drawing.ink import Box, Ink, Segment, cross, meets, overlap
from generator.pages.drawing.paper import Layout, PlacedView
from generator.pages.drawing.shown import ShownViews, Tip
from generator.pages.drawing.svg import TEXT, width_of
from generator.pages.drawing.wanted_kinds import Pointer, Span, WantedSize

BALLOON: Final = 2.8
"""Radius."""
_FIRST: Final = 7.0
_NEXT: Final = 6.0
_ROWS: Final = 6
_ARROW: Final = 2.5
_OVER: Final = 1.2
_CLEAR: Final = 0.6
_SAME_MM: Final = 0.05
_REACH: Final = (4.0, 6.0, 9.0, 13.0, 18.0, 24.0, 31.0, 39.0, 48.0, 60.0, 75.0, 95.0)
_INSIDE: Final = 40.0
"""What a text within a view costs, as mm of leader."""
_THROUGH: Final = 0.5
"""What a leader costs for each line of the part that it passes."""
_LATER: Final = 25.0
"""What a view costs that comes after another one: there it is seen from behind."""
_RUN: Final = 0.4
"""What an extension line costs for each cell of ink that it passes: along a line many, across it one or two."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A dimension on paper."""

    wanted: WantedSize
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
class SheetSoFar:
    """What stands on the paper already."""

    layout: Layout
    ink: Ink
    shown: ShownViews
    """Of the visible lines alone, without centre lines."""
    taken: list[Box] = field(default_factory=list)
    placed: list[Dimension] = field(default_factory=list)
    centres: list[Segment] = field(default_factory=list)
    edges: dict[tuple[ViewName, bool], _Edges] = field(default_factory=dict)
    left_out: int = 0
    unseen: int = 0
    """Features that none of the views shows where a dimension could point."""

    def place(self, wanted: Sequence[WantedSize]) -> None:
        """One after the other, the most important first; what finds no place is counted."""
        for each in wanted:
            if not any(self.shown.is_shown(each, place) for place in each.places):
                self.unseen += each.kind is not None and each.kind is not Kind.FACES
                continue
            found = self._straight(each) or self._led(each)
            if found is None:
                self.left_out += 1
            else:
                self.placed.append(found)

    def _straight(self, wanted: WantedSize) -> Dimension | None:
        best: tuple[float, Dimension] | None = None
        for span in wanted.places:
            if not isinstance(span, Span) or not self.shown.is_shown(wanted, span):
                continue
            for cost, made in _straight_ones(wanted, span, self.layout.spots[span.view], self._edges(span)):
                if best is not None and cost >= best[0]:
                    continue
                cost += _RUN * sum(self.ink.crossed(each) for each in made.helpers)  # noqa: PLW2901
                if (best is None or cost < best[0]) and self._has_room(made):
                    best = cost, made
            if best:
                break
        return best[1] if best else None

    def _edges(self, span: Span) -> _Edges:
        key = span.view, span.is_level
        if key not in self.edges:
            self.edges[key] = _Edges(self.layout.spots[span.view], level=span.is_level)
        return self.edges[key]

    def _led(self, wanted: WantedSize) -> Dimension | None:
        best: tuple[float, Dimension] | None = None
        views = list(dict.fromkeys(each.view for each in wanted.places))
        for pointer in wanted.places:
            if not isinstance(pointer, Pointer) or pointer.view not in self.layout.spots:
                continue
            tips = self.shown.tips(wanted, pointer)
            later = _LATER * views.index(pointer.view)
            for reach, made in _led_ones(wanted, pointer, tips):
                cost = later + reach
                if best is not None and cost >= best[0]:
                    continue
                cost += _INSIDE * any(overlap(made.box, each.box) for each in self.layout.spots.values())
                if (best is not None and cost >= best[0]) or not self._has_room(made):
                    continue
                cost += _THROUGH * self.ink.crossed(made.lines[0])
                if best is None or cost < best[0]:
                    best = cost, made
        return best[1] if best else None

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


def _apart(one: Dimension, other: Dimension) -> bool:
    if overlap(one.box, other.box):
        return False
    for a, b in ((one, other), (other, one)):
        if any(meets(line, b.box) for line in (*a.lines, *a.helpers)):
            return False
        if any(cross(line, helper) for line in a.lines for helper in (*b.lines, *b.helpers)):
            return False
    return True


def _label_width(wanted: WantedSize, text: str) -> float:
    return width_of(text) + len(wanted.balloons) * (2 * BALLOON + 1.0)


class _Edges:
    """The straight lines of a view that a level or upright dimension could end in: it begins at their nearer end, not along them."""

    def __init__(self, spot: PlacedView, *, level: bool) -> None:
        self._along, self._across = (0, 1) if level else (1, 0)
        along, across = self._along, self._across
        self._runs: dict[int, list[tuple[float, float, float]]] = {}
        for line in spot.view.visible:
            for one, other in pairwise(line.points) if line.circle is None else ():
                if abs(one[along] - other[along]) < _SAME_MM < abs(one[across] - other[across]):
                    start, end = spot.at(one), spot.at(other)
                    self._runs.setdefault(round(start[along]), []).append((start[along], start[across], end[across]))

    def near(self, end: Flat, at: float) -> Flat:
        """Where the extension line to a dimension line `at` begins."""
        ends = [
            each
            for place in (-1, 0, 1)
            for along, *run in self._runs.get(round(end[self._along]) + place, ())
            if abs(along - end[self._along]) < 2 * _SAME_MM
            for each in run
        ]
        base = min(ends, key=lambda each: abs(each - at)) if ends else end[self._across]
        return (end[0], base) if self._along == 0 else (base, end[1])


def _straight_ones(wanted: WantedSize, span: Span, spot: PlacedView, edges: _Edges) -> Iterator[tuple[float, Dimension]]:
    """With their cost, on both sides of the view, row by row; the whole part's outside of the others."""
    start, end = spot.at(span.start), spot.at(span.end)
    left, top, right, bottom = spot.box
    rows = list(range(_ROWS))
    if wanted.is_overall:
        rows = [1, 2, 0, 3, 4, 5]
    middle = (start[1] if span.is_level else start[0], end[1] if span.is_level else end[0])
    centre = sum(middle) / 2
    low, high = (top, bottom) if span.is_level else (left, right)
    # The nearer side first; for the whole part above and to the left.
    is_low = wanted.is_overall or centre - low <= high - centre
    for step, row in enumerate(rows):
        for side in (is_low, not is_low):
            off = _FIRST + row * _NEXT
            at = low - off if side else high + off
            cost = step + (0 if side is is_low else 0.5)
            yield cost, _straight_one(wanted, edges.near(start, at), edges.near(end, at), at, level=span.is_level)


def _straight_one(wanted: WantedSize, start: Flat, end: Flat, at: float, *, level: bool) -> Dimension:
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
    made = Dimension(
        wanted=wanted,
        text=text,
        lines=(((first, at), (last, at)),),
        helpers=tuple(helpers),
        arrows=tuple(((along, at), turn) for along, turn in degrees),
        at=(middle, at - 1.2),
        is_turned=False,
        box=box,
    )
    return made if level else _turned(made)


def _turned(made: Dimension) -> Dimension:
    """Back by a quarter: (along, across) of the turned frame is (y, x); text above the line is then left of it."""

    def back(line: Segment) -> Segment:
        (x, y), (to_x, to_y) = line
        return (y, x), (to_y, to_x)

    left, top, right, bottom = made.box
    return replace(
        made,
        lines=tuple(map(back, made.lines)),
        helpers=tuple(map(back, made.helpers)),
        arrows=tuple(((y, x), 90.0 if turn == 180.0 else 270.0) for (x, y), turn in made.arrows),
        at=(made.at[1], made.at[0]),
        is_turned=True,
        box=(top, left, bottom, right),
    )


def _off(base: float, towards: float, gap: float) -> float:
    """A little from one place towards another; below 0 beyond."""
    return base + math.copysign(gap, towards - base) if abs(towards - base) > abs(gap) else base


def _led_ones(wanted: WantedSize, pointer: Pointer, tips: Sequence[Tip]) -> Iterator[tuple[float, Dimension]]:
    """With their length, by reach and direction."""
    text = wanted.far_text if pointer.is_far and wanted.far_text else wanted.text
    width = _label_width(wanted, text)
    tall = max(TEXT, 2 * BALLOON) if wanted.balloons else TEXT * 0.8
    for reach in _REACH:
        for tip, turns in tips:
            for degrees in turns:
                elbow = (tip[0] + reach * math.cos(math.radians(degrees)), tip[1] - reach * math.sin(math.radians(degrees)))
                sign = 1 if abs(degrees) < 90 else -1
                end = (elbow[0] + sign * (width + 1.5), elbow[1])
                box = (min(elbow[0], end[0]) - _CLEAR, elbow[1] - 1.6 - tall, max(elbow[0], end[0]) + _CLEAR, elbow[1] + 0.8)
                yield (
                    reach,
                    Dimension(
                        wanted=wanted,
                        text=text,
                        lines=((tip, elbow), (elbow, end)),
                        helpers=(),
                        arrows=((tip, (degrees + 180.0) % 360),),
                        at=((elbow[0] + end[0]) / 2, elbow[1] - 1.2),
                        is_turned=False,
                        box=box,
                    ),
                )
