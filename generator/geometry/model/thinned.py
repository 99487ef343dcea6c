"""Fewer triangles for nearly the same surface: corners that matter least are taken away, many at once.

Quadric error metrics (Garland and Heckbert, "Surface simplification using quadric error metrics", SIGGRAPH 1997) over
half-edge collapses: a corner moves onto a neighbour, so every corner that is left is one of the part's own. In each round
no two neighbours move, so that what is checked of one move stays true; work is counted in rounds, never in seconds.
"""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from generator.geometry.mesh import Mesh

__all__ = ["thinned"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ROUNDS = 90
RESTED = 3  # rounds that a corner is left alone after a move that would have folded the surface
FIRST, LAST = 1 / 64, 2.0  # of the distance that is allowed: how far a move may lead at first, and at the end
SLOW = 0.03  # share of the corners below which a round has moved few: then farther moves are let in
LEAST_TURN = 0.3  # cosine between a face before and after
SHORT_FIRST = 1e-9  # where all is flat, short edges go first
_LOT, _LOTS = 2_654_435_761, 1 << 32  # Knuth's multiplicative hash
HELD = 100.0  # how much dearer it is to leave an open edge than a surface


def thinned(mesh: Mesh, faces: int, within_mm: float) -> Mesh:
    """The mesh with about so many faces, or more where nothing more can go without leaving the surface or folding it.

    mesh: welded. within_mm: roughly how far the surface may move; how far it has, `apart_mm` tells. The same mesh gives
    the same answer.
    """
    points, left = mesh.vertices_mm - mesh.vertices_mm.mean(axis=0), mesh.faces
    scale = float(np.abs(points).max()) or 1.0
    points /= scale
    quadrics = _quadrics(points, left)
    rested = np.zeros(len(points), dtype=np.int64)
    reach, last = (share * within_mm / scale for share in (FIRST, LAST))
    for _ in range(ROUNDS):
        if len(left) <= faces or reach > last:
            break
        most = (len(left) - faces + 1) // 2
        moves = _moves(points, left, quadrics, resting=rested > 0, dearest=reach**2, most=most)
        good = moves[:, _keeps_shape(points, left, moves)]
        if good.shape[1] < SLOW * len(left) / 2:
            reach *= 2
        rested = np.maximum(rested - 1, 0)
        rested[moves[0]] = RESTED
        rested[good[0]] = 0
        onto = np.arange(len(points))
        onto[good[0]] = good[1]
        for each in quadrics:
            np.add.at(each, good[1], each[good[0]])
        left = onto[left]
        a, b, c = left.T
        left = left[(a != b) & (b != c) & (c != a)]
    used = np.zeros(len(points), dtype=bool)
    used[left] = True
    return Mesh(vertices_mm=mesh.vertices_mm[used], faces=(np.cumsum(used) - 1)[left])


def _quadrics(points: Floats, faces: Ints) -> Floats:
    """For each corner how far a point is from the planes of its faces, squared: (10, n) of a symmetric 4 × 4."""
    a, b, c = (points[faces[:, corner]] for corner in range(3))
    across = np.asarray(np.cross(b - a, c - a), dtype=np.float64)
    planes, weights = _planes(across, a)
    keys = _half_edges(faces, len(points))
    is_open = ~_among(np.sort(keys), _reversed(keys, len(points)))
    face, corner = np.divmod(np.flatnonzero(is_open), 3)
    start, end = points[faces[face, corner]], points[faces[face, (corner + 1) % 3]]
    walls, wall_weights = _planes(np.cross(end - start, across[face]), start)
    held = HELD * (wall_weights > 0)
    at = np.concatenate([faces.ravel(), faces[face, corner], faces[face, (corner + 1) % 3]])
    rows = np.concatenate([np.repeat(planes * (weights > 0)[:, None], 3, axis=0), *[walls * held[:, None]] * 2])
    return np.stack([np.bincount(at, rows[:, each], len(points)) for each in range(10)])


def _planes(across: Floats, at: Floats) -> tuple[Floats, Floats]:
    """The quadric of each plane through `at`, and the length of `across`, which is square to it."""
    length = np.sqrt((across * across).sum(axis=1))
    x, y, z = (across / np.where(length > 0, length, 1)[:, None]).T
    d = -(x * at[:, 0] + y * at[:, 1] + z * at[:, 2])
    return np.column_stack([x * x, x * y, x * z, x * d, y * y, y * z, y * d, z * z, z * d, d * d]), length


def _half_edges(faces: Ints, count: int) -> Ints:
    return (faces * count + faces[:, [1, 2, 0]]).ravel()


def _reversed(keys: Ints, count: int) -> Ints:
    start, end = np.divmod(keys, count)
    return end * count + start


def _error(quadrics: Iterable[Floats], places: Floats) -> Floats:
    """quadrics: ten of (n,). places: (3, n)."""
    xx, xy, xz, xd, yy, yz, yd, zz, zd, dd = quadrics
    x, y, z = places
    error: Floats = x * (xx * x + 2 * (xy * y + xz * z + xd)) + y * (yy * y + 2 * (yz * z + yd)) + z * (zz * z + 2 * zd) + dd
    return error


def _moves(points: Floats, faces: Ints, quadrics: Floats, *, resting: NDArray[np.bool_], dearest: float, most: int) -> Ints:
    """Which corners move onto which neighbour, no two of them neighbours, none dearer than `dearest`: (2, k)."""
    start, end = faces.ravel(), faces[:, [1, 2, 0]].ravel()
    places = points.T.copy()
    onto, best = np.zeros(len(points), dtype=np.int64), np.full(len(points), np.inf)
    # Resting corners, a half of all in most rounds, are asked for no cost, and so are those for whom it is too dear already.
    awake = np.flatnonzero(~resting[start])
    come, go = start[awake], end[awake]
    there = places[:, go]
    cost = np.maximum(_error((each[come] for each in quadrics), there) + _error(quadrics, places)[go], 0)
    cheap_enough = np.flatnonzero(cost <= dearest)
    come, go, cost = come[cheap_enough], go[cheap_enough], cost[cheap_enough]
    x, y, z = places[:, go] - places[:, come]
    cost += SHORT_FIRST * (x * x + y * y + z * z) ** 2
    np.minimum.at(best, come, cost)
    is_best = cost == best[come]
    onto[come[is_best]] = go[is_best]
    cheap = np.flatnonzero(np.isfinite(best))
    # Whose turn it is among neighbours is drawn by lot, the same in every run: by cost, whole slopes would wait for one corner.
    turn = np.full(len(points), len(points))
    turn[cheap] = np.argsort(cheap * _LOT % _LOTS, kind="stable")
    around = np.full(len(points), len(points))
    np.minimum.at(around, start, turn[end])
    np.minimum.at(around, end, turn[start])
    chosen = cheap[turn[cheap] < around[cheap]]
    if len(chosen) > most:
        chosen = chosen[np.argsort(best[chosen], kind="stable")[:most]]
    return np.stack([chosen, onto[chosen]])


def _keeps_shape(points: Floats, faces: Ints, moves: Ints) -> NDArray[np.bool_]:
    """Which moves fold nothing and join nothing that was apart: (k,)."""
    count = len(points)
    number = np.full(count, -1)
    number[moves[0]] = np.arange(moves.shape[1])
    at = np.flatnonzero(number[faces.ravel()] >= 0)  # at most one corner of a face moves
    face, corner = np.divmod(at, 3)
    which = number[faces[face, corner]]
    second, third = faces[face, (corner + 1) % 3], faces[face, (corner + 2) % 3]
    onto = moves[1][which]
    goes = (second == onto) | (third == onto)
    here = points[second]
    before, after = (_cross(here - points[each], points[third] - points[each]) for each in (moves[0][which], onto))
    sizes = np.sqrt((before * before).sum(axis=0) * (after * after).sum(axis=0))
    folds = ~goes & ((before * after).sum(axis=0) < LEAST_TURN * sizes)
    good = np.bincount(which[folds], minlength=moves.shape[1]) == 0
    # The link condition: the two ends share a neighbour for each face that goes, and no other.
    keys = np.sort(_half_edges(faces, count))
    beside = np.sort(np.concatenate([which * count + second, which * count + third]))
    beside = beside[np.diff(beside, prepend=-1) > 0]
    which_of, neighbour = np.divmod(beside, count)
    target = moves[1][which_of]
    is_shared = _among(keys, neighbour * count + target) | _among(keys, target * count + neighbour)
    shared = np.bincount(which_of[is_shared], minlength=moves.shape[1])
    keeps: NDArray[np.bool_] = good & (shared == np.bincount(which[goes], minlength=moves.shape[1]))
    return keeps


def _among(keys: Ints, asked: Ints) -> NDArray[np.bool_]:
    found: NDArray[np.bool_] = keys[np.minimum(np.searchsorted(keys, asked), len(keys) - 1)] == asked
    return found


def _cross(one: Floats, other: Floats) -> Floats:
    """(3, n) of (n, 3) each."""
    (a, b, c), (x, y, z) = one.T, other.T
    return np.stack([b * z - c * y, c * x - a * z, a * y - b * x])
