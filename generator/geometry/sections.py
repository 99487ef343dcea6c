"""How thick is a part, as plain figures: its thinnest, its thickest and its usual wall, and where."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

__all__ = ["SHARES", "Place", "Walls"]

SHARES = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5)
"""Of the surface that counts: the thinner so much of it."""
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
    thinner: tuple[float, ...] = ()
    """The length that each of SHARES of the surface stays below; empty where nobody has looked."""
    gap_mm: float | None = None
    """Between two bodies that face each other, as `geometry/gaps.py` measures it; None where there are no two."""
    gap_at: Place | None = None

    def share_below(self, limit_mm: float) -> float | None:
        """About how much of the surface has a wall below a limit, from nothing to the half of it; None where nobody has looked."""
        if not self.thinner or limit_mm > self.thinner[-1]:
            return None
        known = list(zip(self.thinner, SHARES, strict=True))
        (low_mm, low), (high_mm, high) = (0.0, 0.0), known[0]
        for high_mm, high in known:
            if high_mm >= limit_mm:
                break
            low_mm, low = high_mm, high
        return low + (high - low) * (limit_mm - low_mm) / (high_mm - low_mm) if low else 0.0

    def to_json(self) -> dict[str, Any]:
        """Plain values for the store."""
        return {
            "thinnest_mm": self.thinnest_mm,
            "thickest_mm": self.thickest_mm,
            "nominal_mm": self.nominal_mm,
            "thinnest_at": list(self.thinnest_at),
            "thickest_at": list(self.thickest_at),
            "thinner": list(self.thinner),
            "gap_mm": self.gap_mm,
            "gap_at": None if self.gap_at is None else list(self.gap_at),
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
            thinner=tuple(float(each) for each in stored["thinner"]),
            gap_mm=None if stored["gap_mm"] is None else float(stored["gap_mm"]),
            gap_at=None if stored["gap_at"] is None else _place(stored["gap_at"]),
        )


def _place(point: list[float]) -> Place:
    x, y, z = (float(each) for each in point)
    return x, y, z
