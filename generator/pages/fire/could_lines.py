"""Which sets could be meant at a place, and the arithmetic of what burns there, in words."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.geometry.facts import MeshFacts
from generator.pages.fire.of_standard import standard_words
from generator.pages.fire.row_lines import certainty_words
from generator.pages.wording import Wording
from generator.planning.wanted_tests import meets
from generator.records.catalogue import Catalogue
from generator.records.fire import Fire, HazardLevel
from generator.records.fleets import FireRule
from generator.records.parts import Fit, Part
from generator.records.standards import FireStandard, Method
from generator.rules.fire.candidates import Candidate, candidates
from generator.rules.fire.needs import hazard_level
from generator.rules.fire.small_parts import MM2_IN_M2, Amount, Group, Member, group_at

_MASS_DECIMALS, _AREA_DECIMALS = 2, 6
MOST_NAMED = 20
"""Parts beside the own one; a page of each of thousands at one place would name all of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Could:
    """candidates: a line for each; group: how it is counted, then a line for each member, then the sum.

    differs: that the fire engineer chose another set than the tables suggest; empty where not.
    """

    differs: str
    candidates: tuple[str, ...]
    group_says: str
    members: tuple[str, ...]
    total: str


def could_lines(
    part: Part, fit: Fit, catalogue: Catalogue, meshes: Mapping[str, MeshFacts | None], w: Wording
) -> Could | None:
    """None at an unknown place, without tables, or where the fleet stands under an older rule, which is never mapped."""
    standard, place = catalogue.standard, catalogue.place(fit.fleet, fit.place)
    fleet, fire = catalogue.fleets.get(fit.fleet), fit.fire or part.fire
    if standard is None or place is None or fleet is None or fleet.fire_rule is not FireRule.EN_45545:
        return None
    group = group_at(part, fit, catalogue, meshes)
    found = candidates(place.area, fire, group, standard)
    return Could(
        differs=_differs(found, fire, hazard_level(fleet), standard, w),
        candidates=tuple(_candidate(each, group, w) for each in found) or (w("fire.could.none"),),
        group_says=_group_says(standard, w),
        members=tuple(_members(group, w)),
        total=_total(group, fire, w),
    )


def _differs(found: tuple[Candidate, ...], fire: Fire | None, level: HazardLevel, standard: FireStandard, w: Wording) -> str:
    """What a milder choice has to be read with; a set that asks all that a suggested one asks, and no less, is none."""
    suggested = tuple(each.set for each in found if each.set)
    if fire is None or not suggested or any(_covers(own, other, level, standard) for own in fire.sets for other in suggested):
        return ""
    chosen = fire.sets or ((w(f"fire.kinds.{fire.asks_nothing}").rstrip("."),) if fire.asks_nothing else ())
    return w("fire.could.differs", suggested=suggested, chosen=chosen)


def _covers(own: str, other: str, level: HazardLevel, standard: FireStandard) -> bool:
    """Whether one set asks each test of another, at least as hard."""
    if own == other:
        return True
    chosen, suggested = standard.set_of(own), standard.set_of(other)
    if chosen is None or suggested is None or not suggested.limits:
        return False
    asked = {limit.test: limit.at(level) for limit in chosen.limits}
    return all(_is_as_hard(asked.get(limit.test), limit.at(level), standard.method(limit.test)) for limit in suggested.limits)


def _is_as_hard(own: float | str | None, other: float | str | None, method: Method | None) -> bool:
    if other is None:
        return True
    return own is not None and method is not None and meets(own, other, method)


def fit_at(part: Part, fleet: str, place: str) -> Fit | None:
    return next((fit for fit in part.fits if (fit.fleet, fit.place) == (fleet, place)), None)


def _group_says(standard: FireStandard, w: Wording) -> str:
    rules = standard.small_parts
    return w("fire.could.group", across=w.measure(rules.near_across_mm), up=w.measure(rules.near_up_mm))


def _candidate(each: Candidate, group: Group, w: Wording) -> str:
    why = w(
        f"fire.could.why.{each.why}",
        product=f"{each.product} {standard_words(each.product_name, w)}" if each.product else None,
        limit=w.measure(each.limit) if each.limit is not None else None,
        mass=_told(group.mass_g, _MASS_DECIMALS, w),
        each=_told(group.own.each_g, _MASS_DECIMALS, w),
        area=_told(group.area_m2, _AREA_DECIMALS, w),
    )
    said = {"why": why, "clause": standard_words(each.clause, w), "certainty": certainty_words(each.certainty, w), "source": standard_words(each.source, w)}
    if each.set is None:
        return w("fire.could.exempt", **said)
    return w("fire.could.set", set=each.set, says=standard_words(each.says, w) if each.says else None, **said)


def _told(value: float | None, decimals: int, w: Wording) -> str | None:
    return None if value is None else w.measure(value, decimals)


def _members(group: Group, w: Wording) -> Iterable[str]:
    """The part itself, the others that weigh most or of which it is not known, what the engineer wrote down, and the rest in one line."""
    named, rest = group.heaviest(MOST_NAMED)
    yield from (_member(each, w) for each in (group.own, *named, *group.written))
    if rest.count:
        yield w("fire.could.rest", n=rest.count, **_sums(rest, w))


def _member(each: Member, w: Wording) -> str:
    name = f"{each.number} {each.name}" if each.number else each.name
    area = _told(each.area_m2, _AREA_DECIMALS, w)
    mass = _told(each.mass_g, _MASS_DECIMALS, w)
    if not each.burns:
        return w("fire.could.not_burning", name=name)
    if each.number is None:
        return w("fire.could.neighbour", name=name, mass=mass, area=area)
    if each.mass_g is None or each.volume_mm3 is None:
        return w("fire.could.unknown", name=name, why=w(f"fire.could.why_unknown.{_why_unknown(each)}"))
    return w(
        "fire.could.member",
        name=name,
        volume=w.measure(each.volume_mm3 / 1000, 3),
        density=_told(each.density_g_cm3, 4, w),
        n=str(each.pieces),
        mass=mass,
        each_area=_told(each.area_m2 * MM2_IN_M2 / each.pieces, _MASS_DECIMALS, w) if each.area_m2 is not None else None,
        area=area,
    )


def _why_unknown(each: Member) -> str:
    if each.has_further:
        return "further"
    return "material" if each.density_g_cm3 is None else "mesh"


def _total(group: Group, fire: Fire | None, w: Wording) -> str:
    written = w("fire.could.written") if fire and fire.exposed_area_m2 is not None else None
    return w("fire.could.total", **_sums(group, w, written))


def _sums(of: Group | Amount, w: Wording, written: str | None = None) -> dict[str, str]:
    mass, area = _told(of.mass_g, _MASS_DECIMALS, w), _told(of.area_m2, _AREA_DECIMALS, w)
    return {
        "mass": w("fire.could.mass", mass=mass) if mass is not None else w("fire.could.no_mass"),
        "area": w("fire.could.area", area=area, written=written) if area is not None else w("fire.could.no_area"),
    }
