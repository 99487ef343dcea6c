"""The hand formula against its closed form and against the beam equation integrated step by step."""

import re
from pathlib import Path

import numpy as np
import pytest
import yaml

from generator.planning.beam import SLENDER, SMALL, BeyondFormula, cantilever
from generator.records.makers import Process
from generator.records.materials import Material, Properties


def material(**known) -> Material:
    return Material(name="PC", family="PC", density_g_cm3=1.2, processes=(Process.MATERIAL_EXTRUSION,), properties=Properties(**known))


STEEL = material(tensile_modulus_mpa=210_000.0, tensile_strength_mpa=400.0)


def test_a_round_example():
    """b 10, h 10: I = 833.3 mm⁴; 100 N at 1 m: δ = 100·10⁹/(3·210,000·833.3) = 190.5 mm, σ = 10⁵·5/833.3 = 600 MPa (by hand)."""
    bent = cantilever(length_mm=1000, width_mm=10, thickness_mm=10, force_n=100, material=STEEL)
    assert (bent.deflection_mm, bent.stress_mpa) == (pytest.approx(190.476, abs=0.001), pytest.approx(600))
    assert (bent.share, bent.share_z, bent.outside) == (pytest.approx(1.5), None, (BeyondFormula.LARGE, BeyondFormula.BREAKS))


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
    assert (bent.deflection_mm, bent.share, bent.share_z, bent.outside) == (None, None, None, ())
    across = cantilever(length_mm=40, width_mm=12, thickness_mm=3, force_n=30, material=material(tensile_strength_z_mpa=20.0))
    assert (across.share, across.share_z) == (None, pytest.approx(66.6667 / 20, rel=1e-4))


BAR = {"length_mm": 40.0, "width_mm": 12.0, "thickness_mm": 3.0, "force_n": 10.0, "material": material(tensile_modulus_mpa=2300.0, tensile_strength_mpa=80.0)}


@pytest.mark.parametrize(
    ("given", "outside"),
    [
        ({}, ()),
        ({"length_mm": 24.0}, ()),  # eight times is enough, in binary too
        ({"length_mm": 2.4, "thickness_mm": 0.3, "force_n": 0.01}, ()),
        ({"length_mm": 23.9}, ("stout",)),
        ({"length_mm": 1.0}, ("stout",)),
        ({"length_mm": 80.0, "force_n": 34.0}, ("large", "breaks")),
        ({"length_mm": 200.0, "force_n": 6.0}, ("large",)),
        ({"length_mm": 26.0, "force_n": 56.0, "material": material(tensile_strength_mpa=80.0)}, ("breaks",)),
        ({"force_n": 30.0, "material": material(tensile_strength_mpa=80.0, tensile_strength_z_mpa=60.0)}, ("breaks",)),  # across the layers
        ({"length_mm": 5.0, "force_n": 1e9}, ("stout", "large", "breaks")),
    ],
)
def test_outside_of_its_limits_it_says_so(given, outside):
    assert cantilever(**(BAR | given)).outside == outside


def test_the_limits_are_where_the_better_theories_begin_to_differ():
    """At the limit some 1 % from Timoshenko's beam (E/G 2.7, shear factor 1.2) and from the elastica, integrated; 10 % at thrice."""
    assert 0.01 < 0.3 * 2.7 / SLENDER**2 < 0.02
    off = {times: elastica(3 * SMALL * times) / (SMALL * times) for times in (1, 3)}
    assert 0.98 < off[1] < 0.995
    assert off[3] < 0.95


def elastica(alpha):
    """End deflection to length of E I θ' = F (x_end − x), α = F L²/E I: the root's curvature is found by halving, θ by steps."""
    steps = 2000

    def shape(reach):
        angle, x, y = 0.0, 0.0, 0.0
        for _ in range(steps):
            half = angle + alpha * (reach - x) / steps / 2
            x, y, angle = x + np.cos(half) / steps, y + np.sin(half) / steps, angle + alpha * (reach - x - np.cos(half) / steps / 2) / steps
        return x, y

    low, high = 0.3, 1.0
    for _ in range(30):
        middle = (low + high) / 2
        low, high = (middle, high) if shape(middle)[0] > middle else (low, middle)
    return shape(low)[1]


@pytest.mark.parametrize("wrong", ["length_mm", "width_mm", "thickness_mm", "force_n"])
def test_nothing_below_nothing(wrong):
    given = {"length_mm": 40.0, "width_mm": 12.0, "thickness_mm": 3.0, "force_n": 30.0} | {wrong: 0.0}
    with pytest.raises(ValueError, match="above zero"):
        cantilever(**given, material=STEEL)


ROOT = Path(__file__).parents[2]
ASKED = re.compile(r"spares beam --length (\S+) --width (\S+) --thickness (\S+) --force (\S+) --material ([\w-]+)")


def test_each_printed_example_gives_a_figure():
    """Of the demo's own material, wherever README, guides, changelog or help show one; in each language of the guide at least."""
    files = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "site_src").rglob("*.md")), *sorted((ROOT / "generator").rglob("*.py"))]
    shown = {file.relative_to(ROOT).as_posix(): ASKED.findall(file.read_text("utf-8")) for file in files}
    examples = {name: found for name, found in shown.items() if found}
    assert set(examples) >= {"generator/edge/commands/beam.py", *(f"site_src/guide/specialist{each}.md" for each in ("", ".de", ".da"))}
    for name, *sides, of in ((name, *each) for name, found in examples.items() for each in found):
        kept = yaml.safe_load((ROOT / "catalogue/materials" / f"{of}.yml").read_text("utf-8"))["properties"]
        known = material(**{key: each for key, each in kept.items() if key.startswith("tensile")})
        length, width, thickness, force = map(float, sides)
        bent = cantilever(length_mm=length, width_mm=width, thickness_mm=thickness, force_n=force, material=known)
        assert bent.outside == (), name
        assert None not in (bent.deflection_mm, bent.share), name
