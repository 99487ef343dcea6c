"""What a maker prints well: the thinnest wall, the smallest hole, how far a surface may lean without support."""

from enum import StrEnum
from typing import Literal

from generator.records.base import Positive, Record


class Up(StrEnum):
    """Which axis of the model points up on the plate."""

    PLUS_X = "+x"
    MINUS_X = "-x"
    PLUS_Y = "+y"
    MINUS_Y = "-y"
    PLUS_Z = "+z"
    MINUS_Z = "-z"


class PrintRules(Record):
    """A maker's own rules of design; what is left out is the usual of its process (rules/printable.py)."""

    min_wall_mm: Positive | None = None
    min_hole_mm: Positive | None = None
    """The smallest hole that comes out open."""
    min_pin_mm: Positive | None = None
    """The thinnest pin that stands."""
    min_clearance_mm: Positive | None = None
    """Between bodies of one model that are to move in each other."""
    overhang_deg: Literal[30, 35, 40, 45, 50, 55, 60] | None = None
    """How far a surface may lean from the vertical without support; of a bed of powder only where it needs support, as of metal."""
