"""A three-view drawing of a mesh in first-angle projection (ISO 5456-2), to an ISO 5455 scale."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from generator.geometry.edges import edge_table
from generator.geometry.mesh import Mesh
from generator.geometry.render.raster import rasterised
from tests.models.paper import MM, Paper

# Per view: what runs to the right, what runs upwards, what comes towards the eye.
VIEWS = {
    "front": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    "above": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "left": ((0, -1, 0), (0, 0, 1), (-1, 0, 0)),
}
SCALES = (5.0, 2.0, 1.0, 0.5, 0.2)  # ISO 5455
SHARP_DEG = 28.0
LONG_SIDE_PX = 1400
GAP_MM = 16.0
ROUND_MM = 0.15  # as wide as deep: a turned part, which needs no third view


@dataclass(frozen=True, slots=True)
class ViewLines:
    """The visible lines (n, 4) of a view in mm from its lower left corner, and its width and height in mm."""

    lines: NDArray[np.float64]
    width: float
    height: float


def view_lines(mesh: Mesh, view: str) -> ViewLines:
    """Sharp edges and outlines that the eye sees, as straight pieces."""
    turn = np.array(VIEWS[view], dtype=float)
    seen = mesh.vertices_mm @ turn.T
    seen -= seen.min(axis=0)
    width, height = seen[:, 0].max(), seen[:, 1].max()
    ends = seen[_wanted_edges(seen, mesh.faces)]
    px = LONG_SIDE_PX / max(width, height)
    corners = seen[mesh.faces] * [px, px, 1.0] + [2.0, 2.0, 0.0]
    depth = rasterised(corners, int(width * px) + 5, int(height * px) + 5).depth
    return ViewLines(_visible(ends, depth, px), float(width), float(height))


def _wanted_edges(seen: NDArray[np.float64], faces: NDArray[np.int64]) -> NDArray[np.int64]:
    """Edges that are sharp, or where the surface turns away from the eye: (k, 2) vertex indices."""
    a, b, c = (seen[faces[:, i]] for i in range(3))
    normals = np.cross(b - a, c - a)
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-12)
    table = edge_table(faces, len(seen))
    shared = table.shared_by_two()
    one, other = table.two_faces(shared)
    sharp = (normals[one] * normals[other]).sum(axis=1) < np.cos(np.radians(SHARP_DEG))
    turns = (normals[one, 2] > 1e-6) != (normals[other, 2] > 1e-6)
    smooth_turn = turns & (np.abs(normals[one, 2] - normals[other, 2]) > 1e-3)
    return table.ends[shared[sharp | smooth_turn]]


def _visible(ends: NDArray[np.float64], depth: NDArray[np.float32], px: float) -> NDArray[np.float64]:
    """The pieces of edges that nothing hides: (n, 4)."""
    pieces: list[tuple[float, float, float, float]] = []
    for start, end in ends:
        long = float(np.hypot(*(end - start)[:2]))
        if long < 0.05:
            continue
        steps = max(2, min(400, int(long * px / 3)))
        share = (np.arange(steps) + 0.5) / steps
        at = start + share[:, None] * (end - start)
        shown = _shown(at, depth, px, tolerance_mm=0.12 + 1.2 / px)
        for begin, stop in _runs(shown):
            p, q = start + (end - start) * begin / steps, start + (end - start) * stop / steps
            pieces.append((p[0], p[1], q[0], q[1]))
    return np.unique(np.round(np.array(pieces).reshape(-1, 4), 2), axis=0)


def _shown(
    at: NDArray[np.float64], depth: NDArray[np.float32], px: float, tolerance_mm: float
) -> NDArray[np.bool_]:
    """Whether a point is at the front in its pixel or in one beside it (an outline borders on empty pixels)."""
    col, row = (at[:, 0] * px + 2).astype(int), (at[:, 1] * px + 2).astype(int)
    near = [
        depth[np.clip(row + i, 0, depth.shape[0] - 1), np.clip(col + j, 0, depth.shape[1] - 1)]
        for i in (-1, 0, 1)
        for j in (-1, 0, 1)
    ]
    shown: NDArray[np.bool_] = (np.array(near) <= at[:, 2] + tolerance_mm).sum(axis=0) >= 3
    return shown


def _runs(shown: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Where runs of True begin and end; gaps of one step are closed."""
    padded = np.concatenate(([False], shown, [False]))
    padded[1:-1] |= padded[:-2] & padded[2:]
    turns = np.flatnonzero(padded[1:] != padded[:-1])
    return [(int(a), int(b)) for a, b in zip(turns[::2], turns[1::2], strict=True)]


def chosen_scale(size_mm: tuple[float, float, float], room_mm: tuple[float, float]) -> float:
    """The largest ISO 5455 scale at which the three views and their dimensions fit the room."""
    x, y, z = size_mm
    for scale in SCALES:
        if (x + y) * scale + GAP_MM + 14 <= room_mm[0] and (y + z) * scale + GAP_MM + 14 <= room_mm[1]:
            return scale
    return SCALES[-1]


def draw_views(
    paper: Paper, mesh: Mesh, corner_mm: tuple[float, float], room_mm: tuple[float, float]
) -> float:
    """Front, from above (below the front) and from the left (to its right), dimensioned; the scale used.

    corner_mm, room_mm: the lower left corner and the size of the room on the sheet.
    """
    views = {name: view_lines(mesh, name) for name in VIEWS}
    front, above, left = views["front"], views["above"], views["left"]
    scale = chosen_scale((front.width, above.height, front.height), room_mm)
    used = ((front.width + left.width) * scale + GAP_MM, (front.height + above.height) * scale + GAP_MM)
    x = corner_mm[0] + (room_mm[0] - used[0]) / 2 + 5
    y = corner_mm[1] + (room_mm[1] - used[1]) / 2 - 3
    high = y + above.height * scale + GAP_MM
    right = x + front.width * scale + GAP_MM
    places = {"front": (x, high), "above": (x, y), "left": (right, high)}
    if abs(front.width - left.width) < ROUND_MM:
        del views["left"]
    for name, view in views.items():
        at = np.array([*places[name], *places[name]])
        paper.lines((view.lines * scale + at) * MM, width=0.75)
    _dimension(paper, (x, high + front.height * scale), front.width * scale, f"{front.width:.1f}", 7)
    if "left" in views:
        _dimension(paper, (right, high + left.height * scale), left.width * scale, f"{left.width:.1f}", 7)
    _dimension_up(paper, (x, high), front.height * scale, f"{front.height:.1f}", 7)
    return scale


def _dimension(paper: Paper, start: tuple[float, float], length: float, words: str, off: float) -> None:
    """A dimension above a view; mm on paper."""
    x1, y1, x2 = start[0] * MM, (start[1] + off) * MM, (start[0] + length) * MM
    for x in (x1, x2):
        paper.line(x, (start[1] + 1) * MM, x, y1 + 4, width=0.35)
    paper.line(x1, y1, x2, y1, width=0.35)
    paper.arrow(x1, y1, -1, 0)
    paper.arrow(x2, y1, 1, 0)
    paper.text((x1 + x2) / 2, y1 + 2.5, words, 8.5, align="middle")


def _dimension_up(paper: Paper, start: tuple[float, float], length: float, words: str, off: float) -> None:
    """A dimension to the left of a view; mm on paper."""
    x, y1, y2 = (start[0] - off) * MM, start[1] * MM, (start[1] + length) * MM
    for y in (y1, y2):
        paper.line((start[0] - 1) * MM, y, x - 4, y, width=0.35)
    paper.line(x, y1, x, y2, width=0.35)
    paper.arrow(x, y1, 0, -1)
    paper.arrow(x, y2, 0, 1)
    paper.text(x - 2.5, (y1 + y2) / 2, words, 8.5, align="middle", turn=True)
