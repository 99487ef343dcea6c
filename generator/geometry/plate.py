"""Does a part find room on a maker's plate?"""


def fits_plate(size_mm: tuple[float, float, float], build_volume_mm: tuple[float, float, float]) -> bool:
    """Whether a box fits into a build volume, turned in right angles as it likes (both sorted, side by side)."""
    return all(side <= room for side, room in zip(sorted(size_mm), sorted(build_volume_mm), strict=True))
