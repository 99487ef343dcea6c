"""Which corners of a line lie on one circle, and which can be left out because the line is straight there?"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]
Fitted = tuple[Floats, tuple[float, float, float] | None]
"""Corners of a line, and x, y and radius of the circle that they lie on."""

MOST_TURN_RAD: Final = np.radians(37.0)
"""Between two facets of a circle; six or eight corners are a hexagon or an octagon."""
LEAST_TURN_RAD: Final = np.radians(14.0)
"""Of a whole arc: less is as well drawn by its corners."""
LEAST_STEPS: Final = 3
ALIKE: Final = 0.03
EVEN: Final = 3.0
"""Facets of one circle are about as long as each other."""
ROUND: Final = 2e-4
"""Share of the size by which corners may lie off the circle."""
LARGEST: Final = 20.0
FLAT: Final = 5e-5
"""Share of the size by which a line may leave out its corners."""
FEW: Final = 10
"""Corners of a line that are looked at sooner one by one."""
MOST_CUTS: Final = 200
"""A line of a million corners that bend evenly is done after twenty."""


def fitted(points: Floats) -> list[Fitted]:
    """A line as arcs and polylines, one after the other. points: (n, 2) in shares of the size."""
    points = _distinct(points)
    is_closed = len(points) > 3 and bool((points[0] == points[-1]).all())
    if is_closed:
        if circle := _whole_circle(points):
            return [(points, circle)]
        turn = np.abs(_turns(np.vstack([points[-2], points])))
        start = int(np.argmax(turn))
        points = np.vstack([points[start:-1], points[: start + 1]])
    found: list[Fitted] = []
    done = 0
    for first, last, circle in _runs(points):
        if first > done:
            found.append((_simplified(points[done : first + 1]), None))
        found.append((points[first : last + 1], circle))
        done = last
    if done < len(points) - 1:
        found.append((_simplified(points[done:]), None))
    return found if _is_made_of_arcs(found) else [(_simplified(points), None)]


def whole(points: Floats) -> Fitted:
    """A line in one piece: a circle where all of it is one."""
    points = _distinct(points)
    is_closed = len(points) > 3 and bool((points[0] == points[-1]).all())
    if is_closed and (circle := _whole_circle(points)):
        return points, circle
    return _simplified(points), None


def _is_made_of_arcs(found: list[Fitted]) -> bool:
    """Whether what lies between the arcs is straight but for corners; a free curve stays as it is."""
    arcs = sum(circle is not None for _, circle in found)
    bends = 0
    for points, circle in found:
        if circle is None and len(points) > 2:
            turn = np.abs(_turns(points))
            bends += int(((turn > 0.01) & (turn < MOST_TURN_RAD)).sum())
    return bends <= 4 * arcs


def _distinct(points: Floats) -> Floats:
    kept = np.concatenate(([True], (points[1:] != points[:-1]).any(axis=1)))
    return points[kept]


def _turns(points: Floats) -> Floats:
    """The turn at each corner but the ends, in radians, to the left above 0."""
    run = np.diff(points, axis=0)
    cross = run[:-1, 0] * run[1:, 1] - run[:-1, 1] * run[1:, 0]
    turn: Floats = np.arctan2(cross, (run[:-1] * run[1:]).sum(axis=1))
    return turn


def _whole_circle(points: Floats) -> tuple[float, float, float] | None:
    ring = points[:-1]
    if len(ring) < 9:
        return None
    turn = _turns(np.vstack([points, points[1]]))
    if (np.abs(turn) > MOST_TURN_RAD).any() or not (turn.min() > -0.01 or turn.max() < 0.01):
        return None
    steps = np.hypot(*np.diff(points, axis=0).T)
    return _circle(ring) if steps.max() < EVEN * np.median(steps) else None


def _circle(points: Floats) -> tuple[float, float, float] | None:
    """By least squares (Kåsa 1976), where all corners lie on it."""
    middle = points.mean(axis=0)
    x, y = (points - middle).T
    matrix = np.column_stack([x, y, np.ones(len(x))])
    (a, b, c), *_ = np.linalg.lstsq(matrix, x * x + y * y, rcond=None)
    square = c + a * a / 4 + b * b / 4
    if square <= 0 or square > LARGEST * LARGEST:
        return None
    radius = float(np.sqrt(square))
    off = np.abs(np.hypot(x - a / 2, y - b / 2) - radius).max()
    if off > min(ROUND, 0.01 * radius):
        return None
    return float(middle[0] + a / 2), float(middle[1] + b / 2), radius


def _runs(points: Floats) -> list[tuple[int, int, tuple[float, float, float]]]:
    """First and last corner of each arc, and its circle, in order."""
    if len(points) < LEAST_STEPS + 1:
        return []
    turn = _turns(points)
    a, c = points[:-2], points[2:]
    third = np.hypot(*(c - a).T)
    curve = 2 * np.sin(np.clip(np.abs(turn), 0, np.pi / 2)) / np.maximum(third, 1e-12)  # 1 / radius of three corners
    good = (np.abs(turn) < MOST_TURN_RAD) & (np.abs(turn) > 1e-3)
    alike = good[1:] & good[:-1] & (np.sign(turn[1:]) == np.sign(turn[:-1]))
    alike &= np.abs(curve[1:] - curve[:-1]) < ALIKE * np.maximum(curve[1:], curve[:-1])
    found: list[tuple[int, int, tuple[float, float, float]]] = []
    at = 0
    while at < len(turn):
        end = at
        while end < len(alike) and alike[end]:
            end += 1
        if run := _run(points, turn, at, end):
            if not found or run[0] >= found[-1][1]:
                found.append(run)
            elif run[1] - found[-1][1] >= LEAST_STEPS:
                found.append((found[-1][1], run[1], run[2]))
        at = end + 1
    return found


def _run(points: Floats, turn: Floats, at: int, end: int) -> tuple[int, int, tuple[float, float, float]] | None:
    """The arc of the corners whose turns are `at` to `end`, with the cut facets at its ends."""
    first, last = at, end + 2
    if last - first < LEAST_STEPS:
        return None
    if abs(float(turn[at : end + 1].sum())) < LEAST_TURN_RAD:
        return None
    circle = _circle(points[first : last + 1])
    if circle is None:
        return None
    x, y, radius = circle
    steps = np.hypot(*np.diff(points[first : last + 1], axis=0).T)
    inner = steps[1:-1] if len(steps) > LEAST_STEPS else steps
    if steps.max() > min(2 * radius * np.sin(MOST_TURN_RAD / 2), EVEN * np.median(inner)):
        return None
    sag = radius * (1 - np.cos(np.abs(turn[at : end + 1]).max() / 2)) + ROUND
    step = 2 * radius * np.sin(np.abs(turn[at : end + 1]).max() / 2) * 1.05
    for back in (True, False):
        near = first - 1 if back else last + 1
        if 0 <= near < len(points):
            edge = points[first] if back else points[last]
            is_on = abs(float(np.hypot(points[near, 0] - x, points[near, 1] - y)) - radius) < sag
            if is_on and float(np.hypot(*(points[near] - edge))) < step:
                first, last = (near, last) if back else (first, near)
    return first, last, circle


def _simplified(points: Floats) -> Floats:
    """Without the corners that a straight line passes by (Douglas and Peucker 1973), all pieces between corners that stay at once.

    A line that was made to be cut corner by corner keeps what is left after `MOST_CUTS` rounds.
    """
    if len(points) < 3:
        return points
    if len(points) <= FEW:
        return points[_few_kept(points.tolist())]
    kept = np.zeros(len(points), dtype=bool)
    kept[[0, -1]] = True
    x, y = points.T.copy()
    first, last = np.array([0]), np.array([len(points) - 1])
    for _ in range(MOST_CUTS):
        inner = last - first - 1
        first, last, inner = first[inner > 0], last[inner > 0], inner[inner > 0]
        if not len(first):
            return points[kept]
        begin = np.cumsum(inner) - inner
        at = np.repeat(first + 1 - begin, inner) + np.arange(int(inner.sum()))
        off = _beside(x, y, at, (first, last), inner)
        most = np.maximum.reduceat(off, begin)
        bends = most > FLAT
        reached = np.flatnonzero(off == np.repeat(most, inner))
        middle = at[reached[np.searchsorted(reached, begin)]]
        kept[middle[bends]] = True
        first, last = np.concatenate([first[bends], middle[bends]]), np.concatenate([middle[bends], last[bends]])
        order = np.argsort(first)
        first, last = first[order], last[order]
    for begin_, end in zip(first.tolist(), last.tolist(), strict=True):
        kept[begin_:end] = True
    return points[kept]


def _few_kept(points: list[list[float]]) -> list[int]:
    """The same of a few corners, one by one: which stay."""
    kept, waiting = {0, len(points) - 1}, [(0, len(points) - 1)]
    while waiting:
        first, last = waiting.pop()
        (from_x, from_y), (to_x, to_y) = points[first], points[last]
        run_x, run_y = to_x - from_x, to_y - from_y
        square = run_x * run_x + run_y * run_y
        most, middle = FLAT, 0
        for number in range(first + 1, last):
            away_x, away_y = points[number][0] - from_x, points[number][1] - from_y
            share = min(max((away_x * run_x + away_y * run_y) / square, 0.0), 1.0) if square > 0 else 0.0
            off = math.hypot(away_x - share * run_x, away_y - share * run_y)
            if off > most:
                most, middle = off, number
        if middle:
            kept.add(middle)
            waiting += [(first, middle), (middle, last)]
    return sorted(kept)


def _beside(x: Floats, y: Floats, at: Indices, ends: tuple[Indices, Indices], many: Indices) -> Floats:
    """How far corners lie beside the stretch from one end to the other; ends: of each stretch, many: how many corners it has in `at`."""
    first, last = ends
    run_x, run_y = x[last] - x[first], y[last] - y[first]
    square = run_x * run_x + run_y * run_y
    run_x, run_y, square, from_x, from_y = (np.repeat(each, many) for each in (run_x, run_y, square, x[first], y[first]))
    away_x, away_y = x[at] - from_x, y[at] - from_y
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(square > 0, np.clip((away_x * run_x + away_y * run_y) / square, 0, 1), 0)
    off: Floats = np.hypot(away_x - share * run_x, away_y - share * run_y)
    return off
