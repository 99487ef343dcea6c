"""Which parts of many lines are covered, from many covering spans?"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]
Spans = tuple[Indices, Floats, Floats]
"""Of which line, from, to: each (k,), the last two from 0 to 1, sorted."""

_STEP = 2.0


def united(line: Indices, start: Floats, end: Floats, gap: float = 1e-9) -> Spans:
    """The union of the spans of each line."""
    if not len(line):
        return line, start, end
    order = _by_line(line, start)
    line, start, end = line[order], start[order], end[order]
    offset = _STEP * line
    reach = np.maximum.accumulate(end + offset)
    fresh = np.concatenate(([True], start[1:] + offset[1:] > reach[:-1] + gap))
    first = np.flatnonzero(fresh)
    last = np.concatenate((first[1:], [len(line)])) - 1
    return line[first], start[first], reach[last] - offset[first]


def _by_line(line: Indices, start: Floats) -> Indices:
    """The order of line, then start, in half the time of `numpy.lexsort`: how equal spans stand does not matter, and few numbers sort fast."""
    order = np.argsort(start)
    few = line.astype(np.int16) if int(line.max()) < 1 << 15 else line
    found: Indices = order[np.argsort(few[order], kind="stable")]
    return found


def in_both(one: Spans, other: Spans) -> Spans:
    """Where two sets of united spans overlap."""
    line = np.concatenate([one[0], other[0], one[0], other[0]])
    at = np.concatenate([one[1], other[1], one[2], other[2]])
    change = np.concatenate([np.ones(len(one[0]) + len(other[0])), -np.ones(len(one[0]) + len(other[0]))])
    order = np.lexsort((change, at, line))  # an end before a start at the same place
    line, at, deep = line[order], at[order], np.cumsum(change[order])
    inside = np.flatnonzero(deep > 1.5)
    return line[inside], at[inside], at[inside + 1]


def rest(spans: Spans, count: int) -> Spans:
    """What united spans leave of lines 0 … count-1."""
    line, start, end = spans
    whole = np.arange(count)
    lines = np.concatenate([whole, line])
    starts = np.concatenate([np.zeros(count), end])
    order = np.lexsort((starts, lines))
    lines, starts = lines[order], starts[order]
    ends_line = np.concatenate([line, whole])
    ends = np.concatenate([start, np.ones(count)])
    order = np.lexsort((ends, ends_line))
    ends = ends[order]
    kept = ends > starts
    return lines[kept], starts[kept], ends[kept]


def without_short(spans: Spans, length: Floats, least: float) -> Spans:
    """Spans at least so long; length: (n,) of the whole lines."""
    line, start, end = spans
    kept = (end - start) * length[line] > least
    return line[kept], start[kept], end[kept]
