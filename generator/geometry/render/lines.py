"""Which edges of the part are drawn as lines, and how strongly each pixel is inked."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import uniform_filter

from generator.geometry.render.chains import in_long_chains
from generator.geometry.render.raster import FAR
from generator.geometry.render.surface import NO_FACE, Surface

__all__ = ["ink"]

Floats = NDArray[np.float64]

ASIDE = 0.8  # px beside a line where its own face is looked for
OUTSIDE = 1.3  # px on the other side, where what lies behind is looked for
JUMP = 1.6  # px of depth that make a rounded edge an outline
CLOSE = 0.5  # px of depth within which a line lies on the surface seen
SWELL = 0.12  # of the picture's height: how steeply a rounded surface rises behind its outline
OVERLAP = 0.3  # px by which neighbouring pieces of a line run into each other
CRUMB = 0.01  # of the picture's diagonal: shorter chains of lines within the part are left out
ROUGH_JUMP, ROUGH_CRUMB = 0.02, 0.03  # of noisy scans, as shares of the picture's height and diagonal
SOFT = np.cos(np.radians(28.0))
TANGENT = 0.26  # strength of the line where a rounding begins
MOST_DOTS = 3_000_000  # samples of lines, ten for each pixel; of more the longest outlines, then the longest creases are drawn
CROWDED = 0.34  # share of ink above which fine lines step back


@dataclass(frozen=True, slots=True, kw_only=True)
class _Dots:
    """Samples of lines, one in each row or column they cross."""

    edge: NDArray[np.int64]
    at: Floats  # (k, 2) px
    depth: Floats
    steep: NDArray[np.bool_]  # more down than across


def ink(
    surface: Surface,
    points_px: Floats,
    facing: Floats,
    depth: NDArray[np.float32],
    supersample: int,
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Coverage with ink from 0 to 1: of the outline against the ground, and of lines within it.

    Both (h, w), in the size of the finished picture.

    points_px: (n, 3) in px of the finished picture; facing: (m,) above 0 where a face looks
    towards the eye; of an open shell the backs are seen too;
    depth: (h * supersample, w * supersample), in px of the finished picture towards the eye.
    """
    height, width = depth.shape[0] // supersample, depth.shape[1] // supersample
    faces_seen = facing > 0 if surface.is_closed else facing != 0
    edges, is_outline_only = _that_fit(*_edges_to_draw(surface, facing > 0, faces_seen), surface, points_px)
    dots = _dots(points_px[surface.ends[edges]], width, height)
    number = dots.edge
    seen = np.zeros(len(number), dtype=bool)
    outer = np.zeros((len(number), 2))
    for side in (0, 1):
        face = surface.sides[edges, side]
        faces_us = (face != NO_FACE) & faces_seen[face]
        towards = _towards(surface, points_px, edges, face)
        usable = faces_us[number]
        limit = _plane_limit(surface, points_px, face, dots, towards)
        limit[is_outline_only[number]] += SWELL * height
        there = _depth_at(depth, dots.at + ASIDE * towards[number], supersample)
        rim = _depth_at(depth, dots.at - OUTSIDE * towards[number], supersample) <= FAR
        on_top = usable & ((rim & (there > FAR)) | (there <= limit + CLOSE))
        seen |= on_top
        outer = np.where(on_top[:, None], -towards[number], outer)
    beyond = _depth_at(depth, dots.at + OUTSIDE * outer, supersample)
    falls = beyond < dots.depth - (ROUGH_JUMP * height if surface.is_rough else JUMP)
    falls &= ~_is_soft(surface, edges, facing > 0)[number]
    seen &= falls | ~is_outline_only[number]
    seen = _without_crumbs(seen, number)
    least = (ROUGH_CRUMB if surface.is_rough else CRUMB) * float(np.hypot(width, height))
    seen[seen] = in_long_chains(dots.at[seen], beyond[seen] <= FAR, (width, height), least)
    strength = _strength(surface, edges)[number]
    strength = np.where(falls, 0.9, strength)
    strength = np.where(beyond <= FAR, 1.0, strength)
    half_width = np.where(beyond <= FAR, 0.62, np.where(falls, 0.52, 0.42)) * (height / 480) ** 0.25
    run = points_px[surface.ends[edges, 1], :2] - points_px[surface.ends[edges, 0], :2]
    length = np.maximum(np.sqrt((run * run).sum(axis=1)), 1e-9)
    squareness = (np.abs(run).max(axis=1) / length)[number]
    drawn = np.column_stack([dots.at, dots.steep, squareness, strength, half_width])[seen]
    return _drawn(drawn, width, height)


def _edges_to_draw(
    surface: Surface, front: NDArray[np.bool_], seen: NDArray[np.bool_]
) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    """Creases, and edges where the surface turns away; those only count against a step in depth."""
    one, other = surface.sides.T
    is_open = other == NO_FACE
    turns_away = front[one] != (front[other] & ~is_open)
    at_least_one = seen[one] | (seen[other] & ~is_open)
    is_line = surface.is_crease | surface.is_tangent
    drawn = np.flatnonzero(at_least_one & (is_line | turns_away | is_open))
    return drawn, ~is_line[drawn]


def _that_fit(
    edges: NDArray[np.int64], is_outline_only: NDArray[np.bool_], surface: Surface, points_px: Floats
) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    """Of the edges so many that their samples are no more than `MOST_DOTS`: outlines before creases, long ones before short ones."""
    ends = points_px[surface.ends[edges], :2]
    long = np.abs(ends[:, 1] - ends[:, 0]).max(axis=1)
    if long.sum() + len(edges) <= MOST_DOTS:
        return edges, is_outline_only
    order = np.lexsort((-long, ~is_outline_only))
    kept = np.sort(order[np.cumsum(long[order] + 1) <= MOST_DOTS])
    return edges[kept], is_outline_only[kept]


def _dots(ends: Floats, width: int, height: int) -> _Dots:
    """One sample where a line crosses the middle of each column, or row when it is steep."""
    a, b = ends[:, 0], ends[:, 1]
    run = b[:, :2] - a[:, :2]
    steep = np.abs(run[:, 1]) > np.abs(run[:, 0])
    main = steep.astype(np.int64)
    pick = np.arange(len(a))
    start, length = a[pick, main], run[pick, main]
    low, high = np.minimum(start, start + length), np.maximum(start, start + length)
    size = np.where(steep, height, width)
    first = np.clip(np.ceil(low - OVERLAP - 0.5), 0, size).astype(np.int64)
    last = np.clip(np.ceil(high + OVERLAP - 0.5), 0, size).astype(np.int64)
    count = np.maximum(last - first, 0)
    edge = np.repeat(pick, count)
    place = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count) + first[edge] + 0.5
    safe = np.where(np.abs(length) > 1e-9, length, 1e-9)
    share = np.clip((place - start[edge]) / safe[edge], 0, 1)
    point = a[edge] + (b - a)[edge] * share[:, None]
    at = point[:, :2].copy()
    at[np.arange(len(at)), main[edge]] = place
    return _Dots(edge=edge, at=at, depth=point[:, 2], steep=steep[edge])


def _towards(surface: Surface, points: Floats, edges: NDArray[np.int64], face: NDArray[np.int64]) -> Floats:
    """Square to each edge on the picture, pointing into its face: (k, 2)."""
    a, b = points[surface.ends[edges, 0], :2], points[surface.ends[edges, 1], :2]
    third = points[surface.faces[face]].sum(axis=1)[:, :2] - a - b
    run = b - a
    length = np.maximum(np.sqrt((run * run).sum(axis=1)), 1e-9)
    square = np.column_stack([-run[:, 1], run[:, 0]]) / length[:, None]
    side = np.sign(((third - a) * square).sum(axis=1))
    towards: Floats = square * side[:, None]
    return towards


def _plane_limit(
    surface: Surface, points: Floats, face: NDArray[np.int64], dots: _Dots, towards: Floats
) -> Floats:
    """How near the face itself may come beside the line: its plane, or the line if nearer."""
    corner = points[surface.faces[face]]
    u, v = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    twice_area = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    twice_area = np.where(np.abs(twice_area) > 1e-9, twice_area, np.inf)
    slope_x = (u[:, 2] * v[:, 1] - v[:, 2] * u[:, 1]) / twice_area
    slope_y = (v[:, 2] * u[:, 0] - u[:, 2] * v[:, 0]) / twice_area
    reach = np.abs(slope_x) + np.abs(slope_y)
    rise = slope_x * towards[:, 0] + slope_y * towards[:, 1]
    up_to = np.maximum(rise * ASIDE, 0) + 0.5 * np.minimum(reach, 6.0)
    limit: Floats = dots.depth + np.minimum(up_to, 12.0)[dots.edge]
    return limit


def _depth_at(depth: NDArray[np.float32], at: Floats, supersample: int) -> NDArray[np.float32]:
    height, width = depth.shape
    x = np.clip((at[:, 0] * supersample).astype(np.int64), 0, width - 1)
    y = np.clip((at[:, 1] * supersample).astype(np.int64), 0, height - 1)
    found: NDArray[np.float32] = depth[y, x]
    return found


def _without_crumbs(seen: NDArray[np.bool_], edge: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Single gaps in a line are closed, single dots of a longer hidden line are taken out."""
    if len(seen) < 3:
        return seen
    same = edge[1:] == edge[:-1]
    before = np.concatenate(([False], same & seen[:-1]))
    after = np.concatenate((same & seen[1:], [False]))
    closed = seen | (before & after)
    has_neighbour = np.concatenate(([False], same)) & np.concatenate((same, [False]))
    before = np.concatenate(([False], same & closed[:-1]))
    after = np.concatenate((same & closed[1:], [False]))
    return closed & (before | after | ~has_neighbour)


def _is_soft(surface: Surface, edges: NDArray[np.int64], front: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Edges of which both sides are seen and go on nearly straight: however steep, nothing falls away behind them."""
    one, other = surface.sides[edges].T
    is_line = surface.is_tangent[edges] | (surface.is_crease[edges] & (surface.bend[edges] > SOFT))
    soft: NDArray[np.bool_] = is_line & (front[one] == front[other]) & (other != NO_FACE)
    return soft


def _strength(surface: Surface, edges: NDArray[np.int64]) -> Floats:
    """Sharp creases are inked more than shallow ones, and where a rounding begins least."""
    angle = np.degrees(np.arccos(np.clip(surface.bend[edges], -1, 1)))
    strength = np.interp(angle, [3.0, 12.0, 28.0, 36.0, 44.0, 70.0], [0.3, 0.42, 0.42, 0.48, 0.65, 0.82])
    return np.where(surface.is_crease[edges], strength, TANGENT)


def _drawn(dots: Floats, width: int, height: int) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Ink by the distance of each pixel's middle from the line.

    dots: (k, 6) x, y, is steep, how square the line is to its row or column, strength, half width.
    """
    at, steep = dots[:, :2], dots[:, 2] > 0
    squareness, strength, half_width = dots[:, 3:].T
    across = np.where(steep, at[:, 0], at[:, 1])
    along = np.where(steep, at[:, 1], at[:, 0]).astype(np.int64)
    outline = np.zeros(width * height, dtype=np.float32)
    inner = np.zeros(width * height, dtype=np.float32)
    for offset in (-1, 0, 1, 2):
        pixel = np.floor(across - 0.5).astype(np.int64) + offset
        distance = np.abs(pixel + 0.5 - across) * squareness
        cover = (strength * np.clip(half_width + 0.5 - distance, 0, 1)).astype(np.float32)
        x, y = np.where(steep, pixel, along), np.where(steep, along, pixel)
        inside = (x >= 0) & (x < width) & (y >= 0) & (y < height) & (cover > 0)
        for layer, chosen in ((outline, strength == 1), (inner, strength < 1)):
            kept = inside & chosen
            np.maximum.at(layer, (y * width + x)[kept], cover[kept])
    return _thinned_where_crowded(outline.reshape(height, width), inner.reshape(height, width))


def _thinned_where_crowded(
    outline: NDArray[np.float32], inner: NDArray[np.float32]
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    window = max(5, round(outline.shape[0] / 60))
    crowd = uniform_filter(np.maximum(outline, inner), window)
    step_back = np.clip(CROWDED / np.maximum(crowd, 1e-6), 0.15, 1)
    paler: NDArray[np.float32] = np.asarray(outline * np.sqrt(step_back), dtype=np.float32)
    palest: NDArray[np.float32] = np.asarray(inner * step_back**1.5, dtype=np.float32)
    return paler, palest
