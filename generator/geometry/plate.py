"""Does a part find room on a maker's plate, and how is it turned?"""

from enum import StrEnum

Size = tuple[float, float, float]


class Turned(StrEnum):
    """How a part in its pose is turned about the vertical so that it finds room."""

    AS_IT_IS = "as it is"
    """Its x along the plate's x, across."""
    A_QUARTER = "a quarter"


def fits_plate(size_mm: Size, build_volume_mm: Size) -> bool:
    """Whether a box fits into a build volume, turned in right angles as it likes (both sorted, side by side)."""
    return all(side <= room for side, room in zip(sorted(size_mm), sorted(build_volume_mm), strict=True))


def turned_on_plate(size_mm: Size, build_volume_mm: Size) -> Turned | None:
    """How a box is turned about the vertical, z, to fit into a build volume; None where it finds no room without tipping it."""
    x, y, z = size_mm
    wide, deep, high = build_volume_mm
    if z <= high and x <= wide and y <= deep:
        return Turned.AS_IT_IS
    return Turned.A_QUARTER if z <= high and y <= wide and x <= deep else None
