"""What is known of one way to stand on the plate, and of all that were tried?"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

__all__ = ["ANGLES_DEG", "AXES", "USUAL_DEG", "Leaning", "Point", "Pose", "Poses"]

Point = tuple[float, float, float]

ANGLES_DEG: Final = (30, 35, 40, 45, 50, 55, 60)
"""Angles from the vertical, up to which a process prints a leaning surface without support; those that are looked at."""
USUAL_DEG: Final = 45
"""Common practice of material extrusion; see records/print_rules.py for the sources."""
AXES: Final[Mapping[str, Point]] = {
    "+z": (0.0, 0.0, 1.0),
    "-z": (0.0, 0.0, -1.0),
    "+x": (1.0, 0.0, 0.0),
    "-x": (-1.0, 0.0, 0.0),
    "+y": (0.0, 1.0, 0.0),
    "-y": (0.0, -1.0, 0.0),
}
"""Poses by the axis of the model that points up; the first is the part as modelled."""


@dataclass(frozen=True, slots=True)
class Leaning:
    """What leans more than an angle from the vertical: its area in mm², and the volume in mm³ between it and the plate or the part below."""

    overhang_mm2: float
    support_mm3: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """One way to stand on the plate."""

    up: Point
    """Which way of the model points up, of length 1."""
    size_mm: tuple[float, float, float]
    """In this pose: x and y of the smallest rectangle on the plate, the longer first, and z upwards."""
    contact_mm2: float
    """What lies on the plate."""
    leaning: tuple[Leaning, ...]
    """For each of ANGLES_DEG."""
    is_stable: bool
    """Whether it stands there by itself: its centre of mass is over what it stands on."""

    @property
    def height_mm(self) -> float:
        return self.size_mm[2]

    @property
    def overhang_mm2(self) -> float:
        """At the usual angle."""
        return self.leaning_at(USUAL_DEG).overhang_mm2

    @property
    def support_mm3(self) -> float:
        """At the usual angle."""
        return self.leaning_at(USUAL_DEG).support_mm3

    def leaning_at(self, angle_deg: int) -> Leaning:
        """Raises ValueError for an angle that is none of ANGLES_DEG."""
        return self.leaning[ANGLES_DEG.index(angle_deg)]

    @property
    def axis(self) -> str | None:
        """Its name where an axis of the model points up."""
        return next((name for name, up in AXES.items() if up == self.up), None)

    def to_json(self) -> dict[str, Any]:
        return {
            "up": list(self.up),
            "size_mm": list(self.size_mm),
            "contact_mm2": self.contact_mm2,
            "leaning": [[each.overhang_mm2, each.support_mm3] for each in self.leaning],
            "is_stable": self.is_stable,
        }

    @classmethod
    def from_json(cls, stored: Mapping[str, Any]) -> "Pose":
        """Read back what `to_json` gave; KeyError or ValueError for anything else."""
        return cls(
            up=_three(stored["up"]),
            size_mm=_three(stored["size_mm"]),
            contact_mm2=float(stored["contact_mm2"]),
            leaning=tuple(Leaning(float(area), float(volume)) for area, volume in stored["leaning"]),
            is_stable=bool(stored["is_stable"]),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Poses:
    """The poses that were tried, the best one first by the score of score.py at the usual angle; none of an empty mesh."""

    candidates: tuple[Pose, ...]

    def standing(self, axis: str) -> Pose | None:
        """The pose with this axis of the model upwards."""
        return next((pose for pose in self.candidates if pose.axis == axis), None)

    def to_json(self) -> list[dict[str, Any]]:
        """Plain values for the store."""
        return [pose.to_json() for pose in self.candidates]

    @classmethod
    def from_json(cls, stored: list[Mapping[str, Any]]) -> "Poses":
        """Read back what `to_json` gave; KeyError or ValueError for anything else."""
        return cls(candidates=tuple(Pose.from_json(each) for each in stored))


def _three(numbers: list[float]) -> Point:
    x, y, z = (float(each) for each in numbers)
    return x, y, z
