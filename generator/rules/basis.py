"""What a part rests on besides its permit: material, fire requirement and safety role, now or as once approved."""

from dataclasses import dataclass, replace

from generator.records.catalogue import Catalogue
from generator.records.materials import Material
from generator.records.parts import Fire, Part, SafetyRole
from generator.rules.bound_papers import bound_exemption, bound_material
from generator.rules.changes import Change
from generator.rules.consequences import material_changes, voids
from generator.rules.fingerprint import VERSION, tells_exemption, values_of, version_of


@dataclass(frozen=True, slots=True)
class Basis:
    """None is unknown, and never passes."""

    material: Material | None
    fire: Fire | None
    is_safety: bool
    changes: tuple[Change, ...] = ()
    """What of the material and its papers is other than the text says that pieces of an earlier revision rest on."""


def basis_now(part: Part, catalogue: Catalogue) -> Basis:
    return Basis(catalogue.materials.get(part.material), part.fire, part.safety_role is not SafetyRole.NONE)


def basis_under(approved: str, now: Basis) -> Basis:
    """What pieces as they are made now rest on under a permit: only papers count that its text names.

    A text of an older form names none; what it was given for is asked about (rules/facts/of_permit.py).
    """
    if version_of(approved) != VERSION:
        return now
    material = bound_material(approved, now.material) if now.material else None
    stated = bound_exemption(approved, now.fire.exemption if now.fire else None)
    fire = now.fire.model_copy(update={"exemption": stated}) if now.fire else None
    return replace(now, material=material, fire=fire)


def basis_then(approved: str, now: Basis, catalogue: Catalogue) -> Basis:
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
    fire = _fire_then(approved, values.get("thinnest wall mm"), now.fire)
    return basis_under(approved, Basis(material, fire, is_safety, changes))


def _fire_then(approved: str, thinnest_wall_mm: str | None, now: Fire | None) -> Fire | None:
    """The fire engineer's statement only counts where it is still the one that the approval names."""
    exemption = now.exemption if now else None
    same = exemption and tells_exemption(approved, exemption)
    try:
        return Fire(
            requirement_set=now.requirement_set if now else "",
            thinnest_wall_mm=float(thinnest_wall_mm or ""),
            chosen_by="as-approved",
            reason="as approved",
            exemption=exemption if same else None,
        )
    except ValueError:  # the text names no set, or is not of our making
        return None
