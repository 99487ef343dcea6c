"""Which sizes of a new part are worth a critical check, as its model tells them?

What goes into something else, or something into it: drives, threads and holes before bosses; of equal ones one. Only proposed:
what the part lives by, and how far it may be off, a person says. The tolerance is the general one of the depot, class m where it says none.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from generator.geometry.features.kinds import Feature, Features, Kind
from generator.records.depot import GeneralTolerance
from generator.records.parts import FeatureKind
from generator.rules.standards import (
    GENERAL_TOLERANCES_C,
    GENERAL_TOLERANCES_F,
    GENERAL_TOLERANCES_M,
    GENERAL_TOLERANCES_V,
    StandardTable,
)

MOST: Final = 6
LEAST_MM: Final = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckToConsider:
    """A check to think about; the tolerance to both sides is that of ISO 2768-1."""

    kind: FeatureKind
    nominal_mm: float
    tolerance_mm: float
    count: int = 1
    """How many of them the model has."""


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


_TABLES: Final[Mapping[GeneralTolerance, StandardTable[float, float]]] = {
    GeneralTolerance.FINE: GENERAL_TOLERANCES_F,
    GeneralTolerance.MEDIUM: GENERAL_TOLERANCES_M,
    GeneralTolerance.COARSE: GENERAL_TOLERANCES_C,
    GeneralTolerance.VERY_COARSE: GENERAL_TOLERANCES_V,
}
_VERY_COARSE_ABOVE_MM: Final = 3.0


def proposed_checks(features: Features | None, general: GeneralTolerance = GeneralTolerance.MEDIUM) -> tuple[CheckToConsider, ...]:
    """At most six, each kind's largest first."""
    seen: dict[tuple[FeatureKind, float], tuple[Kind, CheckToConsider]] = {}
    for shape, kind, size_mm in _worth_it(features) if features else ():
        nominal = round(size_mm, 2)
        tolerance = general_tolerance(nominal, general)
        first, told = seen.get((kind, round(nominal, 1)), (shape, None))
        if told and first is shape:  # what turns and its boss are one
            seen[kind, round(nominal, 1)] = (first, replace(told, count=told.count + 1))
        elif told is None and tolerance is not None:
            seen[kind, round(nominal, 1)] = (first, CheckToConsider(kind=kind, nominal_mm=nominal, tolerance_mm=tolerance))
    return tuple(each for _, each in seen.values())[:MOST]


def _worth_it(features: Features) -> Iterator[tuple[Kind, FeatureKind, float]]:
    """By kind, with what it is called and its size. A hole below a seat is a screw's; one with a flat is a D and told once."""
    seated = {each.seat for each in features.found if each.seat is not None}
    d_bores = {round(each.second_mm, 1) for each in features.found if each.kind is Kind.FLATS and each.is_inner and each.second_mm}
    for kind, told in _KINDS.items():
        for at, each in enumerate(features.found):
            if each.kind is not kind or not _is_worth_it(each):
                continue
            if kind is Kind.FLATS and each.is_inner and each.second_mm:
                yield kind, FeatureKind.D_BORE, each.second_mm
            elif kind is Kind.HOLE and at in seated:
                yield kind, FeatureKind.SCREW_HOLE, each.size_mm
            elif kind is not Kind.HOLE or round(each.size_mm, 1) not in d_bores:
                yield kind, told, each.size_mm


def _is_worth_it(feature: Feature) -> bool:
    """A seat is there for a screw's head, and part of a round is measured badly."""
    return feature.size_mm >= LEAST_MM and feature.seat is None and feature.arc_deg > 180


def general_tolerance(nominal_mm: float, general: GeneralTolerance = GeneralTolerance.MEDIUM) -> float | None:
    """To both sides, mm; None beyond the table."""
    if general is GeneralTolerance.VERY_COARSE and nominal_mm <= _VERY_COARSE_ABOVE_MM:
        return None
    return next((tolerance for to, tolerance in _TABLES[general].rows.items() if nominal_mm <= to), None)
