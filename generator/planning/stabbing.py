"""The fewest points that meet every interval: which specimen thicknesses answer for which walls.

Exact: sort the intervals by their end, take the end of the first that no point meets yet, go on. Each point taken is the
last that its interval allows, so that whatever another choice meets there, it meets too (the exchange argument of the
textbooks; from memory). Held against every choice by brute force in tests/planning/test_stabbing.py.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

GRID = 10  # specimens are milled and printed in tenths of a millimetre: common practice, no source


@dataclass(frozen=True, slots=True, order=True)
class Interval:
    """Thicknesses that would do for a part, ends included; `above` and `below` are themselves too little and too much."""

    least: float = 0.0
    most: float = math.inf
    above: float = -math.inf
    """More than this: a specimen as thick as this has failed."""
    below: float = math.inf

    def holds(self, point: float) -> bool:
        return self.least <= point <= self.most and self.above < point < self.below

    @property
    def is_empty(self) -> bool:
        return self.least > self.most or self.above >= min(self.most, self.below) or self.below <= self.least

    def thickest(self) -> float:
        """The thickest that does, on the grid where one lies inside; of an interval that ends in itself."""
        return self._on_grid(math.floor(round(self.most * GRID, 6)) / GRID, self.most)

    def thinnest(self) -> float:
        """The same for the thinnest, of one that begins in itself."""
        return self._on_grid(math.ceil(round(self.least * GRID, 6)) / GRID, self.least)

    def _on_grid(self, rounded: float, end: float) -> float:
        return rounded if self.holds(rounded) else end


def fewest_from_thin(intervals: Iterable[Interval]) -> tuple[float, ...]:
    """The fewest thicknesses where a specimen may be no thicker than the wall: each as thick as its walls allow."""
    found: list[float] = []
    for each in sorted(intervals, key=lambda one: (one.thickest(), one)):
        if not any(map(each.holds, found)):
            found.append(each.thickest())
    return tuple(found)


def fewest_from_thick(intervals: Iterable[Interval]) -> tuple[float, ...]:
    """The fewest thicknesses where a specimen may be no thinner than the section: each as thin as they allow."""
    found: list[float] = []
    for each in sorted(intervals, key=lambda one: (-one.thinnest(), one)):
        if not any(map(each.holds, found)):
            found.append(each.thinnest())
    return tuple(found)
