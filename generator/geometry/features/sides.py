"""Which plane faces has a mesh that are no strips of a round, each as one however it is cut into regions?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.distinct import distinct
from generator.geometry.features.facets import Bools, Facets, Floats, Ints
from generator.geometry.features.frames import Frame
from generator.geometry.features.regions import Regions

_MOST: Final = 160
_LEAST_SHARE: Final = 2e-4  # of the part's area


@dataclass(frozen=True, eq=False)
class Sides:
    """Plane faces, the largest first: (s, 3) unit normals, (s,) areas, (s, 3) centres, and the corners of each: (k, 3)."""

    normals: Floats
    areas: Floats
    centres: Floats
    corners: tuple[Floats, ...]
    regions: Ints

    def offsets(self) -> Floats:
        """(s,): how far each plane lies from the origin along its normal."""
        found: Floats = np.einsum("ij,ij->i", self.normals, self.centres)
        return found

    def span(self, number: int, direction: Floats) -> tuple[float, float]:
        """From where to where a side reaches along a direction."""
        along = self.corners[number] @ direction
        return float(along.min()), float(along.max())

    def beside(self, frame: Frame) -> Ints:
        """Those that stand along an axis."""
        return np.flatnonzero(np.abs(self.normals @ frame.axis) < 2e-3)


def sides_of(facets: Facets, regions: Regions, taken: Bools) -> Sides:
    """The largest of them. taken: (regions,) what is part of a round."""
    total = float(regions.areas.sum())
    free = np.flatnonzero(~taken & (regions.areas > _LEAST_SHARE * total))
    chosen = free[np.argsort(-np.round(regions.areas[free], 6), kind="stable")][:_MOST]
    order, starts = facets.by_plane
    corners = tuple(
        facets.vertices[distinct(facets.faces[order[starts[each] : starts[each + 1]]])] for each in chosen.tolist()
    )
    return Sides(
        normals=regions.normals[chosen],
        areas=regions.areas[chosen],
        centres=regions.centres[chosen],
        corners=corners,
        regions=chosen,
    )
