"""How is a flat polygon with any number of corners cut into triangles?"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Triple = tuple[int, int, int]


def cut_into_triangles(corners: Sequence[int], vertices: NDArray[np.float64]) -> list[Triple]:
    """Cut a polygon into n - 2 triangles that turn the same way round.

    corners: indices into vertices (n, 3), anticlockwise seen from outside. A convex polygon becomes
    a fan, any other is cut by its ears (Meisters, "Polygons have ears", 1975), since a fan would
    cover places outside it.
    """
    names = list(corners)
    if len(names) == 3:
        return [(names[0], names[1], names[2])]
    flat = _flat(vertices[names])
    if (_turns(flat) >= 0).all():
        return _fan(names)
    return _ears(names, flat)


def _fan(names: list[int]) -> list[Triple]:
    return [(names[0], one, two) for one, two in pairwise(names[1:])]


def _flat(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Project onto the coordinate plane that shows the polygon largest, anticlockwise."""
    after = np.roll(points, -1, axis=0)
    normal = np.cross(points, after).sum(axis=0)  # Newell: twice the area vector
    axis = int(np.abs(normal).argmax())
    kept = [(1, 2), (2, 0), (0, 1)][axis]
    flat = points[:, kept].copy()
    if normal[axis] < 0:
        flat[:, 0] *= -1
    return flat


def _turns(flat: NDArray[np.float64]) -> NDArray[np.float64]:
    before, after = np.roll(flat, 1, axis=0), np.roll(flat, -1, axis=0)
    return _cross(flat - before, after - flat)


def _cross(a: NDArray[np.float64], b: NDArray[np.float64]) -> NDArray[np.float64]:
    turn: NDArray[np.float64] = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return turn


def _ears(names: list[int], flat: NDArray[np.float64]) -> list[Triple]:
    left = list(range(len(names)))
    triples: list[Triple] = []
    while len(left) > 3:
        at = next((i for i in range(len(left)) if _is_ear(i, left, flat)), None)
        if at is None:  # it crosses itself; the measuring will tell what came of it
            break
        before, here, after = left[at - 1], left[at], left[(at + 1) % len(left)]
        triples.append((names[before], names[here], names[after]))
        del left[at]
    return triples + _fan([names[i] for i in left])


def _is_ear(at: int, left: list[int], flat: NDArray[np.float64]) -> bool:
    a, b, c = (flat[left[(at + step) % len(left)]] for step in (-1, 0, 1))
    if float(_cross(b - a, c - b)) <= 0:
        return False
    corners = {left[at - 1], left[at], left[(at + 1) % len(left)]}
    others = flat[[i for i in left if i not in corners]]
    inside = (
        (_cross(b - a, others - a) >= 0) & (_cross(c - b, others - b) >= 0) & (_cross(a - c, others - c) >= 0)
    )
    return not bool(inside.any())
