"""What is wrong with a mesh, and whether its volume can be trusted."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from generator.geometry.bodies import Shells, shells_of, signed_volumes
from generator.geometry.edges import edge_table
from generator.geometry.facts import Defect, DefectKind
from generator.geometry.overlaps import nesting
from generator.geometry.weld import Welded

__all__ = ["Soundness", "soundness"]

# A face is a line when its height is below this share of its longest edge; single precision
# cannot tell such a face from a line.
FLAT_FACE = 1e-7
# A shell encloses nothing when it is thinner than this share of the mesh's diagonal.
FLAT_SHELL = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Soundness:
    """How far the mesh describes a solid; volume_mm3 is None unless it is certain."""

    is_watertight: bool
    bodies: int
    volume_mm3: float | None
    defects: tuple[Defect, ...]


def soundness(weld: Welded) -> Soundness:
    """Judge a welded mesh.

    Volume rules: each edge has two faces, neighbours are wound alike, each body is wound
    outwards and each cavity inwards, and no two bodies share space.
    """
    mesh = weld.mesh
    corners = mesh.vertices_mm[mesh.faces]
    edges = edge_table(mesh.faces, len(mesh.vertices_mm))
    shells = shells_of(len(mesh.faces), edges)
    counts = {
        DefectKind.OPEN_EDGES: int((edges.uses == 1).sum()),
        DefectKind.NON_MANIFOLD_EDGES: int((edges.uses > 2).sum()),
        DefectKind.ZERO_AREA_FACES: weld.vanished + int(_is_line(corners).sum()),
        DefectKind.DUPLICATE_FACES: _duplicates(mesh.faces),
    }
    volumes = signed_volumes(corners, shells)
    counts[DefectKind.FLIPPED_FACES] = _flipped(corners, shells)
    cavities, shell_counts = _shell_defects(corners, shells, volumes)
    counts |= shell_counts
    defects = tuple(Defect(kind=kind, count=counts[kind]) for kind in DefectKind if counts.get(kind))
    return Soundness(
        is_watertight=bool(len(mesh.faces)) and bool((edges.uses == 2).all()),
        bodies=shells.count - cavities,
        volume_mm3=_volume(volumes, defects),
        defects=defects,
    )


def _volume(volumes: NDArray[np.float64], defects: tuple[Defect, ...]) -> float | None:
    if not len(volumes) or any(defect.spoils_volume for defect in defects):
        return None
    total = float(volumes.sum())
    return total if total > 0 else None


def _is_line(corners: NDArray[np.float64]) -> NDArray[np.bool_]:
    edge = np.roll(corners, -1, axis=1) - corners
    longest = np.einsum("ijk,ijk->ij", edge, edge).max(axis=1, initial=0)
    twice_area = np.linalg.norm(np.cross(edge[:, 0], edge[:, 1]), axis=1)
    flat: NDArray[np.bool_] = twice_area <= FLAT_FACE * longest
    return flat


def _duplicates(faces: NDArray[np.int64]) -> int:
    """Faces with the same three corners as an earlier one, whichever way round."""
    sets = np.sort(faces, axis=1)
    order = np.lexsort(sets.T[::-1])
    return int((sets[order[1:]] == sets[order[:-1]]).all(axis=1).sum())


def _flipped(corners: NDArray[np.float64], shells: Shells) -> int:
    """Faces to turn so that all agree: those that would make a closed shell's volume negative,
    or the smaller part of an open one. At least 1 on a surface that has only one side.
    """
    if not shells.flipped.any() and shells.orientable.all():
        return 0
    turned = corners.copy()
    turned[shells.flipped] = corners[shells.flipped][:, ::-1]
    inverted = shells.closed & (signed_volumes(turned, shells) < 0)
    mixed = np.bincount(shells.of_face, shells.flipped, minlength=shells.count) > 0
    wrong = shells.flipped ^ (inverted & mixed)[shells.of_face]
    one_sided = int((~shells.orientable).sum())
    return int(wrong.sum()) + one_sided


def _shell_defects(
    corners: NDArray[np.float64], shells: Shells, volumes: NDArray[np.float64]
) -> tuple[int, dict[DefectKind, int]]:
    """The number of cavities, and what is wrong with whole shells."""
    mixed = np.bincount(shells.of_face, shells.flipped, minlength=shells.count) > 0
    sound = shells.closed & ~mixed & shells.orientable
    diagonal = float(np.linalg.norm(np.ptp(corners.reshape(-1, 3), axis=0))) if len(corners) else 0
    empty = sound & (np.abs(volumes) <= FLAT_SHELL * diagonal**3)
    judged = np.flatnonzero(sound & ~empty)
    number = np.full(shells.count, -1)
    number[judged] = np.arange(len(judged))
    among = number[shells.of_face] >= 0
    lie = nesting(corners[among], number[shells.of_face[among]], volumes[judged])
    inwards = volumes[judged] < 0
    hollow = lie.depth % 2 == 1
    counts = {
        DefectKind.INSIDE_OUT: int((inwards & ~hollow & ~lie.overlapping).sum()),
        DefectKind.OVERLAPPING_BODIES: int((lie.overlapping | (hollow & ~inwards)).sum()),
        DefectKind.NO_VOLUME: int(empty.sum()),
    }
    return int((inwards & hollow).sum()), counts
