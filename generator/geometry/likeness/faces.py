"""How far is a point from the faces of a mesh themselves, and not only from points of them?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from generator.geometry.mesh import Mesh
from generator.geometry.samples import spread_over
from generator.geometry.weld import welded

__all__ = ["Faces"]

Floats = NDArray[np.float64]

_MARKS: Final = 16_384  # points of the surface by which near faces are found, besides those of each face
_NEAR, _MORE = 6, 48
_FACING: Final = 0.7  # cosine: what faces otherwise is another side
# So many spacings of marks is a way out long when marks are looked for: what faces otherwise crowds out nothing at an edge.
_APART: Final = 4.0
_SLIVER, _ALONG = 3.0, 32  # spacings between the marks of a long face, and how many of them at most
_AT_ONCE: Final = 4096
_FEW, _MOST_BEYOND = 400, 0.1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Faces:
    """The faces of a mesh that have an area, their ways out, and where each is found."""

    corners_mm: Floats  # (m, 3, 3)
    ways_out: Floats  # (m, 3), unit length
    marks: cKDTree
    """By place and way out."""
    face_of: NDArray[np.int64]
    """The face of each mark."""
    way_mm: float
    """How long a way out is among the marks."""

    @classmethod
    def of(cls, mesh: Mesh) -> Self | None:
        """None where no face has an area."""
        mesh = welded(mesh).mesh
        corners = mesh.vertices_mm[mesh.faces]
        across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        double = np.linalg.norm(across, axis=1)
        real = double > 1e-12 * double.max(initial=0.0)
        if not real.any():
            return None
        corners, ways = corners[real], across[real] / double[real][:, None]
        points, face = spread_over(corners, _MARKS)
        if float(np.einsum("ij,ij->", points - points.mean(axis=0), ways[face])) < 0:
            ways = -ways  # wound inwards
        spacing = float(np.sqrt(double.sum() / 2 / _MARKS))
        more, its = _along_slivers(corners, _SLIVER * spacing)
        face = np.r_[face, its]
        long = _APART * spacing
        marks = cKDTree(np.hstack([np.vstack([points, more]), long * ways[face]]))
        return cls(corners_mm=corners, ways_out=ways, marks=marks, face_of=face, way_mm=long)

    def middles(self, most: int) -> tuple[Floats, Floats]:
        """The middles of all faces with their ways out, of no more than `most` of them, the larger and the smaller alike."""
        some = slice(None, None, -(-len(self.corners_mm) // most))
        return self.corners_mm[some].mean(axis=1), self.ways_out[some]

    def nearest(self, points: Floats, ways: Floats, *, is_signed: bool) -> tuple[Floats, Floats, Floats]:
        """The nearest place that faces as each point does, else the nearest of all: how far, where, and its way out.

        is_signed: False where the ways out may be turned round.
        """
        return self._among(_NEAR, points, ways, is_signed=is_signed)

    def away(self, points: Floats, ways: Floats, beyond: float, *, is_signed: bool) -> Floats:
        """How far `nearest` lies; the few that seem to be beyond a limit are asked of every face about them.

        Of a fan of slivers the marks lie far from some of their places. Where many are beyond it, nothing more is asked.
        """
        far, *_ = self.nearest(points, ways, is_signed=is_signed)
        if (far > beyond).mean() > _MOST_BEYOND:
            return far
        for some in _some(np.flatnonzero(far > beyond)):
            far[some] = self._among(_MORE, points[some], ways[some], is_signed=is_signed)[0]
        seem = np.flatnonzero(far > beyond)
        if len(seem) > _FEW:
            return far
        low, high = self.corners_mm.min(axis=1), self.corners_mm.max(axis=1)
        for at in seem.tolist():
            near = np.flatnonzero(((low <= points[at] + beyond) & (high >= points[at] - beyond)).all(axis=1))
            facing = self.ways_out[near] @ ways[at]
            near = near[(facing if is_signed else np.abs(facing)) > _FACING]
            if len(near):
                place = _on_triangles(points[at], self.corners_mm[near])
                far[at] = min(far[at], float(np.linalg.norm(place - points[at], axis=1).min()))
        return far

    def _among(self, count: int, points: Floats, ways: Floats, *, is_signed: bool) -> tuple[Floats, Floats, Floats]:
        sides = [ways] if is_signed else [ways, -ways]
        count = min(count, len(self.face_of))
        marks = [np.reshape(self.marks.query(np.hstack([points, self.way_mm * side]), k=count)[1], (len(points), -1)) for side in sides]
        face = self.face_of[np.hstack(marks)]
        place = _on_triangles(points[:, None], self.corners_mm[face])
        far = np.linalg.norm(place - points[:, None], axis=2)
        facing = np.einsum("ij,ikj->ik", ways, self.ways_out[face])
        same = (facing if is_signed else np.abs(facing)) > _FACING
        far = np.where(same | ~same.any(axis=1)[:, None], far, np.inf)
        best = far.argmin(axis=1)
        row = np.arange(len(points))
        return far[row, best], place[row, best], self.ways_out[face[row, best]]


def _along_slivers(corners: Floats, step_mm: float) -> tuple[Floats, NDArray[np.int64]]:
    """A place in the midst of each face, more along the longest edge of a long one, each with its face."""
    edges = np.roll(corners, -1, axis=1) - corners
    length = np.linalg.norm(edges, axis=2)
    which, row = length.argmax(axis=1), np.arange(len(corners))
    count = np.clip(np.ceil(length[row, which] / step_mm), 1, _ALONG).astype(np.int64)
    face = np.repeat(row, count)
    at = (np.arange(len(face)) - np.repeat(np.cumsum(count) - count, count) + 0.5) / count[face]
    foot, along = corners[face, which[face]], edges[face, which[face]]
    off = corners[face, (which[face] + 2) % 3] - foot
    under = np.einsum("ij,ij->i", off, along) / np.maximum(np.einsum("ij,ij->i", along, along), 1e-300)
    aside = off - under[:, None] * along
    share = np.where(at < under, at / np.maximum(under, 1e-12), (1 - at) / np.maximum(1 - under, 1e-12))
    return foot + at[:, None] * along + (np.clip(share, 0, 1) / 2)[:, None] * aside, face


def _some(every: NDArray[np.int64]) -> list[NDArray[np.int64]]:
    """A few at once, for each of many takes its room."""
    return [every[at : at + _AT_ONCE] for at in range(0, len(every), _AT_ONCE)]


def _on_triangles(points: Floats, corners: Floats) -> Floats:
    """The nearest place on each triangle: (…, 3) points, (…, 3, 3) corners. Inside by its barycentric coordinates, else on an edge."""
    a, b, c = corners[..., 0, :], corners[..., 1, :], corners[..., 2, :]
    ab, ac, ap = b - a, c - a, points - a
    dot = np.einsum
    d00, d01, d11 = (dot("...i,...i->...", x, y) for x, y in ((ab, ab), (ab, ac), (ac, ac)))
    d20, d21 = (dot("...i,...i->...", ap, each) for each in (ab, ac))
    under = np.maximum(d00 * d11 - d01 * d01, 1e-300)
    v, w = (d11 * d20 - d01 * d21) / under, (d00 * d21 - d01 * d20) / under
    inside = (v >= 0) & (w >= 0) & (v + w <= 1)
    edges = np.stack([_on_edges(points, one, other) for one, other in ((a, b), (b, c), (c, a))])
    away = ((edges - points) ** 2).sum(axis=-1)
    nearest: Floats = np.take_along_axis(edges, away.argmin(axis=0)[None, ..., None], axis=0)[0]
    flat: Floats = np.where(inside[..., None], a + v[..., None] * ab + w[..., None] * ac, nearest)
    return flat


def _on_edges(points: Floats, one: Floats, other: Floats) -> Floats:
    along = other - one
    length = np.maximum((along * along).sum(axis=-1), 1e-300)
    at = np.clip(((points - one) * along).sum(axis=-1) / length, 0, 1)
    place: Floats = one + at[..., None] * along
    return place
