"""How much burns at a place, and how much of it is exposed: the group that clause 4 of the fire standard weighs.

An aid: the mass is that of the whole group, neighbours and all, so what comes out is only ever a candidate, which the
fire engineer confirms. What is not known stays unknown, and what is unknown is no candidate.
"""

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache, cached_property, lru_cache
from itertools import islice

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
# Places times the sets of vehicles that parts fit there: a large depot has some hundred, and each names its parts.
_MOST_CROWDS = 512


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


@dataclass(frozen=True, slots=True)
class Amount:
    """What members come to, kept exactly, so that what was added can be taken off again and leaves no trace."""

    count: int = 0
    grams: Fraction = Fraction()
    """Of those whose mass is known."""
    without_mass: int = 0
    area: Fraction = Fraction()
    """In m², of those whose area is known."""
    without_area: int = 0

    @classmethod
    def of(cls, members: Iterable[Member]) -> "Amount":
        listed = tuple(members)
        masses, areas = [each.mass_g for each in listed], [each.area_m2 for each in listed]
        return cls(len(listed), _exactly(masses), masses.count(None), _exactly(areas), areas.count(None))

    def __add__(self, other: "Amount") -> "Amount":
        return Amount(
            self.count + other.count, self.grams + other.grams, self.without_mass + other.without_mass, self.area + other.area,
            self.without_area + other.without_area,
        )  # fmt: skip

    def __sub__(self, other: "Amount") -> "Amount":
        return Amount(
            self.count - other.count, self.grams - other.grams, self.without_mass - other.without_mass, self.area - other.area,
            self.without_area - other.without_area,
        )  # fmt: skip

    @property
    def mass_g(self) -> float | None:
        """Combustible mass of all together, counted up; None while that of one is unknown."""
        return None if self.without_mass else _up(float(self.grams), _GRAM_STEPS)

    @property
    def area_m2(self) -> float | None:
        """The same of their exposed area, as their whole surfaces tell it."""
        return None if self.without_area else _up(float(self.area), _AREA_STEPS)


@dataclass(frozen=True)
class Crowd:
    """The parts of the catalogue that may hang together at a place of some vehicles; summed and sorted once for all that ask."""

    members: tuple[Member, ...] = ()

    @cached_property
    def amount(self) -> Amount:
        return Amount.of(self.members)

    @cached_property
    def heaviest_first(self) -> tuple[int, ...]:
        """Where they stand among the members; what nobody knows the mass of comes before all, and of equals the first."""
        return tuple(sorted(range(len(self.members)), key=self._weight, reverse=True))

    @cached_property
    def at(self) -> Mapping[str | None, tuple[int, ...]]:
        """Where each part stands among the members, by its number."""
        found: defaultdict[str | None, tuple[int, ...]] = defaultdict(tuple)
        for at, each in enumerate(self.members):
            found[each.number] += (at,)
        return dict(found)

    def _weight(self, at: int) -> float:
        mass = self.members[at].mass_g
        return math.inf if mass is None else mass


@dataclass(frozen=True, kw_only=True)
class Group:
    """Everything known at one place: the part itself, the others of the catalogue, and what the fire engineer wrote down."""

    own: Member
    crowd: Crowd = field(default_factory=Crowd)
    """The parts that hang there; the part itself among them counts only as `own`."""
    written: tuple[Member, ...] = ()
    written_area_m2: float | None = None
    """Exposed area of the whole group as the fire engineer wrote it down."""

    @property
    def members(self) -> tuple[Member, ...]:
        """All of them: the part itself comes first."""
        return (self.own, *(each for at, each in enumerate(self.crowd.members) if at not in self._own_at), *self.written)

    @cached_property
    def mass_g(self) -> float | None:
        """Combustible mass of all together, counted up; None while that of one is unknown."""
        return self._amount.mass_g

    @cached_property
    def area_m2(self) -> float | None:
        """Exposed area of all together, counted up: as written down, else of the whole surfaces, which is the careful side."""
        return self._amount.area_m2 if self.written_area_m2 is None else _up(self.written_area_m2, _AREA_STEPS)

    def heaviest(self, most: int) -> tuple[tuple[Member, ...], Amount]:
        """So many of the other parts, those that weigh most or of which it is not known, in their order; and what the rest comes to."""
        first = islice((at for at in self.crowd.heaviest_first if at not in self._own_at), most)
        named = tuple(self.crowd.members[at] for at in sorted(first))
        return named, self._others - Amount.of(named)

    @cached_property
    def _own_at(self) -> tuple[int, ...]:
        return self.crowd.at.get(self.own.number, ())

    @cached_property
    def _others(self) -> Amount:
        return self.crowd.amount - Amount.of(self.crowd.members[at] for at in self._own_at)

    @cached_property
    def _amount(self) -> Amount:
        return self._others + Amount.of((self.own, *self.written))


def group_at(part: Part, fit: Fit, catalogue: Catalogue, meshes: Mapping[str, MeshFacts | None]) -> Group:
    """The part where it fits so, with what the catalogue and the fire engineer know beside it.

    meshes: what was measured, by number of the part; a part that is not there is unknown.
    """
    fire, fleet = fit.fire or part.fire, catalogue.fleets.get(fit.fleet)
    every = frozenset(fleet.numbers) if fleet else frozenset()
    own = frozenset(vehicles_in(fit.vehicles)) or every
    return Group(
        own=_member(part, fit, catalogue, meshes.get(part.number)),
        crowd=_crowds(ByIdentity((catalogue, meshes)))(fit.fleet, fit.place, own),
        written=tuple(_neighbours(fire)),
        written_area_m2=fire.exposed_area_m2 if fire else None,
    )


@dataclass(frozen=True, slots=True)
class _Here:
    """A part of the catalogue that fits a place; vehicles: those that it fits there, none is every one."""

    member: Member
    vehicles: frozenset[str]


@lru_cache(2)
def _crowds(known: ByIdentity[Catalogue, Mapping[str, MeshFacts | None]]) -> Callable[[str, str, frozenset[str]], Crowd]:
    """Who hangs at a place of a fleet on any of some vehicles; also one that a newer has replaced may still hang there."""
    catalogue, meshes = known.held

    @cache
    def here(fleet: str, place: str) -> tuple[_Here, ...]:
        return tuple(
            _Here(_member(part, there, catalogue, meshes.get(part.number)), frozenset(vehicles_in(there.vehicles)))
            for part, there in catalogue.fitting(fleet, place)
        )

    @lru_cache(_MOST_CROWDS)
    def crowd(fleet: str, place: str, vehicles: frozenset[str]) -> Crowd:
        return Crowd(tuple(each.member for each in here(fleet, place) if not each.vehicles or vehicles & each.vehicles))

    return crowd


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


def _exactly(values: Iterable[float | None]) -> Fraction:
    return sum((Fraction(each) for each in values if each is not None), Fraction())


def _up(value: float, steps: int) -> float:
    return math.ceil(value * steps - _NOISE) / steps
