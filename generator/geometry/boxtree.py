"""Which faces of different groups have boxes that overlap, without trying all pairs."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["TooManyPairsError", "along_curve", "close_faces"]

PAIRS_AT_ONCE = 200_000  # bounds the memory of one step to some tens of MB
MOST_TRIED = 100_000_000  # pairs of boxes, of nodes and of faces: some six seconds; 200,000 faces of one part need a few million


class TooManyPairsError(Exception):
    """More pairs of boxes would have to be tried than is allowed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Level:
    low: NDArray[np.float64]  # (k, 3)
    high: NDArray[np.float64]  # (k, 3)
    least: NDArray[np.int64]  # (k,) smallest group number below the node
    most: NDArray[np.int64]  # (k,)


def close_faces(
    corners: NDArray[np.float64], group: NDArray[np.int64]
) -> Iterator[tuple[NDArray[np.int64], NDArray[np.int64]]]:
    """Pairs of faces of different groups with overlapping boxes, in bounded portions.

    corners: (m, k, 3) of any k; group: (m,) numbers from 0. Raises TooManyPairsError beyond `MOST_TRIED`.

    A binary tree over the faces in the order of group and place; nodes are compared
    level by level and pairs of one group are left out early. Groups stand in the order of their places too: in that of
    their numbers, which may be any, many small bodies would have nodes that reach across the whole part.
    """
    order = _in_order(along_curve(corners.mean(axis=1)), group)
    levels = _levels(corners[order], group[order])
    portions = [(0, np.zeros(1, dtype=np.int64), np.zeros(1, dtype=np.int64))]
    tried = 0
    while portions:
        depth, a, b = portions.pop()
        if len(a) > PAIRS_AT_ONCE:
            half = len(a) // 2
            portions += [(depth, a[half:], b[half:]), (depth, a[:half], b[:half])]
            continue
        tried += len(a)
        if tried > MOST_TRIED:
            raise TooManyPairsError
        a, b = _overlapping(levels[depth], a, b)
        if not len(a):
            continue
        if depth == len(levels) - 1:
            yield order[a], order[b]
        else:
            portions.append((depth + 1, *_children(a, b)))


def _in_order(place: NDArray[np.int64], group: NDArray[np.int64]) -> NDArray[np.int64]:
    """Faces by their group's place, then group, then place; a group's place is the middle one of its faces' (by number)."""
    by_group = np.lexsort((place, group))
    groups = group[by_group]
    first = np.flatnonzero(np.concatenate(([True], groups[1:] != groups[:-1]))) if len(groups) else by_group
    count = np.diff(np.append(first, len(groups)))
    of_group = np.repeat(place[by_group][first + count // 2], count)
    return by_group[np.lexsort((np.arange(len(groups)), of_group))]


def along_curve(points: NDArray[np.float64]) -> NDArray[np.int64]:
    """Morton order: near in number is near in space."""
    low, high = points.min(axis=0), points.max(axis=0)
    cell = ((points - low) / np.maximum(high - low, 1e-300) * 1023).astype(np.int64)
    for shift, mask in ((16, 0x30000FF), (8, 0x300F00F), (4, 0x30C30C3), (2, 0x9249249)):
        cell = (cell | (cell << shift)) & mask
    code: NDArray[np.int64] = cell[:, 0] | (cell[:, 1] << 1) | (cell[:, 2] << 2)
    return code


def _levels(corners: NDArray[np.float64], group: NDArray[np.int64]) -> list[_Level]:
    """Nodes from the root to the faces; empty boxes fill up to a power of two."""
    leaves = 1 << max(len(corners) - 1, 0).bit_length()
    fill = ((0, leaves - len(corners)), (0, 0))
    level = _Level(
        low=np.pad(corners.min(axis=1), fill, constant_values=np.inf),
        high=np.pad(corners.max(axis=1), fill, constant_values=-np.inf),
        least=np.pad(group, fill[0], constant_values=np.iinfo(np.int64).max),
        most=np.pad(group, fill[0], constant_values=-1),
    )
    levels = [level]
    while len(level.low) > 1:
        level = _Level(
            low=np.minimum(level.low[::2], level.low[1::2]),
            high=np.maximum(level.high[::2], level.high[1::2]),
            least=np.minimum(level.least[::2], level.least[1::2]),
            most=np.maximum(level.most[::2], level.most[1::2]),
        )
        levels.append(level)
    return levels[::-1]


def _overlapping(
    level: _Level, a: NDArray[np.int64], b: NDArray[np.int64]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    boxes_meet = ((level.low[a] <= level.high[b]) & (level.low[b] <= level.high[a])).all(axis=1)
    one_group = np.minimum(level.least[a], level.least[b]) == np.maximum(level.most[a], level.most[b])
    kept = boxes_meet & ~one_group
    return a[kept], b[kept]


def _children(a: NDArray[np.int64], b: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    left = np.concatenate([2 * a, 2 * a, 2 * a + 1, 2 * a + 1])
    right = np.concatenate([2 * b, 2 * b + 1, 2 * b, 2 * b + 1])
    twice = left > right  # only where a node meets itself
    return left[~twice], right[~twice]
