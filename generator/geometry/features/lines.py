"""About which lines could a part have been turned, toothed or threaded, and how do its faces lie about one?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.features.facets import Facets, Floats
from generator.geometry.features.frames import Frame, framed
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.rounds import Round

_MOST, _MOST_ROWS = 5, 2
FULL: Final = 360.0
_SAME: Final = 0.01  # of the part's size: lines that are nearer are one


@dataclass(frozen=True, eq=False)
class Line:
    """A line along the frame's axis through `centre`, (2,) in the frame."""

    frame: Frame
    centre: Floats


@dataclass(frozen=True, eq=False)
class About:
    """The faces of a mesh about a line.

    radius, turn, along: (m,) of their centres. out, round, up: (m,) of their normals: away from the line, around it, along it.
    reach: (m, 3) how far their corners are from the line. tall: (m, 3) their corners along it.
    """

    radius: Floats
    turn: Floats
    along: Floats
    out: Floats
    around: Floats
    up: Floats
    reach: Floats
    tall: Floats


def lines_of(facets: Facets, rounds: Sequence[Round], polygons: Sequence[Feature]) -> list[Line]:
    """The axes of rounds, those with the most area first, then of drives and heads, then through the middle of the part."""
    weighed = _Weighed(facets.diagonal_mm)
    for are_told, most in ((True, _MOST), (False, _MOST_ROWS)):  # a ball's or barrel's rows are no rounds of their own, but turn about its axis
        here = _Weighed(facets.diagonal_mm)
        for each in rounds:
            if each.is_told if are_told else each.is_row and each.arc_deg == FULL:
                here.add(Line(frame=each.frame, centre=each.centre), each.area_mm2)
        for line, area in here.first(most):
            weighed.add(line, area)
    weighed.sort()
    for drive in polygons:
        frame = framed(np.array(drive.axis))
        if frame is not None and drive.kind in {Kind.HEXAGON, Kind.SQUARE}:
            weighed.add(Line(frame=frame, centre=frame.flat(np.array([drive.at]))[0]), 0.0)
    middle = (facets.vertices.min(axis=0) + facets.vertices.max(axis=0)) / 2
    for direction in np.eye(3):
        frame = framed(direction)
        if frame is not None and len(weighed.lines) < _MOST:
            weighed.add(Line(frame=frame, centre=frame.flat(middle[None])[0]), 0.0)
    return weighed.lines[:_MOST]


class _Weighed:
    """Lines with the area that turns about each; those that nearly are one are the first of them."""

    def __init__(self, size_mm: float) -> None:
        self.lines: list[Line] = []
        self._areas: list[float] = []
        self._size_mm = size_mm
        self._known = np.zeros((16, 3, 4))
        """Of each line its frame's right, ahead and axis, and in the fourth column where it lies along the first two."""

    def add(self, line: Line, area: float) -> None:
        known = self._known[: len(self.lines)]
        alike = np.flatnonzero(np.abs(known[:, 2, :3] @ line.frame.axis) > 1 - 1e-6)
        off = known[alike, :2, :3] @ line.frame.space(line.centre, 0.0) - known[alike, :2, 3]
        near = alike[np.hypot(off[:, 0], off[:, 1]) < _SAME * self._size_mm]
        if len(near):
            self._areas[int(near[0])] += area
            return
        if len(self.lines) == len(self._known):
            self._known = np.concatenate([self._known, np.zeros_like(self._known)])
        rows = np.stack([line.frame.right, line.frame.ahead, line.frame.axis])
        self._known[len(self.lines)] = np.column_stack([rows, [*line.centre, 0.0]])
        self.lines.append(line)
        self._areas.append(area)

    def first(self, most: int) -> list[tuple[Line, float]]:
        """Those with the most area, each with it."""
        self.sort()
        return list(zip(self.lines[:most], self._areas[:most], strict=True))

    def sort(self) -> None:
        """The most area first."""
        order = sorted(range(len(self.lines)), key=lambda number: -self._areas[number])
        self._known[: len(order)] = self._known[order]
        self.lines, self._areas = [self.lines[number] for number in order], [self._areas[number] for number in order]


def about(facets: Facets, line: Line) -> About:
    """How the faces of a mesh lie about a line."""
    frame = line.frame
    away = frame.flat(facets.centres) - line.centre
    radius = np.hypot(away[:, 0], away[:, 1])
    looks = frame.flat(facets.normals)
    safe = np.maximum(radius, 1e-9)
    seen = frame.flat(facets.vertices) - line.centre
    return About(
        radius=radius,
        turn=np.arctan2(away[:, 1], away[:, 0]),
        along=frame.along(facets.centres),
        out=np.einsum("ij,ij->i", away, looks) / safe,
        around=(away[:, 0] * looks[:, 1] - away[:, 1] * looks[:, 0]) / safe,
        up=facets.normals @ frame.axis,
        reach=np.hypot(seen[:, 0], seen[:, 1])[facets.faces],
        tall=frame.along(facets.vertices)[facets.faces],
    )
