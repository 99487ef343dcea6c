"""How far does a cantilever of rectangular section bend, and how is it stressed at its root?

    deflection δ = F L³ / (3 E I),  I = b h³ / 12      stress σ = M (h/2) / I = 6 F L / (b h²)

The beam of Euler and Bernoulli, clamped at one end, loaded at the other (any handbook of strength of materials, such as
Roark's Formulas for Stress and Strain, cantilever with end load; from memory). It holds for a slender straight bar of one
stiffness, small deflections and short loads at room temperature. It leaves out shear, layers, infill, notches and corners,
creep, heat, moisture and repeated load. No promise of any kind.

Outside of three limits it holds no longer, and nothing of it is to be told: a length of eight times the thickness at least (Roark, bending
of straight beams: spans of eight depths and more for compact metal beams, from memory; shear then adds 1.3 %), a deflection of a tenth of
the length at most (the elastica of Bisshopp and Drucker, 1945, is then 1 % away), and a stress below the strength.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from generator.records.materials import Material

SLENDER: Final = 8.0  # length to thickness
SMALL: Final = 0.1  # deflection to length
ROUNDING: Final = 1e-9  # 2.4 / 0.3 is less than 8 in binary


class BeyondFormula(StrEnum):
    """Of which limit of the formula a bar is outside."""

    STOUT = "stout"
    LARGE = "large"
    BREAKS = "breaks"
    """Along the layers or across them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """What the formula gives; None where the material does not say its modulus or strength."""

    deflection_mm: float | None
    stress_mpa: float
    share: float | None
    """Of the tensile strength along the layers."""
    share_z: float | None
    """Of that across them."""
    outside: tuple[BeyondFormula, ...]
    """Where there is any, the figures mean nothing."""


def cantilever(*, length_mm: float, width_mm: float, thickness_mm: float, force_n: float, material: Material) -> Bent:
    """The force is along the thickness, at the free end. Raises ValueError unless all are above nothing."""
    if min(length_mm, width_mm, thickness_mm, force_n) <= 0:
        raise ValueError("length, width, thickness and force must be above zero")
    properties = material.properties
    moment_mm4 = width_mm * thickness_mm**3 / 12
    stress = force_n * length_mm * (thickness_mm / 2) / moment_mm4
    modulus = properties.tensile_modulus_mpa
    bends = force_n * length_mm**3 / (3 * modulus * moment_mm4) if modulus else None
    shares = [stress / each if each else None for each in (properties.tensile_strength_mpa, properties.tensile_strength_z_mpa)]
    is_outside = {
        BeyondFormula.STOUT: length_mm < SLENDER * thickness_mm * (1 - ROUNDING),
        BeyondFormula.LARGE: bends is not None and bends > SMALL * length_mm * (1 + ROUNDING),
        BeyondFormula.BREAKS: any(share is not None and share >= 1 for share in shares),
    }
    return Bent(
        deflection_mm=bends,
        stress_mpa=stress,
        share=shares[0],
        share_z=shares[1],
        outside=tuple(limit for limit, is_out in is_outside.items() if is_out),
    )
