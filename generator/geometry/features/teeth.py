"""Does the same flank come again and again about a line, as on a gear, a spline or a knob's grip?"""

from __future__ import annotations

from typing import Final

import numpy as np

from generator.geometry.features.facets import Bools, Facets, Floats, Ints, joined
from generator.geometry.features.frames import point
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.lines import About, Line

_FEWEST, _MOST = 5, 240
_STEEP: Final = 0.45  # of a flank's normal, around the line: a hexagon's faces look less aside in their middle
_UPRIGHT: Final = 0.5  # of a flank's normal, at most along the line: bevelled and helical flanks too
_OUTER: Final = 0.55  # of the furthest flank: what lies further in are spokes
_SHARP, _QUIET = 0.6, 0.3  # how strongly the count shows in the flanks' places, and how weakly each smaller one
_SEEN: Final = 0.35  # how strongly on the other side
_LEAST_SHARE: Final = 0.02  # of the part's area
_DEEP: Final = 0.35  # depth of a pitch: 0.72 of an involute gear (2.25 m of π m, ISO 53), 0.2 of a knob's grips (common practice, no source)


def teeth_about(facets: Facets, line: Line, seen: About) -> Feature | None:
    """By the sum of e^(−ikφ) over the flanks' areas: N equal flanks leave the sums of k = N, 2N … alone (Fourier)."""
    flank = (np.abs(seen.around) > _STEEP) & (np.abs(seen.up) < _UPRIGHT)
    if not flank.any():
        return None
    furthest = _outer_reach(facets, seen, flank)
    if furthest is None:
        return None
    flank &= (seen.radius > _OUTER * furthest) & (seen.reach.max(axis=1) <= furthest * 1.001)
    count = _count(facets.areas, seen, flank)
    count = count if count is None else _count_at_middle(facets, seen, flank) or count
    if count is None or float(facets.areas[flank].sum()) < _LEAST_SHARE * float(facets.areas.sum()):
        return None
    band = _band(facets, seen, flank)
    is_one = _count(facets.areas, seen, flank & band) == count
    tip, root = furthest, None
    if is_one:
        flank &= band
        tip, root = _tip_and_root(seen, np.flatnonzero(band), count)
    if root is not None and root > 0.99 * tip:
        return None
    low, high = float(seen.tall[flank].min()), float(seen.tall[flank].max())
    return Feature(
        kind=Kind.TEETH,
        at=point(line.frame.space(line.centre, high)),
        axis=point(line.frame.axis),
        size_mm=2 * tip,
        within_mm=2 * facets.slack_mm,
        length_mm=high - low,
        second_mm=2 * root if root is not None and _is_toothed(tip, root, count) else None,
        count=count,
    )


def _tip_and_root(seen: About, band: Ints, count: int) -> tuple[float, float]:
    """In the middle of what each pitch has: a slit or a mark in one of them tells nothing of the others."""
    pitch = np.floor(np.mod(seen.turn[band] / (2 * np.pi), 1.0) * count).astype(np.int64) % count
    furthest, nearest = np.zeros(count), np.full(count, np.inf)
    np.maximum.at(furthest, pitch, seen.reach[band].max(axis=1))
    np.minimum.at(nearest, pitch, seen.reach[band].min(axis=1))
    return float(np.median(furthest)), float(np.median(nearest))


def _is_toothed(tip: float, root: float, count: int) -> bool:
    """Whether it is as deep as teeth are: what is shallow for its pitch is a grip."""
    return tip - root >= _DEEP * np.pi * (tip + root) / count


def _band(facets: Facets, seen: About, flank: Bools) -> Bools:
    """The upright faces that hang together with most of the flanks: no hub, no skirt, no spoke, which end faces part from them."""
    upright = np.abs(seen.up) < _UPRIGHT
    both = upright[facets.one] & upright[facets.other]
    piece = joined(len(flank), facets.one[both], facets.other[both])
    weight = np.bincount(piece[flank], facets.areas[flank])
    band: Bools = upright & (piece == int(weight.argmax()))
    return band


def _outer_reach(facets: Facets, seen: About, flank: Bools) -> float | None:
    """How far the flanks reach that end in something that looks outwards: a tooth's tip, not a window's end."""
    beside = np.zeros(len(flank), dtype=bool)
    beside[facets.one[flank[facets.other]]] = True
    beside[facets.other[flank[facets.one]]] = True
    tips = beside & (seen.out > 0.7) & (np.abs(seen.up) < _UPRIGHT)
    if not tips.any():
        return None
    return float(seen.reach[tips].max())


def _count_at_middle(facets: Facets, seen: About, flank: Bools) -> int | None:
    """By the flanks that cross the middle of their height alone: all of a helical gear's look as many more ways as it has rows."""
    order = np.flatnonzero(flank)[np.argsort(seen.along[flank], kind="stable")]
    total = np.cumsum(facets.areas[order])
    middle = float(seen.along[order[np.searchsorted(total, total[-1] / 2)]])
    return _count(facets.areas, seen, flank & (seen.tall.min(axis=1) <= middle) & (seen.tall.max(axis=1) >= middle))


def _count(areas: Floats, seen: About, flank: Bools) -> int | None:
    """Sharp on one side at least: the flat back of a ratchet's tooth is a wide thing, whose places say its count less clearly."""
    sides = []
    for side in (1.0, -1.0):
        one = np.flatnonzero(flank & (np.sign(seen.around) == side))
        if len(one) < _FEWEST:
            return None
        # Counted into bins of a twentieth of a degree, so that each count costs the same on every mesh.
        part = np.floor(np.mod(seen.turn[one] / (2 * np.pi), 1.0) * 7200).astype(np.int64) % 7200
        told = np.abs(np.fft.rfft(np.bincount(part, areas[one], 7200)))[: _MOST + 1]
        sides.append(told / told[0])
    sharp = [int(found[0]) + _FEWEST for found in (np.flatnonzero(each[_FEWEST:] > _SHARP) for each in sides) if len(found)]
    if not sharp:
        return None
    count = min(sharp)
    is_told = all(each[count] > _SEEN and each[1:count].max() <= _QUIET for each in sides)
    return count if is_told else None
