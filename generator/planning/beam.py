"""How far does a cantilever of rectangular section bend, and how is it stressed at its root?

    deflection δ = F L³ / (3 E I),  I = b h³ / 12      stress σ = M (h/2) / I = 6 F L / (b h²)

The beam of Euler and Bernoulli, clamped at one end, loaded at the other (any handbook of strength of materials, such as
Roark's Formulas for Stress and Strain, cantilever with end load; from memory). It holds for a slender straight bar of one
stiffness, small deflections and short loads at room temperature. It leaves out shear, layers, infill, notches and corners,
creep, heat, moisture and repeated load. No promise of any kind.
"""

from dataclasses import dataclass
from typing import Final

from generator.records.materials import Material

SLENDER: Final = 8.0  # length to thickness; below it shear counts (common practice, no source)
SMALL: Final = 0.1  # deflection to length; above it the formula is too kind or too hard


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """What the formula gives; None where the material does not say its modulus or strength."""

    deflection_mm: float | None
    stress_mpa: float
    share: float | None
    """Of the tensile strength along the layers."""
    share_z: float | None
    """Of that across them."""
    is_slender: bool
    is_small: bool | None


def cantilever(*, length_mm: float, width_mm: float, thickness_mm: float, force_n: float, material: Material) -> Bent:
    """The force is along the thickness, at the free end. Raises ValueError unless all are above nothing."""
    if min(length_mm, width_mm, thickness_mm, force_n) <= 0:
        raise ValueError("length, width, thickness and force must be above zero")
    properties = material.properties
    moment_mm4 = width_mm * thickness_mm**3 / 12
    stress = force_n * length_mm * (thickness_mm / 2) / moment_mm4
    modulus = properties.tensile_modulus_mpa
    bends = force_n * length_mm**3 / (3 * modulus * moment_mm4) if modulus else None
    along, across = properties.tensile_strength_mpa, properties.tensile_strength_z_mpa
    return Bent(
        deflection_mm=bends,
        stress_mpa=stress,
        share=stress / along if along else None,
        share_z=stress / across if across else None,
        is_slender=length_mm >= SLENDER * thickness_mm,
        is_small=None if bends is None else bends <= SMALL * length_mm,
    )
