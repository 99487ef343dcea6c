"""Which known shapes are nearest to one that is asked for?

Two answers, and the kinder one counts: as a whole, whatever its size, and as a piece of the known one, in its own size. The
weights were found on the parts of tests/benchmarks/alike_parts.py.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.likeness.described import Descriptor

__all__ = ["Near", "near_pairs", "nearest"]

Floats = NDArray[np.float64]

_OUTLINE: Final = np.array([0.3, 0.3, 0.3, 0.3, 0.3, 0.0])  # the root of the area says little of a rough scan
_D2, _SHELLS, _TWIST = 1.0, 0.5, 0.3
_AROUND: Final = np.array([0.28, 0.46, 0.33])
_MISSING, _MORE = 1.0, 0.3  # what the known one lacks weighs more than what the asked one may have lost
_SIZE, _SIZE_AT_MOST = 0.15, 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """A known shape. distance: 0 = alike; size_ratio: asked / known."""

    name: str
    distance: float
    size_ratio: float


def nearest(asked: Descriptor | None, known: Mapping[str, Descriptor]) -> tuple[Near, ...]:
    """All of them, nearest first, those at the same distance in the order of their names; none to what has no area."""
    if asked is None or not known:
        return ()
    every = tuple(known.values())
    ratio = asked.size_mm / np.array([each.size_mm for each in every])
    distance = np.minimum(_as_whole(asked, every), _as_piece(asked, every))
    distance = distance + _SIZE * np.minimum(np.abs(np.log(ratio)), _SIZE_AT_MOST)
    found = [
        Near(name=name, distance=float(far), size_ratio=float(larger))
        for name, far, larger in zip(known, distance, ratio, strict=True)
    ]
    return tuple(sorted(found, key=lambda each: (each.distance, each.name)))


def near_pairs(known: Mapping[str, Descriptor], within: float) -> tuple[tuple[str, str, float], ...]:
    """All pairs that are nearer than `within` as wholes, whatever their sizes, each with its distance; in the order of `known`."""
    names, every = tuple(known), tuple(known.values())
    found = []
    for at, asked in enumerate(every[:-1]):
        rest = every[at + 1 :]
        coarse = _outlines(asked, rest)
        some = np.flatnonzero(coarse < within)  # the cheap part of the distance leaves few
        if len(some):
            far = coarse[some] + _surroundings(asked, [rest[i] for i in some.tolist()])
            found += [(names[at], names[at + 1 + i], d) for i, d in zip(some.tolist(), far.tolist(), strict=True) if d < within]
    return tuple(found)


def _as_whole(asked: Descriptor, every: Sequence[Descriptor]) -> Floats:
    return _outlines(asked, every) + _surroundings(asked, every)


def _outlines(asked: Descriptor, every: Sequence[Descriptor]) -> Floats:
    outline = np.stack([each.outline for each in every]) - asked.outline
    far: Floats = (
        np.sqrt(((outline * _OUTLINE) ** 2).mean(axis=1))
        + _D2 * np.abs(np.stack([each.d2 for each in every]) - asked.d2).mean(axis=1)
        + _SHELLS * np.abs(np.stack([each.shells for each in every]) - asked.shells).mean(axis=1)
    )
    return far


def _surroundings(asked: Descriptor, every: Sequence[Descriptor]) -> Floats:
    around = np.abs(np.stack([each.around for each in every]) - asked.around).sum(axis=2) / 2
    far: Floats = around @ _AROUND + _TWIST * np.abs(np.stack([each.twist for each in every]) - asked.twist).mean(axis=1)
    return far


def _as_piece(asked: Descriptor, every: Sequence[Descriptor]) -> Floats:
    """Which share of the asked surface, seen in its own size, a known one does not have; infinite where no radius serves both."""
    theirs, own = np.stack([each.ladder for each in every]), asked.ladder
    shared = (own.sum(axis=1) > 0) & (theirs.sum(axis=2) > 0)
    missing = np.maximum(own - theirs, 0).sum(axis=2) / np.maximum(own.sum(axis=1), 1e-9)
    more = np.maximum(theirs - own, 0).sum(axis=2) / np.maximum(theirs.sum(axis=2), 1e-9)
    count = shared.sum(axis=1)
    mean = np.where(shared, _MISSING * missing + _MORE * more, 0).sum(axis=1) / np.maximum(count, 1)
    far: Floats = np.where(count > 0, mean, np.inf)
    return far
