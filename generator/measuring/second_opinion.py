"""Does a library that measures in its own way find the same volume and surface? If not, no figure is to be trusted."""

import trimesh

from generator.geometry.facts import MeshFacts
from generator.geometry.mesh import Mesh
from generator.reading.meshes.errors import EXPORT_STL, MeshError

# Both add up the same triangles in double precision, so they differ by rounding only.
RELATIVE_DIFFERENCE = 1e-6


def check_second_opinion(mesh: Mesh, facts: MeshFacts) -> None:
    """Measure again with trimesh; raises MeshError where the two do not agree on volume, surface or soundness.

    mesh: as loaded. facts: what `mesh_facts` says of it. Meshes without a volume are left alone: nothing is claimed.
    """
    if facts.volume_mm3 is None:
        return
    other = trimesh.Trimesh(mesh.vertices_mm, mesh.faces, process=True)
    pairs = {"volume": (facts.volume_mm3, float(other.volume)), "surface": (facts.area_mm2, float(other.area))}
    for name, (ours, theirs) in pairs.items():
        if abs(ours - theirs) > RELATIVE_DIFFERENCE * max(abs(ours), abs(theirs)):
            says = f"two ways of measuring do not agree on its {name}: {ours:.6g} and {theirs:.6g} (mm² or mm³)"
            raise MeshError(says, EXPORT_STL)
    if not other.is_watertight:
        raise MeshError("two ways of measuring do not agree on whether it is closed", EXPORT_STL)
