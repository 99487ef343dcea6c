"""How thick is a part, as plain figures: its thinnest, its thickest and its usual wall, and where."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

__all__ = ["Place", "Walls"]

Place = tuple[float, float, float]
"""A point in the part's own coordinates, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Walls:
    """Sections as `geometry/walls.py` measures and defines them; mm."""

    thinnest_mm: float
    thickest_mm: float
    nominal_mm: float
    thinnest_at: Place
    thickest_at: Place

    def to_json(self) -> dict[str, Any]:
        """Plain values for the store."""
        return {
            "thinnest_mm": self.thinnest_mm,
            "thickest_mm": self.thickest_mm,
            "nominal_mm": self.nominal_mm,
            "thinnest_at": list(self.thinnest_at),
            "thickest_at": list(self.thickest_at),
        }

    @classmethod
    def from_json(cls, stored: Mapping[str, Any]) -> "Walls":
        """Read back what `to_json` gave; KeyError or ValueError for anything else."""
        return cls(
            thinnest_mm=float(stored["thinnest_mm"]),
            thickest_mm=float(stored["thickest_mm"]),
            nominal_mm=float(stored["nominal_mm"]),
            thinnest_at=_place(stored["thinnest_at"]),
            thickest_at=_place(stored["thickest_at"]),
        )


def _place(point: list[float]) -> Place:
    x, y, z = (float(each) for each in point)
    return x, y, z
