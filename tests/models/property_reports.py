"""What stands in a report on the properties of a material, besides fire."""

from __future__ import annotations

from collections.abc import Sequence

from generator.records.materials import Material
from generator.records.proof import Proof
from tests.models.letters import GREEN, Letter, letter_pdf

NAMES = {
    "hottest_c": "Hottest surface", "coldest_c": "Coldest surface", "sun": "Daylight", "cleaning_agents": "Cleaning agent", "oil": "Oil and grease",
    "water": "Water", "vandal_class": "Rough hands", "shock_vibration": "Shock and vibration", "creepage_mm": "Creepage distance",
    "antistatic": "Antistatic",
}  # fmt: skip


def property_report_pdf(material: Material, proofs: Sequence[Proof]) -> bytes:
    """One page with every property that the report tells of."""
    day = proofs[0].tested_on.isoformat()
    rows = [("Property", "Method", "Result"), *((NAMES[each.property], each.method, _result(each)) for each in proofs)]
    return letter_pdf(
        Letter(
            house="Vintholm Polymer Laboratory",
            title=f"Report on properties - {material.name}",
            rows=[("Material", f"{material.name} ({material.family})"), ("Tested", day)],
            paragraphs=("Results, the mean of five specimens:", *(f"{NAMES[each.property]}: {each.conditions}." for each in proofs if each.conditions)),
            signed=f"Laboratory, {day}",
            stamp="TESTED",
            ink=GREEN,
            table=tuple(rows),
        )
    )


def _result(proof: Proof) -> str:
    told = "" if proof.value is None else f"{proof.value:g}" if isinstance(proof.value, float) else proof.value
    unit = f" {proof.unit}" if proof.unit else ""
    return f"{told}{unit}{', ' if told else ''}{'passed' if proof.passed else 'failed'}"
