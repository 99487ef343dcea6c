"""Which sizes of a part are worth a dimension, in which view, and which first?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from generator.geometry.drawing.kinds import Point, View, ViewName
from generator.geometry.features.kinds import Feature, Features, Kind
from generator.geometry.features.telling import worth_telling
from generator.pages.drawing.centres import (
    centres_apart,
    chord,
    facing_views,
    from_edges,
    is_in_line,
    pointers_at,
)
from generator.pages.drawing.feature_words import feature_words, size_words
from generator.pages.drawing.groups import FeatureGroup, dot, grouped
from generator.pages.drawing.wanted_kinds import ALIKE_MM, ORTHOGRAPHIC, STRAIGHT, Pointer, Span, WantedSize
from generator.pages.wording import Wording

_PLANE: Final = {ViewName.REAR: ViewName.FRONT, ViewName.BELOW: ViewName.TOP, ViewName.RIGHT: ViewName.SIDE} | {name: name for name in ORTHOGRAPHIC[:3]}
"""The usual view that shows the same plane."""
_MOST_FACES: Final = 4
_MOST: Final = 40


def wanted_of(views: Mapping[ViewName, View], features: Features | None, w: Wording) -> tuple[list[WantedSize], list[FeatureGroup]]:
    """All dimensions, the most important first, and the groups whose centres are marked."""
    low, high = _box(views)
    groups = grouped(worth_telling(features.found)) if features else []
    turned = next((group.first for group in groups if group.first.kind is Kind.TURNED), None)
    outer = _outer_rounds([group.first for group in groups], low, high)
    found = list(_overall(low, high, outer, w))
    taken = {round(each.value_mm, 2) for each in found}
    rounds = [group for group in groups if group.first.kind not in (Kind.FACES, Kind.TURNED)]
    found += [each for group in rounds if not _is_overall(group, outer) for each in _pointer(group, views, w)]
    found += [each for group in rounds for each in (centres_apart(group, views, w) if group.ring is None else chord(group, views, w))]
    found += [each for group in rounds for each in from_edges(group, views, turned, w)]
    faces = (each for group in groups if group.first.kind is Kind.FACES for each in _faces(group.first, views, w))
    found += [each for each in faces if round(each.value_mm, 2) not in taken]
    return _once(found), groups


def most_telling(wanted: Iterable[WantedSize]) -> list[WantedSize]:
    """As many as a sheet could show: all that show a check, and of the others only the first distances between faces."""
    faces = 0
    kept = []
    for each in wanted:
        is_face = each.kind is Kind.FACES and not each.balloons
        faces += is_face
        if not is_face or faces <= _MOST_FACES:
            kept.append(each)
    return kept[:_MOST]


def _is_overall(group: FeatureGroup, outer: Mapping[int, Feature]) -> bool:
    """Whether the whole part's dimension is that of this boss."""
    first = group.first
    return first.kind is Kind.BOSS and any(abs(each.size_mm - first.size_mm) < ALIKE_MM and is_in_line(each, first) for each in outer.values())


def _once(found: list[WantedSize]) -> list[WantedSize]:
    """Without the straight dimensions that say again what another does: the same length in one direction of one view."""
    seen: set[tuple[object, ...]] = set()
    kept = []
    for each in found:
        first = each.places[0]
        key = (_PLANE[first.view], first.is_level, each.text, each.is_apart) if isinstance(first, Span) and not each.span_text else None
        if key is None or key not in seen:
            kept.append(each)
        seen.add(key or ())
    return kept


def _box(views: Mapping[ViewName, View]) -> tuple[Point, Point]:
    front, top = views[ViewName.FRONT], views[ViewName.TOP]
    return (front.low[0], top.low[1], front.low[1]), (front.high[0], top.high[1], front.high[1])


def _outer_rounds(features: Iterable[Feature], low: Point, high: Point) -> dict[int, Feature]:
    """Along which of the part's three directions it ends in a round about an axis across it: there its diameter is the true size, the facets' a little less."""
    outer: dict[int, Feature] = {}
    for each in features:
        if each.kind not in (Kind.TURNED, Kind.TEETH, Kind.BOSS):
            continue
        axis = next((i for i in range(3) if abs(each.axis[i]) > STRAIGHT), None)
        # Where no tooth points along a direction, it ends in the corner of the next one.
        less = each.size_mm * (1 - math.cos(math.pi / each.count)) if each.count else 0.0
        room = 2 * each.within_mm + less + 0.01
        for i in (() if axis is None else (i for i in range(3) if i != axis and i not in outer)):
            if abs(high[i] - low[i] - each.size_mm) < room and abs((high[i] + low[i]) / 2 - each.at[i]) < room:
                outer[i] = each
    return outer


def _overall(low: Point, high: Point, outer: Mapping[int, Feature], w: Wording) -> Iterator[WantedSize]:
    """Length, depth and height; of a round its diameter, once in the place of two of them."""
    told: list[Feature] = []
    for i in (0, 2, 1):
        if round_ := outer.get(i):
            if round_ in told:
                continue
            told.append(round_)
        size = round_.size_mm if round_ else high[i] - low[i]
        yield WantedSize(
            text=f"Ø{size_words(size, w)}" if round_ else size_words(size, w),
            places=tuple(_sides(i, low, high)),
            value_mm=size,
            kind=round_.kind if round_ and round_.kind is not Kind.TEETH else None,
            is_overall=True,
        )


def _sides(axis: int, low: Point, high: Point) -> Iterator[Span]:
    """The views that show a side of the box, and where its ends lie."""
    if axis == 0:
        yield Span(view=ViewName.FRONT, start=(low[0], high[2]), end=(high[0], high[2]), is_level=True)
        yield Span(view=ViewName.TOP, start=(low[0], low[1]), end=(high[0], low[1]), is_level=True)
    elif axis == 1:
        yield Span(view=ViewName.SIDE, start=(-high[1], high[2]), end=(-low[1], high[2]), is_level=True)
        yield Span(view=ViewName.TOP, start=(low[0], low[1]), end=(low[0], high[1]), is_level=False)
    else:
        yield Span(view=ViewName.FRONT, start=(low[0], low[2]), end=(low[0], high[2]), is_level=False)
        yield Span(view=ViewName.SIDE, start=(-low[1], low[2]), end=(-low[1], high[2]), is_level=False)


def _pointer(group: FeatureGroup, views: Mapping[ViewName, View], w: Wording) -> Iterator[WantedSize]:
    feature = group.first
    places: tuple[Span | Pointer, ...]
    facing = facing_views(group.seat or feature, views)
    if feature.kind is Kind.THREAD and not feature.is_inner:
        places = tuple(_on_flank(feature, views))
    elif not facing:
        best = max(ORTHOGRAPHIC, key=lambda name: abs(dot(views[name].towards, feature.axis)))
        places = tuple(Pointer(view=best, centre=views[best].flat(each.at), radius_mm=0.0) for each in group.members[:4])
    else:
        places = tuple(each for name in facing for member in group.members[:6] for each in pointers_at(member, name, views[name]))
    if feature.kind is Kind.BOSS and all(is_in_line(each, feature) for each in group.members):
        places = (*(span for each in group.members for span in _across(each, views)), *places)
    if places:
        text = feature_words(group, w)
        across = f"Ø{size_words(feature.size_mm, w)}"
        yield WantedSize(
            text=text,
            far_text=w("drawing.far_side", feature=text),
            places=places,
            value_mm=feature.size_mm,
            also_mm=group.seat.size_mm if group.seat else feature.second_mm if feature.kind is Kind.SLOT else None,
            span_text=f"{len(group.members)} × {across}" if len(group.members) > 1 else across,
            kind=feature.kind,
            is_inner=feature.is_inner,
            count=len(group.members),
        )


def _across(feature: Feature, views: Mapping[ViewName, View]) -> Iterator[Span]:
    """From one side of a boss to the other, half way down, in the views across its axis."""
    middle = tuple(feature.at[i] - feature.axis[i] * (feature.length_mm or 0.0) / 2 for i in range(3))
    for name in ORTHOGRAPHIC:
        view = views[name]
        along = view.flat(feature.axis)
        if abs(dot(view.towards, feature.axis)) < 0.01 and max(abs(along[0]), abs(along[1])) > STRAIGHT:
            x, y = view.flat((middle[0], middle[1], middle[2]))
            half = feature.size_mm / 2
            is_level = abs(along[1]) > STRAIGHT
            yield Span(
                view=name,
                start=(x - half, y) if is_level else (x, y - half),
                end=(x + half, y) if is_level else (x, y + half),
                is_level=is_level,
            )


def _on_flank(feature: Feature, views: Mapping[ViewName, View]) -> Iterator[Pointer]:
    """Half way along a thread, on its outline, in a view across its axis."""
    length = feature.length_mm or 0.0
    middle = tuple(feature.at[i] - feature.axis[i] * length / 2 for i in range(3))
    for name in ORTHOGRAPHIC:
        view = views[name]
        if abs(dot(view.towards, feature.axis)) < 0.01:
            along = view.flat(feature.axis)
            across = (-along[1] * feature.size_mm / 2, along[0] * feature.size_mm / 2)
            x, y = view.flat((middle[0], middle[1], middle[2]))
            for sign in (1, -1):
                yield Pointer(view=name, centre=(x + sign * across[0], y + sign * across[1]), radius_mm=0.0)


def _faces(feature: Feature, views: Mapping[ViewName, View], w: Wording) -> Iterator[WantedSize]:
    """Between two parallel faces that lie level or upright in a view."""
    places = []
    for name in ORTHOGRAPHIC:
        view = views[name]
        along, at = view.flat(feature.axis), view.flat(feature.at)
        half = feature.size_mm / 2
        if abs(along[0]) > STRAIGHT or abs(along[1]) > STRAIGHT:
            start, end = (at[0] - half * abs(along[0]), at[1] - half * abs(along[1])), (at[0] + half * abs(along[0]), at[1] + half * abs(along[1]))
            places.append(Span(view=name, start=start, end=end, is_level=abs(along[0]) > STRAIGHT))
    if places:
        yield WantedSize(text=size_words(feature.size_mm, w), places=tuple(places), value_mm=feature.size_mm, kind=Kind.FACES, is_inner=feature.is_inner)
