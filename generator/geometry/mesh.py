"""What is a mesh here: corner positions in millimetres and triangles of indices, nothing else."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Mesh"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, weakref_slot=True)
class Mesh:
    """Triangles in space, as plain arrays.

    vertices_mm: (n, 3) positions in mm.
    faces: (m, 3) indices into the vertices, anticlockwise seen from outside.

    Raises ValueError for other shapes, positions that are no numbers, and
    indices that point at no vertex.
    """

    vertices_mm: NDArray[np.float64]
    faces: NDArray[np.int64]

    def __post_init__(self) -> None:
        """Refuse what is no mesh, so that nothing later has to ask."""
        vertices = np.asarray(self.vertices_mm, dtype=np.float64)
        faces = np.asarray(self.faces, dtype=np.int64)
        if vertices.ndim != 2 or vertices.shape[1] != 3:
            raise ValueError(f"vertices must be (n, 3), not {vertices.shape}")
        if faces.ndim != 2 or faces.shape[1] != 3:
            raise ValueError(f"faces must be (m, 3), not {faces.shape}")
        if not np.isfinite(vertices).all():
            raise ValueError("a vertex position is not a finite number")
        if faces.size and (faces.min() < 0 or faces.max() >= len(vertices)):
            raise ValueError(f"a face points outside the {len(vertices)} vertices")
        object.__setattr__(self, "vertices_mm", vertices)
        object.__setattr__(self, "faces", faces)
