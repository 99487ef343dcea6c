"""Which facets lie on round surfaces: cylinders, seen by corners that lie on one circle about one axis?

Rows of rulings (rows.py) give an axis and a radius by least squares. From there a cylinder grows over all facets whose three
corners lie on it and that hang together with its rulings.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Final

import numpy as np

from generator.geometry.distinct import distinct
from generator.geometry.features.axial import directions_of, rows_about, smooth_pieces
from generator.geometry.features.facets import SMOOTH_DEG, Bools, Facets, Floats, Ints
from generator.geometry.features.frames import Frame, circle_through, framed
from generator.geometry.features.regions import Regions
from generator.geometry.features.rows import MOST_ROWS, rows_of
from generator.geometry.features.spread import spread

_MOST_LOOKED_AT: Final = 40_000_000  # regions held against cylinders, in all
_FEWEST: Final = 3  # strips of a cylinder, corners of a strip
_MOSTLY: Final = 0.9  # of a region's area that lies on the cylinder
_LEANING: Final = 0.3  # how much of a strip's normal may run along the axis
_SHALLOWEST: Final = 0.985 * float(np.cos(np.radians(SMOOTH_DEG) / 2))  # radii from the axis to the plane of the widest strip


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


@dataclass(frozen=True, eq=False)
class Cylinders:
    """All that is found, the directions that were looked along, which regions it takes, and whether the work was done to its end."""

    found: list[Cylinder]
    frames: list[Frame]
    taken: Bools
    is_whole: bool


def cylinders_of(facets: Facets, regions: Regions) -> Cylinders:
    """Cylinders in the order in which they were found."""
    search = _Search(facets, regions)
    rows, search.is_whole = rows_of(facets)
    for lines in sorted(rows, key=lambda row: (-len(row), row[0])):
        seeds = np.concatenate([facets.one[lines], facets.other[lines]])
        search.grow(seeds, partial(_fitted, facets, lines))
    axes = [(each.frame.axis, each.area_mm2) for each in search.found]
    frames = directions_of(facets, axes, search.taken)
    for frame in frames:
        search.grow_about(frame, search.taken_faces)
    for frame, elsewhere in smooth_pieces(facets, search.taken_faces):
        search.grow_about(frame, elsewhere | search.taken_faces)
    return Cylinders(found=search.found, frames=frames, taken=search.taken, is_whole=search.is_whole)


class _Search:
    """What has been found, which flat regions it takes, and how much work it was."""

    def __init__(self, facets: Facets, regions: Regions) -> None:
        self.found: list[Cylinder] = []
        self.taken = np.zeros(facets.planes, dtype=bool)
        self.is_whole = True
        self._facets = facets
        self._regions = regions
        self._tried = self._work = 0

    @property
    def taken_faces(self) -> Bools:
        """(m,) whether a face is part of what was found."""
        taken: Bools = self.taken[self._facets.plane]
        return taken

    def grow_about(self, frame: Frame, passed: Bools) -> None:
        """Cylinders about a known direction from the faces that are not passed over. passed: (m,)."""
        rows, is_whole = rows_about(self._facets, frame, passed)
        self.is_whole &= is_whole
        for seeds in sorted(rows, key=lambda row: (-len(row), row[0])):
            self.grow(seeds, partial(_fitted_about, self._facets, frame, seeds))

    def grow(self, faces: Ints, fitted: Callable[[], Fitted | None]) -> None:
        """A cylinder from faces in a row, unless others have them all."""
        if self._tried >= MOST_ROWS or self._work > _MOST_LOOKED_AT:
            self.is_whole = False
            return
        seeds = distinct(self._facets.plane[faces])
        if self.taken[seeds].all():
            return
        self._tried += 1
        start = fitted()
        if start is None:
            return
        pieces = np.bincount(self._regions.smooth[seeds])
        around = self._regions.around(int(seeds[self._regions.smooth[seeds] == pieces.argmax()][0]))
        around = around[~self.taken[around]]
        self._work += len(around)
        grown = self._grown(start, around, seeds)
        if grown is None:
            return
        better, regions = grown
        self.taken[regions] = True
        self.found.append(measured(self._facets, better, self._faces_of(better, regions)))

    def _grown(self, start: Fitted, around: Ints, seeds: Ints) -> tuple[Fitted, Ints] | None:
        """The regions that lie on the cylinder and hang together with the seeds; fitted to all their corners once more."""
        regions = self._regions.hanging(self._on(start, around), seeds)
        if len(regions) < _FEWEST:
            return None
        vertices = distinct(spread(self._regions.corners, self._regions.corner_starts, regions))
        vertices = vertices[self._is_on(start, vertices)]
        better = _refitted(self._facets, start, self._facets.vertices[vertices])
        if better is None:
            return None
        regions = self._regions.hanging(self._on(better, around), seeds)
        return None if len(regions) < _FEWEST else (better, regions)

    def _on(self, fitted: Fitted, around: Ints) -> Ints:
        """Those of the regions whose corners lie on the cylinder and which look away from or at its axis."""
        facets, regions = self._facets, self._regions
        normals = regions.normals[around]
        upright = np.abs(normals @ fitted.frame.axis) < _LEANING
        around, normals = around[upright], normals[upright]
        away = fitted.frame.flat(regions.centres[around]) - fitted.centre
        looks = fitted.frame.flat(normals)
        chord = np.abs(np.einsum("ij,ij->i", away, looks)) / np.linalg.norm(looks, axis=1)
        # A plane across the round has its corners on the circle too, but not its middle.
        near = (chord > fitted.radius * _SHALLOWEST) & (chord < fitted.radius * 1.01 + facets.slack_mm)
        around = around[near & (np.diff(regions.corner_starts)[around] >= _FEWEST)]
        if not len(around):
            return around
        lies, some = self._corners_on(fitted, around)
        partly = np.flatnonzero(~lies & some)
        lies[partly] = self._mostly_on(fitted, around[partly])
        found: Ints = around[lies]
        return found

    def _corners_on(self, fitted: Fitted, around: Ints) -> tuple[Bools, Bools]:
        """Of each region whether all its corners lie on the cylinder, and whether enough for a facet do."""
        starts = self._regions.corner_starts
        is_on = self._is_on(fitted, spread(self._regions.corners, starts, around))
        count = starts[around + 1] - starts[around]
        place = np.cumsum(count) - count
        every: Bools = np.logical_and.reduceat(is_on, place)
        return every, np.add.reduceat(is_on.astype(np.int64), place) >= _FEWEST

    def _is_on(self, fitted: Fitted, vertices: Ints) -> Bools:
        flat = fitted.frame.flat(self._facets.vertices[vertices]) - fitted.centre
        on: Bools = np.abs(np.hypot(flat[:, 0], flat[:, 1]) - fitted.radius) <= slack_for(self._facets, fitted.radius)
        return on

    def _mostly_on(self, fitted: Fitted, around: Ints) -> Bools:
        """Whether nearly all of a region's area lies on the cylinder: a fillet's first facet may by chance lie in a strip's plane."""
        if not len(around):
            return np.zeros(0, dtype=bool)
        order, starts = self._facets.by_plane
        faces = spread(order, starts, around)
        count = starts[around + 1] - starts[around]
        areas = self._facets.areas[faces]
        place = np.cumsum(count) - count
        on = self._faces_on(fitted, faces)
        mostly: Bools = np.add.reduceat(areas * on, place) >= _MOSTLY * np.add.reduceat(areas, place)
        return mostly

    def _faces_of(self, fitted: Fitted, regions: Ints) -> Ints:
        """The faces of regions on the cylinder; of one that is there by most of its area those that are."""
        order, starts = self._facets.by_plane
        faces = spread(order, starts, regions)
        whole = np.repeat(self._corners_on(fitted, regions)[0], starts[regions + 1] - starts[regions])
        found: Ints = faces[whole | self._faces_on(fitted, faces)]
        return found

    def _faces_on(self, fitted: Fitted, faces: Ints) -> Bools:
        """(k,) whether all three corners of a face lie on the cylinder."""
        on: Bools = np.all(self._is_on(fitted, self._facets.faces[faces].ravel()).reshape(-1, 3), axis=1)
        return on


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
    flat = frame.flat(facets.vertices[distinct(facets.faces[faces])])
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


def _refitted(facets: Facets, fitted: Fitted, points: Floats) -> Fitted | None:
    """The circle through all corners; the axis turned too where that fits better."""
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
