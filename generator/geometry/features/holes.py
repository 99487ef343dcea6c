"""Which round holes and bosses has the part: how deep, through or not, with which seat for a screw's head?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Self

import numpy as np

from generator.geometry.distinct import distinct
from generator.geometry.features.cylinders import covered
from generator.geometry.features.facets import Facets, Floats, Ints
from generator.geometry.features.frames import point
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.piercing import Piercing
from generator.geometry.features.rounds import FULL_DEG, End, Round

_WIDER: Final = 1.25  # a cone that widens a hole by less breaks its edge and is no seat (common practice, no source)
_TIP: Final = 1.3  # radii that a drill's tip goes on behind the wall: 90° and wider
_AT_END: Final = 0.01  # radii from the end of a hole's wall to its floor
_CONE: Final = (0.25, 0.95)  # of a seat's faces: how much of the normal runs along the axis


@dataclass(frozen=True, eq=False)
class _Seat:
    """A cone around the end of a hole. radius: where it is widest, at `along`."""

    radius: float
    along: float
    within_mm: float
    arc_deg: float


def holes_and_bosses(facets: Facets, rounds: Sequence[Round], axes: Piercing) -> list[Feature]:
    """What is told of rounds; a seat names the place in this list of the hole that it is around."""
    told = [each for each in rounds if each.is_told]
    holes = [each for each in told if each.is_inner]
    bosses = [each for each in told if not each.is_inner]
    among_holes, among_bosses = _Axes.of(holes), _Axes.of(bosses)
    below = [None if _has_island(each, among_bosses) else _smaller(among_holes, each) for each in holes]
    found = [_hole(axes, each, below[number] is not None) for number, each in enumerate(holes)]
    for number, smaller in enumerate(below):
        if smaller is not None:
            found[number] = replace(found[number], seat=smaller, is_through=False)
    seats = []
    for number, hole in enumerate(holes):
        for end in (hole.low, hole.high):
            seat = _cone(facets, hole, end)
            if seat is not None:
                seats.append(_countersink(hole, end, seat, number))
    found = [_opened_at_seat(each, number, found, seats) for number, each in enumerate(found)]
    return [*found, *seats, *(_boss(each) for each in told if not each.is_inner)]


def _hole(axes: Piercing, hole: Round, is_stepped: bool) -> Feature:  # noqa: FBT001
    hits = axes.hits(hole.frame, hole.centre)
    closed_low = not is_stepped and _is_closed(hits, hole, hole.low, -1.0)
    closed_high = not is_stepped and _is_closed(hits, hole, hole.high, 1.0)
    opening, sense = (hole.low, -1.0) if closed_high and not closed_low else (hole.high, 1.0)
    is_through = None if closed_low and closed_high else not (closed_low or closed_high)
    return _feature(hole, Kind.HOLE, opening, sense, is_through=is_through)


def _is_closed(hits: Floats, hole: Round, end: End, sense: float) -> bool:
    """Whether the surface goes on towards the axis and meets it: a floor, or the tip that a drill leaves."""
    beyond = (hits - end.along) * sense
    if (np.abs(beyond) < _AT_END * hole.radius).any():
        return True  # of a threaded hole the floor reaches further out than the core
    if end.inwards < 0.5:
        return False
    return bool(((beyond > -0.5 * hole.length) & (beyond < _TIP * hole.radius)).any())


def _boss(boss: Round) -> Feature:
    """Its top is where the surface goes on towards the axis."""
    low_is_top = boss.low.inwards > boss.high.inwards
    end, sense = (boss.low, -1.0) if low_is_top else (boss.high, 1.0)
    return _feature(boss, Kind.BOSS, end, sense)


def _feature(round_: Round, kind: Kind, end: End, sense: float, *, is_through: bool | None = None) -> Feature:
    return Feature(
        kind=kind,
        at=point(round_.frame.space(round_.centre, end.along)),
        axis=point(sense * round_.frame.axis),
        size_mm=2 * round_.radius,
        within_mm=round_.within_mm,
        length_mm=round_.length,
        is_inner=round_.is_inner,
        is_through=is_through,
        arc_deg=round_.arc_deg,
    )


def _smaller(among: _Axes, hole: Round) -> int | None:
    """The hole that goes on from the floor of a wider one; of two the wider."""
    best, holes = None, among.rounds
    for number in among.in_line_with(hole, hole.radius * 0.98):
        other = holes[number]
        step = hole.radius - other.radius
        for mine, theirs in ((hole.low, _end(other, hole, -1)), (hole.high, _end(other, hole, 1))):
            near = abs(mine.along - theirs) <= 0.05 * hole.radius + 1.2 * step
            if mine.inwards > 0.5 and near and (best is None or other.radius > holes[best].radius):
                best = number
    return best


def _has_island(hole: Round, bosses: _Axes) -> bool:
    """Whether something stands in the middle of a hole: it is a ring groove, and nothing's seat."""
    in_line = [bosses.rounds[number] for number in bosses.in_line_with(hole, hole.radius)]
    inside = [each for each in in_line if 0.5 * hole.radius < each.radius]
    middle = (hole.low.along + hole.high.along) / 2
    return any(_end(each, hole, 1) < middle < _end(each, hole, -1) for each in inside)


@dataclass(frozen=True, eq=False)
class _Axes:
    """Rounds with a point on each one's axis, the axis, (n, 3) each, and the radius, (n,)."""

    rounds: Sequence[Round]
    points: Floats
    axes: Floats
    radii: Floats

    @classmethod
    def of(cls, rounds: Sequence[Round]) -> Self:
        points = np.array([each.frame.space(each.centre, each.low.along) for each in rounds]).reshape(-1, 3)
        axes = np.array([each.frame.axis for each in rounds]).reshape(-1, 3)
        return cls(rounds, points, axes, np.array([each.radius for each in rounds]))

    def in_line_with(self, one: Round, below: float) -> list[int]:
        """The numbers of those with a smaller radius than that which lie on the axis of one."""
        alike = np.flatnonzero((self.radii < below) & (np.abs(self.axes @ one.frame.axis) >= 1 - 1e-6))
        off = one.frame.flat(self.points[alike]) - one.centre
        found: list[int] = alike[np.hypot(off[:, 0], off[:, 1]) < 0.01 * one.radius + 1e-3].tolist()
        return found


def _end(other: Round, seen_from: Round, towards: int) -> float:
    """Where along another's axis the end of a round lies that is next to its low (-1) or high (1) end."""
    sense = 1.0 if other.frame.axis @ seen_from.frame.axis > 0 else -1.0
    ends = sorted((sense * other.low.along, sense * other.high.along))
    return ends[1] if towards < 0 else ends[0]


def _cone(facets: Facets, hole: Round, end: End) -> _Seat | None:
    """The faces around an end that lie on one cone and widen it."""
    if not len(end.beyond) or end.inwards > 0.5:
        return None
    rising = facets.normals[end.beyond] @ hole.frame.axis
    lean = float(np.median(rising))
    if not _CONE[0] < abs(lean) < _CONE[1]:
        return None
    slope = np.sqrt(1 - lean * lean) / abs(lean)  # along the axis for each mm that it widens
    faces = _on_cone(facets, hole, end, slope, lean)
    if not len(faces):
        return None
    corners = facets.corners[faces].reshape(-1, 3)
    flat = hole.frame.flat(corners) - hole.centre
    wide = np.hypot(flat[:, 0], flat[:, 1])
    radius = float(wide.max())
    if radius < _WIDER * hole.radius:
        return None
    arc = float(covered(flat).sum()) / 2
    if arc < FULL_DEG * 0.8 and arc < hole.arc_deg * 0.8:
        return None
    along = float(hole.frame.along(corners)[int(wide.argmax())])
    within = hole.within_mm * radius / hole.radius
    return _Seat(radius=radius, along=along, within_mm=within, arc_deg=360.0 if arc >= 359 else arc)


def _on_cone(facets: Facets, hole: Round, end: End, slope: float, lean: float) -> Ints:
    """Faces that hang together from the rim on, with all corners on the cone, found ring by ring."""
    slack = 4 * facets.slack_mm + 2e-3 * hole.radius
    sense = 1.0 if end is hole.high else -1.0

    def lies(faces: Ints) -> Ints:
        corners = facets.corners[faces].reshape(-1, 3)
        flat = hole.frame.flat(corners) - hole.centre
        wide = np.hypot(flat[:, 0], flat[:, 1]) - hole.radius
        tall = (hole.frame.along(corners) - end.along) * sense
        off = np.abs(tall - slope * wide) * abs(lean)
        leans = np.abs(facets.normals[faces] @ hole.frame.axis - lean) < 0.06
        lying: Ints = faces[(off.reshape(-1, 3).max(axis=1) <= slack) & leans]
        return lying

    seen = np.zeros(len(facets.faces), dtype=bool)
    seen[hole.faces] = True
    new = lies(distinct(end.beyond))
    found = [new]
    for _ in range(200):
        seen[new] = True
        edges = facets.edges_at(new)
        beside = distinct(np.concatenate([facets.one[edges], facets.other[edges]])) if len(edges) else edges
        beside = beside[~seen[beside]]
        seen[beside] = True
        new = lies(beside) if len(beside) else beside
        if not len(new):
            break
        found.append(new)
    return np.concatenate(found)


def _countersink(hole: Round, end: End, seat: _Seat, below: int) -> Feature:
    sense = 1.0 if end is hole.high else -1.0
    return Feature(
        kind=Kind.HOLE,
        at=point(hole.frame.space(hole.centre, seat.along)),
        axis=point(sense * hole.frame.axis),
        size_mm=2 * seat.radius,
        within_mm=seat.within_mm,
        length_mm=abs(seat.along - end.along),
        second_mm=2 * hole.radius,
        is_inner=True,
        is_through=False,
        arc_deg=seat.arc_deg,
        seat=below,
    )


def _opened_at_seat(hole: Feature, number: int, found: Sequence[Feature], seats: Sequence[Feature]) -> Feature:
    """A through hole opens where its seat is."""
    above = next((each for each in (*found, *seats) if each.seat == number), None)
    if above is None or not hole.is_through or hole.length_mm is None:
        return hole
    if sum(a * b for a, b in zip(hole.axis, above.axis, strict=True)) > 0:
        return hole
    back = tuple(a - hole.length_mm * b for a, b in zip(hole.at, hole.axis, strict=True))
    return replace(hole, at=point(np.array(back)), axis=point(-np.array(hole.axis)))
