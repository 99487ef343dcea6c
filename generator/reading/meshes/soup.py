"""Are these triangles fit to become a mesh, and how do pieces become one?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from generator.geometry.facts import Defect
from generator.geometry.mesh import Mesh
from generator.reading.meshes.errors import EXPORT_STL, SAVE_AGAIN, unusable
from generator.reading.meshes.limits import MAX_COORDINATE_MM, check_face_count, check_vertex_count


@dataclass(frozen=True, slots=True, kw_only=True)
class Triangles:
    """Triangles as a file holds them, in the file's own unit.

    vertices: (n, 3) float64. faces: (m, 3) int64 indices, anticlockwise seen from outside.
    notes: what else the file holds and was left out.
    """

    vertices: NDArray[np.float64]
    faces: NDArray[np.int64]
    notes: tuple[Defect, ...] = ()


def joined(pieces: Sequence[Triangles]) -> Triangles:
    """Put pieces side by side, none merged or dropped."""
    if not pieces:
        raise unusable("no triangles", EXPORT_STL)
    starts = np.cumsum([0, *(len(piece.vertices) for piece in pieces)])
    return Triangles(
        vertices=np.concatenate([piece.vertices for piece in pieces]),
        faces=np.concatenate([piece.faces + start for piece, start in zip(pieces, starts, strict=False)]),
    )


def placed(piece: Triangles, matrix: NDArray[np.float64]) -> Triangles:
    """Move a piece by a (4, 4) matrix for column vectors, keeping its outside outside.

    A mirroring matrix turns every triangle inside out, so the corners are then taken backwards.
    """
    vertices = piece.vertices @ matrix[:3, :3].T + matrix[:3, 3]
    mirrored = np.linalg.det(matrix[:3, :3]) < 0
    return Triangles(vertices=vertices, faces=piece.faces[:, ::-1] if mirrored else piece.faces)


def mesh_in_mm(triangles: Triangles, unit_mm: float) -> Mesh:
    """Check the triangles and scale them to millimetres.

    Raises MeshError when there are none, too many, a face names a corner that is not there, or a
    coordinate is no number or beyond all reason. Zero-area and doubled faces stay: they are facts
    about the file, and are told as such.
    """
    vertices, faces = triangles.vertices, triangles.faces
    if len(faces) == 0:
        raise unusable("no triangles", EXPORT_STL)
    check_face_count(len(faces))
    check_vertex_count(len(vertices))
    if faces.min() < 0 or faces.max() >= len(vertices):
        raise unusable("corner missing", SAVE_AGAIN, corner=int(faces.max()) + 1, corners=len(vertices))
    bad = ~np.isfinite(vertices).all(axis=1)
    if bad.any():
        raise unusable("coordinates no numbers", EXPORT_STL, bad=int(bad.sum()), corners=len(vertices))
    vertices_mm = np.ascontiguousarray(vertices * unit_mm, dtype=np.float64)
    reach_mm = float(np.abs(vertices_mm).max())
    if reach_mm > MAX_COORDINATE_MM:
        raise unusable("too far out", reach_mm=float(f"{reach_mm:.3g}"))
    return Mesh(vertices_mm=vertices_mm, faces=np.ascontiguousarray(faces, dtype=np.int64))
