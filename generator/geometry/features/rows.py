"""Where do flat strips stand in a row as if around a cylinder: the seeds from which round surfaces grow?

A facetted cylinder is a row of flat strips between rulings, the lines on which two strips meet. Three rulings in a row give
the circle they lie on, and neighbouring triples that agree on it are one row. A cone's rulings are not parallel, and those of
a ball, a ring or a cloth agree on no circle.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.distinct import distinct
from generator.geometry.features.facets import SMOOTH_DEG, Bools, Facets, Floats, Ints, joined

MOST_ROWS: Final = 4000
MOST_BESIDE: Final = 100_000_000  # of about the same radius, all rows together: some five seconds
_PARALLEL: Final = 0.01  # sine of the angle between rulings of one cylinder: short ones are rounded
_ALIKE: Final = 0.08  # by how much the radii that two neighbouring triples tell may differ
SECTORS: Final = 24
_LEAST_SECTORS: Final = 7  # that rows about one axis look towards: a quarter's fillet and less is not worth a fit
_NEAR: Final = (0.1, 0.15)  # rows of about one axis and radius: shares of the radius that radius and axis may differ by
_PARALLEL_AXES: Final = 0.998  # cosine
_AT_ONCE: Final = 200_000  # pairs: bounds the memory of one step
_PER_STRIP, _PER_RULING, _PER_PAIR = 12, 6, 5  # how many of one thing are paired: bounds the work of a face with thousands of edges


@dataclass(frozen=True, eq=False)
class _Rulings:
    """Edges between flat regions. edges: (r,) shared-edge numbers. start: (r, 3) a point; towards: (r, 3) unit; turn: (r,)."""

    edges: Ints
    start: Floats
    towards: Floats
    turn: Floats


@dataclass(frozen=True, eq=False)
class _Pairs:
    """Two parallel rulings with a strip between them: (p,) indices of rulings, and how far they are apart."""

    first: Ints
    second: Ints
    width: Floats

    def across(self, pair: Ints, ruling: Ints) -> Ints:
        """The other ruling of each pair."""
        return np.where(self.first[pair] == ruling, self.second[pair], self.first[pair])


@dataclass(frozen=True, eq=False)
class _Triples:
    """Three rulings in a row: (t,) the middle one, the pairs on its both sides, the circle's radius (negative in a hole)."""

    middle: Ints
    left: Ints
    right: Ints
    radius: Floats


@dataclass(frozen=True, eq=False)
class Rows:
    """What each row says by itself: (n,) signed radius, (n, 3) its axis and the axis's point nearest to the origin.

    looks: (n,) the sectors of a turn that it faces, a bit for each.
    """

    radius: Floats
    looks: Ints
    axis: Floats
    foot: Floats


def rows_of(facets: Facets) -> tuple[list[Ints], bool]:
    """Rulings that are of one cylinder, as shared-edge numbers, of cylinders that turn as far as a hole, boss or slot does; whether these are all."""
    rulings = _rulings(facets)
    pairs = _pairs(facets, rulings)
    triples = _triples(rulings, pairs)
    if not len(triples.middle):
        return [], True
    label = _agreeing(triples)
    members = [triples.middle, *(each[side] for side in (triples.left, triples.right) for each in (pairs.first, pairs.second))]
    key = distinct(np.tile(label, len(members)) * len(rulings.edges) + np.concatenate(members))
    row, ruling = np.divmod(key, len(rulings.edges))
    starts = np.flatnonzero(row[1:] != row[:-1]) + 1
    ends = [0, *starts.tolist(), len(ruling)]
    told, is_whole = turning(_told(facets, rulings, pairs, triples, label))
    return [rulings.edges[ruling[ends[number] : ends[number + 1]]] for number in told], is_whole


def _rulings(facets: Facets) -> _Rulings:
    """Of the edges between two flat regions the longest stands for all of them."""
    real = np.flatnonzero(facets.plane[facets.one] != facets.plane[facets.other])
    one, other = facets.plane[facets.one[real]], facets.plane[facets.other[real]]
    key = np.minimum(one, other) * facets.planes + np.maximum(one, other)
    run = facets.vertices[facets.high[real]] - facets.vertices[facets.low[real]]
    length = np.linalg.norm(run, axis=1)
    order = np.lexsort((real, -length, key))
    first = order[np.concatenate(([True], np.diff(key[order]) != 0))] if len(order) else order
    edges = real[first]
    return _Rulings(
        edges=edges,
        start=facets.vertices[facets.low[edges]],
        towards=run[first] / length[first, None],
        turn=facets.turn[edges],
    )


def _pairs(facets: Facets, rulings: _Rulings) -> _Pairs:
    """Parallel rulings of one strip; neighbours in the order of the list up to a bound."""
    strip = np.concatenate([facets.plane[facets.one[rulings.edges]], facets.plane[facets.other[rulings.edges]]])
    line = np.tile(np.arange(len(rulings.edges)), 2)
    order = np.argsort(strip, kind="stable")
    one, other = side_by_side(strip[order], line[order], _PER_STRIP)
    parallel = _parallel(rulings.towards, one, other)
    one, other = one[parallel], other[parallel]
    gap = rulings.start[other] - rulings.start[one]
    along = np.einsum("ij,ij->i", gap, rulings.towards[one])
    width = np.sqrt(np.maximum(np.einsum("ij,ij->i", gap, gap) - along**2, 0.0))
    apart = width > 2 * facets.slack_mm
    return _Pairs(first=one[apart], second=other[apart], width=width[apart])


def _parallel(towards: Floats, one: Ints, other: Ints) -> Ints:
    """Which pairs of directions are nearly parallel: (k,). In portions: of a scan there are as many as three a face, and few are."""
    found = [
        begin + np.flatnonzero(np.linalg.norm(np.cross(towards[one[begin:end]], towards[other[begin:end]]), axis=1) < _PARALLEL)
        for begin, end in ((begin, begin + _AT_ONCE) for begin in range(0, len(one), _AT_ONCE))
    ]
    return np.concatenate([np.zeros(0, dtype=np.int64), *found])


def side_by_side(group: Ints, thing: Ints, most: int) -> tuple[Ints, Ints]:
    """Pairs of things of one group, sorted by group, that stand less than `most` places from each other."""
    found = [np.flatnonzero(group[step:] == group[:-step]) for step in range(1, most)]
    one = [thing[same] for same in found]
    other = [thing[same + step] for step, same in enumerate(found, 1)]
    return np.concatenate(one), np.concatenate(other)


def _triples(rulings: _Rulings, pairs: _Pairs) -> _Triples:
    """Every pair stands at both its rulings: two pairs at one ruling are a triple about it."""
    at = np.concatenate([pairs.first, pairs.second])
    pair = np.tile(np.arange(len(pairs.first)), 2)
    usable = np.flatnonzero(np.abs(rulings.turn[at]) < np.radians(SMOOTH_DEG))
    order = usable[np.argsort(at[usable], kind="stable")]
    place, other_place = side_by_side(at[order], np.arange(len(order)), _PER_RULING)
    middle, left, right = at[order[place]], pair[order[place]], pair[order[other_place]]
    apart = pairs.across(left, middle) != pairs.across(right, middle)
    middle, left, right = middle[apart], left[apart], right[apart]
    a, b, angle = pairs.width[left], pairs.width[right], rulings.turn[middle]
    size = np.sqrt(a * a + b * b + 2 * a * b * np.cos(angle)) / (2 * np.sin(np.abs(angle)))  # sides and angle of a triangle
    return _Triples(middle=middle, left=left, right=right, radius=size * np.sign(angle))


def _agreeing(triples: _Triples) -> Ints:
    """Triples that share two rulings in a row and tell the same circle are of one row: its number for each triple."""
    radius = triples.radius
    share = np.concatenate([triples.left, triples.right])
    order = np.argsort(share, kind="stable")
    one, other = side_by_side(share[order], order % len(radius), _PER_PAIR)
    alike = np.abs(radius[one] - radius[other]) <= _ALIKE * np.minimum(np.abs(radius[one]), np.abs(radius[other]))
    return joined(len(radius), one[alike], other[alike])


def _told(facets: Facets, rulings: _Rulings, pairs: _Pairs, triples: _Triples, label: Ints) -> Rows:
    """The means over each row's triples."""
    rows = int(label.max()) + 1
    count = np.bincount(label, minlength=rows)
    towards = rulings.towards[triples.middle]
    lead = towards[np.unique(label, return_index=True)[1]]
    towards = towards * np.where(np.einsum("ij,ij->i", towards, lead[label]) < 0, -1.0, 1.0)[:, None]
    axis = sums(label, towards, rows)
    axis /= np.maximum(np.linalg.norm(axis, axis=1), 1e-12)[:, None]
    foot = sums(label, _centres(facets, rulings, pairs, triples), rows) / count[:, None]
    foot -= np.einsum("ij,ij->i", foot, axis)[:, None] * axis
    normals = [facets.normals[each[rulings.edges[triples.middle]]] for each in (facets.one, facets.other)]
    looks = looks_of(np.tile(label, 2), np.vstack(normals), np.tile(axis[label], (2, 1)), rows)
    return Rows(radius=np.bincount(label, triples.radius, rows) / count, looks=looks, axis=axis, foot=foot)


def looks_of(label: Ints, normals: Floats, axes: Floats, rows: int) -> Ints:
    """Towards which sectors of a turn about its axis each row's normals look, a bit for each: (rows,).

    The sectors are counted from a direction that is the same for both senses of an axis, and for axes that nearly are one.
    """
    lead = np.abs(np.round(axes, 1)).argmax(axis=1)
    sense = np.where(axes[np.arange(len(axes)), lead] < 0, -1.0, 1.0)
    axes = axes * sense[:, None]
    right = np.eye(3)[(lead + 1) % 3]
    right = right - axes * np.einsum("ij,ij->i", right, axes)[:, None]
    ahead = np.cross(axes, right)
    turn = np.arctan2(np.einsum("ij,ij->i", normals, ahead), np.einsum("ij,ij->i", normals, right))
    part = np.floor(np.mod(turn / (2 * np.pi), 1.0) * SECTORS).astype(np.int64) % SECTORS
    looks = np.zeros(rows, dtype=np.int64)
    np.bitwise_or.at(looks, label, 1 << part)
    return looks


def sums(label: Ints, vectors: Floats, rows: int) -> Floats:
    """The sum of the vectors of each label: (rows, as many as a vector has)."""
    return np.column_stack([np.bincount(label, each, rows) for each in vectors.T])


def _centres(facets: Facets, rulings: _Rulings, pairs: _Pairs, triples: _Triples) -> Floats:
    """From the middle of the left chord, square to its strip, by the height of the circle over the chord."""
    middle = triples.middle
    beyond = pairs.across(triples.left, middle)
    along = rulings.towards[middle]
    chord = rulings.start[beyond] - rulings.start[middle]
    chord -= np.einsum("ij,ij->i", chord, along)[:, None] * along
    half = pairs.width[triples.left] / 2
    height = np.sqrt(np.maximum(triples.radius**2 - half**2, 0.0)) * np.sign(triples.radius)
    strip = _strip_between(facets, rulings.edges[middle], rulings.edges[beyond])
    centres: Floats = rulings.start[middle] + chord / 2 - height[:, None] * facets.normals[strip]
    return centres


def _strip_between(facets: Facets, one: Ints, other: Ints) -> Ints:
    """For each two rulings a face of the strip that both border."""
    plane = facets.plane
    first, second = facets.one[one], facets.other[one]
    ours: Bools = (plane[first] == plane[facets.one[other]]) | (plane[first] == plane[facets.other[other]])
    return np.where(ours, first, second)


def turning(rows: Rows) -> tuple[list[int], bool]:
    """Rows that, with all others about nearly the same axis and radius, turn far enough; those that look most ways first.

    So many as can be told by looking at `MOST_BESIDE` others, and whether that was enough.
    """
    beside, is_whole = 0, True
    by_radius = np.argsort(rows.radius, kind="stable")
    radius, axis, foot, looks = rows.radius[by_radius], rows.axis[by_radius], rows.foot[by_radius], rows.looks[by_radius]
    open_ = np.ones(len(radius), dtype=bool)
    kept: list[int] = []
    for place in np.argsort(-np.bitwise_count(looks).astype(np.int64), kind="stable").tolist()[:MOST_ROWS]:
        if not open_[place]:
            continue
        size = abs(float(radius[place]))
        start, end = np.searchsorted(radius, (radius[place] - _NEAR[0] * size, radius[place] + _NEAR[0] * size))
        beside += int(end - start)
        if beside > MOST_BESIDE:
            is_whole = False
            break
        near = start + np.flatnonzero(open_[start:end])
        near = near[np.abs(axis[near] @ axis[place]) > _PARALLEL_AXES]
        off = foot[near] - foot[place]
        near = near[np.einsum("ij,ij->i", off, off) < (_NEAR[1] * size) ** 2]
        near = near if place in near else np.append(near, place)
        open_[near] = False
        if int(np.bitwise_or.reduce(looks[near])).bit_count() >= _LEAST_SECTORS:
            kept += by_radius[near].tolist()
    return kept, is_whole
