"""Which sizes of a part are worth a dimension, in which view, and which first?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from generator.geometry.drawing.kinds import Flat, Point, View, ViewName
from generator.geometry.features.kinds import Feature, Features, Kind
from generator.geometry.features.telling import off_axis, worth_telling
from generator.pages.drawing.groups import Group, Ring, grouped
from generator.pages.wording import Wording

STRAIGHT: Final = 0.9999
"""Cosine from which an axis is that of a view."""
ORTHOGRAPHIC: Final = (ViewName.FRONT, ViewName.TOP, ViewName.SIDE)
_ALIKE_MM: Final = 0.02
_MOST_FACES: Final = 4
_MOST: Final = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A dimension in a straight line between two places of a view, level or upright."""

    view: ViewName
    start: Flat  # mm of the view
    end: Flat
    is_level: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Pointer:
    """A dimension on a leader to a round, or to a spot where `radius_mm` is 0, of a view."""

    view: ViewName
    centre: Flat
    radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A dimension: its text, where it could stand (the best place first), and what it measures."""

    text: str
    places: tuple[Span | Pointer, ...]
    value_mm: float
    also_mm: float | None = None
    """What its text tells beside: a hole's seat, a slot's length."""
    span_text: str = ""
    """In a straight line, where that says less than a leader does."""
    kind: Kind | None = None
    """None: of the whole part, or between features."""
    is_overall: bool = False
    is_inner: bool = False
    is_apart: bool = False
    """Between two centres."""
    marks: tuple[Pointer, ...] = ()
    """What has to be seen in its view, so that the dimension ends in something."""
    count: int = 1
    balloons: tuple[int, ...] = field(default=())


def wanted_of(views: Mapping[ViewName, View], features: Features | None, w: Wording) -> tuple[list[Wanted], list[Group]]:
    """All dimensions, the most important first, and the groups whose centres are marked."""
    low, high = _box(views)
    groups = grouped(worth_telling(features.found)) if features else []
    turned = next((group.first for group in groups if group.first.kind is Kind.TURNED), None)
    outer = outer_rounds([group.first for group in groups], low, high)
    found = list(_overall(low, high, outer, w))
    taken = {round(each.value_mm, 2) for each in found}
    rounds = [group for group in groups if group.first.kind not in (Kind.FACES, Kind.TURNED)]
    found += [each for group in rounds if not _is_overall(group, outer) for each in _pointer(group, views, w)]
    found += [each for group in rounds if group.ring is None for each in _apart(group, views, w)]
    faces = (each for group in groups if group.first.kind is Kind.FACES for each in _faces(group.first, views, w))
    found += [each for each in faces if round(each.value_mm, 2) not in taken]
    found += [each for group in rounds if group.ring is None and group.first.kind is not Kind.SLOT for each in _from_edges(group, views, turned, w)]
    return _once(found), groups


def most_telling(wanted: Iterable[Wanted]) -> list[Wanted]:
    """As many as a sheet could show: all that show a check, and of the others only the first distances between faces."""
    faces = 0
    kept = []
    for each in wanted:
        is_face = each.kind is Kind.FACES and not each.balloons
        faces += is_face
        if not is_face or faces <= _MOST_FACES:
            kept.append(each)
    return kept[:_MOST]


def _is_overall(group: Group, outer: Mapping[int, Feature]) -> bool:
    """Whether the whole part's dimension is that of this boss."""
    first = group.first
    return first.kind is Kind.BOSS and any(abs(each.size_mm - first.size_mm) < _ALIKE_MM and _is_in_line(each, first) for each in outer.values())


def _is_in_line(one: Feature, other: Feature) -> bool:
    return abs(_dot(one.axis, other.axis)) > STRAIGHT and off_axis(one, other) < _ALIKE_MM


def _once(found: list[Wanted]) -> list[Wanted]:
    """Without the straight dimensions that say again what another does: the same length in one direction of one view."""
    seen: set[tuple[object, ...]] = set()
    kept = []
    for each in found:
        first = each.places[0]
        key = (first.view, first.is_level, round(each.value_mm, 1)) if isinstance(first, Span) and not each.span_text else None
        if key is None or key not in seen:
            kept.append(each)
        seen.add(key or ())
    return kept


def _box(views: Mapping[ViewName, View]) -> tuple[Point, Point]:
    front, top = views[ViewName.FRONT], views[ViewName.TOP]
    return (front.low[0], top.low[1], front.low[1]), (front.high[0], top.high[1], front.high[1])


def outer_rounds(features: Iterable[Feature], low: Point, high: Point) -> dict[int, Feature]:
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


def _overall(low: Point, high: Point, outer: Mapping[int, Feature], w: Wording) -> Iterator[Wanted]:
    """Length, depth and height; of a round its diameter, once in the place of two of them."""
    told: list[Feature] = []
    for i in (0, 2, 1):
        if round_ := outer.get(i):
            if round_ in told:
                continue
            told.append(round_)
        size = round_.size_mm if round_ else high[i] - low[i]
        yield Wanted(
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


def _pointer(group: Group, views: Mapping[ViewName, View], w: Wording) -> Iterator[Wanted]:
    feature = group.first
    places: tuple[Span | Pointer, ...]
    seen = next((name for name in ORTHOGRAPHIC if abs(_dot(views[name].towards, feature.axis)) > STRAIGHT), None)
    if feature.kind is Kind.THREAD and not feature.is_inner:
        places = tuple(_on_flank(feature, views))
    elif seen is None:
        best = max(ORTHOGRAPHIC, key=lambda name: abs(_dot(views[name].towards, feature.axis)))
        places = tuple(Pointer(view=best, centre=views[best].flat(each.at), radius_mm=0.0) for each in group.members[:4])
    else:
        radius = feature.size_mm / 2
        places = tuple(Pointer(view=seen, centre=views[seen].flat(each.at), radius_mm=radius) for each in group.members[:6])
    if feature.kind is Kind.BOSS and all(_is_in_line(each, feature) for each in group.members):
        places = (*(span for each in group.members for span in _across(each, views)), *places)
    is_far = seen is not None and _dot(views[seen].towards, feature.axis) < 0 and feature.is_through is not True and feature.kind is not Kind.THREAD
    if places:
        text = feature_words(group, w)
        across = f"Ø{size_words(feature.size_mm, w)}"
        yield Wanted(
            text=w("drawing.far_side", feature=text) if is_far else text,
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
        if abs(_dot(view.towards, feature.axis)) < 0.01 and max(abs(along[0]), abs(along[1])) > STRAIGHT:
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
        if abs(_dot(view.towards, feature.axis)) < 0.01:
            along = view.flat(feature.axis)
            across = (-along[1] * feature.size_mm / 2, along[0] * feature.size_mm / 2)
            x, y = view.flat((middle[0], middle[1], middle[2]))
            for sign in (1, -1):
                yield Pointer(view=name, centre=(x + sign * across[0], y + sign * across[1]), radius_mm=0.0)


def feature_words(group: Group, w: Wording) -> str:
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
        text = w("drawing.seat", feature=text, seat=size_words(group.seat.size_mm, w), depth=size_words(group.seat.length_mm or 0.0, w))
    if group.ring is not None:
        text = w("drawing.on_ring", feature=text, ring=size_words(2 * group.ring.radius_mm, w))
    return f"{len(group.members)} × {text}" if len(group.members) > 1 else text


def _tells_length(feature: Feature) -> bool:
    """How deep a hole or pocket is, how high a boss; the length of other outer shapes is a dimension between faces."""
    return feature.is_through is not True and (feature.is_inner or feature.kind is Kind.BOSS)


def _apart(group: Group, views: Mapping[ViewName, View], w: Wording) -> Iterator[Wanted]:
    """Between the outermost centres of a group, level and upright."""
    if len(group.members) < 2:
        return
    for name in ORTHOGRAPHIC:
        view = views[name]
        if abs(_dot(view.towards, group.first.axis)) <= STRAIGHT:
            continue
        centres = [view.flat(each.at) for each in group.members]
        radius = group.first.size_mm / 2
        for axis in (0, 1):
            start, end = min(centres, key=lambda at: (at[axis], at[1 - axis])), max(centres, key=lambda at: (at[axis], -at[1 - axis]))
            apart = end[axis] - start[axis]
            if apart > max(0.05 * group.first.size_mm, 0.1):
                marks = tuple(Pointer(view=name, centre=each, radius_mm=radius) for each in (start, end))
                span = Span(view=name, start=start, end=end, is_level=axis == 0)
                yield Wanted(text=size_words(apart, w), places=(span,), value_mm=apart, is_apart=True, marks=marks)
        return


def _faces(feature: Feature, views: Mapping[ViewName, View], w: Wording) -> Iterator[Wanted]:
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
        yield Wanted(text=size_words(feature.size_mm, w), places=tuple(places), value_mm=feature.size_mm, kind=Kind.FACES, is_inner=feature.is_inner)


def _from_edges(group: Group, views: Mapping[ViewName, View], turned: Feature | None, w: Wording) -> Iterator[Wanted]:
    """How far the first centre of a group lies from the part's left and lower edge; not of what lies on the axis of a turned shape."""
    for name in ORTHOGRAPHIC:
        view = views[name]
        if abs(_dot(view.towards, group.first.axis)) <= STRAIGHT:
            continue
        centre = min((view.flat(each.at) for each in group.members), key=lambda at: (round(at[0] + at[1], 2), at))
        if turned and math.dist(centre, view.flat(turned.at)) < _ALIKE_MM:
            return
        for axis in (0, 1):
            apart = centre[axis] - view.low[axis]
            middle = (view.low[axis] + view.high[axis]) / 2
            # In the middle by the eye: its centre line tells it; on the edge there is nothing to tell.
            if apart <= _ALIKE_MM or abs(centre[axis] - middle) < max(_ALIKE_MM, 0.006 * (view.high[axis] - view.low[axis])):
                continue
            edge = (view.low[0], centre[1]) if axis == 0 else (centre[0], view.low[1])
            span = Span(view=name, start=edge, end=centre, is_level=axis == 0)
            mark = Pointer(view=name, centre=centre, radius_mm=group.first.size_mm / 2)
            yield Wanted(text=size_words(apart, w), places=(span,), value_mm=apart, marks=(mark,))
        return


def size_words(size_mm: float, w: Wording) -> str:
    """Two decimals at most, one from 100 mm."""
    return w.measure(size_mm, 2 if size_mm < 100 else 1)


def _dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


__all__ = ["Pointer", "Ring", "Span", "Wanted", "feature_words", "most_telling", "outer_rounds", "size_words", "wanted_of"]
