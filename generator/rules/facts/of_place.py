"""What of the material is not shown to stand what the place asks of it?"""

from collections.abc import Collection
from datetime import date

from generator.records.catalogue import Catalogue
from generator.records.materials import Material
from generator.records.parts import Fit
from generator.records.proof import Proof
from generator.rules.basis import Basis
from generator.rules.facts.case import Case
from generator.rules.facts.fields import PlaceFacts
from generator.rules.kept import is_file
from generator.rules.properties import Idle, PropertyAnswer, PropertyRow, Weighed, rows


def place_facts(case: Case, fit: Fit, basis: Basis) -> PlaceFacts:
    if case.catalogue.place(fit.fleet, fit.place) is None:
        return PlaceFacts(unproven=("place",), unshown=("place",))
    materials = (basis.material, *(material for _, material in basis.further))
    found = tuple(
        row for each in materials for row in rows_at(fit, each, case.catalogue, case.copy.built_on, case.contested)
    )
    unmet, unshown = _named(found, PropertyAnswer.NOT_MET), _named(found, PropertyAnswer.NOT_SHOWN)
    files = (f"materials/{row.found.file}" for row in found if row.found)
    return PlaceFacts(
        asked_there=tuple(dict.fromkeys(row.demand.property.value for row in found)),
        unproven=(*unmet, *unshown),
        unmet=unmet,
        unshown=unshown,
        proof_files=tuple(dict.fromkeys(files)),
    )


def rows_at(
    fit: Fit, material: Material | None, catalogue: Catalogue, day: date, contested: Collection[str]
) -> tuple[PropertyRow, ...]:
    """Each demand of the place against what counts on that day of what was tested of the material; None: nothing was."""
    there = catalogue.place(fit.fleet, fit.place)
    proofs = material.proof if material else ()
    weighed = (Weighed(each, _idle(each, catalogue, day, contested)) for each in proofs)
    return rows(there.environment if there else None, weighed)


def _idle(proof: Proof, catalogue: Catalogue, day: date, contested: Collection[str]) -> Idle | None:
    if not is_file(catalogue.material_files.get(proof.file), proof.sha256):
        return Idle.NOT_KEPT
    if proof.tested_on > day:
        return Idle.TO_COME
    return Idle.CONTESTED if proof.sha256 in contested else None


def _named(found: tuple[PropertyRow, ...], answer: PropertyAnswer) -> tuple[str, ...]:
    """The properties that are answered so, each once."""
    return tuple(dict.fromkeys(row.demand.property.value for row in found if row.answer is answer))
