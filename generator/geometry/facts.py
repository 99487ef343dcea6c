"""Which plain numbers are known about a mesh, and what is wrong with it."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

__all__ = ["Defect", "DefectKind", "MeshFacts", "Size"]


Size = tuple[float, float, float]


class DefectKind(StrEnum):
    """What can be wrong with a mesh; what the count counts stands beside each kind."""

    OPEN_EDGES = "open_edges"  # edges with one face only: a hole
    NON_MANIFOLD_EDGES = "non_manifold_edges"  # edges with three or more faces
    FLIPPED_FACES = "flipped_faces"  # faces wound against the rest of their body
    INSIDE_OUT = "inside_out"  # whole bodies wound the wrong way
    ZERO_AREA_FACES = "zero_area_faces"  # faces that are a point or a line
    DUPLICATE_FACES = "duplicate_faces"  # faces with the same three corners as another
    OVERLAPPING_BODIES = "overlapping_bodies"  # bodies sharing space with another one
    NO_VOLUME = "no_volume"  # a closed surface that encloses nothing
    UNCOMPARED_BODIES = "uncompared_bodies"  # bodies too many, or too entangled, to tell whether they share space
    UNUSED_CORNERS = "unused_corners"  # corners in the file that no face uses
    LEFT_OUT = "left_out"  # objects in the file that are help for the printer, not the part


@dataclass(frozen=True, slots=True, kw_only=True)
class Defect:
    """One kind of fault and how often it was found."""

    kind: DefectKind
    count: int

@dataclass(frozen=True, slots=True, kw_only=True)
class MeshFacts:
    """What was measured; all lengths in mm."""

    size_mm: Size  # axis-aligned, as modelled
    oriented_size_mm: Size  # smallest box, longest side first
    faces: int  # without those that vanish in welding
    vertices: int  # after welding
    bodies: int  # separate solids; a cavity is not a body
    area_mm2: float
    volume_mm3: float | None  # only when it is certain
    is_watertight: bool
    defects: tuple[Defect, ...]
    shape_sha256: str = ""  # the same for a mesh saved anew, see geometry/shape.py; empty where nobody has looked

    def to_json(self) -> dict[str, Any]:
        """Plain values for the store."""
        return {
            "size_mm": list(self.size_mm),
            "oriented_size_mm": list(self.oriented_size_mm),
            "faces": self.faces,
            "vertices": self.vertices,
            "bodies": self.bodies,
            "area_mm2": self.area_mm2,
            "volume_mm3": self.volume_mm3,
            "is_watertight": self.is_watertight,
            "shape_sha256": self.shape_sha256,
            "defects": {defect.kind.value: defect.count for defect in self.defects},
        }

    @classmethod
    def from_json(cls, stored: Mapping[str, Any]) -> "MeshFacts":
        """Read back what `to_json` gave; KeyError or ValueError for anything else."""
        volume = stored["volume_mm3"]
        return cls(
            size_mm=_size(stored["size_mm"]),
            oriented_size_mm=_size(stored["oriented_size_mm"]),
            faces=int(stored["faces"]),
            vertices=int(stored["vertices"]),
            bodies=int(stored["bodies"]),
            area_mm2=float(stored["area_mm2"]),
            volume_mm3=None if volume is None else float(volume),
            is_watertight=bool(stored["is_watertight"]),
            shape_sha256=str(stored["shape_sha256"]),
            defects=tuple(
                Defect(kind=DefectKind(kind), count=int(count)) for kind, count in stored["defects"].items()
            ),
        )


def _size(lengths: list[float]) -> Size:
    x, y, z = (float(length) for length in lengths)
    return x, y, z
