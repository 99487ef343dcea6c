"""How much burns at a place, and how much of it is exposed: the group that clause 4 of the fire standard weighs.

An aid: the mass is that of the whole group, neighbours and all, so what comes out is only ever a candidate, which the
fire engineer confirms. What is not known stays unknown, and what is unknown is no candidate.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

from generator.geometry.facts import MeshFacts
from generator.records.catalogue import Catalogue
from generator.records.fire import Fire
from generator.records.materials import Material
from generator.records.parts import Fit, Part
from generator.records.vehicles import vehicles_in
from generator.rules.by_identity import ByIdentity

MM3_IN_CM3, MM2_IN_M2 = 1000.0, 1_000_000.0
# Counted up to whole hundredths of a gram and whole ten-thousandths of a square metre, so that what is shown is what was
# compared, and rounding never makes a group smaller. Common practice, no source.
_GRAM_STEPS, _AREA_STEPS, _NOISE = 100, 10_000, 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """Something at the place that may burn, all pieces of it together; None is unknown."""

    name: str
    number: str | None
    """Of a part of the catalogue; None of what the fire engineer wrote down."""
    pieces: int
    volume_mm3: float | None
    """Of one piece, all of it solid."""
    density_g_cm3: float | None
    mass_g: float | None
    area_m2: float | None
    burns: bool = True
    has_further: bool = False
    """Whether more in it burns than its model shows: what that weighs, nobody has said."""

    @property
    def each_g(self) -> float | None:
        """Of one piece, counted up."""
        return None if self.mass_g is None else _up(self.mass_g / self.pieces, _GRAM_STEPS)


@dataclass(frozen=True, kw_only=True)
class Group:
    """Everything known at one place: the part itself comes first; what is summed is summed once."""

    members: tuple[Member, ...]
    written_area_m2: float | None
    """Exposed area of the whole group as the fire engineer wrote it down."""

    @property
    def own(self) -> Member:
        return self.members[0]

    @cached_property
    def mass_g(self) -> float | None:
        """Combustible mass of all together, counted up; None while that of one is unknown."""
        total = _sum(each.mass_g for each in self.members)
        return None if total is None else _up(total, _GRAM_STEPS)

    @cached_property
    def area_m2(self) -> float | None:
        """Exposed area of all together, counted up: as written down, else of the whole surfaces, which is the careful side."""
        total = self.written_area_m2 if self.written_area_m2 is not None else _sum(each.area_m2 for each in self.members)
        return None if total is None else _up(total, _AREA_STEPS)


def group_at(part: Part, fit: Fit, catalogue: Catalogue, meshes: Mapping[str, MeshFacts | None]) -> Group:
    """The part where it fits so, with what the catalogue and the fire engineer know beside it.

    meshes: what was measured, by number of the part; a part that is not there is unknown.
    """
    fire, fleet = fit.fire or part.fire, catalogue.fleets.get(fit.fleet)
    every = frozenset(fleet.numbers) if fleet else frozenset()
    own = frozenset(vehicles_in(fit.vehicles)) or every
    here = _members_at(ByIdentity((catalogue, meshes)), fit.fleet, fit.place)
    others = (each.member for each in here if each.member.number != part.number and (not each.vehicles or own & each.vehicles))
    return Group(
        members=(_member(part, fit, catalogue, meshes.get(part.number)), *others, *_neighbours(fire)),
        written_area_m2=fire.exposed_area_m2 if fire else None,
    )


@dataclass(frozen=True, slots=True)
class _Here:
    """A part of the catalogue that fits a place; vehicles: those that it fits there, none is every one."""

    member: Member
    vehicles: frozenset[str]


@lru_cache(64)
def _members_at(known: ByIdentity[Catalogue, Mapping[str, MeshFacts | None]], fleet: str, place: str) -> tuple[_Here, ...]:
    """Every part that fits the place, worked out once for all that ask; also one that a newer has replaced may still hang there."""
    catalogue, meshes = known.held
    return tuple(
        _Here(_member(part, there, catalogue, meshes.get(part.number)), frozenset(vehicles_in(there.vehicles)))
        for part, there in catalogue.fitting(fleet, place)
    )


def _member(part: Part, fit: Fit, catalogue: Catalogue, mesh: MeshFacts | None) -> Member:
    own, *further = [catalogue.materials.get(name) for name in part.materials]
    # A surface with holes in it tells no area either.
    volume = mesh.volume_mm3 if mesh else None
    area = mesh.area_mm2 if mesh and volume is not None else None
    has_further = any(each is None or each.combustible for each in further)
    if own and not own.combustible and not has_further:
        return Member(
            name=part.name, number=part.number, pieces=fit.per_vehicle, volume_mm3=volume, density_g_cm3=None, mass_g=0.0,
            area_m2=0.0, burns=False,
        )  # fmt: skip
    density = solid_density(own) if own else None
    return Member(
        name=part.name,
        number=part.number,
        pieces=fit.per_vehicle,
        volume_mm3=volume,
        density_g_cm3=density,
        mass_g=volume / MM3_IN_CM3 * density * fit.per_vehicle if volume and density and not has_further else None,
        area_m2=area / MM2_IN_M2 * fit.per_vehicle if area is not None and not has_further else None,
        has_further=has_further,
    )


def solid_density(material: Material) -> float:
    """Of the polymer without pores: what burns is not less than a solid piece of it, whatever a print weighs."""
    return max(material.density_g_cm3, material.solid_density_g_cm3 or material.density_g_cm3)


def _neighbours(fire: Fire | None) -> Iterator[Member]:
    for each in fire.neighbours if fire else ():
        yield Member(
            name=each.what, number=None, pieces=1, volume_mm3=None, density_g_cm3=None, mass_g=each.combustible_mass_g,
            area_m2=each.exposed_area_m2,
        )  # fmt: skip


def _sum(values: Iterable[float | None]) -> float | None:
    listed = list(values)
    known = [each for each in listed if each is not None]
    return math.fsum(known) if len(known) == len(listed) else None


def _up(value: float, steps: int) -> float:
    return math.ceil(value * steps - _NOISE) / steps
