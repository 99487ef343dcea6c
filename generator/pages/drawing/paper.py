"""On which sheet and at which scale is a part drawn, and where on it does each view lie?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from generator.geometry.drawing.kinds import Flat, View, ViewName
from generator.records.depot import Projection

SCALES: Final = (50.0, 20.0, 10.0, 5.0, 2.0, 1.0, *(1 / (step * ten) for ten in (1, 10, 100, 1000) for step in (2, 5, 10)))
"""ISO 5455: enlargement, full size, reduction."""


@dataclass(frozen=True, slots=True)
class Paper:
    """ISO 216, lying; the frame leaves 20 mm on the left for filing and 10 mm elsewhere (ISO 5457)."""

    name: str
    width: float
    height: float


A4: Final = Paper("A4", 297, 210)
A3: Final = Paper("A3", 420, 297)
LEFT: Final = 20.0
EDGE: Final = 10.0
TITLE: Final = (180.0, 36.0)
"""Width and height of the title block; ISO 7200 has it 180 mm wide."""

_OUTSIDE: Final = 18.0
"""Beside the outermost views: two rows of dimensions."""
_BETWEEN: Final = 26.0
_LEAST_PICTORIAL: Final = 0.35
"""Of the free quarter: a smaller pictorial is not worth its place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a view lies: `paper = (x + right * scale, y - up * scale)`."""

    view: View
    x: float
    y: float
    scale: float

    def at(self, flat: Flat) -> Flat:
        """A point of the view on the paper, in mm from its upper left corner."""
        return self.x + flat[0] * self.scale, self.y - flat[1] * self.scale

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom of the view on the paper."""
        (x0, y1), (x1, y0) = self.at(self.view.low), self.at(self.view.high)
        return x0, y0, x1, y1


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    paper: Paper
    scale: float
    spots: Mapping[ViewName, Spot]
    strip_top: float
    """Above it lie the views, below it the title block, the checks and the notes."""


def papers(views: Mapping[ViewName, View], strip: float) -> tuple[Paper, ...]:
    """The sheets that a part could be drawn on, the better first: the smaller one at full size or larger only."""
    return (A4, A3) if _scale(views, A4, strip) >= 1 else (A3,)


def laid_out(views: Mapping[ViewName, View], paper: Paper, projection: Projection, strip: float) -> Layout:
    """The views on a sheet at the largest scale that leaves room for their dimensions.

    strip: so much of the frame is kept free at its bottom.
    """
    scale = _scale(views, paper, strip)
    width, depth, height = _sizes(views, scale)
    frame_width, frame_height = paper.width - LEFT - EDGE, paper.height - 2 * EDGE - strip
    spare_x = frame_width - (width + depth + 2 * _OUTSIDE + _BETWEEN)
    spare_y = frame_height - (height + depth + 2 * _OUTSIDE + _BETWEEN)
    between_x, between_y = _BETWEEN + 0.25 * spare_x, _BETWEEN + 0.25 * spare_y
    outside_x, outside_y = _OUTSIDE + 0.3 * spare_x, _OUTSIDE + 0.3 * spare_y
    is_first = projection is Projection.FIRST_ANGLE
    # First angle (ISO 5456-2): from above lies below, from the left lies to the right; third angle the other way round.
    front_x = LEFT + outside_x + (0 if is_first else depth + between_x)
    front_y = EDGE + outside_y + (0 if is_first else depth + between_y)
    side_x = front_x + width + between_x if is_first else front_x - between_x - depth
    top_y = front_y + height + between_y if is_first else front_y - between_y - depth
    corners = {ViewName.FRONT: (front_x, front_y), ViewName.TOP: (front_x, top_y), ViewName.SIDE: (side_x, front_y)}
    spots = {name: _spot(views[name], corner, scale) for name, corner in corners.items()}
    strip_top = paper.height - EDGE - strip
    free = (
        (front_x + width + between_x * 0.6, front_y + height + between_y * 0.75, paper.width - EDGE - 4, strip_top - 5)
        if is_first
        else (LEFT + 4, EDGE + 4, front_x - between_x * 0.6, front_y - between_y * 0.75)
    )
    if pictorial := _pictorial(views[ViewName.PICTORIAL], free, scale):
        spots[ViewName.PICTORIAL] = pictorial
    return Layout(paper=paper, scale=scale, spots=spots, strip_top=strip_top)


def _sizes(views: Mapping[ViewName, View], scale: float) -> tuple[float, float, float]:
    front, top = views[ViewName.FRONT], views[ViewName.TOP]
    return (
        (front.high[0] - front.low[0]) * scale,
        (top.high[1] - top.low[1]) * scale,
        (front.high[1] - front.low[1]) * scale,
    )


def _scale(views: Mapping[ViewName, View], paper: Paper, strip: float) -> float:
    """The largest at which the views and two rows of dimensions find room; the smallest there is for what is larger still."""
    width, depth, height = _sizes(views, 1.0)
    room_x = paper.width - LEFT - EDGE - 2 * _OUTSIDE - _BETWEEN
    room_y = paper.height - 2 * EDGE - strip - 2 * _OUTSIDE - _BETWEEN
    fits = (each for each in SCALES if (width + depth) * each <= room_x and (height + depth) * each <= room_y)
    return next(fits, SCALES[-1])


def _spot(view: View, corner: Flat, scale: float) -> Spot:
    return Spot(view=view, x=corner[0] - view.low[0] * scale, y=corner[1] + view.high[1] * scale, scale=scale)


def _pictorial(view: View, free: tuple[float, float, float, float], most: float) -> Spot | None:
    """In the middle of the free quarter, at a scale of the standard."""
    left, top, right, bottom = free
    width, height = view.high[0] - view.low[0], view.high[1] - view.low[1]
    room_x, room_y = right - left, bottom - top - 5
    scale = next((each for each in SCALES if each <= most and width * each <= room_x and height * each <= room_y), None)
    if scale is None or max(width * scale / max(room_x, 1), height * scale / max(room_y, 1)) < _LEAST_PICTORIAL / 2:
        return None
    return _spot(view, (left + (room_x - width * scale) / 2, top + (room_y - height * scale) / 2), scale)


def scale_words(scale: float) -> str:
    """Such as 1:2, as ISO 5455 writes it."""
    return f"{scale:.0f}:1" if scale >= 1 else f"1:{1 / scale:.0f}"
