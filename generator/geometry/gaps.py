"""How near do the bodies of a mesh come to each other, where they face each other and do not touch?

Walls the other way round: from points spread evenly over the surface a ray goes straight outwards to where it meets another body
that looks back (as in walls.py). The *gap* is the length that 0.5 % of these stay below. What one body has between its own walls
is a hole or a slot, and a feature; a mesh of one body has no gap.
"""

from typing import Final, NamedTuple

import numpy as np

from generator.geometry.bodies import shells_of
from generator.geometry.edges import edge_table
from generator.geometry.mesh import Mesh
from generator.geometry.rays import NO_FACE, RayTree, TooMuchWorkError
from generator.geometry.samples import spread_over
from generator.geometry.sections import Place
from generator.geometry.walls import MOST_WORK, OPPOSED, SAMPLES, THIN, TOUCHING
from generator.geometry.weld import RELATIVE_TOLERANCE, welded

__all__ = ["Gap", "measured_gap"]

MOST_BODIES: Final = 1000  # a cloud of crumbs has no gap that anybody designed


class Gap(NamedTuple):
    """How wide, mm, and a place in the middle of it, in the part's own coordinates."""

    width_mm: float
    at: Place


def measured_gap(mesh: Mesh, *, most_work: int = MOST_WORK) -> Gap | None:
    """None where no two bodies face each other, or more boxes would have to be tried than `most_work`."""
    mesh = welded(mesh).mesh
    of_face, count = _bodies(mesh)
    if not 1 < count <= MOST_BODIES:
        return None
    home = (mesh.vertices_mm.min(axis=0) + mesh.vertices_mm.max(axis=0)) / 2
    corners = (mesh.vertices_mm - home)[mesh.faces]
    points, faces = spread_over(corners, SAMPLES)
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    outwards = across / np.maximum(np.linalg.norm(across, axis=1), 1e-300)[:, None]
    # A ray leaves a solid through faces that look along it; of one turned inside out the air is the solid.
    tree = RayTree(corners[:, ::-1], most_work=most_work)
    rounding = RELATIVE_TOLERANCE * float(np.abs(mesh.vertices_mm).max())
    try:
        met = tree.first_hits(points, outwards[faces], TOUCHING * tree.diagonal + rounding)
    except TooMuchWorkError:
        return None
    looks_back = -np.einsum("ij,ij->i", outwards[faces], outwards[met.face]) >= OPPOSED
    counts = (met.face != NO_FACE) & looks_back & (of_face[met.face] != of_face[faces])
    if not counts.any():
        return None
    widths = met.distance[counts]
    width = float(np.quantile(widths, THIN, method="inverted_cdf"))
    at = int(np.argmin(np.abs(widths - width)))
    x, y, z = (points[counts] + outwards[faces][counts] * widths[:, None] / 2 + home)[at].round(4).tolist()
    return Gap(round(width, 4), (x, y, z))


def _bodies(mesh: Mesh) -> tuple[np.ndarray, int]:
    shells = shells_of(len(mesh.faces), edge_table(mesh.faces, len(mesh.vertices_mm)))
    return shells.of_face, shells.count
