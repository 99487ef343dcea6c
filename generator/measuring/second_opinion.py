"""Does a library that measures in its own way find the same volume and surface? If not, no figure is to be trusted."""

import trimesh

from generator.geometry.facts import MeshFacts
from generator.geometry.mesh import Mesh
from generator.reading.meshes.errors import EXPORT_STL, unusable

# Both add up the same triangles in double precision, so they differ by rounding only.
RELATIVE_DIFFERENCE = 1e-6


def check_second_opinion(mesh: Mesh, facts: MeshFacts) -> None:
    """Measure again with trimesh; raises MeshError where the two do not agree on volume, surface or soundness.

    mesh: the closed mesh that the volume is said to be of, see `geometry.measure.Measured`: welded, for trimesh welds
    by another rule and calls a mesh open for one triangle that collapses. facts: what is said of it. Without a volume
    nothing is compared: nothing is claimed.
    """
    if facts.volume_mm3 is None:
        return
    other = trimesh.Trimesh(mesh.vertices_mm, mesh.faces, process=False)
    volume = trimesh.triangles.mass_properties(other.triangles, skip_inertia=True).volume
    pairs = {"volume": (facts.volume_mm3, float(volume)), "surface": (facts.area_mm2, float(other.area))}
    for name, (ours, theirs) in pairs.items():
        if abs(ours - theirs) > RELATIVE_DIFFERENCE * max(abs(ours), abs(theirs)):
            raise unusable("two ways differ", EXPORT_STL, what=name, ours=_six(ours), theirs=_six(theirs))
    if not other.is_watertight:
        raise unusable("two ways differ, closed", EXPORT_STL)


def _six(number: float) -> float:
    """To six digits, as it is told."""
    return float(f"{number:.6g}")
