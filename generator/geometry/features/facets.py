"""How do the facets of a mesh lie to each other: which are one plane, and how much does the surface turn at each edge?"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.distinct import distinct
from generator.geometry.edges import edge_table, edges_of
from generator.geometry.mesh import Mesh
from generator.geometry.weld import welded

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

FLAT_DEG: Final = 0.15  # what turns by less is one plane: a true curve has more than 2,400 facets a turn then
SMOOTH_DEG: Final = 46.0  # what turns by more is an edge: a round of eight facets turns by 45° (common practice, no source)
_ROUNDING: Final = 2.0 * float(np.finfo(np.float32).eps)  # files keep single precision


@dataclass(frozen=True, eq=False)
class Facets:
    """A welded mesh with what its neighbouring faces say.

    vertices: (n, 3) mm. faces: (m, 3). normals: (m, 3) unit. areas: (m,) mm².
    one, other: (k,) the two faces at each shared edge; low, high: (k,) the edge's vertices.
    turn: (k,) how much the surface turns there in radians, positive where it stands out, negative in a corner.
    plane: (m,) the number of the flat region that each face is part of.
    slack_mm: by how much a corner may lie beside a surface through it.
    """

    vertices: Floats
    faces: Ints
    normals: Floats
    areas: Floats
    one: Ints
    other: Ints
    low: Ints
    high: Ints
    turn: Floats
    plane: Ints
    slack_mm: float
    diagonal_mm: float

    @cached_property
    def corners(self) -> Floats:
        """(m, 3, 3)."""
        return self.vertices[self.faces]

    @cached_property
    def centres(self) -> Floats:
        """(m, 3)."""
        centres: Floats = self.corners.mean(axis=1)
        return centres

    @cached_property
    def by_plane(self) -> tuple[Ints, Ints]:
        """Faces ordered by the flat region they are part of, and where each region starts: (m,) and (planes + 1,)."""
        order = np.argsort(self.plane, kind="stable")
        return order, np.searchsorted(self.plane[order], np.arange(self.planes + 1))

    @cached_property
    def by_face(self) -> tuple[Ints, Ints]:
        """Shared edges ordered by face, each at both its faces, and where each face starts: (2k,) and (m + 1,)."""
        both = np.concatenate([self.one, self.other])
        order = np.argsort(both, kind="stable")
        return np.tile(np.arange(len(self.one)), 2)[order], np.searchsorted(both[order], np.arange(len(self.faces) + 1))

    def edges_at(self, faces: Ints) -> Ints:
        """The shared edges of some faces, each once."""
        edges, starts = self.by_face
        count = starts[faces + 1] - starts[faces]
        first = np.repeat(starts[faces] - np.concatenate(([0], np.cumsum(count)[:-1])), count)
        return distinct(edges[first + np.arange(int(count.sum()))])

    @property
    def planes(self) -> int:
        return int(self.plane.max()) + 1 if len(self.plane) else 0


def facets_of(mesh: Mesh) -> Facets | None:
    """Weld, drop what has no area, and look at every edge; None where nothing is left."""
    sound = welded(mesh).mesh
    if not len(sound.faces):
        return None
    vertices = sound.vertices_mm
    middle = (vertices.min(axis=0) + vertices.max(axis=0)) / 2
    corner = vertices[sound.faces] - middle
    across = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    twice = np.linalg.norm(across, axis=1)
    diagonal = float(np.linalg.norm(np.ptp(vertices, axis=0)))
    kept = twice > (1e-9 * diagonal) ** 2
    if not kept.any():
        return None
    faces, normals, areas = sound.faces[kept], across[kept] / twice[kept, None], twice[kept] / 2
    edges = edges_of(sound) if kept.all() else edge_table(faces, len(vertices))
    shared = edges.shared_by_two()
    one, other = edges.two_faces(shared)
    low, high = edges.ends[shared].T
    rounding = _ROUNDING * float(np.abs(vertices).max())
    turn = _turn(vertices, faces, normals, (one, other), (low, high))
    noise = _noise(vertices, faces, areas, rounding)
    flat = np.abs(turn) < np.minimum(np.radians(FLAT_DEG) + noise[one] + noise[other], np.radians(3.0))
    return Facets(
        vertices=vertices,
        faces=faces,
        normals=normals,
        areas=areas,
        one=one,
        other=other,
        low=low,
        high=high,
        turn=turn,
        plane=joined(len(faces), one[flat], other[flat]),
        slack_mm=max(4 * rounding, 1e-5 * diagonal),
        diagonal_mm=diagonal,
    )


def joined(count: int, one: Ints, other: Ints) -> Ints:
    """Which of `count` things hang together by the given pairs: (count,) numbers from 0, in order of first appearance."""
    links = coo_matrix((np.ones(len(one), dtype=np.int8), (one, other)), shape=(count, count))
    label: Ints = connected_components(links, directed=False)[1].astype(np.int64)
    return label


def _turn(vertices: Floats, faces: Ints, normals: Floats, pair: tuple[Ints, Ints], ends: tuple[Ints, Ints]) -> Floats:
    """The signed angle between the two normals at each edge. pair: its faces. ends: its vertices."""
    (one, other), (low, high) = pair, ends
    n1, n2 = normals[one], normals[other]
    size = np.arctan2(np.linalg.norm(np.cross(n1, n2), axis=1), np.einsum("ij,ij->i", n1, n2))
    theirs = faces[other]
    far = theirs.sum(axis=1) - low - high  # the corner of the other face that is not on the edge
    stands_out = np.einsum("ij,ij->i", vertices[far] - vertices[low], n1) < 0
    turn: Floats = np.where(stands_out, size, -size)
    return turn


def _noise(vertices: Floats, faces: Ints, areas: Floats, rounding: float) -> Floats:
    """By how much the normal of each face may be wrong when its corners are rounded: the rounding over its height."""
    longest = np.zeros(len(faces))
    for corner in range(3):  # side by side: of a million faces all at once would be a quarter of a GB
        x, y, z = (vertices[faces[:, corner]] - vertices[faces[:, corner - 1]]).T
        longest = np.maximum(longest, x * x + y * y + z * z)
    noise: Floats = rounding * np.sqrt(longest) / (2 * areas)
    return noise
