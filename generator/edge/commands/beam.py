"""`spares beam`: a hand formula for a bar that is clamped at one end and loaded at the other."""

import argparse
import math

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.refusals import Ending, refused
from generator.pages.wording import Wording, wording
from generator.planning.beam import Bent, cantilever
from generator.reading.catalogue import read_catalogue
from generator.records.materials import Material

DESCRIPTION = """\
Reckons a straight bar of rectangular section, clamped at one end and loaded at the other, by the formula of Euler and
Bernoulli: how far it bends, and the stress at its root against the tensile strength that the material's file tells,
along the layers and across them. What the file does not tell is not guessed, and outside of the limits of the formula
nothing is told but which: eight times as long as thick at least, bent by a tenth of the length at most, not broken. A
hand formula and no promise.
"""
EXAMPLE = """\
  spares beam --length 60 --width 12 --thickness 5 --force 20 --material pc-black
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    for name, unit, what in (
        ("length", "MM", "from the root to where the force is"),
        ("width", "MM", "of the section, across the force"),
        ("thickness", "MM", "of the section, along the force"),
        ("force", "N", "at the free end (10 N is about 1 kg)"),
    ):
        parser.add_argument(f"--{name}", type=_above_nothing, required=True, metavar=unit, help=what)
    parser.add_argument("--material", required=True, metavar="MATERIAL", help="the name of its file in materials/")
    asking.add_catalogue(parser)


def _above_nothing(given: str) -> float:
    try:
        number = float(given)
    except ValueError:
        number = 0.0
    if not 0 < number < math.inf:
        raise argparse.ArgumentTypeError(f"'{given}' is no number above zero")
    return number


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    catalogue = read_catalogue(root)
    material = catalogue.materials.get(options.material)
    if material is None:
        raise refused("no_material", Ending.MISUSE, given=options.material, known=", ".join(sorted(catalogue.materials)))
    bent = cantilever(length_mm=options.length, width_mm=options.width, thickness_mm=options.thickness, force_n=options.force, material=material)
    for line in _lines(bent, material, wording(catalogue.language)):
        terminal.say(line)
    is_known = bent.deflection_mm is not None and bent.share is not None
    return Ending.CLEAN if is_known and not bent.outside else Ending.PROBLEMS


def _lines(bent: Bent, material: Material, w: Wording) -> list[str]:
    figures = _outside(bent, material, w) if bent.outside else _figures(bent, material, w)
    return [w("beam.heading", material=material.name), *figures, w("beam.leaves_out")]


def _outside(bent: Bent, material: Material, w: Wording) -> list[str]:
    told = material.properties
    known = [each for each in (told.tensile_strength_mpa, told.tensile_strength_z_mpa) if each]
    strength = w.measure(min(known)) if known else ""
    reasons = [w(f"beam.outside.{each}", material=material.name, strength=strength) for each in bent.outside]
    return [w("beam.no_figure"), *reasons]


def _figures(bent: Bent, material: Material, w: Wording) -> list[str]:
    told, name = material.properties, material.name
    lines = []
    if bent.deflection_mm is None:
        lines.append(w("beam.no_modulus", material=name))
    else:
        lines.append(w("beam.bends", bends=w.number(bent.deflection_mm, 2), modulus=w.measure(told.tensile_modulus_mpa or 0)))
    lines.append(w("beam.stress", stress=w.number(bent.stress_mpa, 1)))
    for key, share, strength in (("along", bent.share, told.tensile_strength_mpa), ("across", bent.share_z, told.tensile_strength_z_mpa)):
        if share is None or strength is None:
            lines.append(w(f"beam.no_strength.{key}", material=name))
        else:
            lines.append(w(f"beam.of.{key}", share=w.number(100 * share, 0), strength=w.measure(strength)))
    return lines
