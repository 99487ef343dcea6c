"""How do pieces lie on the plate of a printer? As boxes, in rows: simple, and not always on the fewest plates.

Each piece is its box in the pose that it is printed in; it may be turned a quarter about the vertical, not tipped, and nothing lies
upon another. Rows run along the plate's width; a piece goes into the first row of the first plate where it finds room (first fit, the
deepest first). Several orders and ways of turning are tried, and the one with the fewest plates is kept. How machines like their plates
filled, by hand and by what stands near the door, nobody asks here.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product
from typing import Final

Size = tuple[float, float, float]
_SLACK: Final = 1e-9  # of millimetres


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A piece: x, y, z in mm, z upwards."""

    name: str
    size_mm: Size


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedBox:
    """A box on a plate: its corner nearest to the plate's, and its sides along the plate's, in mm."""

    box: Box
    x: float
    y: float
    wide: float
    deep: float


Plate = tuple[PlacedBox, ...]
_Sides = tuple[Box, float, float]


def packed(boxes: Iterable[Box], plate_mm: Size, *, gap_mm: float) -> tuple[tuple[Plate, ...], tuple[Box, ...]]:
    """The boxes on as few plates as these ways find, each `gap_mm` apart at least, and those that fit on none.

    Same boxes, same plates. Raises ValueError for a gap below nothing.
    """
    if not gap_mm >= 0:
        raise ValueError(f"pieces cannot lie {gap_mm} mm apart")
    width, depth, height = plate_mm
    fits: list[Box] = []
    homeless: list[Box] = []
    for box in boxes:
        x, y, z = box.size_mm
        has_room = z <= height and ((x <= width and y <= depth) or (y <= width and x <= depth))
        (fits if has_room else homeless).append(box)
    tried = (_laid(order([turn(box, width, depth) for box in fits]), (width, depth), gap_mm) for turn, order in product(_TURNS, _ORDERS))
    return min(tried, key=_spent, default=()) if fits else (), tuple(homeless)


def _spent(plates: tuple[Plate, ...]) -> tuple[int, float]:
    """Plates, then how deep the last one is filled."""
    return len(plates), max((each.y + each.deep for each in plates[-1]), default=0.0)


def _turned(box: Box, width: float, depth: float, *, is_wide: bool) -> _Sides:
    """Its longer side across or upright, where it finds room so, else the other way."""
    x, y, _ = box.size_mm
    wide, deep = (max(x, y), min(x, y)) if is_wide else (min(x, y), max(x, y))
    return (box, wide, deep) if wide <= width and deep <= depth else (box, deep, wide)


def _across(box: Box, width: float, depth: float) -> _Sides:
    return _turned(box, width, depth, is_wide=True)


def _upright(box: Box, width: float, depth: float) -> _Sides:
    return _turned(box, width, depth, is_wide=False)


def _deepest(listed: Sequence[_Sides]) -> list[_Sides]:
    return sorted(listed, key=lambda each: (-each[2], -each[1]))


def _widest(listed: Sequence[_Sides]) -> list[_Sides]:
    return sorted(listed, key=lambda each: (-each[1], -each[2]))


def _largest(listed: Sequence[_Sides]) -> list[_Sides]:
    return sorted(listed, key=lambda each: (-each[1] * each[2], -each[2]))


_TURNS: Final[tuple[Callable[[Box, float, float], _Sides], ...]] = (_across, _upright)
_ORDERS: Final[tuple[Callable[[Sequence[_Sides]], list[_Sides]], ...]] = (_deepest, _largest, _widest)


@dataclass(slots=True, kw_only=True)
class _Row:
    y: float
    deep: float
    used: float = 0.0


@dataclass(slots=True, kw_only=True)
class _Filling:
    """A plate as it fills."""

    width: float
    depth: float
    gap: float
    rows: list[_Row] = field(default_factory=list)
    lying: list[PlacedBox] = field(default_factory=list)

    def takes(self, sides: _Sides) -> bool:
        """Lays it into the first row with room, either way round, else into a new row."""
        box, wide, deep = sides
        for row, (w, d) in product(self.rows, _ways(wide, deep)):
            if d <= row.deep + _SLACK and row.used + w <= self.width + _SLACK:
                self._lay(box, row, w, d)
                return True
        top = self.rows[-1].y + self.rows[-1].deep + self.gap if self.rows else 0.0
        for w, d in _ways(wide, deep):
            if top + d <= self.depth + _SLACK and w <= self.width + _SLACK:
                self.rows.append(_Row(y=top, deep=d))
                self._lay(box, self.rows[-1], w, d)
                return True
        return False

    def _lay(self, box: Box, row: _Row, wide: float, deep: float) -> None:
        self.lying.append(PlacedBox(box=box, x=row.used, y=row.y, wide=wide, deep=deep))
        row.used += wide + self.gap


def _ways(wide: float, deep: float) -> Iterator[tuple[float, float]]:
    yield wide, deep
    if wide != deep:
        yield deep, wide


def _laid(listed: Iterable[_Sides], plate: tuple[float, float], gap: float) -> tuple[Plate, ...]:
    plates: list[_Filling] = []
    first: dict[tuple[float, float], int] = {}  # which plate may take such sides: what one has refused it never takes, for it only fills
    for sides in listed:
        at = first.get(sides[1:], 0)
        while at < len(plates) and not plates[at].takes(sides):
            at += 1
        if at == len(plates):
            plates.append(_Filling(width=plate[0], depth=plate[1], gap=gap))
            plates[at].takes(sides)
        first[sides[1:]] = at
    return tuple(tuple(each.lying) for each in plates)
