"""Which flat regions has a mesh, with which corners of their own, and which run smoothly into each other?

A corner is a point where three flat regions or more meet. A point in the middle of a region or of its straight side says
nothing: on a round that was meshed finer than it is facetted it lies on the chord, not on the circle.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from generator.geometry.distinct import distinct
from generator.geometry.features.facets import SMOOTH_DEG, Facets, Floats, Ints, joined
from generator.geometry.features.spread import spread


@dataclass(frozen=True, eq=False)
class Regions:
    """The flat regions of a mesh.

    normals: (r, 3) unit. areas: (r,). centres: (r, 3). corners: (c,) vertices ordered by region; corner_starts: (r + 1,).
    beside: (b,) neighbouring regions without a sharp edge between, ordered by region; beside_starts: (r + 1,).
    smooth: (r,) the number of the piece of neighbours that each is part of.
    by_smooth, smooth_starts: the regions of each piece.
    """

    normals: Floats
    areas: Floats
    centres: Floats
    corners: Ints
    corner_starts: Ints
    beside: Ints
    beside_starts: Ints
    smooth: Ints
    by_smooth: Ints
    smooth_starts: Ints

    def around(self, region: int) -> Ints:
        """All regions of the smooth piece that a region is part of."""
        piece = self.smooth[region]
        found: Ints = self.by_smooth[self.smooth_starts[piece] : self.smooth_starts[piece + 1]]
        return found

    def hanging(self, regions: Ints, seeds: Ints) -> Ints:
        """Of some regions those that hang together, over smooth edges, with most of the seeds."""
        place = np.full(len(self.areas), -1, dtype=np.int64)
        place[regions] = np.arange(len(regions))
        other = spread(self.beside, self.beside_starts, regions)
        one = np.repeat(np.arange(len(regions)), self.beside_starts[regions + 1] - self.beside_starts[regions])
        inside = place[other] >= 0
        label = joined(len(regions), one[inside], place[other[inside]])
        seeded = place[seeds]
        seeded = seeded[seeded >= 0]
        if not len(seeded):
            return regions[:0]
        found: Ints = regions[label == np.bincount(label[seeded]).argmax()]
        return found


def regions_of(facets: Facets) -> Regions:
    """The flat regions and what they border on."""
    count = facets.planes
    areas = np.bincount(facets.plane, facets.areas, count).astype(np.float64)
    normals = np.column_stack([np.bincount(facets.plane, facets.areas * each, count) for each in facets.normals.T]).astype(np.float64)
    normals = normals / np.maximum(np.linalg.norm(normals, axis=1), 1e-300)[:, None]
    centres = np.column_stack([np.bincount(facets.plane, facets.areas * each, count) for each in facets.centres.T])
    corners, corner_starts = _corners(facets)
    near = np.abs(facets.turn) < np.radians(SMOOTH_DEG)
    one, other = facets.plane[facets.one[near]], facets.plane[facets.other[near]]
    key = distinct(np.concatenate([one * count + other, other * count + one]))
    here, beside = np.divmod(key, count)
    apart = here != beside
    here, beside = here[apart], beside[apart]
    smooth = joined(count, here, beside)
    by_smooth = np.argsort(smooth, kind="stable")
    return Regions(
        normals=normals,
        areas=areas,
        centres=centres / areas[:, None],
        corners=corners,
        corner_starts=corner_starts,
        beside=beside,
        beside_starts=np.searchsorted(here, np.arange(count + 1)),
        smooth=smooth,
        by_smooth=by_smooth,
        smooth_starts=np.searchsorted(smooth[by_smooth], np.arange(int(smooth.max()) + 2)),
    )


def _corners(facets: Facets) -> tuple[Ints, Ints]:
    count = facets.planes
    key = distinct(np.repeat(facets.plane, 3) * len(facets.vertices) + facets.faces.ravel())
    region, vertex = np.divmod(key, len(facets.vertices))
    meeting = np.bincount(vertex, minlength=len(facets.vertices))
    real = meeting[vertex] >= 3
    region, vertex = region[real], vertex[real]
    return vertex, np.searchsorted(region, np.arange(count + 1))
