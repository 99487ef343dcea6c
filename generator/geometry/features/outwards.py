"""Which closed bodies are wound inside out, and which enclose nothing but a hollow of another?

What is drilled and what stands out is told by where the faces look: a body that a file has inside out would tell its outside as
holes. And a hollow that nothing opens is nobody's hole: it is told as a void.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.bodies import Shells, shells_of, signed_volumes
from generator.geometry.boxes import oriented_box
from generator.geometry.edges import edge_table
from generator.geometry.features.facets import Bools, Floats, Ints
from generator.geometry.features.frames import point
from generator.geometry.features.kinds import Void
from generator.geometry.mesh import Mesh
from generator.geometry.overlaps import nesting
from generator.geometry.weld import welded

_MOST_VOIDS: Final = 50


@dataclass(frozen=True, eq=False)
class Outside:
    """A mesh whose bodies look outwards, without its voids, which stand beside."""

    mesh: Mesh
    voids: tuple[Void, ...]


def outside_of(mesh: Mesh) -> Outside:
    """Turn what is certain: closed bodies, outermost or all of a mesh alike; the rest stays as the file has it.

    A void is a closed shell inside one other that is wound against it. What lies in a body and is wound like one may be a part of
    its own.
    """
    sound = welded(mesh).mesh
    shells = shells_of(len(sound.faces), edge_table(sound.faces, len(sound.vertices_mm)))
    faces = np.where(shells.flipped[:, None], sound.faces[:, ::-1], sound.faces)
    judged, volume = _judged(sound.vertices_mm[faces], shells)
    if not (volume < 0).any():
        return Outside(mesh=_with(sound, faces) if shells.flipped.any() else mesh, voids=())
    number = np.full(shells.count, -1)
    number[judged] = np.arange(len(judged))
    own = number[shells.of_face]
    lie = nesting(sound.vertices_mm[faces[own >= 0]], own[own >= 0], volume)
    if not lie.is_known:
        return Outside(mesh=_with(sound, faces), voids=())
    hollow = (lie.depth % 2 == 1) & ~lie.overlapping
    turned, is_void = _meant(volume < 0, hollow, lie.overlapping)
    faces = np.where(_of(turned, own)[:, None], faces[:, ::-1], faces)
    voids = tuple(_void(sound.vertices_mm[faces[own == each]]) for each in np.flatnonzero(is_void).tolist()[:_MOST_VOIDS])
    return Outside(mesh=_with(sound, faces[~_of(is_void, own)]), voids=voids)


def _judged(corners: Floats, shells: Shells) -> tuple[Ints, Floats]:
    """The closed shells with one way round, and the volume of each."""
    volumes = signed_volumes(corners, shells)
    judged = np.flatnonzero(shells.closed & shells.orientable & (volumes != 0))
    return judged, volumes[judged]


def _meant(inwards: Bools, hollow: Bools, overlapping: Bools) -> tuple[Bools, Bools]:
    """Which shells are turned, and which are voids: of a mesh that is all inside out the other ones."""
    if (inwards != hollow).all() and not overlapping.any():
        return np.ones(len(inwards), dtype=bool), hollow
    return inwards & ~hollow & ~overlapping, inwards & hollow


def _of(shells: Bools, own: Ints) -> Bools:
    """Of which faces that is said: (m,). own: (m,) the shell of each, −1 where none is judged."""
    of: Bools = np.append(shells, False)[own]
    return of


def _with(mesh: Mesh, faces: Ints) -> Mesh:
    return Mesh(vertices_mm=mesh.vertices_mm, faces=faces)


def _void(corners: Floats) -> Void:
    points = corners.reshape(-1, 3)
    return Void(at=point((points.min(axis=0) + points.max(axis=0)) / 2), size_mm=oriented_box(points).size_mm)
