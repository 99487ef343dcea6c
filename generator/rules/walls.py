"""Which thicknesses must fire evidence speak for: those of the part, or of its shell where it is printed hollow?"""

from generator.geometry.sections import Walls
from generator.records.parts import Settings

__all__ = ["tested_sections"]

_SOLID_PERCENT = 100.0


def tested_sections(walls: Walls, settings: Settings) -> tuple[float, float]:
    """The thinnest and the thickest section that burns as one piece, mm.

    Printed with less than full infill, a section that is thicker than its two shells is two shells with a lattice
    between them: what stands in the flame is one shell, `settings.wall_mm`. Common practice, no source. Without a shell's
    thickness the part's own sections stand. The thinnest is never more than the part's own.
    """
    shell, infill = settings.wall_mm, settings.infill_percent
    if shell is None or infill is None or infill >= _SOLID_PERCENT:
        return walls.thinnest_mm, walls.thickest_mm
    solid_up_to = 2 * shell
    if walls.thickest_mm <= solid_up_to:
        return walls.thinnest_mm, walls.thickest_mm
    # Sections up to two shells are printed solid; above that only the shell counts.
    if walls.thinnest_mm > solid_up_to:
        return shell, shell
    return min(walls.thinnest_mm, shell), solid_up_to
