"""What a part rests on besides its permit: material, fire requirement and safety role, now or as once approved."""

from dataclasses import dataclass

from generator.records.catalogue import Catalogue
from generator.records.materials import Material
from generator.records.parts import Fire, Part, SafetyRole
from generator.rules.fingerprint import tells_exemption, tells_material, values_of


@dataclass(frozen=True, slots=True)
class Basis:
    """None is unknown, and never passes."""

    material: Material | None
    fire: Fire | None
    is_safety: bool


def basis_now(part: Part, catalogue: Catalogue) -> Basis:
    return Basis(catalogue.materials.get(part.material), part.fire, part.safety_role is not SafetyRole.NONE)


def basis_then(approved: str, now: Basis, catalogue: Catalogue) -> Basis:
    """What the canonical text of an approval says that its parts rest on.

    The material only counts where the catalogue still says the same of it: certificates and reports filed under
    its id since then may speak of another. What the fire standard asks belongs to the place, so what is known of it
    now counts for old prints too. A safety role, then or now, keeps the part on the careful side.
    """
    values = values_of(approved)
    name = values.get("material") or ""
    material = catalogue.materials.get(name)
    if material and not tells_material(approved, name, material):
        material = None
    is_safety = now.is_safety or values.get("safety role") != SafetyRole.NONE
    return Basis(material, _fire_then(approved, values.get("thinnest wall mm"), now.fire), is_safety)


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
