"""Which edges of a part are drawn as lines, and where do lines meet in a corner?"""

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.edges import edge_table
from generator.geometry.render.surface import NO_FACE, Surface

__all__ = ["corner_points", "line_edges", "on_faces"]

Ints = NDArray[np.int64]

CRUMB = 0.015  # of the diagonal: lines that are all together shorter are noise of a scan
BEND_DEGREES = 35.0  # where two lines meet at less, a curve goes on: a bore is cut into steps of up to 30°
MOST_CORNERS = 4_000


def line_edges(surface: Surface) -> Ints:
    """The edges of a surface that are lines: creases as our pictures draw them, and open edges, without crumbs: (k,)."""
    lines = np.flatnonzero(surface.is_crease | (surface.sides[:, 1] == NO_FACE))
    if not len(lines):
        return lines
    ends = surface.ends[lines]
    count = len(surface.points)
    links = coo_matrix((np.ones(len(ends), dtype=bool), (ends[:, 0], ends[:, 1])), shape=(count, count))
    _, chain = connected_components(links, directed=False)
    run = surface.points[ends[:, 1]] - surface.points[ends[:, 0]]  # of a diagonal of 1
    length = np.bincount(chain[ends[:, 0]], np.sqrt((run * run).sum(axis=1)), count)
    return lines[length[chain[ends[:, 0]]] >= CRUMB]


def on_faces(surface: Surface, edges: Ints) -> NDArray[np.bool_]:
    """Whether the edge from each corner of each face to the next is one of these: (m, 3)."""
    table = edge_table(surface.faces, len(surface.points))
    is_one = np.zeros(len(table.ends), dtype=bool)
    is_one[edges] = True
    marked = np.zeros(3 * len(surface.faces), dtype=bool)
    marked[table.half_edges] = np.repeat(is_one, table.uses)
    return marked.reshape(-1, 3)


def corner_points(surface: Surface, edges: Ints) -> Ints:
    """The points where three lines meet, or two at an angle; at most `MOST_CORNERS`, those of the longest lines: (c,)."""
    ends = surface.ends[edges]
    run = surface.points[ends[:, 1]] - surface.points[ends[:, 0]]
    length = np.sqrt((run * run).sum(axis=1))
    count = len(surface.points)
    at = ends.ravel()
    met = np.bincount(at, minlength=count)
    # Unit vectors away from the point: of two lines that go straight on they cancel out.
    away = np.stack([run, -run], axis=1).reshape(-1, 3) / np.maximum(np.repeat(length, 2), 1e-300)[:, None]
    pull = np.column_stack([np.bincount(at, away[:, axis], count) for axis in range(3)])
    bends = np.sqrt((pull * pull).sum(axis=1)) > 2 * np.sin(np.radians(BEND_DEGREES) / 2)
    found = np.flatnonzero((met > 2) | ((met == 2) & bends))
    if len(found) > MOST_CORNERS:
        weight = np.bincount(at, np.repeat(length, 2), count)[found]
        found = np.sort(found[np.argsort(-weight, kind="stable")[:MOST_CORNERS]])
    return found
