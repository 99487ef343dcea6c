"""What of a shape stays the same however it lies, however it was meshed, and however large it is?

Nothing here asks for a closed mesh: all is drawn from points spread evenly over the surface, so that an open or noisy scan has a
descriptor as well. Size is told beside the rest: the radius of gyration of the surface, which noise hardly moves.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull, QhullError

from generator.geometry.likeness.described import Descriptor
from generator.geometry.likeness.neighbourhoods import (
    BINS,
    LADDER_MM,
    apart,
    evened,
    seen_within,
    sums_within,
)
from generator.geometry.likeness.surface import Surface
from generator.geometry.likeness.twist import twist_of

__all__ = ["CENTRES", "Descriptor", "described"]

Floats = NDArray[np.float64]

CENTRES: Final = 512
"""So many points look at all others."""
_PAIRED: Final = 640
_QUANTILES: Final = (np.arange(24) + 0.5) / 24
_SHELLS: Final = (np.arange(12) + 0.5) / 12
_RADII: Final = (0.16, 0.32, 0.64)
"""Of the neighbourhoods that are compared whatever the size, in radii of gyration."""


def described(surface: Surface) -> Descriptor | None:
    """None where all points lie in one place."""
    points = surface.points_mm
    share, ways = evened(points, surface.ways_out)
    area, weight = surface.area_mm2 * float(share.mean()), share / share.mean()
    centred = points - np.average(points, axis=0, weights=weight)
    spread = np.linalg.eigvalsh((centred * weight[:, None]).T @ centred / len(centred))
    size = float(np.sqrt(max(spread.sum(), 0.0)))
    if not size > 0:
        return None
    spacing = np.sqrt(area / len(points))
    tells = [2.5 * spacing < each < 0.5 * surface.extent_mm for each in LADDER_MM]
    radii = (*_RADII, *(each / size for each, does in zip(LADDER_MM, tells, strict=True) if does))
    unit, out, heavy = ((each).astype(np.float32) for each in (centred / size, ways, weight))
    sums = sums_within(unit, out, heavy, min(CENTRES, len(unit)), radii)
    density = [1 / len(points)] * len(_RADII) + [area / len(points) / size**2] * len(radii)
    seen = [seen_within(each, unit, out, heavy, *at) for each, at in zip(sums, zip(radii, density, strict=False), strict=True)]
    rungs = iter(seen[len(_RADII) :])
    return Descriptor(
        size_mm=size,
        area_mm2=area,
        outline=np.concatenate([np.sqrt(np.maximum(spread, 0))[::-1] / size, _hull(unit, np.sqrt(area) / size)]),
        d2=_quantiles(_pairs(unit[:_PAIRED]), np.outer(weight[:_PAIRED], weight[:_PAIRED])[np.triu_indices(_PAIRED, 1)], _QUANTILES),
        shells=_quantiles(np.linalg.norm(unit, axis=1), weight, _SHELLS),
        around=np.stack(seen[: len(_RADII)]),
        twist=twist_of(unit, out, heavy),
        ladder=np.stack([next(rungs) * area if does else np.zeros(BINS) for does in tells]),
    )


def _quantiles(values: Floats, weight: Floats, at: Floats) -> Floats:
    order = np.argsort(values, kind="stable")
    until = np.cumsum(weight[order]) - weight[order] / 2
    found: Floats = np.interp(at * weight.sum(), until, values[order])
    return found


def _pairs(points: NDArray[np.float32]) -> Floats:
    """The distances of all pairs."""
    return apart(points, points)[np.triu_indices(len(points), 1)].astype(np.float64)


def _hull(unit: NDArray[np.float32], own: float) -> Floats:
    """The hull's cube root of volume and root of area, and the surface's own root of area, all against the size."""
    try:
        hull = ConvexHull(unit)
    except (QhullError, ValueError):  # flat
        return np.array([0.0, own, own])
    return np.array([np.cbrt(hull.volume), np.sqrt(hull.area), own])
