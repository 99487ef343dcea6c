"""Stretches that lie on one straight line, made one: no line is drawn twice or in pieces."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.drawing.spans import rest, united

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

LEAN_RAD: Final = 4e-3
OFF: Final = 2e-4
"""Shares of the size: on paper two such lines are one."""
GAP: Final = 3e-5
LEAST: Final = 2e-6
MOST_PAIRS: Final = 4_000_000


def joined(stretches: Floats) -> Floats:
    """The union of straight stretches: (k, 4) of x, y, x, y in shares of the size; ends stay where one was."""
    for turn in (False, True):
        stretches = _joined_once(_real(stretches), turn)
    return stretches


def beside(hidden: Floats, visible: Floats) -> Floats:
    """What of hidden stretches lies under no visible one; both (k, 4) and joined."""
    for turn in (False, True):
        hidden = _without(_real(hidden), visible, turn)
    return hidden


def _real(stretches: Floats) -> Floats:
    run = stretches[:, 2:] - stretches[:, :2]
    real: Floats = stretches[(run * run).sum(axis=1) > LEAST * LEAST]
    return real


def _carriers(stretches: Floats, turn: bool) -> tuple[Indices, Floats, Floats]:  # noqa: FBT001
    """Of each stretch: a number for the straight line it lies on, and where it begins and ends on it.

    turn: cut the plane of lines elsewhere, for two lines on either side of a cut.
    """
    run = stretches[:, 2:] - stretches[:, :2]
    first = -np.pi / 4 if turn else 0.0
    angle = np.mod(np.arctan2(run[:, 1], run[:, 0]) - first, np.pi) + first
    shift = 0.5 if turn else 0.0
    lean = np.floor(angle / LEAN_RAD + shift)
    middle = (stretches[:, :2] + stretches[:, 2:]) / 2
    off = np.floor((np.sin(angle) * middle[:, 0] - np.cos(angle) * middle[:, 1]) / OFF + shift)
    number = (lean.astype(np.int64) + 10_000) * 1_000_000 + off.astype(np.int64) + 500_000
    common = (lean + 0.5 - shift) * LEAN_RAD
    along = np.column_stack([np.cos(common), np.sin(common)])
    return number, (stretches[:, :2] * along).sum(axis=1), (stretches[:, 2:] * along).sum(axis=1)


def _joined_once(stretches: Floats, turn: bool) -> Floats:  # noqa: FBT001
    if len(stretches) < 2:
        return stretches
    number, start, end = _carriers(stretches, turn)
    _, group = np.unique(number, return_inverse=True)
    turned = start > end
    stretches = np.where(turned[:, None], stretches[:, [2, 3, 0, 1]], stretches)
    start, end = np.minimum(start, end), np.maximum(start, end)
    order = np.lexsort((start, group))
    group, start, end, stretches = group[order], start[order], end[order], stretches[order]
    offset = 8.0 * group
    reach = np.maximum.accumulate(end + offset)
    fresh = np.concatenate(([True], start[1:] + offset[1:] > reach[:-1] + GAP))
    cluster = np.cumsum(fresh) - 1
    by_end = np.lexsort((end, cluster))
    last = by_end[np.concatenate((np.flatnonzero(np.diff(cluster[by_end])), [len(by_end) - 1]))]
    return np.hstack([stretches[fresh, :2], stretches[last, 2:]])


def _without(hidden: Floats, visible: Floats, turn: bool) -> Floats:  # noqa: FBT001
    if not len(hidden) or not len(visible):
        return hidden
    both = np.concatenate([hidden, visible])
    number, start, end = _carriers(both, turn)
    count = len(hidden)
    order = np.argsort(number[count:], kind="stable")
    keys = number[count:][order]
    first, after = np.searchsorted(keys, number[:count], "left"), np.searchsorted(keys, number[:count], "right")
    many = after - first
    if int(many.sum()) > MOST_PAIRS:
        return hidden
    of = np.repeat(np.arange(count), many)
    over = order[np.repeat(first, many) + np.arange(len(of)) - np.repeat(np.cumsum(many) - many, many)] + count
    length = end[of] - start[of]
    safe = np.where(np.abs(length) > LEAST, length, LEAST)
    one, other = (start[over] - start[of]) / safe, (end[over] - start[of]) / safe
    low, high = np.clip(np.minimum(one, other), 0, 1), np.clip(np.maximum(one, other), 0, 1)
    kept = high > low
    line, left, right = rest(united(of[kept], low[kept], high[kept], 1e-6), count)
    full = np.abs(end[:count] - start[:count])[line]
    kept = (right - left) * full > np.where((left > 0) | (right < 1), 10 * GAP, 0)
    line, left, right = line[kept], left[kept], right[kept]
    origin, run = hidden[line, :2], hidden[line, 2:] - hidden[line, :2]
    return np.hstack([origin + left[:, None] * run, origin + right[:, None] * run])
