"""How is a flat polygon with any number of corners cut into triangles?"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from generator.reading.meshes.errors import EXPORT_STL, unusable
from generator.reading.meshes.limits import check_face_count

Triple = tuple[int, int, int]

# A hostile file ends by what is counted: corners looked at for ears, some seconds. A face of a thousand corners takes a
# million.
MOST_TRIES = 200_000_000


class Cutter:
    """Cuts many polygons over the same corners, with a bound on the work that tangled ones may make.

    Each becomes n - 2 triangles that turn the same way round: a convex one a fan, any other is cut by its ears (Meisters,
    "Polygons have ears", 1975), since a fan would cover places outside it.
    """

    def __init__(self, vertices: NDArray[np.float64]) -> None:
        """vertices: (n, 3)."""
        self._vertices = vertices
        self._tries = MOST_TRIES

    def all_cut(self, corners: NDArray[np.int64], sizes: NDArray[np.int64]) -> NDArray[np.int64]:
        """Triangles (m, 3) of polygons in their order.

        corners: all polygons' indices into vertices, one polygon after the other; sizes: (p,) how many each has, three
        or more. Raises MeshError for too many triangles, and where polygons are too tangled to be cut.
        """
        counts = sizes - 2
        check_face_count(int(counts.sum()))
        starts, places = np.cumsum(sizes) - sizes, np.cumsum(counts) - counts
        faces = np.empty((int(counts.sum()), 3), dtype=np.int64)
        three = sizes == 3
        faces[places[three]] = corners[starts[three, None] + np.arange(3)]
        for polygon in np.flatnonzero(~three).tolist():
            start, size, place = int(starts[polygon]), int(sizes[polygon]), int(places[polygon])
            faces[place : place + size - 2] = self._cut(corners[start : start + size])
        return faces

    def _cut(self, corners: NDArray[np.int64]) -> list[Triple]:
        names = corners.tolist()
        flat = _flat(self._vertices[corners])
        if (_turns(flat) >= 0).all():
            return _fan(names)
        triples, tries = _ears(names, flat, self._tries // len(names))
        self._tries -= tries * len(names)
        if triples is None:
            raise unusable("polygon tangled", EXPORT_STL, corners=len(names))
        return triples


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


def _ears(names: list[int], flat: NDArray[np.float64], most: int) -> tuple[list[Triple] | None, int]:
    """The triangles, or None after so many tries, and how many tries it took."""
    left = list(range(len(names)))
    triples: list[Triple] = []
    tries = after_cut = 0
    while len(left) > 3:
        at = None
        for step in range(len(left)):
            tries += 1
            if _is_ear((after_cut + step) % len(left), left, flat):
                at = (after_cut + step) % len(left)
                break
        if tries > most:
            return None, tries
        if at is None:  # it crosses itself; the measuring will tell what came of it
            break
        after_cut = at  # its neighbours are likely ears now, and the other corners were asked before
        before, here, after = left[at - 1], left[at], left[(at + 1) % len(left)]
        triples.append((names[before], names[here], names[after]))
        del left[at]
    return triples + _fan([names[i] for i in left]), tries


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
