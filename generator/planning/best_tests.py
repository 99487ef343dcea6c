"""Which k tests free the most parts? Exactly, or with a bound and a word that says so.

A part is free once each of its open rows is answered, so two tests that free nothing alone may free much together, and
taking the best one after the other can be wrong. Tests that no part asks for together are solved apart and joined by a
table over how many go where; each piece by best-first branch and bound. Held against every choice by brute force in
tests/planning/test_best_tests.py.
"""

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count

# So many half-chosen sets are looked at for each piece and k before it is cut short. A second or two on a common machine.
MOST_NODES = 20_000


@dataclass(frozen=True, slots=True)
class OpenRows:
    """A part, or several that ask the same: how many, and for each open row the tests that would answer it."""

    weight: int
    rows: tuple[frozenset[int], ...]


@dataclass(frozen=True, slots=True)
class Best:
    """The best set of k tests that was found."""

    k: int
    tests: tuple[int, ...]
    freed: int
    at_most: int
    """No set of k tests frees more."""

    @property
    def is_exact(self) -> bool:
        return self.freed == self.at_most


def best_sets(wishes: Sequence[OpenRows], most: int, nodes: int = MOST_NODES) -> tuple[Best, ...]:
    """The best set of each size from 1 to `most`, up to the first that frees all that any can."""
    every = sum(each.weight for each in wishes)
    joined = [Best(0, (), 0, 0)]
    for piece in _pieces(wishes):
        joined = _joined(joined, _curve(piece, most, nodes), most)
    found: list[Best] = []
    for best in joined[1:]:
        if found and found[-1].freed == every:
            break
        found.append(best)
    return tuple(found)


def _pieces(wishes: Sequence[OpenRows]) -> list[list[OpenRows]]:
    """Wishes that share no test, even over others, apart; in the order of their first test."""
    pieces: list[tuple[set[int], list[OpenRows]]] = []
    for wish in wishes:
        tests = {test for row in wish.rows for test in row}
        own = [wish]
        apart = []
        for there, listed in pieces:
            if there & tests:
                tests |= there
                own = listed + own
            else:
                apart.append((there, listed))
        pieces = [*apart, (tests, own)]
    return [listed for tests, listed in sorted(pieces, key=lambda one: min(one[0], default=-1)) if tests]


def _curve(piece: Sequence[OpenRows], most: int, nodes: int) -> list[Best]:
    tests = {test for wish in piece for row in wish.rows for test in row}
    found = [Best(0, (), 0, 0)]
    every = sum(wish.weight for wish in piece)
    for k in range(1, min(most, len(tests)) + 1):
        best, fewer = _best_of(piece, k, nodes), found[-1]
        if best.freed <= fewer.freed:  # one more frees no more, or the search was cut short
            best = Best(k, fewer.tests, fewer.freed, max(best.at_most, fewer.freed))
        found.append(best)
        if best.freed == every:
            break
    return found


def _joined(one: Sequence[Best], other: Sequence[Best], most: int) -> list[Best]:
    """The best of each size from two pieces that share no test: how many tests go to which is tried through."""
    found = []
    for k in range(min(most, len(one) + len(other) - 2) + 1):
        splits = [(one[i], other[k - i]) for i in range(len(one)) if 0 <= k - i < len(other)]
        here, there = max(splits, key=lambda pair: pair[0].freed + pair[1].freed)
        at_most = max(pair[0].at_most + pair[1].at_most for pair in splits)
        found.append(Best(k, tuple(sorted((*here.tests, *there.tests))), here.freed + there.freed, at_most))
    return found


@dataclass(frozen=True, slots=True)
class _Node:
    chosen: frozenset[int]
    shut: frozenset[int]


def _best_of(piece: Sequence[OpenRows], k: int, nodes: int) -> Best:
    """Best-first: the half-chosen set that promises most is split by its most promising test, taken or left."""
    best: tuple[int, tuple[int, ...]] = (0, ())
    ticket = count()
    root = _Node(frozenset(), frozenset())
    bound, test = _promise(piece, root, k)
    heap = [(-bound, next(ticket), root, test)]
    seen = 0
    while heap and -heap[0][0] > best[0]:
        if seen >= nodes:
            return Best(k, best[1], best[0], -heap[0][0])
        seen += 1
        _, _, node, test = heapq.heappop(heap)
        best = max(best, (_freed(piece, node.chosen), tuple(sorted(node.chosen))), key=lambda one: one[0])
        if test is None:
            continue
        for half in (_Node(node.chosen | {test}, node.shut), _Node(node.chosen, node.shut | {test})):
            bound, further = _promise(piece, half, k - len(half.chosen))
            if bound > best[0]:
                heapq.heappush(heap, (-bound, next(ticket), half, further))
    return Best(k, best[1], best[0], best[0])


def _freed(piece: Sequence[OpenRows], chosen: frozenset[int]) -> int:
    return sum(wish.weight for wish in piece if all(row & chosen for row in wish.rows))


def _promise(piece: Sequence[OpenRows], node: _Node, left: int) -> tuple[int, int | None]:
    """At most so much can still be freed, and the test to split by; None where there is nothing to split.

    Each wish that may still come true spreads its weight evenly over its open rows; a set that frees it answers each, so
    what the tests of a set gather is no less than what it frees. The `left` greatest gatherings are therefore a bound.
    """
    done = possible = 0
    gathered: dict[int, float] = {}
    for wish in piece:
        rows = [row - node.shut for row in wish.rows if not row & node.chosen]
        if not rows:
            done += wish.weight
            continue
        if not all(rows) or _needs_more(rows, left):
            continue
        possible += wish.weight
        for row in rows:
            for test in row:
                gathered[test] = gathered.get(test, 0.0) + wish.weight / len(rows)
    best = heapq.nlargest(left, gathered.values())
    spread = math.floor(sum(best) + 1e-6)
    if not gathered or not left:
        return done, None
    return done + min(possible, spread), min(gathered, key=lambda test: (-gathered[test], test))


def _needs_more(rows: Sequence[frozenset[int]], left: int) -> bool:
    """Whether so many of the open rows share no test that `left` tests cannot answer them all."""
    apart: set[int] = set()
    number = 0
    for row in rows:
        if not row & apart:
            apart |= row
            number += 1
    return number > left
