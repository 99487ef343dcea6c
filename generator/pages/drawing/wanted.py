"""Which sizes of a part are worth a dimension, in which view, and which first?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations, pairwise
from typing import Final

from generator.geometry.drawing.kinds import Flat, Point, View, ViewName
from generator.geometry.features.kinds import Feature, Features, Kind
from generator.geometry.features.telling import off_axis, worth_telling
from generator.pages.drawing.groups import FeatureGroup, Ring, grouped
from generator.pages.wording import Wording

STRAIGHT: Final = 0.9999
"""Cosine from which an axis is that of a view."""
ORTHOGRAPHIC: Final = tuple(name for name in ViewName if name is not ViewName.PICTORIAL)
"""The usual ones first."""
PLANE: Final = {ViewName.REAR: ViewName.FRONT, ViewName.BELOW: ViewName.TOP, ViewName.RIGHT: ViewName.SIDE} | {name: name for name in ORTHOGRAPHIC[:3]}
"""The usual view that shows the same plane."""
_SIDES: Final = {Kind.SQUARE: 4, Kind.HEXAGON: 6}
_ALIKE_MM: Final = 0.02
_FINE_MM: Final = 0.011
"""What is measured of facets is so far off."""
_MOST_FACES: Final = 4
_MOST_STOPS: Final = 4
_FEW: Final = 3
"""On a ring, each as far from each other as from all."""
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
    """A dimension on a leader to a round, or to a spot where `radius_mm` is 0, of a view; or to straight sides so far from the centre."""

    view: ViewName
    centre: Flat
    radius_mm: float
    flats: int = 0
    """So many, evenly around."""
    round_mm: float = 0.0
    """Diameter of the round that the flats cut."""
    long_mm: float = 0.0
    """Length over all of a slot."""
    is_far: bool = False
    """What is pointed at begins on the side that one does not see."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedSize:
    """A dimension: its text, where it could stand (the best place first), and what it measures."""

    text: str
    places: tuple[Span | Pointer, ...]
    value_mm: float
    also_mm: float | None = None
    """What its text tells beside: a hole's seat, a slot's length."""
    far_text: str = ""
    """Where a leader points from the far side."""
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


def wanted_of(views: Mapping[ViewName, View], features: Features | None, w: Wording) -> tuple[list[WantedSize], list[FeatureGroup]]:
    """All dimensions, the most important first, and the groups whose centres are marked."""
    low, high = _box(views)
    groups = grouped(worth_telling(features.found)) if features else []
    turned = next((group.first for group in groups if group.first.kind is Kind.TURNED), None)
    outer = outer_rounds([group.first for group in groups], low, high)
    found = list(_overall(low, high, outer, w))
    taken = {round(each.value_mm, 2) for each in found}
    rounds = [group for group in groups if group.first.kind not in (Kind.FACES, Kind.TURNED)]
    found += [each for group in rounds if not _is_overall(group, outer) for each in _pointer(group, views, w)]
    found += [each for group in rounds for each in (_apart(group, views, w) if group.ring is None else _chord(group, views, w))]
    found += [each for group in rounds for each in _from_edges(group, views, turned, w)]
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
    return first.kind is Kind.BOSS and any(abs(each.size_mm - first.size_mm) < _ALIKE_MM and _is_in_line(each, first) for each in outer.values())


def _is_in_line(one: Feature, other: Feature) -> bool:
    return abs(_dot(one.axis, other.axis)) > STRAIGHT and off_axis(one, other) < _ALIKE_MM


def _once(found: list[WantedSize]) -> list[WantedSize]:
    """Without the straight dimensions that say again what another does: the same length in one direction of one view."""
    seen: set[tuple[object, ...]] = set()
    kept = []
    for each in found:
        first = each.places[0]
        key = (PLANE[first.view], first.is_level, each.text, each.is_apart) if isinstance(first, Span) and not each.span_text else None
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
    facing = _facing(group.seat or feature, views)
    if feature.kind is Kind.THREAD and not feature.is_inner:
        places = tuple(_on_flank(feature, views))
    elif not facing:
        best = max(ORTHOGRAPHIC, key=lambda name: abs(_dot(views[name].towards, feature.axis)))
        places = tuple(Pointer(view=best, centre=views[best].flat(each.at), radius_mm=0.0) for each in group.members[:4])
    else:
        places = tuple(each for name in facing for member in group.members[:6] for each in pointers_at(member, name, views[name]))
    if feature.kind is Kind.BOSS and all(_is_in_line(each, feature) for each in group.members):
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


def _facing(feature: Feature, views: Mapping[ViewName, View]) -> list[ViewName]:
    """The views along the axis of a feature: of what ends in the part those first that look at its beginning."""
    along = [name for name in ORTHOGRAPHIC if abs(_dot(views[name].towards, feature.axis)) > STRAIGHT]
    return sorted(along, key=lambda name: _is_far(feature, views[name]))


def _is_far(feature: Feature, view: View) -> bool:
    return _dot(view.towards, feature.axis) < 0 and feature.is_through is not True and feature.kind is not Kind.THREAD


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


def _apart(group: FeatureGroup, views: Mapping[ViewName, View], w: Wording) -> Iterator[WantedSize]:
    """Between the centres of a group, level and upright: from the first to the last where they are evenly spaced, else to each."""
    if len(group.members) < 2 or not (facing := _facing(group.first, views)):
        return
    if all(_is_in_line(each, group.first) for each in group.members):
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


def _chord(group: FeatureGroup, views: Mapping[ViewName, View], w: Wording) -> Iterator[WantedSize]:
    """From one of a few on a ring to the next, where the two lie level or upright."""
    if len(group.members) > _FEW or not (facing := _facing(group.first, views)):
        return
    first = views[facing[0]]
    for one, other in combinations(group.members, 2):
        (x, y), (to_x, to_y) = first.flat(one.at), first.flat(other.at)
        if min(abs(to_x - x), abs(to_y - y)) < _ALIKE_MM:
            is_level = abs(to_y - y) < _ALIKE_MM
            spans = tuple(Span(view=name, start=views[name].flat(one.at), end=views[name].flat(other.at), is_level=is_level) for name in facing)
            marks = tuple(next(pointers_at(each, name, views[name])) for name in facing for each in (one, other))
            apart = math.dist((x, y), (to_x, to_y))
            yield WantedSize(text=size_words(apart, w), places=spans, value_mm=apart, is_apart=True, marks=marks)
            return


def _in_line(group: FeatureGroup, views: Mapping[ViewName, View], w: Wording) -> Iterator[WantedSize]:
    """From the first to the last of features on one axis, from an end to the same end."""
    if not group.is_one_length or any(_dot(each.axis, group.first.axis) < 0 for each in group.members):
        return
    low, high = (end(group.members, key=lambda each: _dot(each.at, group.first.axis)) for end in (min, max))
    spans = []
    for name in ORTHOGRAPHIC:
        along = views[name].flat(group.first.axis)
        if max(abs(along[0]), abs(along[1])) > STRAIGHT:
            spans.append(Span(view=name, start=views[name].flat(low.at), end=views[name].flat(high.at), is_level=abs(along[0]) > STRAIGHT))
    apart = _dot(high.at, group.first.axis) - _dot(low.at, group.first.axis)
    yield WantedSize(text=size_words(apart, w), places=tuple(spans), value_mm=apart, is_apart=True)


def _stops(sorted_at: Sequence[float], apart: float) -> list[int]:
    """The first of those that are nearly in line, by index."""
    found = [0]
    for index, at in enumerate(sorted_at):
        if at - sorted_at[found[-1]] > apart:
            found.append(index)
    return found


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


def _from_edges(group: FeatureGroup, views: Mapping[ViewName, View], turned: Feature | None, w: Wording) -> Iterator[WantedSize]:
    """How far the first centre of a group, or that of its ring, lies from the part's left and lower edge; not of what lies on the axis of a turned shape."""
    if not (facing := _facing(group.first, views)):
        return
    first = views[facing[0]]
    nearest = min(group.members, key=lambda each: (round(sum(first.flat(each.at)), 2), first.flat(each.at)))
    at = group.ring.centre if group.ring else nearest.at
    if turned and math.dist(first.flat(at), first.flat(turned.at)) < _ALIKE_MM:
        return
    for axis in (0, 1):
        centre, low = first.flat(at)[axis], first.low[axis]
        middle = (low + first.high[axis]) / 2
        # In the middle by the eye: its centre line tells it; on the edge there is nothing to tell.
        if centre - low <= _ALIKE_MM or abs(centre - middle) < max(_ALIKE_MM, 0.006 * (first.high[axis] - low)):
            continue
        spans, marks = [], []
        for name in facing:
            view = views[name]
            x, y = view.flat(at)
            edge = low * _dot(_across_of(first, axis), _across_of(view, axis))
            spans.append(Span(view=name, start=(edge, y) if axis == 0 else (x, edge), end=(x, y), is_level=axis == 0))
            marks.append(next(pointers_at(nearest, name, view)))
        yield WantedSize(text=size_words(centre - low, w), places=tuple(spans), value_mm=centre - low, marks=tuple(marks))


def _across_of(view: View, axis: int) -> Point:
    return view.up if axis else view.right


def size_words(size_mm: float, w: Wording) -> str:
    """As a drawing states a size: to 0.05 mm where it is one, else to 0.1 mm; common practice, no source."""
    fine = round(size_mm * 20) / 20
    is_fine = size_mm < 100 and abs(size_mm - fine) < _FINE_MM
    return w.measure(fine, 2) if is_fine else w.measure(size_mm, 1)


def _dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


__all__ = ["Pointer", "Ring", "Span", "WantedSize", "feature_words", "most_telling", "outer_rounds", "size_words", "wanted_of"]
