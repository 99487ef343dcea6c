"""How many millimetres is each unit that a mesh may be drawn in, and who said which it is?"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from generator.records.mesh_units import MeshUnits


class UnitSource(StrEnum):
    """Who said which unit the coordinates are in."""

    FILE = "file"  # the file states it (3MF, STEP)
    STANDARD = "standard"  # the file format fixes it (GLB: metres)
    GIVEN = "given"  # `mesh_units` of the part
    ASSUMED = "assumed"  # nobody said; millimetres, the habit of the trade


# The international inch is 25.4 mm exactly and the foot twelve of them (international yard and
# pound agreement, 1959); the rest is SI.
MM_IN: Final[Mapping[MeshUnits, float]] = MappingProxyType({
    MeshUnits.MILLIMETRE: 1.0,
    MeshUnits.CENTIMETRE: 10.0,
    MeshUnits.METRE: 1000.0,
    MeshUnits.INCH: 25.4,
    MeshUnits.MICRON: 0.001,
    MeshUnits.FOOT: 304.8,
})  # fmt: skip
