"""What a mesh measures: size, area, volume, bodies, and what is wrong with it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from generator.geometry.boxes import box_of, oriented_box
from generator.geometry.defects import soundness
from generator.geometry.facts import MeshFacts
from generator.geometry.mesh import Mesh
from generator.geometry.shape import shape_sha256
from generator.geometry.weld import welded

__all__ = ["Measured", "area_mm2", "measured", "mesh_facts"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """The facts of a mesh, and the closed mesh that its volume and surface are of; None where no volume is told."""

    facts: MeshFacts
    solid: Mesh | None


def mesh_facts(mesh: Mesh) -> MeshFacts:
    """The facts alone; see `measured`."""
    return measured(mesh).facts


def measured(mesh: Mesh) -> Measured:
    """Measure a mesh; lengths in mm.

    Corners are welded first, so that a triangle soup and an indexed mesh give the same facts.
    The volume is None unless it is certain (see `defects.soundness`); the surface is then that of the same solid:
    of bodies that share space what can be seen. Raises ValueError when the mesh has no faces.
    """
    if not len(mesh.faces):
        raise ValueError("a mesh without faces has no measures")
    weld = welded(mesh)
    sound = soundness(weld)
    used = np.zeros(len(mesh.vertices_mm), dtype=bool)
    used[mesh.faces] = True
    points = mesh.vertices_mm[used]
    x, y, z = np.ptp(points, axis=0).tolist()
    box = box_of(weld.mesh) if len(weld.mesh.faces) else oriented_box(points)
    surface = sound.solid or weld.mesh
    facts = MeshFacts(
        size_mm=(x, y, z),
        oriented_size_mm=box.size_mm,
        faces=len(weld.mesh.faces),
        vertices=len(weld.mesh.vertices_mm),
        bodies=sound.bodies,
        area_mm2=area_mm2(surface.vertices_mm[surface.faces]),
        volume_mm3=sound.volume_mm3,
        is_watertight=sound.is_watertight,
        shape_sha256=shape_sha256(weld.mesh) if len(weld.mesh.faces) else "",
        defects=sound.defects,
    )
    return Measured(facts=facts, solid=sound.solid)


def area_mm2(corners: NDArray[np.float64]) -> float:
    """The sum of the faces' areas; corners: (m, 3, 3)."""
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    return float(np.linalg.norm(across, axis=1).sum() / 2)
