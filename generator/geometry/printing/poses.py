"""In which poses could a part be printed, and what does each cost? Overhang, support, contact with the plate, height.

Candidates are the six axes of the model, its own plane faces and the sides that it rests on (standing.py). A surface hangs over where it
leans more than an angle from the vertical and does not lie on the plate. Support fills what is right below it, down to the plate
or to the part: the volume down to the plate is exact for the facets, and what the part carries of it is taken off by columns
(columns.py), within some 1 % of itself.
"""

from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.corners import most
from generator.geometry.edges import edge_table
from generator.geometry.mesh import Mesh
from generator.geometry.printing.columns import carried_mm3
from generator.geometry.printing.pose import ANGLES_DEG, Leaning, Point, Pose, Poses
from generator.geometry.printing.score import best_first
from generator.geometry.printing.standing import MOST_SIDES, TOUCHING, Frame, frames, hull_of
from generator.geometry.weld import welded

__all__ = ["Point", "Pose", "Poses", "poses_of"]

Points = NDArray[np.float64]
LEAST_SIDES: Final = 2
LOOKED: Final = 2_000_000  # faces times sides: are they the part's own?
WORK: Final = 1_600_000  # faces times poses; a larger mesh is tried on fewer sides, and on its axes always
NOISE: Final = 1e-4  # of a facet's direction, besides what single precision leaves of it: 45° is not more than 45°
SINGLE: Final = 2.0**-24  # rounding of single precision, to the coordinate
FACET_DEG: Final = 1.0  # by so much one facet may lean more than the cone that it and its neighbours stand for
LYING_COS: Final = 0.98  # 11°: a fillet's lowest facets, as low as the plate's own, do not lie on it


def poses_of(mesh: Mesh) -> Poses:
    """All candidates, the best first by the score of score.py; none where the mesh has no surface. mm, mm², mm³.

    The mesh need be neither closed nor welded; of one whose faces look inwards what hangs over is told wrongly.
    """
    shape = _shape(mesh)
    if shape is None:
        return Poses(candidates=())
    hull = hull_of(shape.points, shape.faces)
    most = min(MOST_SIDES, max(LEAST_SIDES, WORK // len(shape.faces) - 6))
    tried = frames(hull, partial(_lying_mm2, shape, hull.diagonal), most_sides=most, looked_at=max(most, LOOKED // len(shape.faces)))
    found = [_pose(shape, frame, hull.diagonal) for frame in tried]
    return Poses(candidates=best_first(found))


@dataclass(frozen=True, eq=False)
class _Shape:
    """Faces with an area, and the points that they use, round the middle of the part's box."""

    points: Points
    faces: NDArray[np.int64]
    normals: Points
    areas: Points
    noise: Points
    """How far each normal may be off by the rounding of its corners."""

    @cached_property
    def pairs(self) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Faces that share an edge, each pair twice."""
        edges = edge_table(self.faces, len(self.points))
        one, other = edges.two_faces(edges.shared_by_two())
        return np.concatenate([one, other]), np.concatenate([other, one])


def _shape(mesh: Mesh) -> _Shape | None:
    mesh = welded(mesh).mesh
    corners = mesh.vertices_mm[mesh.faces]
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    twice = np.linalg.norm(across, axis=1)
    has_area = (twice > 0) & np.isfinite(twice)
    if not has_area.any():
        return None
    used, faces = np.unique(mesh.faces[has_area], return_inverse=True)
    points = mesh.vertices_mm[used]
    points = points - (points.min(axis=0) + points.max(axis=0)) / 2
    longest = np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2).max(axis=1)[has_area]
    rounding = 2 * SINGLE * float(np.abs(mesh.vertices_mm).max()) * longest / twice[has_area]
    noise = NOISE + np.minimum(rounding, np.sin(np.radians(FACET_DEG)))
    return _Shape(points, faces.reshape(-1, 3), across[has_area] / twice[has_area, None], twice[has_area] / 2, noise)


def _lying_mm2(shape: _Shape, diagonal: float, down: Points) -> float:
    lowest = float((shape.points @ down).max())
    facing = np.flatnonzero(shape.normals @ down >= LYING_COS)
    heights = lowest - (shape.points[shape.faces[facing]] @ down)
    return float(shape.areas[facing[most(heights) <= TOUCHING * diagonal]].sum()) if len(facing) else 0.0


def _pose(shape: _Shape, frame: Frame, diagonal: float) -> Pose:
    placed = frame.rows @ shape.points.T
    low, high = placed.min(axis=1), placed.max(axis=1)
    placed[2] -= low[2]
    rising = shape.normals @ frame.rows[2]
    highest = most(placed[2][shape.faces])
    lying = (highest <= TOUCHING * diagonal) & (rising <= -LYING_COS)
    x, y, z = (_told(each) for each in high - low)
    return Pose(
        up=frame.up,
        size_mm=(x, y, z),
        contact_mm2=_told(float((shape.areas * -rising)[lying].sum())),
        leaning=_leaning(shape, placed, rising, lying),
        is_stable=frame.is_stable,
    )


def _leaning(shape: _Shape, placed: Points, rising: Points, lying: NDArray[np.bool_]) -> tuple[Leaning, ...]:
    """For each angle what leans more, and the support below it."""
    limits = np.sin(np.radians(ANGLES_DEG))
    leans = _as_one(shape, -rising, limits)
    hangs = (leans > limits[0]) & ~lying
    if not hangs.any():
        return (Leaning(0.0, 0.0),) * len(ANGLES_DEG)
    over, below = (placed[:, shape.faces[those].T] for those in (hangs, rising > 0))
    steep, area, count = -rising[hangs], shape.areas[hangs], len(limits)
    kinds = np.searchsorted(limits, leans[hangs], side="left") - 1  # the last of the angles that it leans more than
    to_plate = np.bincount(kinds, area * steep * over[2].mean(axis=0), count)
    support = np.maximum(to_plate - carried_mm3(over, below, kinds, count), 0.0)
    by_angle = zip(*(_from_behind(each) for each in (np.bincount(kinds, area, count), support)), strict=True)
    return tuple(Leaning(_told(one), _told(other)) for one, other in by_angle)


def _as_one(shape: _Shape, sines: Points, limits: Points) -> Points:
    """The sines of how far faces lean, less what rounding may add; one that is hardly above a limit, while it and its neighbours
    together are not, is at the limit: triangles between two rings of a cone lean by turns more and less than the cone.
    """
    told = sines - shape.noise
    above = np.searchsorted(limits, told, side="left") - 1
    limit = limits[np.maximum(above, 0)]
    hardly = (above >= 0) & (sines <= limit + np.sin(np.radians(FACET_DEG)))
    if not hardly.any():
        return told
    one, other = shape.pairs
    beside = hardly[one] & (np.abs(sines[one] - sines[other]) <= 2 * np.sin(np.radians(FACET_DEG)))
    one, other = one[beside], other[beside]
    count = np.bincount(one, minlength=len(sines))
    area = count * shape.areas + np.bincount(one, shape.areas[other], len(sines))
    sine = count * shape.areas * sines + np.bincount(one, shape.areas[other] * sines[other], len(sines))
    together = hardly & (count > 0) & (sine <= (limit + NOISE) * area)
    return np.where(together, limit, told)


def _from_behind(amounts: NDArray[Any]) -> list[float]:
    """What is of a kind or of one behind it."""
    return [float(each) for each in np.cumsum(amounts[::-1])[::-1]]


def _told(amount: float) -> float:
    """To a thousandth, and without a minus before nothing."""
    return round(float(amount), 3) + 0.0
