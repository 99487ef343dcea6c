"""Which closed surface is it whose volume can be told, and what had to be set right for that?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from generator.geometry.bodies import Shells
from generator.geometry.facts import DefectKind
from generator.geometry.mesh import Mesh
from generator.geometry.overlaps import Nesting, nesting
from generator.geometry.united import MOST_SOLIDS, united

__all__ = ["Solid", "mesh_volume", "solid_of"]

# A pin in a hole of its own size: two polygons for one circle overlap by less than this share of the pin
# (48 chords: 0.3 %). Common practice, no source.
TOUCHING = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """What closed shells amount to.

    mesh: closed and wound outwards, cavities inwards, no two bodies sharing space; None where nothing is certain.
    cavities: how many of the shells are hollows of another.
    told: what is wrong with whole shells, and how many they are.
    """

    mesh: Mesh | None
    cavities: int
    told: dict[DefectKind, int]


def solid_of(mesh: Mesh, shells: Shells, volumes: NDArray[np.float64], judged: NDArray[np.int64]) -> Solid:
    """Turn what is wound inside out and unite what shares space, where it is certain what is meant.

    volumes: (s,) signed. judged: the shells that are closed, wound one way and enclose something.
    Certain is: bodies that cross one another are as one; an outermost shell is no hollow, and a mesh of which
    every shell is wound the wrong way was turned as a whole. A body inside the flesh of another stays in doubt: it
    may be a cavity that is wound wrongly.
    """
    number = np.full(shells.count, -1)
    number[judged] = np.arange(len(judged))
    own = number[shells.of_face]
    volume, among = volumes[judged], own >= 0
    lie = nesting(mesh.vertices_mm[mesh.faces[among]], own[among], volume)
    if not lie.is_known:
        return Solid(mesh=None, cavities=0, told={DefectKind.UNCOMPARED_BODIES: len(judged)})
    winding = _judged_winding(lie, volume)
    told = {
        DefectKind.INSIDE_OUT: int(winding.inside_out.sum()),
        DefectKind.OVERLAPPING_BODIES: int((lie.overlapping | winding.in_flesh).sum()),
    }
    cavities = int(winding.cavities.sum())
    if len(judged) < shells.count or winding.is_in_doubt:
        return Solid(mesh=None, cavities=cavities, told=told)
    right = _turned(mesh, winding.turned[own])
    if not lie.overlapping.any():
        return Solid(mesh=right, cavities=cavities, told=told)
    whole, shared = _united(right, own, lie, winding.cavities)
    if whole is not None and shared <= TOUCHING * float(np.abs(volume)[lie.overlapping].min()):
        told[DefectKind.OVERLAPPING_BODIES] = 0
    return Solid(mesh=whole, cavities=cavities, told=told)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Winding:
    inside_out: NDArray[np.bool_]
    in_flesh: NDArray[np.bool_]  # bodies inside a body
    cavities: NDArray[np.bool_]
    turned: NDArray[np.bool_]  # what is to be turned
    is_in_doubt: bool


def _judged_winding(lie: Nesting, volume: NDArray[np.float64]) -> _Winding:
    inwards, hollow = volume < 0, lie.depth % 2 == 1
    if len(volume) and (inwards != hollow).all() and not lie.overlapping.any():
        every, none = np.ones(len(volume), dtype=bool), np.zeros(len(volume), dtype=bool)
        return _Winding(inside_out=~hollow, in_flesh=none, cavities=hollow, turned=every, is_in_doubt=False)
    inside_out = inwards & ~hollow & ~lie.overlapping
    in_flesh = hollow & ~inwards
    crossing_wrongly = lie.overlapping & (inwards | hollow)
    turned = inside_out & (lie.depth == 0)
    return _Winding(
        inside_out=inside_out,
        in_flesh=in_flesh,
        cavities=inwards & hollow,
        turned=turned,
        is_in_doubt=bool((in_flesh | crossing_wrongly | (inside_out & ~turned)).any()),
    )


def _turned(mesh: Mesh, which: NDArray[np.bool_]) -> Mesh:
    if not which.any():
        return mesh  # the very same, whose edges and corners are known
    return Mesh(vertices_mm=mesh.vertices_mm, faces=np.where(which[:, None], mesh.faces[:, ::-1], mesh.faces))


def _united(
    mesh: Mesh, own: NDArray[np.int64], lie: Nesting, cavities: NDArray[np.bool_]
) -> tuple[Mesh | None, float]:
    """The mesh with all bodies that cross one another as one, and how much space they share."""
    around = {inner: outer for inner, outer in lie.within if cavities[inner]}
    crossing = np.flatnonzero(lie.overlapping).tolist()
    if len(crossing) > MOST_SOLIDS:
        return None, 0.0
    if any(cavities[inner] and lie.depth[inner] > 1 for inner in range(len(cavities))):
        return None, 0.0  # a hollow in a body in a hollow: whose it is would have to be found first
    mine = {body: [body] for body in crossing}
    for inner, outer in around.items():
        if outer in mine:
            mine[outer].append(inner)
    taken = np.isin(own, [each for group in mine.values() for each in group])
    bodies = [_part(mesh, np.isin(own, group)) for group in mine.values()]
    one = united(bodies)
    if one is None:
        return None, 0.0
    before = [mesh_volume(each) for each in bodies]
    after = mesh_volume(one)
    if not max(before) * (1 - 1e-6) <= after <= sum(before) * (1 + 1e-6):
        return None, 0.0
    rest = _part(mesh, ~taken)
    whole = Mesh(
        vertices_mm=np.vstack([rest.vertices_mm, one.vertices_mm]),
        faces=np.vstack([rest.faces, one.faces + len(rest.vertices_mm)]),
    )
    return whole, sum(before) - after


def _part(mesh: Mesh, which: NDArray[np.bool_]) -> Mesh:
    used, faces = np.unique(mesh.faces[which], return_inverse=True)
    return Mesh(vertices_mm=mesh.vertices_mm[used], faces=faces.reshape(-1, 3))


def mesh_volume(mesh: Mesh) -> float:
    """The volume that a closed mesh encloses, in mm³: the divergence theorem, from the middle of the mesh."""
    corners = mesh.vertices_mm[mesh.faces]
    a, b, c = np.moveaxis(corners - mesh.vertices_mm.mean(axis=0), 1, 0)
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)
