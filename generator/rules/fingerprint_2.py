"""Version 2 of the canonical text: the part and its places, in the form of rules/canonical.py, without any paper.

Kept so that approvals of that form stay readable. It says nothing of certificates, fire reports, documents, photos,
fitting notes, and of the grade and supplier of the material; what binds it is therefore asked about first.
"""

from collections.abc import Iterable, Iterator

from generator.records.fire import FireExemption
from generator.records.fleets import Fleet, Place
from generator.records.makers import Maker
from generator.records.materials import Material
from generator.records.parts import Check, Part
from generator.rules.canonical import as_written, joined
from generator.rules.fire.needs import hazard_level

Lines = Iterable[tuple[str, object]]
LATER_SETTINGS = frozenset({"up", "surface_texture", "repair", "acceptable_imperfections"})
"""Settings that records got when there were approvals already."""


def canonical_text(part: Part, material: Material, makers: Iterable[Maker], mesh_sha256: str | None) -> str:
    """The part as version 2 told it."""
    return joined([("spares fingerprint", 2), *part_lines(part, material, makers, mesh_sha256)])


def part_lines(part: Part, material: Material, makers: Iterable[Maker], mesh_sha256: str | None) -> Iterator[tuple[str, object]]:
    """What version 3 says in the same lines."""
    used = sorted((maker for maker in makers if maker.id in part.makers), key=lambda maker: maker.id)
    yield "number", part.number
    yield "revision", part.revision
    yield "mesh sha256", mesh_sha256
    yield "mesh units", part.mesh_units
    yield "safety role", part.safety_role
    yield from material_lines(part.material, material)
    yield from ((f"maker {as_written(maker.id)}", maker.process) for maker in used)
    yield from ((f"setting {words(key)}", value) for key, value in settings_told(part).items())
    yield "fire requirement set", part.fire.requirement_set if part.fire else None
    yield "thinnest wall mm", part.fire.thinnest_wall_mm if part.fire else None
    yield from exemption_lines(part.fire.exemption if part.fire else None)
    for check in sorted(part.checks, key=lambda each: each.name):
        yield from _check_lines(check)


def settings_told(part: Part) -> dict[str, object]:
    """The settings by their keys; what could not be said before has no line where nobody has said it, so that older texts read alike."""
    told = part.settings.model_dump() if part.settings else {}
    return {key: value for key, value in told.items() if key not in LATER_SETTINGS or value is not None}


def place_lines(fleet: Fleet, place: Place) -> Iterator[tuple[str, object]]:
    """What an approval for this place relies on: which fleet and place it is, and how the fire standard takes it."""
    yield "fleet", fleet.name
    yield "in service since", fleet.in_service_since
    yield "operation category", fleet.operation_category
    yield "design category", fleet.design_category
    yield "hazard level", hazard_level(fleet)
    yield "name", place.name
    yield "area", place.area


def material_lines(name: str, material: Material) -> list[tuple[str, object]]:
    properties = material.properties.model_dump().items()
    return [
        ("material", name),
        ("material family", material.family),
        ("material density g/cm3", material.density_g_cm3),
        *((f"material {words(key)}", value) for key, value in properties),
    ]


def exemption_lines(exemption: FireExemption | None) -> list[tuple[str, object]]:
    if exemption is None:
        return []
    return [
        ("fire exemption reference", exemption.reference),
        ("fire exemption sha256", exemption.evidence.sha256),
    ]


def _check_lines(check: Check) -> Iterator[tuple[str, object]]:
    for key in ("nominal_mm", "plus_mm", "minus_mm", "measured_with"):
        yield f"check {as_written(check.name)} {words(key)}", getattr(check, key)
    if check.sample is not None:  # as of before it could be said
        yield f"check {as_written(check.name)} sample", check.sample


def words(key: str) -> str:
    return key.replace("_", " ")
