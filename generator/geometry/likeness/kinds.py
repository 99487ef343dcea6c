"""What can be said of two shapes, and how is it written down?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from enum import StrEnum
from typing import Any, Self

__all__ = ["Compared", "Sameness"]


class Sameness(StrEnum):
    """What became of laying one on the other."""

    SAME = "same"  # the same part, meshed anew or not
    SCALED = "scaled"  # the same shape in another size
    OTHER_HAND = "other_hand"  # the mirrored part
    SIMILAR = "similar"  # most of one lies near the other: another part, a broken or worn piece, a scan
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """How the asked shape lies on the known one.

    distance_mm: mean distance of the surfaces both ways, each point to the other's surface; in the size of the known one.
    ratio: size of asked / known; 1 where they are of one size.
    covered: share of the known surface that has asked surface beside it.
    explained: share of the asked surface that lies at the known one.
    within_mm: what the facets of both alone may make.
    """

    kind: Sameness
    distance_mm: float
    ratio: float
    covered: float
    explained: float
    within_mm: float
    is_mirrored: bool = False
    """The asked shape was mirrored for this."""
    turn: tuple[float, ...] = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)
    """How it was turned after that, row by row."""
    away_mm: float = 0.0
    """Mean distance of the asked surface alone from the known one: of a piece it stays small."""

    def to_json(self) -> dict[str, Any]:
        """Plain values for the store."""
        return asdict(self)

    @classmethod
    def from_json(cls, told: Mapping[str, Any]) -> Self:
        """Read back what `to_json` gave; KeyError, TypeError or ValueError for anything else."""
        return cls(**{**told, "kind": Sameness(told["kind"]), "turn": tuple(told["turn"])})
