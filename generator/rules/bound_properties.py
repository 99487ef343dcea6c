"""The lines of a canonical text that bind what a place asks of the material, and what was tested of it."""

from collections import Counter
from collections.abc import Iterator

from generator.records.environment import Environment, Property
from generator.records.materials import Material
from generator.records.proof import Proof
from generator.rules.canonical import as_written
from generator.rules.properties import Needed, demands


def environment_lines(environment: Environment | None) -> Iterator[tuple[str, object]]:
    """The lines of a canonical text that tell what the place asks; those of one place, without its name.

    What is no demand has no line, so that an environment that asks nothing reads as none; in which order the agents are
    written down is no matter.
    """
    properties = list(Property)
    for demand in sorted(set(demands(environment)), key=lambda each: (properties.index(each.property), str(each.needed))):
        name = demand.property.value.replace("_", " ")
        if demand.property is Property.CLEANING_AGENTS:
            yield f"environment cleaning agent {as_written(demand.needed)}", "yes"
        else:
            yield f"environment {name}", "yes" if demand.needed is None else _plain(demand.needed)


def _plain(value: Needed) -> object:
    return str(value) if isinstance(value, str) else value


def proof_lines(material: Material) -> Iterator[tuple[str, object]]:
    """Every proof of the material with all its fields; two of one name are told apart by a number."""
    told = {(proof_name(each), tuple(proof_fields(each))) for each in material.proof}
    met: Counter[str] = Counter()
    for name, fields in sorted(told, key=str):
        met[name] += 1
        group = name if met[name] == 1 else f"{name} {met[name]}"
        yield from ((f"{group} {field}", value) for field, value in fields)


def proof_name(proof: Proof) -> str:
    return f"proof {as_written(proof.property.value)} {as_written(proof.method)}"


def proof_fields(proof: Proof) -> Iterator[tuple[str, object]]:
    yield "value", _plain(proof.value)
    yield "unit", proof.unit
    yield "passed", "yes" if proof.passed else "no"
    yield "conditions", proof.conditions
    yield "tested on", proof.tested_on
    yield "file", proof.file
    yield "sha256", proof.sha256
