"""The hand formula against its closed form and against the beam equation integrated step by step."""

import numpy as np
import pytest

from generator.planning.beam import cantilever
from generator.records.makers import Process
from generator.records.materials import Material, Properties


def material(**known) -> Material:
    return Material(name="PC", family="PC", density_g_cm3=1.2, processes=(Process.MATERIAL_EXTRUSION,), properties=Properties(**known))


STEEL = material(tensile_modulus_mpa=210_000.0, tensile_strength_mpa=400.0)


def test_a_round_example():
    """b 10, h 10: I = 833.3 mm⁴; 100 N at 1 m: δ = 100·10⁹/(3·210,000·833.3) = 190.5 mm, σ = 10⁵·5/833.3 = 600 MPa (by hand)."""
    bent = cantilever(length_mm=1000, width_mm=10, thickness_mm=10, force_n=100, material=STEEL)
    assert (bent.deflection_mm, bent.stress_mpa) == (pytest.approx(190.476, abs=0.001), pytest.approx(600))
    assert (bent.share, bent.share_z, bent.is_slender, bent.is_small) == (pytest.approx(1.5), None, True, False)


@pytest.mark.parametrize("sides", [(40.0, 12.0, 3.0), (200.0, 5.0, 8.0), (12.5, 30.0, 1.2)])
def test_it_is_the_beam_equation_integrated(sides):
    """E I w'' = F (L − x), w(0) = w'(0) = 0, in ten thousand steps."""
    length, width, thickness = sides
    x = np.linspace(0, length, 10_001)
    curvature = 30 * (length - x) / (2300 * width * thickness**3 / 12)
    step = x[1]
    slope = np.concatenate([[0], np.cumsum((curvature[1:] + curvature[:-1]) / 2 * step)])
    deflection = np.sum((slope[1:] + slope[:-1]) / 2 * step)
    known = material(tensile_modulus_mpa=2300.0)
    bent = cantilever(length_mm=length, width_mm=width, thickness_mm=thickness, force_n=30, material=known)
    assert bent.deflection_mm == pytest.approx(deflection, rel=1e-6)
    assert bent.stress_mpa == pytest.approx(2300 * curvature[0] * thickness / 2)


def test_what_is_not_known_is_not_told():
    bent = cantilever(length_mm=40, width_mm=12, thickness_mm=3, force_n=30, material=material())
    assert (bent.deflection_mm, bent.share, bent.share_z, bent.is_small) == (None, None, None, None)
    across = cantilever(length_mm=40, width_mm=12, thickness_mm=3, force_n=30, material=material(tensile_strength_z_mpa=20.0))
    assert (across.share, across.share_z) == (None, pytest.approx(66.6667 / 20, rel=1e-4))
    assert not cantilever(length_mm=20, width_mm=12, thickness_mm=3, force_n=30, material=STEEL).is_slender


@pytest.mark.parametrize("wrong", ["length_mm", "width_mm", "thickness_mm", "force_n"])
def test_nothing_below_nothing(wrong):
    given = {"length_mm": 40.0, "width_mm": 12.0, "thickness_mm": 3.0, "force_n": 30.0} | {wrong: 0.0}
    with pytest.raises(ValueError, match="above zero"):
        cantilever(**given, material=STEEL)
