"""Which thickness burns: of a part with infill it is the shell.

Common practice, no source: behind a printed shell lies more air than polymer, so a flame meets a sheet as thick as the
shell. For smoke the whole section stays, which is the careful side.
"""

from generator.records.parts import Settings

SOLID = 100.0


def tested_sections(
    thinnest_mm: float | None, thickest_mm: float | None, settings: Settings | None, *, is_printed: bool
) -> tuple[float | None, float | None]:
    """Thinnest and thickest section to hold specimens against; None is unknown.

    Where infill is below 100 % and a section exceeds two shells, the shell is the thinnest. A shell that nobody has
    given is unknown. Of a part without settings the walls count as somebody typed them, unless it is printed: then
    nobody knows its shell.
    """
    if settings is None:
        return None if is_printed else thinnest_mm, thickest_mm
    infill, shell = settings.infill_percent, settings.wall_mm
    if infill is None or infill >= SOLID or (shell and thickest_mm is not None and thickest_mm <= 2 * shell):
        return thinnest_mm, thickest_mm
    if shell is None or thinnest_mm is None:
        return None, thickest_mm
    return min(shell, thinnest_mm), thickest_mm
