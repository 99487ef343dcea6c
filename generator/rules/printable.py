"""What is finer on a model than a maker prints well: by its own rules, or by what is usual of its process?

The usual figures are common practice and no standard: design guides of three printing firms, read in November 2026
(arti90.com/en/design-clues, layer-one.com.au/design-guidelines, and on laser-sintered PA12 layerx3d.in/blog). Of sintered walls
they say 0.7, 0.8 and 1.0 mm; the most careful is taken. ISO/ASTM 52910 gives no numbers. Of vat photopolymerization, of
material jetting and of what does not burn (metal) nothing is held here. What is finer by a maker's own rules is a doubt;
by the usual ones it is told on the part's page alone.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from generator.geometry.features.kinds import Feature, Features, Kind, Void
from generator.geometry.plate import fits_plate, turned_on_plate
from generator.geometry.printing.pose import USUAL_DEG, Poses
from generator.geometry.sections import Walls
from generator.records.catalogue import Catalogue
from generator.records.makers import Maker, Process
from generator.records.materials import Material
from generator.records.parts import Part
from generator.records.print_rules import PrintRules
from generator.records.problems import Problem, doubt

USUAL: Final[Mapping[Process, PrintRules]] = {
    Process.MATERIAL_EXTRUSION: PrintRules(min_wall_mm=1.0, min_hole_mm=2.0, min_pin_mm=3.0, min_clearance_mm=0.5, overhang_deg=USUAL_DEG),
    Process.POWDER_BED_FUSION: PrintRules(min_wall_mm=1.0, min_hole_mm=1.5, min_clearance_mm=0.5),
    Process.VAT_PHOTOPOLYMERIZATION: PrintRules(),
    Process.MATERIAL_JETTING: PrintRules(),
}
WITHIN_MM: Final = 0.05  # walls are measured to it
_ROUNDING_MM: Final = 1e-9


class PrintLimit(StrEnum):
    """Which rule."""

    WALL = "wall"
    HOLE = "hole"
    PIN = "pin"
    CLEARANCE = "clearance"


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleFigure:
    """A figure of a rule, and whether the maker itself says so."""

    least_mm: float
    is_own: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Finer:
    """Something of the model below a rule."""

    maker: Maker
    limit: PrintLimit
    held: RuleFigure
    found_mm: float
    count: int
    """How many there are; of walls and clearances 1."""
    share: float | None = None
    """Of walls: about how much of the surface is below."""


def held(maker: Maker, limit: PrintLimit, material: Material | None) -> RuleFigure | None:
    """The maker's own rule, else the usual one of its process and, of plastics, its kind; None where nothing is held."""
    field = f"min_{limit}_mm"
    own: float | None = getattr(maker.rules, field)
    if own is not None:
        return RuleFigure(least_mm=own, is_own=True)
    usual: float | None = getattr(USUAL[maker.process], field)
    if usual is None or (material is not None and not material.combustible):
        return None
    return RuleFigure(least_mm=usual, is_own=False)


def angle_of(maker: Maker) -> int | None:
    """How far a surface may lean without support, degrees from the vertical; None where powder carries the part.

    What is held of no process counts as the usual angle.
    """
    if maker.rules.overhang_deg is not None:
        return maker.rules.overhang_deg
    return None if maker.process is Process.POWDER_BED_FUSION else USUAL_DEG


def angle_for(makers: Iterable[Maker]) -> int | None:
    """The most careful angle of those who may print a part; None where powder carries it with all of them, or none is known."""
    return min((angle for maker in makers if (angle := angle_of(maker)) is not None), default=None)


def finer(maker: Maker, material: Material | None, walls: Walls | None, features: Features | None) -> Iterator[Finer]:
    """What of the model is below a rule by more than it is measured to."""
    told = {
        PrintLimit.WALL: [walls.thinnest_mm + WITHIN_MM] if walls else [],
        PrintLimit.HOLE: _round(features, Kind.HOLE),
        PrintLimit.PIN: _round(features, Kind.BOSS),
        PrintLimit.CLEARANCE: [walls.gap_mm + WITHIN_MM] if walls and walls.gap_mm is not None else [],
    }
    for limit, most_mm in told.items():
        rule = held(maker, limit, material)
        below = [each for each in most_mm if rule and each < rule.least_mm - _ROUNDING_MM]
        if rule and below:
            wall = walls if limit is PrintLimit.WALL else None
            found = wall.thinnest_mm if wall else min(below) - (WITHIN_MM if limit is PrintLimit.CLEARANCE else 0.0)
            share = wall.share_below(rule.least_mm) if wall else None
            yield Finer(maker=maker, limit=limit, held=rule, found_mm=found, count=len(below), share=share)


def _round(features: Features | None, kind: Kind) -> list[float]:
    """Diameters, each as large as it may be. Less than half a round is a groove or an edge; what is lower than wide is no pin."""
    found: tuple[Feature, ...] = features.found if features else ()
    every = [each for each in found if each.kind is kind and each.arc_deg > 180]
    return [each.size_mm + each.within_mm for each in every if kind is Kind.HOLE or (each.length_mm or 0) >= each.size_mm]


def printable_doubts(part: Part, catalogue: Catalogue, walls: Walls | None, poses: Poses | None, features: Features | None) -> tuple[Problem, ...]:
    """What a maker of the part does not print by its own rules, room that is only there in another pose than the approved, and closed hollows."""
    makers = [catalogue.makers[name] for name in part.makers if name in catalogue.makers]
    material = catalogue.materials.get(part.material)
    below = [each for maker in makers for each in finer(maker, material, walls, features) if each.held.is_own]
    return (*map(_finer_doubt, below), *_pose_doubts(part, makers, poses), *hollow_doubts(features))


def hollow_doubts(features: Features | None) -> tuple[Problem, ...]:
    """Hollows that nothing opens, as one doubt that tells the largest: what is printed in them stays in them."""
    largest = largest_void(features)
    if features is None or largest is None:
        return ()
    long, wide, high = (float(f"{side:.2g}") for side in largest.size_mm)
    at = "(" + ", ".join(f"{each:.1f}" for each in largest.at) + ")"
    return (doubt("PRINT06", "hollow", "open it", long=long, wide=wide, high=high, at=at, others=len(features.voids) - 1 or None),)


def largest_void(features: Features | None) -> Void | None:
    """By its tightest box; the first of equal ones."""
    return max(features.voids, key=lambda each: math.prod(each.size_mm), default=None) if features else None


def _finer_doubt(each: Finer) -> Problem:
    found, least, maker = float(f"{each.found_mm:.3g}"), each.held.least_mm, each.maker.id
    if each.limit is PrintLimit.WALL:
        return doubt("PRINT01", "wall", "finer", found=found, least=least, maker=maker, rule="min_wall_mm")
    if each.limit is PrintLimit.CLEARANCE:
        return doubt("PRINT01", "clearance", "finer", found=found, least=least, maker=maker, rule="min_clearance_mm")
    if each.limit is PrintLimit.HOLE:
        return doubt("PRINT01", "hole", "finer", found=found, least=least, maker=maker, count=each.count, rule="min_hole_mm")
    return doubt("PRINT01", "pin", "finer", found=found, least=least, maker=maker, count=each.count, rule="min_pin_mm")


def _pose_doubts(part: Part, makers: list[Maker], poses: Poses | None) -> Iterator[Problem]:
    """Where it fits nobody's plate in any way it is told already (plausible.py)."""
    up = part.settings.up if part.settings else None
    pose = poses.standing(up) if poses and up else None
    if pose is None or not makers or any(turned_on_plate(pose.size_mm, maker.build_volume_mm) for maker in makers):
        return
    if any(fits_plate(pose.size_mm, maker.build_volume_mm) for maker in makers):
        yield doubt("PRINT02", "no room in pose", "another pose", up=up, makers=[maker.id for maker in makers])
