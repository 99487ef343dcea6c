"""Where do plane faces meet each other, and where do they run into a rounding?"""

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.render.winding import bodies_of

__all__ = ["borders_of_planes"]

Floats = NDArray[np.float64]
Numbers = NDArray[np.int64]
Flags = NDArray[np.bool_]

LEVEL = np.cos(np.radians(0.3))  # facets that meet at less lie in one plane
PLANE = 1 - 1e-5  # how much of its area a plane shows along its normal; less is a rounding in fine steps
SLIGHT, SHARP = np.cos(np.radians([3.0, 28.0]))  # two planes meet at an edge from 3 degrees; above 28 all do
BEGINS = np.cos(np.radians(0.5))  # how much the first facet of a rounding leans at least
WIDE = 0.015  # of the diagonal: what is narrower is no plane
CHORD = 1e-3  # of the diagonal: facets of a rounding lie nearer to it, as exporters keep a chord error
ALIKE_BEND, ALIKE_WIDTH = 2.0, 3.0  # steps of one rounding differ by no more
STEPS = 3  # so many alike steps, one behind the other, are a rounding in coarse facets
ROUNDED_BY = 2.5  # where a plane runs into a coarse rounding, the bend is no more than so many steps
BROAD = 0.04  # of the diagonal: planes from which the beginning of a rounding is drawn
NARROWER = 3.0  # so much narrower than the plane is the first facet of its rounding


def borders_of_planes(
    across: Floats, sides: Numbers, bend: Floats, length: Floats
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Edges between two planes that meet slightly, and edges where a plane runs into a rounding: (e,) each.

    across: (m, 3) normals as long as twice the area; sides: (e, 2) faces, the second below 0 on an open edge;
    bend: (e,) cosine between them; length: (e,); the diagonal is 1.
    """
    nothing = np.zeros(len(sides), dtype=bool)
    whole = sides[:, 1] >= 0
    twice_area = np.sqrt(np.einsum("ij,ij->i", across, across))
    level = whole & (bend > LEVEL)
    if not _could_be_wide(twice_area, sides[level]):
        return nothing, nothing
    region = bodies_of(len(across), *sides[level].T)
    pair = region[sides]
    is_border = ~whole | (pair[:, 0] != pair[:, 1])
    width, is_plane = _planes(across, twice_area, region, (pair, is_border & whole, is_border, length))
    soft = np.flatnonzero(whole & is_border & (bend < BEGINS) & (bend > SHARP))
    one, other = pair[soft].T
    angle = np.arccos(bend[soft])
    narrow, broad = np.minimum(width[one], width[other]), np.maximum(width[one], width[other])
    between = np.flatnonzero(is_plane[one] & is_plane[other] & (bend[soft] < SLIGHT))
    coarse = _is_rounding(pair[soft[between]], angle[between], width)
    # Between facets as wide as the narrower one, an arc with this bend would be so far from its chord.
    meets = between[~coarse & (narrow[between] * angle[between] / 8 > CHORD)]
    runs_out = is_plane[np.where(width[one] > width[other], one, other)] & (
        broad > np.maximum(BROAD, NARROWER * narrow)
    )
    runs_out[meets] = False
    slight, begins = nothing.copy(), nothing
    slight[soft[meets]], begins[soft] = True, runs_out
    return slight, begins


def _could_be_wide(twice_area: Floats, level: Numbers) -> bool:
    """Whether any plane can be wide at all: scans in small facets are not looked at further."""
    around = twice_area + np.bincount(level[:, 0], twice_area[level[:, 1]], minlength=len(twice_area))
    around += np.bincount(level[:, 1], twice_area[level[:, 0]], minlength=len(twice_area))
    return bool((around > WIDE * WIDE).any())


def _planes(
    across: Floats, twice_area: Floats, region: Numbers, borders: tuple[Numbers, Flags, Flags, Floats]
) -> tuple[Floats, Flags]:
    """The width of each region, twice its area by its rim as of a long strip, and whether it is a wide plane."""
    pair, is_second, is_first, length = borders
    count = int(region.max()) + 1
    rim = np.bincount(pair[is_first, 0], length[is_first], minlength=count)
    rim += np.bincount(pair[is_second, 1], length[is_second], minlength=count)
    area = np.bincount(region, twice_area, minlength=count) / 2
    shown = np.column_stack([np.bincount(region, across[:, axis], minlength=count) for axis in range(3)])
    width = 2 * area / np.maximum(rim, 1e-12)
    is_even = np.sqrt(np.einsum("ij,ij->i", shown, shown)) / 2 >= PLANE * area
    return width, is_even & (width >= WIDE)


def _is_rounding(pair: Numbers, angle: Floats, width: Floats) -> Flags:
    """Which borders between planes are steps of a rounding in coarse facets, or its end: (k,).

    pair: (k, 2) the planes at each border, angle: (k,) between them, in radians; width: of all planes.
    """
    planes, place = np.unique(pair, return_inverse=True)
    place = place.reshape(-1, 2)
    number = np.arange(len(pair))
    touches = coo_matrix(
        (np.ones(2 * len(pair)), (np.tile(number, 2), place.T.ravel())), shape=(len(pair), len(planes))
    ).tocsr()
    met = (touches @ touches.T).tocoo()
    one, other = met.row, met.col
    differ = (np.sort(pair[one], axis=1) != np.sort(pair[other], axis=1)).any(axis=1)
    one, other = one[differ], other[differ]
    narrow, broad = np.sort(width[pair], axis=1).T
    ratio = np.maximum(angle[one], angle[other]) / np.minimum(angle[one], angle[other])
    even = np.maximum(broad[one], broad[other]) / np.minimum(narrow[one], narrow[other])
    alike = (ratio < ALIKE_BEND) & (even < ALIKE_WIDTH)
    links = coo_matrix((np.ones(int(alike.sum())), (one[alike], other[alike])), shape=(len(pair),) * 2)
    strip = connected_components(links, directed=False)[1]
    different = np.unique(np.column_stack([strip, np.sort(pair, axis=1)]), axis=0)[:, 0]
    is_strip = (np.bincount(different, minlength=len(pair)) >= STEPS)[strip]
    ends = is_strip[other] & (angle[one] < ROUNDED_BY * angle[other])
    is_strip[one[ends]] = True
    return is_strip
