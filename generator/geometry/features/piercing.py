"""Where does a line along an axis go through the surface?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from generator.geometry.corners import least, most
from generator.geometry.features.facets import Facets, Floats
from generator.geometry.features.frames import Frame
from generator.geometry.features.rounds import Round

MOST_LOOKED_AT: Final = 1_000_000_000  # faces held against axes, some five seconds: 5,000 holes in 200,000 faces
MOST_KEPT: Final = 3_000_000  # faces as seen along directions, some 80 bytes each
_ANEW: Final = 6  # times as much as asking for one axis: a direction that was not looked along yet


def as_many_as(rounds: Sequence[Round], facets: Facets) -> list[Round]:
    """The first of the rounds, as many as can be asked what their axes run into; all of them but in a mesh of very many holes and faces."""
    kept, seen, spent = [], set[bytes](), 0
    directions = _directions(facets)
    for each in rounds:
        if each.is_told and each.is_inner:
            key = _key(each.frame)
            spent += len(facets.faces) * (1 if key in seen and len(seen) <= directions else _ANEW)
            seen.add(key)
            if spent > MOST_LOOKED_AT:
                break
        kept.append(each)
    return kept


def _directions(facets: Facets) -> int:
    """How many of them are kept at once."""
    return max(MOST_KEPT // len(facets.faces), 2)


def _key(frame: Frame) -> bytes:
    return np.round(frame.axis, 9).tobytes()


class Piercing:
    """What an axis runs into: the mesh seen along directions, each looked at once as long as they are few."""

    def __init__(self, facets: Facets) -> None:
        self._facets = facets
        self._seen: dict[bytes, tuple[Floats, Floats, Floats]] = {}

    def hits(self, frame: Frame, centre: Floats) -> Floats:
        """Where along the axis through `centre` the surface lies, in rising order."""
        key = _key(frame)
        if key not in self._seen:
            if len(self._seen) >= _directions(self._facets):
                del self._seen[next(iter(self._seen))]
            flat = frame.flat(self._facets.vertices)[self._facets.faces]
            self._seen[key] = (flat, least(flat), most(flat))
        flat, low, high = self._seen[key]
        (x, y), (low_x, low_y), (high_x, high_y) = centre, low.T, high.T
        near = np.flatnonzero((low_x <= x) & (high_x >= x) & (low_y <= y) & (high_y >= y))
        corner = flat[near] - centre
        ahead = np.roll(corner, -1, axis=1)
        side = corner[:, :, 0] * ahead[:, :, 1] - corner[:, :, 1] * ahead[:, :, 0]
        tall = frame.along(self._facets.corners[near].reshape(-1, 3)).reshape(-1, 3)
        inside = (side >= 0).all(axis=1) | (side <= 0).all(axis=1)
        total = side.sum(axis=1)
        inside &= np.abs(total) > 0
        weight = np.roll(side[inside], -1, axis=1) / total[inside, None]
        along: Floats = np.sort((weight * tall[inside]).sum(axis=1))
        return along

    def is_closed(self, frame: Frame, centre: Floats, end: float, sense: float, reach: tuple[float, float]) -> bool:
        """Whether the surface is met near an end. reach: how far before it and beyond it, seen along the sense."""
        beyond = (self.hits(frame, centre) - end) * sense
        return bool(((beyond > -reach[0]) & (beyond < reach[1])).any())
