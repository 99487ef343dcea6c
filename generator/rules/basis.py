"""What a part rests on besides its permit: material, fire requirement and safety role, now or as once approved."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from generator.geometry.sections import Walls
from generator.records.catalogue import Catalogue, KeptFile
from generator.records.fire import Fire, FireExemption
from generator.records.materials import Material
from generator.records.parts import Fit, Part, SafetyRole
from generator.rules.bound_papers import bound_exemption, bound_material
from generator.rules.changes import Change
from generator.rules.consequences import material_changes, voids
from generator.rules.fingerprint import (
    WITH_PAPERS,
    at_place,
    further_in,
    tells_exemption,
    values_of,
    version_of,
    with_material,
)


@dataclass(frozen=True, slots=True)
class Basis:
    """None is unknown, and never passes."""

    material: Material | None
    fire: Fire | None
    """At the place in question."""
    is_safety: bool
    further: tuple[tuple[str, Material | None], ...] = ()
    """What else is in the part, by the material's id."""
    mesh_sha256: str | None = None
    walls: Walls | None = None
    """As measured of the model with that SHA-256; None where they could not be, or of earlier pieces of another model."""
    changes: tuple[Change, ...] = ()
    """What of the material and its papers is other than the text says that pieces of an earlier revision rest on."""


def basis_now(
    part: Part, catalogue: Catalogue, fit: Fit, mesh: KeptFile | None = None, walls: Walls | None = None
) -> Basis:
    """What the part rests on where it fits so; walls: as measured of the mesh."""
    fire, is_safety = fit.fire or part.fire, part.safety_role is not SafetyRole.NONE
    further = tuple((name, catalogue.materials.get(name)) for name in part.materials[1:])
    return Basis(catalogue.materials.get(part.material), fire, is_safety, further, mesh.sha256 if mesh else None, walls)


def basis_under(approved: str, now: Basis, fit: Fit) -> Basis:
    """What pieces as they are made now rest on under a permit: only papers count that its text names.

    A text of an older form names none; what it was given for is asked about (rules/facts/of_permit.py).
    """
    version = version_of(approved)
    if version is None or version not in WITH_PAPERS:
        return now
    material = bound_material(approved, now.material, version) if now.material else None
    further = tuple(
        (name, bound_material(approved, each, version, with_material(name)) if each else None) for name, each in now.further
    )
    stated = _bound_statement(approved, now.fire.exemption if now.fire else None, version, fit)
    fire = now.fire.model_copy(update={"exemption": stated}) if now.fire else None
    return replace(now, material=material, further=further, fire=fire)


def _bound_statement(approved: str, stated: FireExemption | None, version: int, fit: Fit) -> FireExemption | None:
    """The statement, where the text names it: for the whole part, or for this place alone."""
    there = at_place(fit.fleet, fit.place, "")
    return bound_exemption(approved, stated, version, there if fit.fire else "")


def basis_then(approved: str, now: Basis, catalogue: Catalogue, fit: Fit) -> Basis:
    """What the canonical text of an approval says that its parts rest on.

    The material only counts where the catalogue still says the same of it: certificates and reports filed under
    its id since then may speak of another. What the fire standard asks belongs to the place, so what is known of it
    now counts for old prints too. A safety role, then or now, keeps the part on the careful side.
    """
    values = values_of(approved)
    name = values.get("material") or ""
    material = catalogue.materials.get(name)
    changes = material_changes(approved, name, material) if material else ()
    if any(map(voids, changes)):
        material = None
    is_safety = now.is_safety or values.get("safety role") != SafetyRole.NONE
    fire = _fire_then(approved, values, now.fire, fit)
    further = tuple((dict(now.further) | {name: catalogue.materials.get(name) for name in further_in(values)}).items())
    same_model = now.mesh_sha256 is not None and values.get("mesh sha256") == now.mesh_sha256
    then = Basis(material, fire, is_safety, further, now.mesh_sha256, now.walls if same_model else None, changes)
    return basis_under(approved, then, fit)


def _fire_then(approved: str, values: Mapping[str, str | None], now: Fire | None, fit: Fit) -> Fire | None:
    """What is asked belongs to the place and is as now; walls are as the text tells them, of this place or of the part.

    The fire engineer's statement only counts where it is still the one that the approval names. A text of an older form tells no place's
    own statement, so that such a one counts only where it is the part's besides; what the newer forms name `basis_under` looks up.
    """
    if now is None:
        return None
    there = at_place(fit.fleet, fit.place, "")
    told = {key: values.get(f"{there}{key}") or values.get(key) for key in ("thinnest wall mm", "thickest section mm")}
    exemption = now.exemption
    same = exemption and (version_of(approved) in WITH_PAPERS or tells_exemption(approved, exemption))
    walls = {"thinnest_wall_mm": _number(told["thinnest wall mm"]), "thickest_section_mm": _number(told["thickest section mm"])}
    return now.model_copy(update=walls | {"exemption": exemption if same else None})


def _number(told: str | None) -> float | None:
    try:
        return float(told or "")
    except ValueError:  # not told, or not of our making
        return None
