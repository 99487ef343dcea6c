"""Is it shown that a material stands what a place asks of it? Each demand against each proof, with margin and reason.

The tool advises; who answers for the vehicle decides. Which proof covers which demand is common practice, no source, but
for the order of vibration classes (rules/standards.py): a hotter test covers less hot, a colder one less cold, a longer
creepage distance a shorter one, a harder class a milder one; a proof of one cleaning agent speaks of that agent alone.
What was tested and failed speaks against every demand that is as hard or harder, whatever else is shown.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from generator.records.base import as_compared
from generator.records.environment import Environment, Property, VandalClass, VibrationClass
from generator.records.placeholders import names_nothing, says_nothing
from generator.records.proof import Proof
from generator.rules.standards import VIBRATION

Needed = float | str | None
_FLAGS = (Property.SUN, Property.OIL, Property.WATER, Property.ANTISTATIC)
_HANDS = tuple(VandalClass)


class PropertyAnswer(StrEnum):
    MET = "met"
    NOT_MET = "not met"
    """Tested, and it stands less than is asked, or does not stand it."""
    NOT_SHOWN = "not shown"
    """No proof that counts speaks of it."""


class Idle(StrEnum):
    """Why a proof does not count."""

    NOT_KEPT = "not kept"
    """Its file is missing, empty or another than the one that was recorded."""
    TO_COME = "to come"
    CONTESTED = "contested"
    """Its file is recorded as something that it cannot be as well."""
    SAYS_NOTHING = "says nothing"
    OTHER_AGENT = "other agent"
    HIGHER_RANGE = "higher range"
    """Of axle-mounted equipment, tested from a higher frequency on than what sits elsewhere."""


@dataclass(frozen=True, slots=True)
class PropertyDemand:
    """One thing that a place asks; `needed` is a number in the unit of the property, a class, an agent, or None."""

    property: Property
    needed: Needed = None


@dataclass(frozen=True, slots=True)
class Weighed:
    """A proof and why it does not count; None where it does."""

    proof: Proof
    idle: Idle | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PropertyRow:
    """One demand against what is shown of one material."""

    demand: PropertyDemand
    answer: PropertyAnswer
    found: Proof | None = None
    """The proof that decided."""
    margin: float | None = None
    """By how much it is better than asked, in the unit of the property; below nothing it lacks as much."""
    idle: tuple[Weighed, ...] = ()
    """What speaks of the same property and does not count."""


def demands(environment: Environment | None) -> tuple[PropertyDemand, ...]:
    """What the place asks, in the order of the record."""
    return tuple(_demands(environment)) if environment else ()


def _demands(there: Environment) -> Iterator[PropertyDemand]:
    for kind in Property:
        value = getattr(there, kind.value)
        if kind is Property.CLEANING_AGENTS:
            yield from (PropertyDemand(kind, agent) for agent in value)
        elif kind in _FLAGS:
            yield from (PropertyDemand(kind),) if value else ()
        elif value is not None and value is not VandalClass.NONE:
            yield PropertyDemand(kind, value)


def rows(environment: Environment | None, proofs: Iterable[Weighed]) -> tuple[PropertyRow, ...]:
    """Each demand of the place against the proofs of the material."""
    told = tuple(map(_with_its_words, proofs))
    return tuple(_row(demand, told) for demand in demands(environment))


def _with_its_words(weighed: Weighed) -> Weighed:
    """A proof whose method or conditions only keep a place free proves nothing."""
    proof = weighed.proof
    is_empty = names_nothing(proof.method) or (proof.conditions is not None and says_nothing(proof.conditions))
    return Weighed(proof, weighed.idle or (Idle.SAYS_NOTHING if is_empty else None))


def _row(demand: PropertyDemand, proofs: Iterable[Weighed]) -> PropertyRow:
    own = [_of_its_range(_of_its_agent(each, demand), demand) for each in proofs if each.proof.property is demand.property]
    idle = tuple(each for each in own if each.idle)
    counting = [each.proof for each in own if not each.idle]
    failed = [each for each in counting if not each.passed and _is_as_hard(demand, demand.needed, each.value)]
    passed = sorted((each for each in counting if each.passed), key=lambda each: _hardness(demand, each.value))
    if failed:
        found = min(failed, key=lambda each: _hardness(demand, each.value))
        return PropertyRow(demand=demand, answer=PropertyAnswer.NOT_MET, found=found, idle=idle)
    if not passed:
        return PropertyRow(demand=demand, answer=PropertyAnswer.NOT_SHOWN, idle=idle)
    best = passed[-1]
    answer = PropertyAnswer.MET if _is_as_hard(demand, best.value, demand.needed) else PropertyAnswer.NOT_MET
    return PropertyRow(demand=demand, answer=answer, found=best, margin=_margin(demand, best), idle=idle)


def _of_its_agent(weighed: Weighed, demand: PropertyDemand) -> Weighed:
    if demand.property is not Property.CLEANING_AGENTS or weighed.idle:
        return weighed
    same = as_compared(str(weighed.proof.value)) == as_compared(str(demand.needed))
    return weighed if same else Weighed(weighed.proof, Idle.OTHER_AGENT)


def _of_its_range(weighed: Weighed, demand: PropertyDemand) -> Weighed:
    """What passed as axle-mounted says nothing of the slow shaking of bogie and body (EN 61373, from memory)."""
    if demand.property is not Property.SHOCK_VIBRATION or weighed.idle or not weighed.proof.passed:
        return weighed
    is_other = weighed.proof.value == VibrationClass.AXLE != demand.needed
    return Weighed(weighed.proof, Idle.HIGHER_RANGE) if is_other else weighed


def _is_as_hard(demand: PropertyDemand, one: Needed, other: Needed) -> bool:
    return _hardness(demand, one) >= _hardness(demand, other)


def _hardness(demand: PropertyDemand, value: Needed) -> float:
    """How hard a demand or a test of the property is; only compared with others of the same property and agent."""
    match demand.property:
        case Property.HOTTEST | Property.CREEPAGE:
            return float(value or 0)
        case Property.COLDEST:
            return -float(value or 0)
        case Property.VANDAL_CLASS:
            return _HANDS.index(VandalClass(str(value)))
        case Property.SHOCK_VIBRATION:
            return VIBRATION.rows[VibrationClass(str(value))]
        case _:
            return 0


def _margin(demand: PropertyDemand, proof: Proof) -> float | None:
    if not isinstance(demand.needed, float):
        return None
    return _hardness(demand, proof.value) - _hardness(demand, demand.needed)
