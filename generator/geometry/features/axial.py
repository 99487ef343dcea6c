"""Where do facets of any shape stand around a known direction as if on a cylinder: seeds where no flat strips are?

Where other surfaces cut into a round, or a mesh was made anew, its facets are no strips between rulings, but their corners
still lie on the cylinder. Seen along its axis the four corners of two neighbours lie on one circle. The directions worth a look
are those of the large plane faces and of the cylinders found before.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from generator.geometry.distinct import distinct
from generator.geometry.features.facets import SMOOTH_DEG, Bools, Facets, Floats, Ints, joined
from generator.geometry.features.frames import Frame, framed
from generator.geometry.features.rows import Rows, looks_of, side_by_side, sums, turning

_MOST_DIRECTIONS: Final = 8
_LEAST_SHARE: Final = 0.004  # of the part's area: what faces a direction by less is no reason to look along it
_SAME: Final = 1 - 1e-5  # cosine of directions that are one
_LEANING: Final = 0.3  # how much of a facet's normal may run along the axis
_ALIKE: Final = 0.1  # shares of the radius by which circles of neighbours may differ
_PER_FACE: Final = 6
_PIECE_DEG: Final = 25.0  # what turns by more ends a smooth piece: a round of fifteen facets turns by 24°
_MOST_PIECES, _LEAST_FACES = 60, 12
_LEAST_PIECE: Final = 5e-4  # of the part's area
_NO_WIDTH, _SOME_WIDTH = 2e-4, 0.05  # of the normals' second moments: along a cylinder's axis, and square to it
_BENT: Final = 1e-3  # radians between neighbours that are no plane


def directions_of(facets: Facets, axes: Sequence[tuple[Floats, float]], taken: Bools) -> list[Frame]:
    """Directions in which much of the part looks or rounds turn about, the most area first.

    axes: (direction, mm²). taken: (planes,) strips of rounds, whose own directions say nothing.
    """
    areas = np.bincount(facets.plane, facets.areas)
    vectors = sums(facets.plane, facets.normals * facets.areas[:, None], len(areas))
    total = float(areas.sum())
    large = np.argsort(-np.where(taken, 0.0, areas), kind="stable")[:400]
    large = large[~taken[large]]
    weighed = [*((vectors[each] / areas[each], float(areas[each])) for each in large.tolist()), *axes]
    frames: list[Frame] = []
    shares: list[float] = []
    known = np.empty((len(weighed), 3))  # the axes of `frames`, to be asked at once: of a free form there are hundreds
    for direction, area in weighed:
        frame = framed(direction)
        if frame is None:
            continue
        same = np.flatnonzero(np.abs(known[: len(frames)] @ frame.axis) > _SAME)
        if len(same):
            shares[same[0]] += area
        else:
            known[len(frames)] = frame.axis
            frames.append(frame)
            shares.append(area)
    order = sorted(range(len(frames)), key=lambda number: (-shares[number], number))
    return [frames[number] for number in order if shares[number] > _LEAST_SHARE * total][:_MOST_DIRECTIONS]


def smooth_pieces(facets: Facets, taken: Bools) -> Iterator[tuple[Frame, Bools]]:
    """Pieces between edges that have one direction square to all their normals, and (m,) what is no part of each.

    Of a cylinder, as of a cloth that is bent one way, the normals' second moment has no width along the axis. A round that other
    surfaces cut off at both ends has no plane face that shows its direction.
    """
    free = ~taken
    edges = np.flatnonzero((np.abs(facets.turn) < np.radians(_PIECE_DEG)) & free[facets.one] & free[facets.other])
    label = joined(len(facets.faces), facets.one[edges], facets.other[edges])
    areas = np.bincount(label, facets.areas * free)
    count = np.bincount(label, free)
    total = float(facets.areas.sum())
    large = np.argsort(-areas, kind="stable")[:_MOST_PIECES]
    for piece in large[(count[large] >= _LEAST_FACES) & (areas[large] > _LEAST_PIECE * total)].tolist():
        faces = np.flatnonzero((label == piece) & free)
        weighed = facets.normals[faces] * facets.areas[faces, None]
        widths, axes = np.linalg.eigh(facets.normals[faces].T @ weighed / areas[piece])
        frame = framed(axes[:, 0]) if widths[0] < _NO_WIDTH < _SOME_WIDTH < widths[1] else None
        if frame is not None:
            yield frame, label != piece


def rows_about(facets: Facets, frame: Frame, taken: Bools) -> tuple[list[Ints], bool]:
    """Faces that stand around the direction in a row, of cylinders that turn as far as a hole, boss or slot does."""
    beside = ~taken & (np.abs(facets.normals @ frame.axis) < _LEANING)
    bent = (np.abs(facets.turn) < np.radians(SMOOTH_DEG)) & (np.abs(facets.turn) > _BENT)
    edges = np.flatnonzero(bent & beside[facets.one] & beside[facets.other])
    if not len(edges):
        return [], True
    edges, centre, radius = _circles(facets, frame, edges)
    if not len(edges):
        return [], True
    label = _agreeing(facets, edges, centre, radius)
    rows = int(label.max()) + 1
    count = np.bincount(label, minlength=rows)
    mean = sums(label, centre, rows) / count[:, None]
    normals = np.vstack([facets.normals[facets.one[edges]], facets.normals[facets.other[edges]]])
    told = Rows(
        radius=np.bincount(label, radius, rows) / count,
        looks=looks_of(np.tile(label, 2), normals, np.tile(frame.axis, (2 * len(label), 1)), rows),
        axis=np.tile(frame.axis, (rows, 1)),
        foot=mean[:, :1] * frame.right + mean[:, 1:] * frame.ahead,
    )
    order = np.argsort(label, kind="stable")
    ends = np.searchsorted(label[order], np.arange(rows + 1)).tolist()
    turns, is_whole = turning(told)
    members = (edges[order[ends[each] : ends[each + 1]]] for each in turns)
    return [distinct(np.concatenate([facets.one[each], facets.other[each]])) for each in members], is_whole


def _circles(facets: Facets, frame: Frame, edges: Ints) -> tuple[Ints, Floats, Floats]:
    """Of each edge the circle through its two faces' corners, seen along the axis, where they lie on one.

    The edges that have one, (k, 2) centres and (k,) radii, negative in a hole.
    """
    low, high, one, other = facets.low[edges], facets.high[edges], facets.one[edges], facets.other[edges]
    flat = frame.flat(facets.vertices)
    a, b = flat[low], flat[high]
    far_one = flat[facets.faces[one].sum(axis=1) - low - high]
    far_other = flat[facets.faces[other].sum(axis=1) - low - high]
    by_low, good_low = _circumcentre(far_one, far_other, a)
    by_high, good_high = _circumcentre(far_one, far_other, b)
    centre = np.where((good_low >= good_high)[:, None], by_low, by_high)
    distances = np.stack([np.linalg.norm(each - centre, axis=1) for each in (a, b, far_one, far_other)])
    radius = distances.mean(axis=0)
    spread = np.ptp(distances, axis=0)
    normal = frame.flat(facets.normals[one] + facets.normals[other])
    outwards = np.einsum("ij,ij->i", (a + b + far_one + far_other) / 4 - centre, normal)
    fits = np.maximum(good_low, good_high) > 1e-3
    fits &= (spread < 2 * facets.slack_mm + 2e-3 * radius) & (radius < facets.diagonal_mm)
    kept = np.flatnonzero(fits)
    return edges[kept], centre[kept], (radius * np.sign(outwards))[kept]


def _circumcentre(p: Floats, q: Floats, r: Floats) -> tuple[Floats, Floats]:
    """Centres of the circles through three points each, and how far from a line they are: twice the area over the longest side squared."""
    u, v = q - p, r - p
    twice = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    uu, vv = (u * u).sum(axis=1), (v * v).sum(axis=1)
    longest = np.maximum(np.maximum(uu, vv), ((q - r) ** 2).sum(axis=1))
    good = np.abs(twice) / np.maximum(longest, 1e-300)
    safe = np.where(good > 1e-9, 2 * twice, 1.0)
    x = (v[:, 1] * uu - u[:, 1] * vv) / safe
    y = (u[:, 0] * vv - v[:, 0] * uu) / safe
    return p + np.column_stack([x, y]), np.where(good > 1e-9, good, 0.0)


def _agreeing(facets: Facets, edges: Ints, centre: Floats, radius: Floats) -> Ints:
    """Edges at one flat region whose circles agree are of one row: its number for each edge."""
    plane = np.concatenate([facets.plane[facets.one[edges]], facets.plane[facets.other[edges]]])
    order = np.argsort(plane, kind="stable")
    one, other = side_by_side(plane[order], order % len(edges), _PER_FACE)
    most = _ALIKE * np.minimum(np.abs(radius[one]), np.abs(radius[other]))
    alike = (np.abs(radius[one] - radius[other]) < most) & (np.linalg.norm(centre[one] - centre[other], axis=1) < most)
    return joined(len(edges), one[alike], other[alike])
