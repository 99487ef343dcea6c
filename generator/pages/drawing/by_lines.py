"""Where no feature tells what a critical check measures: between which two straight lines of the views does its size lie?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Final

from generator.geometry.drawing.kinds import Flat, Line, View, ViewName
from generator.geometry.features.kinds import Feature
from generator.pages.drawing.feature_words import size_words
from generator.pages.drawing.wanted_kinds import ORTHOGRAPHIC, Span, WantedSize
from generator.pages.wording import Wording
from generator.records.parts import Check, FeatureKind

INSIDE: Final = frozenset({FeatureKind.WIDTH_INSIDE, FeatureKind.SLOT, FeatureKind.STRAP_SLOT, FeatureKind.KEYWAY})
"""Between lines with nothing solid between, where a view shows such; of all others none does."""
STRAIGHT: Final = frozenset({*INSIDE, FeatureKind.LENGTH, FeatureKind.WIDTH, FeatureKind.HEIGHT, FeatureKind.THICKNESS})
_SAME_MM: Final = 0.02
_ROUND_MM: Final = 0.06
"""The sides of what is made of facets lie so far inside of its round."""
_SLACK: Final = 0.01
_LEAST: Final = 0.01
"""Of the longer side of a view: shorter lines are details of something else."""
_MOST: Final = 60
"""Levels of a view: with more of them a size is met by chance."""
_ALIKE: Final = 0.97
_MUCH: Final = 0.6
"""So much of the longer of two lines has the other beside it: where no pair is alike, one that comes near to it will do."""
_ASKED: Final = (0.25, 0.5, 0.75)
"""Places between two lines, as shares of the way."""
_TOGETHER_MM: Final = 0.3


@dataclass(frozen=True, slots=True)
class _Level:
    """Straight lines of a view across one direction: where, and from where to where they reach."""

    at: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class _Shown:
    """A pair of lines in one view."""

    likeness: float
    is_gap: bool
    """Nothing of the part lies between."""
    span: Span


_Pair = tuple[_Level, _Level]
_Place = tuple[int, float, float]
"""Along which axis of the part, from where, to where."""


def measured_by_lines(check: Check, kind: FeatureKind | None, views: Mapping[ViewName, View], rounds: Iterable[Feature], w: Wording) -> WantedSize | None:
    """The dimension of a check where exactly one pair of places on the part, or a pair and its mirror image, is so far apart as its limits say.

    rounds: features whose two sides are no such pair.
    """
    if kind not in STRAIGHT:
        return None
    least, most = check.nominal_mm - check.minus_mm - _SLACK, check.nominal_mm + check.plus_mm + _SLACK
    flanks = [(i, each.at[i] - each.size_mm / 2, each.at[i] + each.size_mm / 2) for each in rounds for i in range(3) if abs(each.axis[i]) < _SAME_MM]
    found: dict[_Place, list[_Shown]] = {}
    for name in ORTHOGRAPHIC:
        for along in (0, 1):
            for pair in _pairs(_levels(views[name], along), least, most):
                place = _place(views[name], along, pair)
                if any(_is_same(place, each, _ROUND_MM) for each in flanks):
                    continue
                near = next((each for each in found if _is_same(place, each, _SAME_MM)), place)
                is_gap = not _is_solid_between(views[name], along, pair)
                found.setdefault(near, []).append(_Shown(_likeness(*pair), is_gap, _span(name, pair, along)))
    gaps = {place for place, shown in found.items() if any(each.is_gap and each.likeness >= _MUCH for each in shown)}
    for alike in (_ALIKE, _MUCH):
        like = [place for place, shown in found.items() if max(each.likeness for each in shown) >= alike]
        chosen = [place for place in like if place in gaps] or like if kind in INSIDE else [place for place in like if place not in gaps]
        if len(chosen) == 1 or _is_mirrored(chosen, views):
            _, low, high = chosen[0]
            best_first = sorted(found[chosen[0]], key=lambda each: (not each.is_gap, -each.likeness))
            return WantedSize(text=size_words(high - low, w), places=tuple(each.span for each in best_first), value_mm=high - low)
        if chosen:
            return None
    return None


def _levels(view: View, along: int) -> list[_Level]:
    """Sorted; none where there are too many to tell anything."""
    across = 1 - along
    least = _LEAST * max(high - low for low, high in zip(view.low, view.high, strict=True))
    straight = (
        (one[along], min(one[across], other[across]), max(one[across], other[across]))
        for line in view.visible
        if line.circle is None
        for one, other in pairwise(line.points)
        if abs(one[along] - other[along]) < _SAME_MM / 2 and abs(one[across] - other[across]) > least
    )
    runs = sorted([*straight, *(each for line in view.visible for each in _extremes(line, along))])
    found: list[_Level] = []
    for at, low, high in runs:
        if found and at - found[-1].at < _SAME_MM:
            found[-1] = _Level(found[-1].at, min(found[-1].low, low), max(found[-1].high, high))
        else:
            found.append(_Level(at, low, high))
    return found if len(found) <= _MOST else []


def _extremes(line: Line, along: int) -> Iterator[tuple[float, float, float]]:
    """Where an arc, such as the end of a slot, reaches farthest, as a level of no length."""
    if line.circle is None or line.is_closed:
        return
    centre, radius = line.circle.centre, line.circle.radius_mm
    reach = [point[along] - centre[along] for point in line.points]
    for sign in (1, -1):
        farthest = max(range(len(reach)), key=lambda i: sign * reach[i])
        if 0 < farthest < len(reach) - 1 and sign * reach[farthest] > 0.98 * radius:
            yield centre[along] + sign * radius, centre[1 - along], centre[1 - along]


def _pairs(levels: Sequence[_Level], least: float, most: float) -> Iterator[_Pair]:
    return ((one, other) for one, other in combinations(levels, 2) if least <= other.at - one.at <= most)


def _likeness(one: _Level, other: _Level) -> float:
    """How far two lines lie beside each other: 1 where they begin and end together."""
    if max(abs(one.low - other.low), abs(one.high - other.high)) < _TOGETHER_MM:
        return 1.0
    longer = max(one.high - one.low, other.high - other.low)
    return max(min(one.high, other.high) - max(one.low, other.low), 0.0) / longer


def _is_solid_between(view: View, along: int, pair: _Pair) -> bool:
    """Whether the part covers anything of what lies between two lines."""
    one, other = pair
    low, high = max(one.low, other.low), min(one.high, other.high)
    for share in _ASKED:
        at = one.at + share * (other.at - one.at)
        for across in (low + each * (high - low) for each in _ASKED):
            if _is_covered(view, (at, across) if along == 0 else (across, at)):
                return True
    return False


def _is_covered(view: View, point: Flat) -> bool:
    """Whether a point lies within the outline, its holes left out."""
    x, y = point
    crossed = 0
    for ring in view.outline:
        for (x0, y0), (x1, y1) in pairwise(ring.points):
            crossed += (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0)
    return crossed % 2 == 1


def _place(view: View, along: int, pair: _Pair) -> _Place:
    low, high = sorted(_on_part(view, along, each.at) for each in pair)
    return _axis(view, along), low, high


def _is_same(one: _Place, other: _Place, within_mm: float) -> bool:
    return one[0] == other[0] and max(abs(one[1] - other[1]), abs(one[2] - other[2])) < within_mm


def _is_mirrored(keys: Sequence[_Place], views: Mapping[ViewName, View]) -> bool:
    """Whether two pairs lie alike on both sides of the part's middle."""
    if len(keys) != 2 or keys[0][0] != keys[1][0]:
        return False
    (axis, low, high), (_, other_low, other_high) = keys
    front, top = views[ViewName.FRONT], views[ViewName.TOP]
    twice = ((front.low[0] + front.high[0]), (top.low[1] + top.high[1]), (front.low[1] + front.high[1]))[axis]
    return abs(low + other_high - twice) < _SAME_MM and abs(high + other_low - twice) < _SAME_MM


def _axis(view: View, along: int) -> int:
    direction = view.up if along else view.right
    return max(range(3), key=lambda i: abs(direction[i]))


def _on_part(view: View, along: int, at: float) -> float:
    direction = view.up if along else view.right
    return at * direction[_axis(view, along)]


def _span(name: ViewName, pair: _Pair, along: int) -> Span:
    ends = [(each.at, each.low) if along == 0 else (each.low, each.at) for each in pair]
    return Span(view=name, start=ends[0], end=ends[1], is_level=along == 0)
