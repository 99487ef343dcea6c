"""Which features are told of a mesh, and how is one written down?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from enum import StrEnum
from typing import Any, Self

Point = tuple[float, float, float]


class Kind(StrEnum):
    """What a feature is. What `size_mm`, `length_mm` and `second_mm` of a `Feature` are stands beside each."""

    HOLE = "hole"  # round: diameter, depth; of a countersink the largest diameter, depth of the cone, smallest diameter
    BOSS = "boss"  # round, standing out: diameter, height
    SLOT = "slot"  # a hole with two round ends or four corners: width, depth, length over all
    FLATS = "flats"  # two parallel faces about one axis, such as a spanner's, or one flat of a D: across, height, round's diameter
    SQUARE = "square"  # four faces at right angles about one axis, in (a drive) or out: across flats, depth
    HEXAGON = "hexagon"  # six: across flats, depth
    FACES = "faces"  # two parallel plane faces: their distance; `is_inner` where they look at each other
    TURNED = "turned"  # most of the part turns about one axis: outer diameter, length along it
    TEETH = "teeth"  # the same shape again and again about one axis: tip diameter, face width, root diameter; grips have none
    THREAD = "thread"  # thread-like, never more: outer diameter (of an inner one: the largest), length, pitch


class Hand(StrEnum):
    RIGHT = "right"
    LEFT = "left"


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """One feature in the coordinates of the mesh; all lengths in mm."""

    kind: Kind
    at: Point  # on its axis, in the plane of its opening (inner) or of its top (outer); of FACES between the two
    axis: Point  # unit length: out of the material there; of a pair of faces across them
    size_mm: float  # corrected for the facets
    within_mm: float  # how far `size_mm` may be from the shape that was meshed: the chord error of the facets at least
    length_mm: float | None = None
    second_mm: float | None = None
    count: int | None = None  # of TEETH
    hand: Hand | None = None  # of THREAD
    is_inner: bool = False  # in the material: a hole, a pocket, an inside thread
    is_through: bool | None = None  # of what is inner; None where nobody can tell
    arc_deg: float = 360.0  # how much of the round there is
    seat: int | None = None  # of a counterbore or countersink: the index of the smaller feature below it

    @classmethod
    def from_json(cls, told: Mapping[str, Any]) -> Self:
        """Read back what `asdict` gave; KeyError, TypeError or ValueError for anything else."""
        hand = told["hand"]
        return cls(
            **{
                **told,
                "kind": Kind(told["kind"]),
                "at": _point(told["at"]),
                "axis": _point(told["axis"]),
                "hand": None if hand is None else Hand(hand),
            }
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Void:
    """A hollow that nothing opens. at: the middle of it; size_mm: of its tightest box, longest side first."""

    at: Point
    size_mm: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Features:
    """All that was found, the largest of a kind first; the same mesh gives the same order."""

    found: tuple[Feature, ...]
    size_mm: Point  # along the mesh's own axes
    box_mm: Point  # of the tightest box, longest side first
    box_axes: tuple[Point, Point, Point]  # its directions, unit length, in the same order
    voids: tuple[Void, ...] = ()
    is_whole: bool = True  # False where the work was broken off at its bound: what is told is right, more may be there

    def to_json(self) -> dict[str, Any]:
        """Plain values for the store."""
        return asdict(self)

    @classmethod
    def from_json(cls, told: Mapping[str, Any]) -> Self:
        """Read back what `to_json` gave; KeyError, TypeError or ValueError for anything else."""
        first, second, third = (_point(each) for each in told["box_axes"])
        return cls(
            found=tuple(Feature.from_json(each) for each in told["found"]),
            size_mm=_point(told["size_mm"]),
            box_mm=_point(told["box_mm"]),
            box_axes=(first, second, third),
            voids=tuple(Void(at=_point(each["at"]), size_mm=_point(each["size_mm"])) for each in told["voids"]),
            is_whole=bool(told["is_whole"]),
        )


def _point(numbers: Any) -> Point:
    x, y, z = (float(each) for each in numbers)
    return x, y, z
