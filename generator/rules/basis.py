"""What a part rests on besides its permit: material, fire requirement and safety role, now or as once approved."""

from dataclasses import dataclass

from generator.records.catalogue import Catalogue
from generator.records.materials import Material
from generator.records.parts import Fire, FireExemption, Part, SafetyRole
from generator.rules.fingerprint import exemption_text, lines_of, material_text


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
    lines = lines_of(approved)
    asked = now.fire.requirement_set if now.fire else None
    name = lines.get("material", "")
    material = catalogue.materials.get(name)
    if material and not set(material_text(name, material).splitlines()) <= set(approved.splitlines()):
        material = None
    is_safety = now.is_safety or lines.get("safety role") != SafetyRole.NONE
    return Basis(material, _fire_then(lines, asked, now.fire.exemption if now.fire else None), is_safety)


def _fire_then(lines: dict[str, str], asked: str | None, exemption: FireExemption | None) -> Fire | None:
    """The fire engineer's statement only counts where it is still the one that the approval names."""
    same = exemption and lines.get("fire exemption") == exemption_text(exemption)
    try:
        return Fire(
            requirement_set=asked or "",
            thinnest_wall_mm=float(lines["thinnest wall mm"]),
            chosen_by="as-approved",
            reason="as approved",
            exemption=exemption if same else None,
        )
    except (KeyError, ValueError):  # the text names no set, or is not of our making
        return None
