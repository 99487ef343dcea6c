"""A mesh → the model that a tablet turns and measures."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from generator.geometry.mesh import Mesh
from generator.geometry.model.clustered import clustered
from generator.geometry.model.deviation import apart_mm
from generator.geometry.model.kinds import STEPS, Model
from generator.geometry.model.lines import corner_points, line_edges, on_faces
from generator.geometry.model.thinned import thinned
from generator.geometry.render.surface import Surface, surface_of
from generator.geometry.weld import welded

__all__ = ["FACES", "allowed_mm", "model_of"]

FACES = 20_000
MANY = 24_000  # up to so many stay as they are: a model of them is still small, and each is the file's own
CLUSTERED = 150_000
WITHIN_MM, WITHIN_SHARE = 0.1, 0.001  # the smaller one counts: in mm, and of the diagonal
MOST = 400_000  # more are first clustered on a grid: to thin them out would take longer than all else that is made of a mesh
TRIES = 2  # each with half the reach, where the surface has moved too far
STUCK = 100_000  # faces that no move could take away: half the reach would leave more


def model_of(mesh: Mesh) -> Model | None:
    """The model of a mesh; None where no face has an area.

    More than `MANY` faces are thinned out to `FACES` as long as the surface stays within `allowed_mm`; more than `MOST` in any
    case, and then no corner is the file's own. How far it really is away stands in the model, for corners in whole steps and
    for faces that went. The same mesh gives the same model.
    """
    whole = welded(mesh).mesh
    is_huge = len(whole.faces) > MOST
    base = welded(clustered(whole, CLUSTERED)).mesh if is_huge else whole
    surface = _surface(base)
    if surface is None:
        return None
    low = whole.vertices_mm.min(axis=0)
    step = float(np.ptp(whole.vertices_mm, axis=0).max()) / STEPS
    rounding = step * 3**0.5 / 2
    corners = base.vertices_mm[corner_points(surface, line_edges(surface))[: 0 if is_huge else None]]
    shown, apart = _of_huge(whole, base, rounding) if is_huge else _thinned(whole, rounding)
    seen = surface if shown is base else _surface(shown)
    if seen is None or not step:
        return None
    return Model(
        low_mm=(float(low[0]), float(low[1]), float(low[2])),
        step_mm=step,
        points=_in_steps(shown.vertices_mm, low, step),
        faces=seen.faces,
        lines=on_faces(seen, line_edges(seen)),
        corners=_in_steps(corners, low, step),
        is_closed=surface.is_closed and seen.is_closed,
        within_mm=apart + rounding,
        made_of=len(mesh.faces),
    )


def allowed_mm(mesh: Mesh) -> float:
    """How far the surface of a model may be from the mesh's: 0.1 mm, or 0.1 % of its diagonal where that is less."""
    used = mesh.vertices_mm[mesh.faces.ravel()]
    return min(WITHIN_MM, WITHIN_SHARE * float(np.linalg.norm(np.ptp(used, axis=0))))


def _thinned(whole: Mesh, rounding: float) -> tuple[Mesh, float]:
    """The mesh with fewer faces where it has many, and how far that is away from it, in mm."""
    if len(whole.faces) <= MANY:
        return whole, 0.0
    reach = allowed = allowed_mm(whole) - rounding
    for _ in range(TRIES):
        fewer = welded(thinned(whole, FACES, reach)).mesh
        apart = apart_mm(whole, fewer)
        if apart <= allowed:
            return fewer, apart
        if len(fewer.faces) > STUCK:
            break
        reach /= 2
    return whole, 0.0


def _of_huge(whole: Mesh, base: Mesh, rounding: float) -> tuple[Mesh, float]:
    """What is thinned out of a clustered mesh, however far that is away: measured once, for that alone takes seconds."""
    fewer = welded(thinned(base, FACES, max(allowed_mm(whole) - rounding, 0.0))).mesh if len(base.faces) > MANY else base
    return fewer, apart_mm(whole, fewer)


def _surface(mesh: Mesh) -> Surface | None:
    try:
        return surface_of(mesh)
    except ValueError:
        return None


def _in_steps(points_mm: NDArray[np.float64], low: NDArray[np.float64], step: float) -> NDArray[np.uint16]:
    return np.clip(np.rint((points_mm - low) / step), 0, STEPS).astype(np.uint16)
