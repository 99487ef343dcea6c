"""Where does the surface go on although its faces do not share an edge two by two?"""

from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

__all__ = ["continuing", "partners"]

Floats = NDArray[np.float64]

NEAR = 4e-4  # of the diagonal: how far apart two edges of one seam may lie
STEP = 0.01  # of the diagonal, between the points by which edges are found
MOST_POINTS = 200_000  # beyond it nothing is looked for: what is open everywhere has no seams
LOOKED_AT = 12  # points near a place; an edge's own are among them
PARALLEL = 0.98  # cosine between two edges of one seam
LEVEL = float(np.cos(np.radians(1.0)))  # faces of two bodies that go on as one
FOLDED = 0.9  # cosine between two faces' ways from the edge: above it they lie on each other


def partners(begin: Floats, end: Floats, third: Floats) -> NDArray[np.int64]:
    """For each open edge another one that it runs along, or -1: (k,).

    All of the edge has to lie on others: they may be shorter or longer, as the two sides of a seam are that were
    cut into facets apart from each other. Faces that are folded onto each other are a rim and no seam.

    begin, end: (k, 3) of the edges, third: (k, 3) the third corner of each one's face; the diagonal is 1.
    """
    run = end - begin
    length = np.sqrt(np.einsum("ij,ij->i", run, run))
    count = np.ceil(length / STEP).astype(np.int64) + 1
    if len(begin) < 2 or count.sum() > MOST_POINTS:
        return np.full(len(begin), -1)
    along = run / np.maximum(length, 1e-300)[:, None]
    aside = third - begin - along * np.einsum("ij,ij->i", third - begin, along)[:, None]
    aside /= np.maximum(np.sqrt(np.einsum("ij,ij->i", aside, aside)), 1e-300)[:, None]
    owner = np.repeat(np.arange(len(begin)), count)
    place = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    share = place / np.maximum(count - 1, 1)[owner]
    tree = cKDTree(begin[owner] + run[owner] * share[:, None])
    found = _beside(np.arange(len(begin)), 0.5, tree, owner, (begin, along, length, aside))
    for share_of_edge in (0.2, 0.8):
        rest = np.flatnonzero(found >= 0)
        found[rest[_beside(rest, share_of_edge, tree, owner, (begin, along, length, aside)) < 0]] = -1
    return found


def _beside(
    which_edges: NDArray[np.int64],
    share: float,
    tree: cKDTree,
    owner: NDArray[np.int64],
    edges: tuple[Floats, Floats, Floats, Floats],
) -> NDArray[np.int64]:
    """For each chosen edge another that runs along it at a share of its length, the least folded, or -1."""
    begin, along, length, aside = edges
    own = which_edges
    if not len(own):
        return own
    points = begin[own] + share * along[own] * length[own][:, None]
    wanted = min(LOOKED_AT, len(owner))
    near, which = tree.query(points, k=wanted, distance_upper_bound=STEP)
    other = owner[np.minimum(which, len(owner) - 1)].reshape(len(points), wanted)
    to = points[:, None] - begin[other]
    on = np.clip(np.einsum("ijk,ijk->ij", to, along[other]), 0, length[other])
    off = to - along[other] * on[:, :, None]
    apart = np.sqrt(np.einsum("ijk,ijk->ij", off, off))
    fits = np.isfinite(near).reshape(other.shape) & (other != own[:, None]) & (apart < NEAR)
    fits &= np.abs(np.einsum("ik,ijk->ij", along[own], along[other])) > PARALLEL
    turn = np.einsum("ik,ijk->ij", aside[own], aside[other])
    fits &= turn < FOLDED
    best = np.where(fits, turn, 2.0).argmin(axis=1)
    chosen: NDArray[np.int64] = np.where(fits.any(axis=1), other[np.arange(len(own)), best], -1)
    return chosen


def continuing(aside: Floats, normal: Floats) -> NDArray[np.int64]:
    """Which two of four faces at one edge lie in one plane on either side of it: (k, 2) from 0 to 3, or -1.

    Bodies that lie against each other meet so, and nobody sees where one ends.

    aside: (k, 4, 3) from the edge into each face; normal: (k, 4, 3) of length 1.
    """
    found = np.full((len(aside), 2), -1)
    for one, other in combinations(range(4), 2):
        level = np.einsum("ij,ij->i", normal[:, one], normal[:, other]) > LEVEL
        level &= np.einsum("ij,ij->i", aside[:, one], aside[:, other]) < 0
        found[level] = one, other
    return found
