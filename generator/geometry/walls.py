"""How thick are a part's walls, and where is it thinnest and thickest?

From 20,000 points spread evenly over the surface a ray goes straight inwards to where it leaves the part. It counts
where the surface there looks the other way (120° and more from the first), so that corners and chamfers measure
nothing. The *thinnest wall* is the length that 0.5 % of what counts stay below, the *nominal wall* the median, and the
*thickest section* the length that 99.5 % stay below: what covers less of the surface is an edge or a crumb of the model.
A ray from the rim of a plate runs through all of its length; so for nominal wall and thickest section a ray counts as no
longer than the wall beside its middle is thick.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from generator.geometry.edges import edges_of
from generator.geometry.mesh import Mesh
from generator.geometry.rays import NO_FACE, RayTree, TooMuchWorkError
from generator.geometry.samples import spread_over
from generator.geometry.sections import SHARES, Place, Walls
from generator.geometry.weld import RELATIVE_TOLERANCE, welded

__all__ = ["measured_walls"]

SAMPLES = 20_000
BATCHES = 5  # each spread over the whole surface: what is done when the work grows too much is still a fair picture
OPPOSED = 0.55  # cosine between a ray and the surface it leaves by: the flanks of a thread, at 0.5, are no wall
THIN, THICK = SHARES[0], 0.995  # shares of the surface that counts
FEWEST_SHARE = 0.02  # of the rays: where fewer count the part is all corners, and no wall is told
TOUCHING = 1e-6  # of the diagonal: what is met nearer than this is the face itself, or a body in touch with it
MOST_WORK = 40_000_000  # boxes tried: some 3 s; a usual part takes 2 to 8 million
STEPS_ASIDE = 3  # the nearest wall may be a rim itself, whose middle has another wall beside it
NEARLY, ASIDE_EVERY = 0.05, 4  # a start a little farther off will do, of every fourth ray: a ball's are all as near
ALIKE = 0.01  # lengths that differ by less than this share are one wall when its place is chosen
SPOT = 0.08  # of the diagonal


@dataclass(frozen=True, slots=True)
class _Rays:
    """Rays that count: where each starts (n, 3), how long it is inside of the part, and its middle (n, 3)."""

    start: NDArray[np.float64]
    length: NDArray[np.float64]
    middle: NDArray[np.float64]


def measured_walls(mesh: Mesh, *, most_work: int = MOST_WORK) -> Walls | None:
    """The walls of a part; None unless it is closed, wound outwards, and enough of its surface has another side to it.

    Whether bodies overlap is not asked again: where the facts have no volume no wall is to be told.
    The same mesh gives the same figures. most_work: boxes that may be tried; where it does not suffice for all rays the
    figures are those of fewer, and there are none where it does not suffice for the first batch.
    """
    mesh = welded(mesh).mesh
    if not _is_solid(mesh):
        return None
    home = (mesh.vertices_mm.min(axis=0) + mesh.vertices_mm.max(axis=0)) / 2
    corners = (mesh.vertices_mm - home)[mesh.faces]
    tree = RayTree(corners, most_work=most_work)
    rounding = RELATIVE_TOLERANCE * float(np.abs(mesh.vertices_mm).max())
    rays = _that_count(corners, tree, TOUCHING * tree.diagonal + rounding)
    return _walls(rays, home, tree.diagonal) if rays else None


def _is_solid(mesh: Mesh) -> bool:
    """Whether each edge has two faces that run along it either way, and the whole encloses something."""
    edges = edges_of(mesh)
    if not len(mesh.faces) or not (edges.uses == 2).all() or edges.run_alike(edges.shared_by_two()).any():
        return False
    a, b, c = (mesh.vertices_mm - mesh.vertices_mm.mean(axis=0))[mesh.faces].transpose(1, 0, 2)
    return bool(np.einsum("ij,ij->", a, np.cross(b, c)) > 0)


def _that_count(corners: NDArray[np.float64], tree: RayTree, nearest_mm: float) -> _Rays | None:
    """The rays of all batches that could be done; None where none could, or too few of them count."""
    points, faces = spread_over(corners, SAMPLES)
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    outwards = across / np.maximum(np.linalg.norm(across, axis=1), 1e-300)[:, None]
    done, asked = [], 0
    for batch in range(BATCHES):
        start, inwards = points[batch::BATCHES], -outwards[faces[batch::BATCHES]]
        try:
            met = tree.first_hits(start, inwards, nearest_mm)
        except TooMuchWorkError:
            break
        leaving = np.einsum("ij,ij->i", inwards, outwards[met.face])
        counts = (met.face != NO_FACE) & (leaving >= OPPOSED)
        start, inwards, length = start[counts], inwards[counts], met.distance[counts]
        done.append(_Rays(start, length, start + inwards * length[:, None] / 2))
        asked += len(counts)
    if sum(len(rays.length) for rays in done) <= FEWEST_SHARE * asked:
        return None
    starts, lengths, middles = zip(*((rays.start, rays.length, rays.middle) for rays in done), strict=True)
    return _Rays(np.concatenate(starts), np.concatenate(lengths), np.concatenate(middles))


def _walls(rays: _Rays, home: NDArray[np.float64], diagonal: float) -> Walls:
    section = _sections(rays)
    thinnest = float(np.quantile(rays.length, THIN, method="inverted_cdf"))
    thickest = float(np.quantile(section, THICK, method="inverted_cdf"))
    thick = _alike(section, thickest)
    across = thick & _alike(rays.length, thickest)  # rather than rays that run lengthways through the same section
    return Walls(
        thinnest_mm=_told(thinnest),
        thickest_mm=_told(thickest),
        nominal_mm=_told(float(np.quantile(section, 0.5, method="inverted_cdf"))),
        thinnest_at=_place(rays.middle[_alike(rays.length, thinnest)], home, diagonal),
        thickest_at=_place(rays.middle[across if across.any() else thick], home, diagonal),
        thinner=tuple(_told(float(each)) for each in np.quantile(rays.length, SHARES, method="inverted_cdf")),
    )


def _sections(rays: _Rays) -> NDArray[np.float64]:
    """Each ray no longer than the thinnest wall met by stepping aside from its middle: to the ray that starts nearest
    to there, from the middle of that one again; a wall farther off than the ray is long is none of its own.
    """
    found = cKDTree(rays.start[::ASIDE_EVERY]).query(rays.middle, eps=NEARLY)[1]
    beside = np.asarray(found, dtype=np.int64) * ASIDE_EVERY
    section, aside = rays.length.copy(), np.arange(len(rays.length))
    for _ in range(STEPS_ASIDE):
        aside = beside[aside]
        off = np.linalg.norm(rays.middle[aside] - rays.middle, axis=1)
        section = np.where(off <= rays.length, np.minimum(section, rays.length[aside]), section)
    return section


def _alike(lengths: NDArray[np.float64], wanted: float) -> NDArray[np.bool_]:
    alike: NDArray[np.bool_] = np.abs(lengths - wanted) <= ALIKE * wanted
    return alike


def _place(candidates: NDArray[np.float64], home: NDArray[np.float64], diagonal: float) -> Place:
    """Of places as thick as asked the midmost one of the spot where most lie: a wall's midst rather than its end."""
    spot = np.floor(candidates / (SPOT * diagonal)).astype(np.int64)
    _, number, count = np.unique(spot, axis=0, return_inverse=True, return_counts=True)
    together = candidates[number.ravel() == np.argmax(count)]
    off = np.linalg.norm(together - together.mean(axis=0), axis=1)
    x, y, z = (_told(each) for each in (together[int(np.argmin(off))] + home).tolist())
    return x, y, z


def _told(length: float) -> float:
    """To a tenth of a micron, and without a minus before nothing."""
    return round(length, 4) + 0.0
