"""Which faces are wound the other way, and which are turned so that all bodies show their outside?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components, dijkstra

__all__ = ["Neighbours", "bodies_of", "turned_outwards"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbours:
    """Faces that meet: one, other: (k,); is_alike: (k,) whether one of them is wound against the other."""

    one: NDArray[np.int64]
    other: NDArray[np.int64]
    is_alike: NDArray[np.bool_]


def bodies_of(count: int, one: NDArray[np.int64], other: NDArray[np.int64]) -> NDArray[np.int64]:
    """The number of the body that each of `count` faces belongs to: (count,). one, other: (k,) faces that meet."""
    links = coo_matrix((np.ones(len(one), dtype=bool), (one, other)), shape=(count, count))
    return connected_components(links, directed=False)[1].astype(np.int64)


def turned_outwards(
    at: NDArray[np.float64],
    across: NDArray[np.float64],
    meets: Neighbours,
    body: NDArray[np.int64],
    whole: NDArray[np.bool_],
) -> NDArray[np.bool_]:
    """Which faces are turned for drawing: (m,).

    Of faces that meet, the smaller area is turned to the larger; then each whole body whose volume is below nothing.
    A hollow in a body is turned too, which nobody sees. A one-sided surface stays as it is where it contradicts itself.

    at: (m, 3) a corner of each face; across: (m, 3) normals as long as twice the area; body: (m,) numbers from 0; whole: (bodies,) whether a body is closed.
    """
    turned = _against_most(across, meets)
    six_volumes = np.einsum("ij,ij->i", at, across)
    six_volumes[turned] *= -1
    inside_out = (np.bincount(body, six_volumes, minlength=len(whole)) < 0) & whole
    return turned ^ inside_out[body]


def _against_most(across: NDArray[np.float64], meets: Neighbours) -> NDArray[np.bool_]:
    """Patches that are wound alike are turned by how many borders lie between them and the largest of their body."""
    if not meets.is_alike.any():
        return np.zeros(len(across), dtype=bool)
    well = ~meets.is_alike
    patch = bodies_of(len(across), meets.one[well], meets.other[well])
    one, other = patch[meets.one[meets.is_alike]], patch[meets.other[meets.is_alike]]
    size = np.bincount(patch, np.sqrt(np.einsum("ij,ij->i", across, across)))
    links = coo_matrix((np.ones(len(one)), (one, other)), shape=(len(size),) * 2).tocsr()
    body = connected_components(links, directed=False)[1]
    by_size = np.lexsort((-size, body))
    largest = by_size[np.concatenate(([True], body[by_size[1:]] != body[by_size[:-1]]))]
    steps = dijkstra(links, directed=False, indices=largest, unweighted=True, min_only=True)
    turned: NDArray[np.bool_] = (steps % 2 == 1)[patch]
    return turned
