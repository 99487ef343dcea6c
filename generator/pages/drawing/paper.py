"""On which sheet and at which scale is a part drawn, and where on it does each view lie?"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final

from generator.geometry.drawing.kinds import Flat, View, ViewName
from generator.records.depot import Projection

SCALES: Final = (50.0, 20.0, 10.0, 5.0, 2.0, 1.0, *(1 / (step * ten) for ten in (1, 10, 100, 1000) for step in (2, 5, 10)))
"""ISO 5455: enlargement, full size, reduction."""


@dataclass(frozen=True, slots=True)
class PaperSize:
    """ISO 216, lying; the frame leaves 20 mm on the left for filing and 10 mm elsewhere (ISO 5457)."""

    name: str
    width: float
    height: float


A4: Final = PaperSize("A4", 297, 210)
A3: Final = PaperSize("A3", 420, 297)
LEFT: Final = 20.0
EDGE: Final = 10.0
TITLE: Final = (180.0, 36.0)
"""Width and height of the title block; ISO 7200 has it 180 mm wide."""

USUAL: Final = (ViewName.FRONT, ViewName.TOP, ViewName.SIDE)
"""On every sheet."""
_OUTSIDE: Final = 18.0
"""Beside the outermost views: two rows of dimensions."""
_BETWEEN: Final = 26.0
_LEAST_PICTORIAL: Final = 0.35
"""Of the free quarter: a smaller pictorial is not worth its place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedView:
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
    paper: PaperSize
    scale: float
    spots: Mapping[ViewName, PlacedView]
    strip_top: float
    """Above it lie the views, below it the title block, the checks and the notes."""


def papers(views: Mapping[ViewName, View], strip: float, names: Collection[ViewName] = USUAL) -> tuple[PaperSize, ...]:
    """The sheets that a part could be drawn on, the better first: the smaller one at full size or larger only."""
    return (A4, A3) if scale_on(views, A4, strip, names) >= 1 else (A3,)


def laid_out(views: Mapping[ViewName, View], paper: PaperSize, projection: Projection, strip: float, names: Collection[ViewName] = USUAL) -> Layout:
    """The views of these names on a sheet, at the largest scale that leaves room for their dimensions.

    strip: so much of the frame is kept free at its bottom.
    """
    scale = scale_on(views, paper, strip, names)
    columns, rows = _grid(projection, names)
    wide = {name: _size(views[name], 0) * scale for name in columns}
    high = {name: _size(views[name], 1) * scale for name in rows}
    spare_x = paper.width - LEFT - EDGE - (sum(wide.values()) + 2 * _OUTSIDE + _BETWEEN * (len(columns) - 1))
    spare_y = paper.height - 2 * EDGE - strip - (sum(high.values()) + 2 * _OUTSIDE + _BETWEEN * (len(rows) - 1))
    between_x, between_y = _BETWEEN + 0.25 * spare_x / (len(columns) - 1), _BETWEEN + 0.25 * spare_y / (len(rows) - 1)
    left, top = _places(wide, LEFT + _OUTSIDE + 0.3 * spare_x, between_x), _places(high, EDGE + _OUTSIDE + 0.3 * spare_y, between_y)
    front = ViewName.FRONT
    spots = {name: _spot(views[name], (left.get(name, left[front]), top.get(name, top[front])), scale) for name in names}
    # The pictorial stands beyond the view from the side, in line with that from above, else with that from below.
    is_first = projection is Projection.FIRST_ANGLE
    edges = (left[front] + wide[front] + between_x * 0.6, paper.width - EDGE - 4) if is_first else (LEFT + 4, left[front] - between_x * 0.6)
    strip_top = paper.height - EDGE - strip
    beyond = [(top[front] + high[front] + between_y * 0.75, strip_top - 5), (EDGE + 4, top[front] - between_y * 0.75)]
    found = [each for low, bottom in beyond if (each := _pictorial(views[ViewName.PICTORIAL], (edges[0], low, edges[1], bottom), scale))]
    if found:
        spots[ViewName.PICTORIAL] = max(found, key=lambda spot: (spot.scale, is_first == (spot.y > top[front])))
    return Layout(paper=paper, scale=scale, spots=spots, strip_top=strip_top)


def scale_on(views: Mapping[ViewName, View], paper: PaperSize, strip: float, names: Collection[ViewName] = USUAL) -> float:
    """The largest at which the views and two rows of dimensions find room; the smallest there is for what is larger still."""
    columns, rows = _grid(Projection.FIRST_ANGLE, names)
    room_x = paper.width - LEFT - EDGE - 2 * _OUTSIDE - _BETWEEN * (len(columns) - 1)
    room_y = paper.height - 2 * EDGE - strip - 2 * _OUTSIDE - _BETWEEN * (len(rows) - 1)
    width, height = sum(_size(views[name], 0) for name in columns), sum(_size(views[name], 1) for name in rows)
    return next((each for each in SCALES if width * each <= room_x and height * each <= room_y), SCALES[-1])


def _grid(projection: Projection, names: Collection[ViewName]) -> tuple[list[ViewName], list[ViewName]]:
    """Which views lie beside the one from the front, from left to right, and above and below it (ISO 5456-2).

    In first angle what is seen from the left lies to the right and from above below; in third angle the other way round.
    """
    columns, rows = [ViewName.RIGHT, ViewName.FRONT, ViewName.SIDE], [ViewName.BELOW, ViewName.FRONT, ViewName.TOP]
    if projection is Projection.THIRD_ANGLE:
        columns, rows = columns[::-1], rows[::-1]
    return [name for name in (*columns, ViewName.REAR) if name in names], [name for name in rows if name in names]


def _size(view: View, axis: int) -> float:
    return view.high[axis] - view.low[axis]


def _places(sizes: Mapping[ViewName, float], first: float, between: float) -> dict[ViewName, float]:
    """Where each begins."""
    found = {}
    for name, size in sizes.items():
        found[name] = first
        first += size + between
    return found


def _spot(view: View, corner: Flat, scale: float) -> PlacedView:
    return PlacedView(view=view, x=corner[0] - view.low[0] * scale, y=corner[1] + view.high[1] * scale, scale=scale)


def _pictorial(view: View, free: tuple[float, float, float, float], most: float) -> PlacedView | None:
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
