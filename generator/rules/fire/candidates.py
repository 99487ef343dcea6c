"""Which requirement sets could be meant at a place? Shown with clause and reason; a fire engineer chooses, never this.

By the depot's tables of the standard: Table 2 for products that it lists, clause 4 for all others.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.records.fire import Fire
from generator.records.fleets import Area
from generator.records.standards import Certainty, FireStandard, Product
from generator.rules.fire.small_parts import Group

Why = Literal[
    "listed", "large area", "area unknown", "mass unknown", "alone", "below", "above", "electrotechnical", "cannot burn"
]  # fmt: skip
PRODUCTS = "Table 2"


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A set that could be meant, or that no test is asked, and why."""

    set: str | None
    """None: no test; a candidate for exemption, which the fire engineer confirms."""
    why: Why
    clause: str
    certainty: Certainty
    source: str
    says: str = ""
    """What the set is for."""
    limit: float | None = None
    """The mass or area that it turns on."""
    product: str = ""
    product_name: str = ""


def candidates(area: Area, fire: Fire | None, group: Group, standard: FireStandard) -> tuple[Candidate, ...]:
    """Everything that the tables suggest at a place of this kind, the careful side where something is not known.

    fire: what is chosen already, for its product, its edition and whether it is electrotechnical.
    """
    if not group.own.burns:
        return (_candidate(None, "cannot burn", standard),)
    product = standard.product(fire.product) if fire and fire.product else None
    if fire and fire.product and product is None:
        return ()  # listed under a number that we do not know: clause 4 does not speak of it
    found = _listed(product, standard) if product else _by_size(area, group, standard)
    every = (*found, *(_electrotechnical(standard) if fire and fire.electrotechnical and not product else ()))
    return tuple(each for each in every if _fits(each, area, fire, standard))


def _fits(each: Candidate, area: Area, fire: Fire | None, standard: FireStandard) -> bool:
    """Whether the set is one of the place's area and of the edition; what we hold nothing of stays."""
    if each.set is None:
        return True
    held, wanted = standard.set_of(each.set), (fire.edition if fire else None) or standard.newest
    edition = next((one for one in standard.editions if one.edition == wanted), None)
    return (held is None or area in held.areas) and (edition is None or int(each.set[1:]) <= edition.sets)


def _listed(product: Product, standard: FireStandard) -> Iterator[Candidate]:
    for number in product.sets:
        yield Candidate(
            set=number, why="listed", clause=PRODUCTS, certainty=product.certainty, source=product.source, says=_says(number, standard),
            product=product.product, product_name=product.name,
        )  # fmt: skip


def _by_size(area: Area, group: Group, standard: FireStandard) -> Iterator[Candidate]:
    """Clause 4: a surface by its area, whatever it weighs, and all else by the group's combustible mass.

    Equality counts as over.
    """
    rules, exposed = standard.small_parts, group.area_m2
    surface = rules.surface_sets.get(area)
    if surface and (exposed is None or exposed >= rules.small_area_m2):
        why: Why = "area unknown" if exposed is None else "large area"
        yield _candidate(surface, why, standard, rules.small_area_m2)
    if exposed is None or exposed < rules.small_area_m2:
        yield from _by_mass(area, group, standard, may_be_exempt=exposed is not None)


def _by_mass(area: Area, group: Group, standard: FireStandard, *, may_be_exempt: bool) -> Iterator[Candidate]:
    rules, mass = standard.small_parts, group.mass_g
    steps = [each for each in rules.steps if area in each.areas]
    each_g = group.own.each_g
    if may_be_exempt and each_g is not None and each_g < rules.alone_below_g:
        yield _candidate(None, "alone", standard, rules.alone_below_g)
    if mass is None or not may_be_exempt:
        if steps and steps[-1].set:
            yield _candidate(steps[-1].set, "mass unknown" if mass is None else "area unknown", standard)
        return
    step = next((each for each in steps if each.below_g is None or mass < each.below_g), None)
    if step and step.below_g is not None:
        yield _candidate(step.set, "below", standard, step.below_g)
    elif step and step.set:
        passed = [each.below_g for each in steps if each.below_g is not None]
        yield _candidate(step.set, "above", standard, max(passed, default=None))


def _electrotechnical(standard: FireStandard) -> Iterator[Candidate]:
    for number in standard.small_parts.electrotechnical_sets:
        yield _candidate(number, "electrotechnical", standard)


def _candidate(number: str | None, why: Why, standard: FireStandard, limit: float | None = None) -> Candidate:
    rules = standard.small_parts
    return Candidate(
        set=number, why=why, clause=rules.clause, certainty=rules.certainty, source=rules.source, limit=limit,
        says=_says(number, standard) if number else "",
    )  # fmt: skip


def _says(number: str, standard: FireStandard) -> str:
    held = standard.set_of(number)
    return held.says if held else ""
