"""A dimension that a drawing could have: what it says, and where it could stand."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from generator.geometry.drawing.kinds import Flat, ViewName
from generator.geometry.features.kinds import Kind

STRAIGHT: Final = 0.9999
"""Cosine from which an axis is that of a view."""
ORTHOGRAPHIC: Final = tuple(name for name in ViewName if name is not ViewName.PICTORIAL)
"""The usual ones first."""
ALIKE_MM: Final = 0.02
"""What differs by less is the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A dimension in a straight line between two places of a view, level or upright."""

    view: ViewName
    start: Flat  # mm of the view
    end: Flat
    is_level: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Pointer:
    """A dimension on a leader to a round, or to a spot where `radius_mm` is 0, of a view; or to straight sides so far from the centre."""

    view: ViewName
    centre: Flat
    radius_mm: float
    flats: int = 0
    """So many, evenly around."""
    round_mm: float = 0.0
    """Diameter of the round that the flats cut."""
    long_mm: float = 0.0
    """Length over all of a slot."""
    is_far: bool = False
    """What is pointed at begins on the side that one does not see."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedSize:
    """A dimension: its text, where it could stand (the best place first), and what it measures."""

    text: str
    places: tuple[Span | Pointer, ...]
    value_mm: float
    also_mm: float | None = None
    """What its text tells beside: a hole's seat, a slot's length."""
    far_text: str = ""
    """Where a leader points from the far side."""
    span_text: str = ""
    """In a straight line, where that says less than a leader does."""
    kind: Kind | None = None
    """None: of the whole part, or between features."""
    is_overall: bool = False
    is_inner: bool = False
    is_apart: bool = False
    """Between two centres."""
    marks: tuple[Pointer, ...] = ()
    """What has to be seen in its view, so that the dimension ends in something."""
    count: int = 1
    balloons: tuple[int, ...] = field(default=())
