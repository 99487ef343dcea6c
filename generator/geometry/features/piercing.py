"""Where does a line along an axis go through the surface?"""

from __future__ import annotations

import numpy as np

from generator.geometry.features.facets import Facets, Floats
from generator.geometry.features.frames import Frame


class Piercing:
    """What an axis runs into: the mesh seen along directions, each looked at once."""

    def __init__(self, facets: Facets) -> None:
        self._facets = facets
        self._seen: dict[bytes, tuple[Floats, Floats, Floats]] = {}

    def hits(self, frame: Frame, centre: Floats) -> Floats:
        """Where along the axis through `centre` the surface lies, in rising order."""
        key = np.round(frame.axis, 9).tobytes()
        if key not in self._seen:
            flat = frame.flat(self._facets.vertices)[self._facets.faces]
            self._seen[key] = (flat, flat.min(axis=1), flat.max(axis=1))
        flat, least, most = self._seen[key]
        near = np.flatnonzero(((least <= centre) & (most >= centre)).all(axis=1))
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
