"""Which sizes of a new part are worth a critical check, as its model tells them?

What goes into something else, or something into it: drives, threads and holes before bosses; of equal ones one. Only proposed:
what the part lives by, and how far it may be off, a person says.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from generator.geometry.features.kinds import Feature, Features, Kind
from generator.records.parts import FeatureKind
from generator.rules.standards import GENERAL_TOLERANCES_M

MOST: Final = 6
LEAST_MM: Final = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposed:
    """A check to think about; the tolerance to both sides is that of ISO 2768-1, class m."""

    kind: FeatureKind
    nominal_mm: float
    tolerance_mm: float


_KINDS: Final = {
    Kind.SQUARE: FeatureKind.SQUARE,
    Kind.HEXAGON: FeatureKind.FLATS,
    Kind.THREAD: FeatureKind.THREAD,
    Kind.FLATS: FeatureKind.FLATS,
    Kind.HOLE: FeatureKind.BORE,
    Kind.SLOT: FeatureKind.SLOT,
    Kind.TURNED: FeatureKind.OUTSIDE,
    Kind.BOSS: FeatureKind.OUTSIDE,
}
"""In the order in which they are proposed."""


def proposed_checks(features: Features | None) -> tuple[Proposed, ...]:
    """At most six, each kind's largest first."""
    seen: dict[tuple[FeatureKind, float], Proposed] = {}
    for kind, told in _KINDS.items():
        for each in features.found if features else ():
            nominal = round(each.size_mm, 2)
            tolerance = general_tolerance(nominal)
            if each.kind is kind and _is_worth_it(each) and tolerance is not None:
                seen.setdefault((told, round(nominal, 1)), Proposed(kind=told, nominal_mm=nominal, tolerance_mm=tolerance))
    return tuple(seen.values())[:MOST]


def _is_worth_it(feature: Feature) -> bool:
    """A seat is there for a screw's head, and part of a round is measured badly."""
    return feature.size_mm >= LEAST_MM and feature.seat is None and feature.arc_deg > 180


def general_tolerance(nominal_mm: float) -> float | None:
    """To both sides, mm; None beyond the table."""
    return next((tolerance for to, tolerance in GENERAL_TOLERANCES_M.rows.items() if nominal_mm <= to), None)
