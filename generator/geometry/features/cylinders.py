"""Which facets lie on round surfaces: cylinders, seen by corners that lie on one circle about one axis?

Rows of rulings (rows.py) give an axis and a radius by least squares. From there a cylinder grows over all facets whose three
corners lie on it and that hang together with its rulings.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.features.axial import directions_of, rows_about
from generator.geometry.features.facets import SMOOTH_DEG, Bools, Facets, Floats, Ints, joined
from generator.geometry.features.frames import Frame, circle_through, framed
from generator.geometry.features.rows import MOST_ROWS, rows_of

_MOST_LOOKED_AT: Final = 60_000_000  # corners held against cylinders, in all


@dataclass(frozen=True, eq=False)
class Cylinder:
    """Facets on one cylinder that hang together.

    frame: its axis is the frame's third direction. centre: (2,) in the frame. faces: (k,) face numbers.
    is_inner: seen from the axis the surface looks at you. within_mm: the chord error of its facets.
    """

    frame: Frame
    centre: Floats
    radius: float
    low: float
    high: float
    faces: Ints
    is_inner: bool
    arcs: Bools  # (720,) which half degrees of the turn it covers
    within_mm: float
    area_mm2: float

    @property
    def arc_deg(self) -> float:
        return float(self.arcs.sum()) / 2


def cylinders_of(facets: Facets) -> tuple[list[Cylinder], bool]:
    """All that is found, the largest area first, and whether the work was done to its end."""
    search = _Search(facets)
    for lines in sorted(rows_of(facets), key=lambda row: (-len(row), row[0])):
        seeds = np.concatenate([facets.one[lines], facets.other[lines]])
        search.grow(seeds, lambda lines=lines: _fitted(facets, lines))
    axes = [(each.frame.axis, each.area_mm2) for each in search.found]
    for frame in directions_of(facets, axes):
        for seeds in sorted(rows_about(facets, frame, search.taken), key=lambda row: (-len(row), row[0])):
            search.grow(seeds, lambda seeds=seeds, frame=frame: _fitted_about(facets, frame, seeds))
    return search.found, search.is_whole


class _Search:
    """What has been found, which faces it takes, and how much work it was."""

    def __init__(self, facets: Facets) -> None:
        self.found: list[Cylinder] = []
        self.taken = np.zeros(len(facets.faces), dtype=bool)
        self.is_whole = True
        self._facets = facets
        self._smooth = _Smooth(facets)
        self._tried = self._work = 0

    def grow(self, seeds: Ints, fitted: Callable[[], Fitted | None]) -> None:
        """A cylinder from faces in a row, unless others have them all."""
        if self._tried >= MOST_ROWS or self._work > _MOST_LOOKED_AT:
            self.is_whole = False
            return
        if self.taken[seeds].all():
            return
        self._tried += 1
        start = fitted()
        if start is None:
            return
        around = self._smooth.around(seeds[0])
        self._work += len(around)
        cylinder = _grown(self._facets, start, around, seeds, self.taken)
        if cylinder is not None:
            self.taken[cylinder.faces] = True
            self.found.append(cylinder)


class _Smooth:
    """Faces that hang together without a sharp edge between them."""

    def __init__(self, facets: Facets) -> None:
        near = np.abs(facets.turn) < np.radians(SMOOTH_DEG)
        self._one, self._other = facets.one[near], facets.other[near]
        self._label = joined(len(facets.faces), self._one, self._other)
        self._order = np.argsort(self._label, kind="stable")
        self._starts = np.searchsorted(self._label[self._order], np.arange(self._label.max() + 2))

    def around(self, face: int) -> Ints:
        """All faces of the smooth piece that a face is part of."""
        label = self._label[face]
        found: Ints = self._order[self._starts[label] : self._starts[label + 1]]
        return found


@dataclass(frozen=True, eq=False)
class Fitted:
    """An axis and a circle about it. frame, centre and radius as of a `Cylinder`."""

    frame: Frame
    centre: Floats
    radius: float


def _fitted(facets: Facets, lines: Ints) -> Fitted | None:
    """The cylinder through the rulings' ends; None where they lie on none."""
    low, high = facets.vertices[facets.low[lines]], facets.vertices[facets.high[lines]]
    towards = high - low
    lead = towards[np.argmax(np.einsum("ij,ij->i", towards, towards))]
    towards *= np.where(towards @ lead < 0, -1.0, 1.0)[:, None]
    frame = framed(towards.sum(axis=0))
    if frame is None:
        return None
    points = np.vstack([low, high])
    flat = frame.flat(points)
    circle = circle_through(flat)
    if circle is None:
        return None
    centre, radius = circle
    off = np.abs(np.linalg.norm(flat - centre, axis=1) - radius)
    if float(np.median(off)) > slack_for(facets, radius):
        return None
    return Fitted(frame=frame, centre=centre, radius=radius)


def _fitted_about(facets: Facets, frame: Frame, faces: Ints) -> Fitted | None:
    """The cylinder about a known direction through the faces' corners; None where they lie on none."""
    flat = frame.flat(facets.vertices[np.unique(facets.faces[faces])])
    circle = circle_through(flat)
    if circle is None:
        return None
    centre, radius = circle
    off = np.abs(np.linalg.norm(flat - centre, axis=1) - radius)
    if float(np.median(off)) > 2 * slack_for(facets, radius):
        return None
    return Fitted(frame=frame, centre=centre, radius=radius)


def slack_for(facets: Facets, radius: float) -> float:
    """How far beside a circle of that radius a corner may lie and still be on it."""
    return facets.slack_mm + 2e-4 * radius


def _grown(facets: Facets, fitted: Fitted, around: Ints, seeds: Ints, taken: Bools) -> Cylinder | None:
    """The facets that lie on the cylinder and hang together with the seeds; fitted to all their corners once more."""
    faces = _on(facets, fitted, around[~taken[around]])
    faces = _with(facets, faces, seeds)
    if len(faces) < 3:
        return None
    better = _refitted(facets, fitted, faces)
    if better is None:
        return None
    faces = _with(facets, _on(facets, better, around[~taken[around]]), seeds)
    if len(faces) < 3:
        return None
    return measured(facets, better, faces)


def _on(facets: Facets, fitted: Fitted, faces: Ints) -> Ints:
    """Those of the faces whose three corners lie on the cylinder and which look away from or at its axis."""
    slack = slack_for(facets, fitted.radius)
    flat = fitted.frame.flat(facets.corners[faces].reshape(-1, 3)) - fitted.centre
    off = np.abs(np.hypot(flat[:, 0], flat[:, 1]) - fitted.radius).reshape(-1, 3)
    near = off.max(axis=1) <= slack
    leaning = np.abs(facets.normals[faces] @ fitted.frame.axis) < 0.3
    kept = faces[near & leaning]
    middle = fitted.frame.flat(facets.centres[kept]) - fitted.centre
    # A facet across the hole, or of a flat that cuts it off, has its corners on the circle too, but not its middle.
    deep = np.hypot(middle[:, 0], middle[:, 1]) > fitted.radius * np.cos(np.radians(SMOOTH_DEG) / 2) * 0.985
    found: Ints = kept[deep]
    return found


def _with(facets: Facets, faces: Ints, seeds: Ints) -> Ints:
    """Of the faces those that hang together, by shared edges, with most of the seeds."""
    if not len(faces):
        return faces
    place = np.full(len(facets.faces), -1, dtype=np.int64)
    place[faces] = np.arange(len(faces))
    one, other = _edges_in(facets, place, faces)
    label = joined(len(faces), place[one], place[other])
    seeded = place[seeds]
    seeded = seeded[seeded >= 0]
    if not len(seeded):
        return faces[:0]
    chosen = np.bincount(label[seeded]).argmax()
    hanging: Ints = faces[label == chosen]
    return hanging


def _edges_in(facets: Facets, place: Ints, faces: Ints) -> tuple[Ints, Ints]:
    edges = facets.edges_at(faces)
    one, other = facets.one[edges], facets.other[edges]
    inside = (place[one] >= 0) & (place[other] >= 0)
    return one[inside], other[inside]


def _refitted(facets: Facets, fitted: Fitted, faces: Ints) -> Fitted | None:
    """The circle through all corners; the axis turned too where that fits better."""
    points = facets.vertices[np.unique(facets.faces[faces])]
    circle = circle_through(fitted.frame.flat(points))
    if circle is None:
        return None
    centre, radius = circle
    off = np.abs(np.linalg.norm(fitted.frame.flat(points) - centre, axis=1) - radius)
    if float(off.max()) < facets.slack_mm / 4:
        return Fitted(frame=fitted.frame, centre=centre, radius=radius)
    return turned_to(fitted.frame, centre, radius, points)


def turned_to(frame: Frame, centre: Floats, radius: float, points: Floats) -> Fitted | None:
    """Least squares for axis, centre and radius together, by Gauss and Newton from a near start."""
    for _ in range(3):
        away = frame.flat(points) - centre
        along = frame.along(points)
        middle = float(along.mean())
        distance = np.linalg.norm(away, axis=1)
        if not (distance > 0).all():
            return None
        unit = away / distance[:, None]
        lever = (along - middle)[:, None]
        system = np.column_stack([unit, unit * lever, np.ones(len(points))])
        step = np.linalg.lstsq(system, distance - radius, rcond=1e-9)[0]
        pivot = frame.space(centre + step[:2], middle)
        turned = framed(frame.axis + step[2] * frame.right + step[3] * frame.ahead)
        if turned is None:
            return None
        frame, radius = turned, radius + float(step[4])
        centre = frame.flat(pivot[None])[0]
    return Fitted(frame=frame, centre=centre, radius=radius) if radius > 0 else None


def measured(facets: Facets, fitted: Fitted, faces: Ints) -> Cylinder:
    """What the faces on a cylinder say of it."""
    frame, centre = fitted.frame, fitted.centre
    corners = facets.corners[faces].reshape(-1, 3)
    along = frame.along(corners)
    away = frame.flat(facets.centres[faces]) - centre
    outwards = frame.flat(facets.normals[faces])
    towards = np.einsum("ij,ij->i", away, outwards)
    areas = facets.areas[faces]
    # How far each facet's own plane lies from the axis: at the middle of its chord.
    chord = np.abs(towards) / np.maximum(np.linalg.norm(outwards, axis=1), 1e-9)
    return Cylinder(
        frame=frame,
        centre=centre,
        radius=fitted.radius,
        low=float(along.min()),
        high=float(along.max()),
        faces=np.sort(faces),
        is_inner=float((np.sign(towards) * areas).sum()) < 0,
        arcs=covered(frame.flat(corners) - centre),
        within_mm=float(max((fitted.radius - chord).max(), 0.0)),
        area_mm2=float(areas.sum()),
    )


def covered(flat: Floats) -> Bools:
    """Which of 720 half degrees about the origin triangles lie over. flat: (3k, 2), three corners in a row."""
    angle = np.arctan2(flat[:, 1], flat[:, 0]).reshape(-1, 3)
    turned = np.mod(angle - angle[:, :1] + np.pi, 2 * np.pi) - np.pi
    start = np.round((angle[:, 0] + turned.min(axis=1)) * 360 / np.pi).astype(np.int64)
    end = np.round((angle[:, 0] + turned.max(axis=1)) * 360 / np.pi).astype(np.int64)
    steps = np.zeros(3 * 720 + 1, dtype=np.int64)
    np.add.at(steps, np.clip(start + 720, 0, 3 * 720), 1)
    np.add.at(steps, np.clip(end + 720, 0, 3 * 720), -1)
    over: Bools = np.any((np.cumsum(steps)[:-1] > 0).reshape(3, 720), axis=0)
    return over
