"""How heavy a printed part is, solid or with a shell and infill."""

__all__ = ["mass_g"]


def mass_g(
    *,
    volume_mm3: float,
    area_mm2: float,
    density_g_cm3: float,
    infill_share: float | None = None,
    wall_mm: float | None = None,
) -> float:
    """Mass in grams.

    Without infill the part is solid: m = rho V / 1000.
    With infill share f and a solid shell of thickness w on the whole surface A:

        V_shell = min(V, w A)
        m = rho (V_shell + f (V - V_shell)) / 1000

    Common practice, no source. Limits: w A is the volume of a thin flat skin, so it is too
    large at convex edges (a cube of side a: by the share 2 w / a at most) and too small in
    hollows; where walls are thinner than 2 w the part is rightly solid; material-specific
    over- and under-extrusion and supports are left out. Weigh the first print.

    infill_share: 0 (hollow) to 1 (solid). Raises ValueError for values outside their range
    and for an infill below 1 without a wall thickness: a guess would be far too light.
    """
    if volume_mm3 <= 0 or area_mm2 <= 0 or density_g_cm3 <= 0:
        raise ValueError("volume, area and density must be above zero")
    if infill_share is None or infill_share == 1:
        return density_g_cm3 * volume_mm3 / 1000
    if not 0 <= infill_share < 1:
        raise ValueError(f"infill share must be from 0 to 1, not {infill_share:g}")
    if wall_mm is None or wall_mm < 0:
        raise ValueError("infill below 1 needs a wall thickness in mm, zero or more")
    shell_mm3 = min(volume_mm3, wall_mm * area_mm2)
    return density_g_cm3 * (shell_mm3 + infill_share * (volume_mm3 - shell_mm3)) / 1000
