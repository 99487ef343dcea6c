"""Where the centres of features lie: pointed at, from each other, and from the part's edges."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, pairwise
from typing import Final

from generator.geometry.drawing.kinds import Point, View, ViewName
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.telling import off_axis
from generator.pages.drawing.feature_words import size_words
from generator.pages.drawing.groups import FeatureGroup, dot
from generator.pages.drawing.wanted_kinds import ALIKE_MM, ORTHOGRAPHIC, STRAIGHT, Pointer, Span, WantedSize
from generator.pages.wording import Wording

_SIDES: Final = {Kind.SQUARE: 4, Kind.HEXAGON: 6}
_MOST_STOPS: Final = 4
_FEW: Final = 3
"""On a ring, each as far from each other as from all."""


def is_in_line(one: Feature, other: Feature) -> bool:
    return abs(dot(one.axis, other.axis)) > STRAIGHT and off_axis(one, other) < ALIKE_MM


def facing_views(feature: Feature, views: Mapping[ViewName, View]) -> list[ViewName]:
    """The views along the axis of a feature: of what ends in the part those first that look at its beginning."""
    along = [name for name in ORTHOGRAPHIC if abs(dot(views[name].towards, feature.axis)) > STRAIGHT]
    return sorted(along, key=lambda name: _is_far(feature, views[name]))


def _is_far(feature: Feature, view: View) -> bool:
    return dot(view.towards, feature.axis) < 0 and feature.is_through is not True and feature.kind is not Kind.THREAD


def pointers_at(feature: Feature, name: ViewName, view: View) -> Iterator[Pointer]:
    """To a feature in a view along its axis, by each shape that it may have."""
    plain = Pointer(view=name, centre=view.flat(feature.at), radius_mm=feature.size_mm / 2, is_far=_is_far(feature, view))
    second = feature.second_mm or 0.0
    if feature.kind is Kind.SLOT and second > feature.size_mm:
        yield replace(plain, long_mm=second)
    elif feature.kind in _SIDES:
        yield replace(plain, flats=_SIDES[feature.kind])
    elif feature.kind is Kind.FLATS and second > feature.size_mm:
        yield replace(plain, flats=2, round_mm=second)
        yield replace(plain, flats=1, radius_mm=feature.size_mm - second / 2, round_mm=second)
    else:
        yield plain


def centres_apart(group: FeatureGroup, views: Mapping[ViewName, View], w: Wording) -> Iterator[WantedSize]:
    """Between the centres of a group, level and upright: from the first to the last where they are evenly spaced, else to each."""
    if len(group.members) < 2 or not (facing := facing_views(group.first, views)):
        return
    if all(is_in_line(each, group.first) for each in group.members):
        yield from _in_line(group, views, w)
        return
    first = views[facing[0]]
    for axis in (0, 1):
        at = sorted(group.members, key=lambda each: (first.flat(each.at)[axis], first.flat(each.at)[1 - axis]))
        stops = _stops([first.flat(each.at)[axis] for each in at], max(0.05 * group.first.size_mm, 0.1))
        steps = {round(first.flat(at[j].at)[axis] - first.flat(at[i].at)[axis], 1) for i, j in pairwise(stops)}
        ends = stops[-1:] if len(steps) == 1 else stops[1:_MOST_STOPS]
        for end in ends:
            apart = first.flat(at[end].at)[axis] - first.flat(at[0].at)[axis]
            pair = at[0], at[end]
            spans = tuple(Span(view=name, start=views[name].flat(pair[0].at), end=views[name].flat(pair[1].at), is_level=axis == 0) for name in facing)
            marks = tuple(next(pointers_at(each, name, views[name])) for name in facing for each in pair)
            even = f"{len(stops) - 1} × {size_words(apart / (len(stops) - 1), w)} = " if len(steps) == 1 and len(stops) > 2 else ""
            yield WantedSize(text=even + size_words(apart, w), places=spans, value_mm=apart, is_apart=True, marks=marks)


def chord(group: FeatureGroup, views: Mapping[ViewName, View], w: Wording) -> Iterator[WantedSize]:
    """From one of a few on a ring to the next, where the two lie level or upright."""
    if len(group.members) > _FEW or not (facing := facing_views(group.first, views)):
        return
    first = views[facing[0]]
    for one, other in combinations(group.members, 2):
        (x, y), (to_x, to_y) = first.flat(one.at), first.flat(other.at)
        if min(abs(to_x - x), abs(to_y - y)) < ALIKE_MM:
            is_level = abs(to_y - y) < ALIKE_MM
            spans = tuple(Span(view=name, start=views[name].flat(one.at), end=views[name].flat(other.at), is_level=is_level) for name in facing)
            marks = tuple(next(pointers_at(each, name, views[name])) for name in facing for each in (one, other))
            apart = math.dist((x, y), (to_x, to_y))
            yield WantedSize(text=size_words(apart, w), places=spans, value_mm=apart, is_apart=True, marks=marks)
            return


def _in_line(group: FeatureGroup, views: Mapping[ViewName, View], w: Wording) -> Iterator[WantedSize]:
    """From the first to the last of features on one axis, from an end to the same end."""
    if not group.is_one_length or any(dot(each.axis, group.first.axis) < 0 for each in group.members):
        return
    low, high = (end(group.members, key=lambda each: dot(each.at, group.first.axis)) for end in (min, max))
    spans = []
    for name in ORTHOGRAPHIC:
        along = views[name].flat(group.first.axis)
        if max(abs(along[0]), abs(along[1])) > STRAIGHT:
            spans.append(Span(view=name, start=views[name].flat(low.at), end=views[name].flat(high.at), is_level=abs(along[0]) > STRAIGHT))
    apart = dot(high.at, group.first.axis) - dot(low.at, group.first.axis)
    yield WantedSize(text=size_words(apart, w), places=tuple(spans), value_mm=apart, is_apart=True)


def _stops(sorted_at: Sequence[float], apart: float) -> list[int]:
    """The first of those that are nearly in line, by index."""
    found = [0]
    for index, at in enumerate(sorted_at):
        if at - sorted_at[found[-1]] > apart:
            found.append(index)
    return found


def from_edges(group: FeatureGroup, views: Mapping[ViewName, View], turned: Feature | None, w: Wording) -> Iterator[WantedSize]:
    """How far the first centre of a group, or that of its ring, lies from the part's left and lower edge; not of what lies on the axis of a turned shape."""
    if not (facing := facing_views(group.first, views)):
        return
    first = views[facing[0]]
    nearest = min(group.members, key=lambda each: (round(sum(first.flat(each.at)), 2), first.flat(each.at)))
    at = group.ring.centre if group.ring else nearest.at
    if turned and math.dist(first.flat(at), first.flat(turned.at)) < ALIKE_MM:
        return
    for axis in (0, 1):
        centre, low = first.flat(at)[axis], first.low[axis]
        middle = (low + first.high[axis]) / 2
        # In the middle by the eye: its centre line tells it; on the edge there is nothing to tell.
        if centre - low <= ALIKE_MM or abs(centre - middle) < max(ALIKE_MM, 0.006 * (first.high[axis] - low)):
            continue
        spans, marks = [], []
        for name in facing:
            view = views[name]
            x, y = view.flat(at)
            edge = low * dot(_across_of(first, axis), _across_of(view, axis))
            spans.append(Span(view=name, start=(edge, y) if axis == 0 else (x, edge), end=(x, y), is_level=axis == 0))
            marks.append(next(pointers_at(nearest, name, view)))
        yield WantedSize(text=size_words(centre - low, w), places=tuple(spans), value_mm=centre - low, marks=tuple(marks))


def _across_of(view: View, axis: int) -> Point:
    return view.up if axis else view.right
