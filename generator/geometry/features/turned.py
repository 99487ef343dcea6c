"""Does most of a part turn about one line, as what comes from a lathe does?"""

from __future__ import annotations

from typing import Final

import numpy as np

from generator.geometry.features.cylinders import covered
from generator.geometry.features.facets import Facets
from generator.geometry.features.frames import point
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.lines import About, Line

_ASIDE: Final = 0.09  # of a normal, around the line: the middle of a facet's triangle lies beside the facet's own middle
_END: Final = 0.98  # of a normal, along the line: end faces look alike on what is turned and what is not
_LEAST_SHARE: Final = 0.7  # of the area that is no end face (common practice, no source)
_LEAST_ARC_DEG: Final = 200.0  # that is left of the outermost


def turned_about(facets: Facets, line: Line, seen: About) -> tuple[Feature, float] | None:
    """The turned shape about a line and the share of the area that it has; None where that is too little."""
    sides = np.abs(seen.up) < _END
    total = float(facets.areas[sides].sum())
    turning = sides & (np.abs(seen.around) < _ASIDE)
    share = float(facets.areas[turning].sum()) / total if total > 0 else 0.0
    if share < _LEAST_SHARE:
        return None
    furthest = float(seen.reach.max())
    outer = np.flatnonzero(turning & (seen.out > 0))
    if not len(outer):
        return None
    radius = float(seen.reach[outer].max())
    rim = outer[seen.reach[outer].max(axis=1) > 0.97 * radius]
    flat = line.frame.flat(facets.corners[rim].reshape(-1, 3)) - line.centre
    if radius < 0.97 * furthest or covered(flat).sum() / 2 < _LEAST_ARC_DEG:
        return None
    low, high = float(seen.tall.min()), float(seen.tall.max())
    chord = (seen.radius[rim] * seen.out[rim] / np.maximum(np.hypot(seen.out[rim], seen.around[rim]), 1e-9)).max()
    return (
        Feature(
            kind=Kind.TURNED,
            at=point(line.frame.space(line.centre, high)),
            axis=point(line.frame.axis),
            size_mm=2 * radius,
            within_mm=max(radius - float(chord), 0.0) + facets.slack_mm,
            length_mm=high - low,
        ),
        share,
    )
