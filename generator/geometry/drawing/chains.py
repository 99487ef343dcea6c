"""Straight stretches that meet, made into lines without a break; crumbs are left out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.close import close_pairs
from generator.geometry.drawing.pairs import Grids

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

SAME: Final = 2e-5
NEARLY: Final = 3e-4
NEARLY_ROUGH: Final = 2e-3
"""Lines of a scan cross at small angles."""
STRAIGHT: Final = 0.8
"""Cosine of the turn with which a line goes on where several meet."""
TOUCHES: Final = 2e-3
"""So near to another line a loose end counts as ending there."""
ISLAND: Final = 0.01
LOOSE: Final = 0.012
"""Of the size: shorter islands of lines, and lines with a loose end, are crumbs of curved surfaces."""
THIN: Final = 0.03
FLAT_RING: Final = 0.47
"""A circle is 0.45 of its length across, as a box around it is measured."""
BESIDE: Final = 1e-3
COARSE: Final = 4.0
"""So many times larger are the crumbs of a scan."""
ROUNDS: Final = 3
"""What is left of a line may be a crumb again."""
MOST_NEAR: Final = 2_000_000
"""Pairs that are looked at in one go; 40,000 stretches that are strewn over a part need a fifth of it."""
SMALL_ROUND: Final = 0.004
"""A closed line may be as short as this: a small hole."""


@dataclass(frozen=True, slots=True)
class _Net:
    ends: Indices  # (k, 2) nodes of each stretch
    at: Floats  # (n, 2)


def chained(stretches: Floats, *, is_rough: bool = False) -> list[Floats]:
    """Lines of at least two corners, (n, 2) each, of joined stretches (k, 4) in shares of the size; closed ones end where they begin.

    is_rough: of a scan, whose crumbs are larger.
    """
    nearly = NEARLY_ROUGH if is_rough else NEARLY
    for _ in range(ROUNDS):
        if not len(stretches):
            return []
        net = _net(stretches, nearly)
        is_real = net.ends[:, 0] != net.ends[:, 1]
        stretches = stretches[is_real]
        stretches, dropped = _without_crumbs(stretches, _Net(net.ends[is_real], net.at), COARSE if is_rough else 1.0)
        if not dropped:
            break
    if not len(stretches):
        return []
    net = _net(stretches, nearly)
    return _walked(_Net(net.ends[net.ends[:, 0] != net.ends[:, 1]], net.at))


def _net(stretches: Floats, nearly: float) -> _Net:
    points = stretches.reshape(-1, 2)
    pairs = close_pairs(points, SAME)
    node = _named(len(points), pairs)
    loose = np.flatnonzero(np.bincount(node)[node] == 1)
    if len(loose) > 1:  # ends that nothing else meets: where two lines were cut by each other
        pairs = np.concatenate([pairs, loose[close_pairs(points[loose], nearly)]])
        node = _named(len(points), pairs)
    tiny = np.flatnonzero(np.hypot(*(stretches[:, 2:] - stretches[:, :2]).T) < nearly)
    clutter = tiny[(np.bincount(node)[node].reshape(-1, 2)[tiny] > 2).any(axis=1)]
    if len(clutter):  # of a junction that is several only by rounding
        node = _named(len(points), np.concatenate([pairs, np.column_stack([2 * clutter, 2 * clutter + 1])]))
    at = np.zeros((int(node.max()) + 1, 2))
    at[node[::-1]] = points[::-1]
    return _Net(node.reshape(-1, 2), at)


def _named(count: int, pairs: Indices) -> Indices:
    """For each point the number of those that it is the same as."""
    links = coo_matrix((np.ones(len(pairs), dtype=bool), (pairs[:, 0], pairs[:, 1])), shape=(count, count))
    _, node = connected_components(links, directed=False)
    return node.astype(np.int64)


def _without_crumbs(stretches: Floats, net: _Net, coarse: float) -> tuple[Floats, bool]:
    """Without islands that are too small, and short lines that end in nothing."""
    length = np.hypot(*(stretches[:, 2:] - stretches[:, :2]).T)
    count = len(net.at)
    links = coo_matrix((np.ones(len(net.ends), dtype=bool), (net.ends[:, 0], net.ends[:, 1])), shape=(count, count))
    _, group = connected_components(links, directed=False)
    of = group.astype(np.int64)[net.ends[:, 0]]
    total = np.bincount(of, length, minlength=int(group.max()) + 1).astype(np.float64)
    crumb = (total < SMALL_ROUND * coarse)[of]
    degree = np.bincount(net.ends.ravel(), minlength=count)
    touching = _by_node(net)
    chains = {node: _chain_from(node, net, degree, touching) for node in np.flatnonzero(degree == 1).tolist()}
    in_doubt = [
        node
        for node, chain in chains.items()
        if length[chain].sum() < LOOSE * coarse or total[group[node]] < ISLAND * coarse
    ]
    loose = np.array(in_doubt, dtype=np.int64)
    if coarse == 1:
        loose = loose[~_touching(loose, stretches, net)]
    has_loose = np.zeros(len(total), dtype=bool)
    has_loose[group[loose]] = True
    crumb |= (has_loose & (total < ISLAND * coarse))[of]
    crumb |= (_flat_rings(net, of, total, degree) & (total < THIN * coarse))[of]
    small = np.flatnonzero((total < ISLAND * coarse)[of] & ~crumb)
    crumb[small[_doubled(small, stretches, of, total)]] = True
    for node in loose.tolist():
        if length[chains[node]].sum() < LOOSE * coarse:
            crumb[chains[node]] = True
    return stretches[~crumb], bool(crumb.any())


def _flat_rings(net: _Net, of: Indices, total: Floats, degree: Indices) -> NDArray[np.bool_]:
    """Which islands go there and back on nearly the same way: closed, and longer than half of their length."""
    low, high = np.full((len(total), 2), np.inf), np.full((len(total), 2), -np.inf)
    has_end = np.zeros(len(total), dtype=bool)
    for side in (0, 1):
        np.minimum.at(low, of, net.at[net.ends[:, side]])
        np.maximum.at(high, of, net.at[net.ends[:, side]])
        has_end[of[degree[net.ends[:, side]] == 1]] = True
    across = np.hypot(*np.where(np.isfinite(low), high - low, 0).T)
    flat: NDArray[np.bool_] = ~has_end & (across > FLAT_RING * total)
    return flat


def _doubled(small: Indices, stretches: Floats, of: Indices, total: Floats) -> NDArray[np.bool_]:
    """Which of these lie beside a line of a larger island, all of it: the far rim of a bore looks out between two facets."""
    beside = np.zeros((2, len(small)), dtype=bool)
    for each, ends in zip(beside, (stretches[small, :2], stretches[small, 2:]), strict=True):
        for at, other in _near(ends, stretches, BESIDE):
            is_larger = total[of[other]] > total[of[small[at]]]
            each[at[is_larger & (of[other] != of[small[at]])]] = True
    both: NDArray[np.bool_] = beside[0] & beside[1]
    return both


def _touching(loose: Indices, stretches: Floats, net: _Net) -> NDArray[np.bool_]:
    """Which of these nodes lie on a stretch that does not end there."""
    found = np.zeros(len(loose), dtype=bool)
    for at, other in _near(net.at[loose], stretches, TOUCHES):
        found[at[(net.ends[other] != loose[at, None]).all(axis=1)]] = True
    return found


def _near(points: Floats, stretches: Floats, within: float) -> Iterator[tuple[Indices, Indices]]:
    """Pairs of a point, (n, 2), and a stretch that runs by less than that beside it, measured along x and y together.

    Where more than `MOST_NEAR` would have to be looked at the rest counts as far: it is asked of crumbs and loose ends alone.
    """
    if not len(points):
        return
    start, end = stretches[:, :2], stretches[:, 2:]
    grids = Grids(np.minimum(start, end) - 2 * within, np.maximum(start, end) + 2 * within)
    for at, stretch in grids.over(points, points):
        if grids.looked > MOST_NEAR:
            return
        (x, y), (run_x, run_y) = (points[at] - start[stretch]).T, (end - start)[stretch].T
        share = np.clip((x * run_x + y * run_y) / np.maximum(run_x * run_x + run_y * run_y, 1e-18), 0, 1)
        near = np.abs(x - share * run_x) + np.abs(y - share * run_y) < within
        yield at[near], stretch[near]


def _chain_from(node: int, net: _Net, degree: Indices, touching: list[list[int]]) -> list[int]:
    """The stretches from a loose end to the next corner where several meet."""
    chain: list[int] = []
    at = node
    while at == node or degree[at] == 2:
        onward = [each for each in touching[at] if not chain or each != chain[-1]]
        if not onward:
            break
        chain.append(onward[0])
        one, other = net.ends[onward[0]].tolist()
        at = other if one == at else one
        if at == node:
            break
    return chain


def _by_node(net: _Net) -> list[list[int]]:
    found: list[list[int]] = [[] for _ in range(len(net.at))]
    for stretch, (one, other) in enumerate(net.ends.tolist()):
        found[one].append(stretch)
        found[other].append(stretch)
    return found


def _walked(net: _Net) -> list[Floats]:
    onward = _onward(net)
    used = [False] * len(net.ends)
    ends = net.ends.tolist()
    found = []
    # From where a line begins first; what is left then goes round.
    begins = [2 * stretch + side for stretch in range(len(ends)) for side in (0, 1) if onward[2 * stretch + side] < 0]
    for begin in (*begins, *range(0, 2 * len(ends), 2)):
        stretch, side = divmod(begin, 2)
        if used[stretch]:
            continue
        nodes = [ends[stretch][side]]
        while not used[stretch]:
            used[stretch] = True
            nodes.append(ends[stretch][1 - side])
            step = onward[2 * stretch + 1 - side]
            if step < 0:
                break
            stretch, side = divmod(step, 2)
        found.append(net.at[nodes])
    return found


def _onward(net: _Net) -> list[int]:
    """Of each end of a stretch (2 * stretch + side) the end of another with which the line goes on there, or -1."""
    onward = [-1] * (2 * len(net.ends))
    at = net.at
    for node, stretches in enumerate(_by_node(net)):
        here = [2 * each + (0 if net.ends[each, 0] == node else 1) for each in dict.fromkeys(stretches)]
        if len(here) == 2:
            onward[here[0]], onward[here[1]] = here[1], here[0]
            continue
        away = []
        for each in here:
            run = at[net.ends[each // 2, 1 - each % 2]] - at[node]
            away.append(run / max(float(np.hypot(*run)), 1e-12))
        turns = sorted(
            (float(away[i] @ away[j]), here[i], here[j]) for i in range(len(here)) for j in range(i) if len(here) < 40
        )
        for cosine, one, other in turns:
            if cosine > -STRAIGHT:
                break
            if onward[one] < 0 and onward[other] < 0:
                onward[one], onward[other] = other, one
    return onward
