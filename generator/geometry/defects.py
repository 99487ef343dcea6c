"""What is wrong with a mesh, and of which closed surface its volume can be told."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.bodies import Shells, shells_of, signed_volumes
from generator.geometry.edges import edges_of
from generator.geometry.facts import Defect, DefectKind
from generator.geometry.mesh import Mesh
from generator.geometry.parting import parted
from generator.geometry.solid import mesh_volume, solid_of
from generator.geometry.weld import Welded

__all__ = ["Soundness", "soundness"]

# A face is a line when its height is below this share of its longest edge; single precision
# cannot tell such a face from a line.
FLAT_FACE = 1e-7
# A shell encloses nothing when it is thinner than this share of the mesh's diagonal.
FLAT_SHELL = 1e-9

# With one of these there is no volume; what else is told was set right before it was measured.
_SPOILING: Final = (
    DefectKind.OPEN_EDGES,
    DefectKind.NON_MANIFOLD_EDGES,
    DefectKind.FLIPPED_FACES,
    DefectKind.DUPLICATE_FACES,
    DefectKind.NO_VOLUME,
    DefectKind.UNCOMPARED_BODIES,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Soundness:
    """How far the mesh describes a solid; volume_mm3 is None unless it is certain.

    solid: the closed mesh whose volume that is; None without one.
    """

    is_watertight: bool
    bodies: int
    volume_mm3: float | None
    solid: Mesh | None
    defects: tuple[Defect, ...]


def soundness(weld: Welded) -> Soundness:
    """Judge a welded mesh.

    Volume rules: solids that only touch are taken apart, each edge has two faces, neighbours are wound alike, each
    body is wound outwards and each cavity inwards, and no two bodies share space; `solid_of` says what of the last
    two is set right.
    """
    mesh = parted(weld.mesh)
    corners = mesh.vertices_mm[mesh.faces]
    edges = edges_of(mesh)
    shells = shells_of(len(mesh.faces), edges)
    volumes = signed_volumes(corners, shells)
    judged, empty = _judged(corners, shells, volumes)
    solid = solid_of(mesh, shells, volumes, judged)
    counts = {
        DefectKind.OPEN_EDGES: int((edges.uses == 1).sum()),
        DefectKind.NON_MANIFOLD_EDGES: int((edges.uses > 2).sum()),
        DefectKind.ZERO_AREA_FACES: weld.vanished + int(_is_line(corners).sum()),
        DefectKind.DUPLICATE_FACES: _duplicates(mesh.faces),
        DefectKind.FLIPPED_FACES: _flipped(corners, shells),
        DefectKind.NO_VOLUME: empty,
        **solid.told,
    }
    whole = None if any(counts.get(kind) for kind in _SPOILING) else solid.mesh
    volume = _volume(whole)
    return Soundness(
        is_watertight=bool(len(mesh.faces)) and bool((edges.uses == 2).all()),
        bodies=shells.count - solid.cavities,
        volume_mm3=volume,
        solid=None if volume is None else whole,
        defects=tuple(Defect(kind=kind, count=counts[kind]) for kind in DefectKind if counts.get(kind)),
    )


def _volume(solid: Mesh | None) -> float | None:
    if solid is None or not len(solid.faces):
        return None
    volume = mesh_volume(solid)
    return volume if volume > 0 else None


def _judged(
    corners: NDArray[np.float64], shells: Shells, volumes: NDArray[np.float64]
) -> tuple[NDArray[np.int64], int]:
    """The shells that are closed, wound one way and enclose something, and how many enclose nothing."""
    mixed = np.bincount(shells.of_face, shells.flipped, minlength=shells.count) > 0
    sound = shells.closed & ~mixed & shells.orientable
    diagonal = float(np.linalg.norm(np.ptp(corners.reshape(-1, 3), axis=0))) if len(corners) else 0
    empty = sound & (np.abs(volumes) <= FLAT_SHELL * diagonal**3)
    return np.flatnonzero(sound & ~empty), int(empty.sum())


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
