"""A solid under work and what is known of it: whoever cuts a hole says it in the same call."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from build123d import Align, Cylinder, Part, Plane, Vector

Place = Sequence[float]
FOOT = (Align.CENTER, Align.CENTER, Align.MIN)
PAST = 3.0  # mm that a drill runs past what it goes through


def rod(diameter: float, start: Place, end: Place, *, before: float = 0.0, past: float = 0.0) -> Part:
    """A full cylinder from one point to the other."""
    a, b = np.array(start, dtype=float), np.array(end, dtype=float)
    along = (b - a) / np.linalg.norm(b - a)
    a, b = a - before * along, b + past * along
    stands = Plane(origin=Vector(*a), z_dir=Vector(*along))
    return stands * Cylinder(diameter / 2, float(np.linalg.norm(b - a)), align=FOOT)


@dataclass
class Solid:
    """A body, how it is meshed, and the list of what must be found in it."""

    body: Part
    chord_mm: float = 0.03
    angle_rad: float = 0.26
    soup: bool = False  # each face with three corners of its own
    is_decoy: bool = False  # nothing round is in it
    told: list[dict[str, Any]] = field(default_factory=list)

    def bore(
        self,
        diameter: float,
        opening: Place,
        end: Place,
        *,
        through: bool | None = True,
        cut_past: float | None = None,
        **more: Any,
    ) -> Solid:
        """Cut a round hole; it starts before the opening, and runs past its end where it goes through."""
        past = cut_past if cut_past is not None else PAST if through else 0.0
        self.body -= rod(diameter, opening, end, before=PAST, past=past)
        return self.hole(diameter, opening, end, through=through, **more)

    def hole(
        self, diameter: float, opening: Place, end: Place, *, through: bool | None = True, **more: Any
    ) -> Solid:
        """Tell a round hole that is there."""
        return self._round("hole", diameter, opening, end, through=through, **more)

    def add(self, diameter: float, top: Place, foot: Place, **more: Any) -> Solid:
        """Put a round boss on; it sinks a little below its foot unless told otherwise."""
        self.body += rod(diameter, top, foot, past=more.pop("sunk", 0.5))
        return self.boss(diameter, top, foot, aimed=True, **more)

    def boss(self, diameter: float, top: Place, foot: Place, **more: Any) -> Solid:
        """Tell a round outside that is there."""
        return self._round("boss", diameter, top, foot, through=None, **more)

    def maybe(self, kind: str, diameter: float, start: Place, end: Place) -> Solid:
        """Tell a round face that may be named or not: a ring groove, a slot's end, the cone of a countersink."""
        return self._round(kind, diameter, start, end, through=None, asked=False, ends=False)

    def other(self, kind: str, **more: Any) -> Solid:
        """Tell a feature that is not round: its sizes as `Feature` has them."""
        self.told.append({"kind": kind, **more})
        return self

    def _round(self, kind: str, diameter: float, start: Place, end: Place, **more: Any) -> Solid:
        """`ends`: whether its two ends are plane, so that depth and place are certain; `pieces`: as how many it may be
        told; `aimed`: only one of its ends is its top."""
        certain = {"ends": True, "arc": 360.0, "asked": True, "pieces": 1, "seat": None, **more}
        self.told.append({"kind": kind, "size": diameter, "a": list(start), "b": list(end), **certain})
        return self
