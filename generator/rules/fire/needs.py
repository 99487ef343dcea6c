"""What the fire standard asks of a part at a place: the hazard level, and which sets can be meant there.

The tool advises; a fire engineer decides. Check against your own copy of the standard.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.records.fire import Fire, HazardLevel
from generator.records.fleets import Area, FireRule, Fleet
from generator.records.standards import FireStandard
from generator.rules.standards import HAZARD_LEVELS


def hazard_level(fleet: Fleet) -> HazardLevel:
    """The hazard level that the fleet's operation and design category ask for (rules/standards.py)."""
    return HAZARD_LEVELS.rows[fleet.operation_category, fleet.design_category]


@dataclass(frozen=True, slots=True)
class FireNeed:
    """What was chosen for a place, at the level of the fleet there."""

    fire: Fire
    level: HazardLevel
    rule: FireRule
    edition: str | None
    """Of EN 45545-2; None where nobody named one and we hold no table."""

    @property
    def is_older_rule(self) -> bool:
        """Whether the fleet was approved to a national rule, which is never read as the European one."""
        return self.rule is not FireRule.EN_45545


def fire_need(fire: Fire | None, fleet: Fleet, standard: FireStandard | None) -> FireNeed | None:
    """What the part needs on this fleet; None while nobody has said which requirement set applies."""
    if fire is None:
        return None
    edition = fire.edition or (standard.newest if standard else None)
    return FireNeed(fire, hazard_level(fleet), fleet.fire_rule, edition)


@dataclass(frozen=True, slots=True)
class FireMisfit:
    """Why a set, a product or an edition cannot be meant: the key of problem FIRE02, and what fills it."""

    key: str
    field: str
    """The key in the record that says so."""
    facts: tuple[tuple[str, str | tuple[str, ...]], ...]


def misfits(fire: Fire, area: Area, standard: FireStandard) -> Iterator[FireMisfit]:
    """Everything about a choice that cannot be meant at a place of this kind, by our tables of the standard."""
    edition = next((each for each in standard.editions if each.edition == (fire.edition or standard.newest)), None)
    if edition is None:
        yield _misfit("no edition", "edition", edition=fire.edition or "", known=tuple(each.edition for each in standard.editions))
    product = standard.product(fire.product) if fire.product else None
    if fire.product and product is None:
        yield _misfit("no product", "product", product=fire.product)
    for number in fire.sets:
        if edition and int(number[1:]) > edition.sets:
            yield _misfit("not in edition", "requirement_set", set=number, edition=edition.edition, most=f"R{edition.sets}")
            continue
        held = standard.set_of(number)
        if held and area not in held.areas:
            yield _misfit("other area", "requirement_set", set=number, says=held.says, area=area.value, areas=tuple(held.areas))
        elif held and held.listed_only and product is None and not _is_electrotechnical(fire, number, standard):
            yield _misfit("listed only", "requirement_set", set=number, says=held.says)
        elif held and held.listed_only and number in standard.small_parts.electrotechnical_sets and not fire.electrotechnical:
            yield _misfit("not electrotechnical", "requirement_set", set=number, says=held.says)
    if product and fire.sets and not set(product.sets) & set(fire.sets):
        yield _misfit("other product", "product", product=product.product, says=product.name, sets=product.sets, chosen=fire.sets)


def _is_electrotechnical(fire: Fire, number: str, standard: FireStandard) -> bool:
    return fire.electrotechnical and number in standard.small_parts.electrotechnical_sets


def _misfit(key: str, field: str, **facts: str | tuple[str, ...]) -> FireMisfit:
    return FireMisfit(key, field, tuple(facts.items()))
