"""What the fire standard asks at a place, and which report of the material answers it.

The tool advises; a fire engineer decides. Check against your own copy of the standard.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from generator.records.fleets import Fleet
from generator.records.materials import FireTest, HazardLevel
from generator.records.parts import Fire
from generator.rules.lasting import longest
from generator.rules.standards import HAZARD_LEVELS


def hazard_level(fleet: Fleet) -> HazardLevel:
    """The hazard level that the fleet's operation and design category ask for (rules/standards.py)."""
    return HAZARD_LEVELS.rows[fleet.operation_category, fleet.design_category]


@dataclass(frozen=True, slots=True)
class FireNeed:
    """What a report must show: set, hazard level, and a specimen no thicker than the part's thinnest wall."""

    requirement_set: str
    hazard_level: HazardLevel
    thinnest_wall_mm: float


def fire_need(fire: Fire | None, fleet: Fleet) -> FireNeed | None:
    """What the part needs on this fleet; None while nobody has said which requirement set applies."""
    return FireNeed(fire.requirement_set, hazard_level(fleet), fire.thinnest_wall_mm) if fire else None


def report_for(need: FireNeed, kept: Iterable[FireTest]) -> FireTest | None:
    """The report among those kept that answers the need and lasts longest; None when none does."""
    answering = [
        test
        for test in kept
        if test.requirement_set == need.requirement_set
        and test.hazard_level >= need.hazard_level
        and test.thickness_mm <= need.thinnest_wall_mm
    ]
    return longest(answering)
