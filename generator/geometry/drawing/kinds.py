"""Which views of a part are drawn, and how are their lines written down?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Final, Self

Flat = tuple[float, float]
Point = tuple[float, float, float]


class ViewName(StrEnum):
    """From where one looks; the model's z is up, and its front is where y is least."""

    FRONT = "front"
    TOP = "top"  # from above
    SIDE = "side"  # from the left
    BELOW = "below"
    REAR = "rear"
    RIGHT = "right"  # from the right
    PICTORIAL = "pictorial"  # isometric: front, left and top at once (ISO 5456-3)


_THIRD, _HALF, _SIXTH = 3**-0.5, 2**-0.5, 6**-0.5
AXES: Final[Mapping[ViewName, tuple[Point, Point, Point]]] = {
    ViewName.FRONT: ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0)),
    ViewName.TOP: ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    ViewName.SIDE: ((0.0, -1.0, 0.0), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0)),
    ViewName.BELOW: ((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0)),
    ViewName.REAR: ((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
    ViewName.RIGHT: ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
    ViewName.PICTORIAL: ((_HALF, -_HALF, 0.0), (_SIXTH, _SIXTH, 2 * _SIXTH), (-_THIRD, -_THIRD, _THIRD)),
}
"""Of each view: to the right, up, towards the eye; unit length, in the part's own axes."""
AS_MODELLED: Final[tuple[Point, Point, Point]] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """In a view, in mm."""

    centre: Flat
    radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line without a break: its corners in mm, (right, up); a closed one ends where it begins.

    circle: where the corners lie on one, which goes from the first through the second to the last.
    """

    points: tuple[Flat, ...]
    circle: Circle | None = None

    @property
    def is_closed(self) -> bool:
        return self.points[0] == self.points[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One orthographic view at true size: x to the right, y up, in the part's own axes.

    visible: edges and outlines that are seen; hidden: that lie behind a face and under no line that is seen.
    outline: closed rings around what the part covers, holes right through it included.
    """

    right: Point
    up: Point
    towards: Point
    visible: tuple[Line, ...]
    hidden: tuple[Line, ...]
    outline: tuple[Line, ...]
    low: Flat
    high: Flat

    def flat(self, point: Point) -> Flat:
        """Where a point, in the part's own axes, lies in this view."""
        return _dot(self.right, point), _dot(self.up, point)

    def depth(self, point: Point) -> float:
        """How far it is towards the eye."""
        return _dot(self.towards, point)


@dataclass(frozen=True, slots=True, kw_only=True)
class Views:
    """All views of a part; `is_whole` is False where lines were left out to keep the work bounded."""

    views: Mapping[ViewName, View]
    is_whole: bool = True
    axes: tuple[Point, Point, Point] = AS_MODELLED
    """The part's own x, y and z in the coordinates of the mesh: others where it was modelled askew."""

    def turned(self, vector: Point) -> Point:
        """A point or a direction of the mesh in the part's own axes."""
        x, y, z = self.axes
        return _dot(x, vector), _dot(y, vector), _dot(z, vector)

    def to_json(self) -> dict[str, Any]:
        """Plain values for the store."""
        return {"is_whole": self.is_whole, "axes": [list(each) for each in self.axes], "views": {name.value: _told(view) for name, view in self.views.items()}}

    @classmethod
    def from_json(cls, told: Mapping[str, Any]) -> Self:
        """Read back what `to_json` gave; KeyError, TypeError or ValueError for anything else."""
        x, y, z = (_point(each) for each in told["axes"])
        return cls(
            is_whole=bool(told["is_whole"]),
            axes=(x, y, z),
            views={ViewName(name): _view(ViewName(name), view) for name, view in told["views"].items()},
        )


def _told(view: View) -> dict[str, Any]:
    return {
        "low": list(view.low),
        "high": list(view.high),
        **{kind: [_line_told(line) for line in getattr(view, kind)] for kind in ("visible", "hidden", "outline")},
    }


def _line_told(line: Line) -> dict[str, Any]:
    points = [each for point in line.points for each in point]
    return {"at": points} if line.circle is None else {"at": points, "on": [*line.circle.centre, line.circle.radius_mm]}


def _view(name: ViewName, told: Mapping[str, Any]) -> View:
    right, up, towards = AXES[name]
    visible, hidden, outline = (tuple(_line(each) for each in told[kind]) for kind in ("visible", "hidden", "outline"))
    low, high = _flat(told["low"]), _flat(told["high"])
    return View(right=right, up=up, towards=towards, visible=visible, hidden=hidden, outline=outline, low=low, high=high)


def _line(told: Mapping[str, Any]) -> Line:
    numbers = [float(each) for each in told["at"]]
    circle = None
    if "on" in told:
        x, y, radius = (float(each) for each in told["on"])
        circle = Circle(centre=(x, y), radius_mm=radius)
    return Line(points=tuple(zip(numbers[::2], numbers[1::2], strict=True)), circle=circle)


def _point(numbers: Any) -> Point:
    x, y, z = (float(each) for each in numbers)
    return x, y, z


def _flat(numbers: Any) -> Flat:
    x, y = (float(each) for each in numbers)
    return x, y


def _dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
