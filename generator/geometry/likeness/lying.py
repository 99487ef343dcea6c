"""How does one surface lie best on another? Closest points again and again, from many starts at once.

Besl & McKay, "A method for registration of 3-D shapes" (IEEE PAMI 14(2), 1992), trimmed as Chetverikov et al. (2002) do it, since
a piece may be missing; the last steps go along the ways out (Chen & Medioni 1992), which slides along flat faces and ends sooner.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from generator.geometry.likeness.faces import Faces
from generator.geometry.likeness.starts import places, starts
from generator.geometry.likeness.surface import Surface

__all__ = ["Lying", "laid"]

Floats = NDArray[np.float64]

_FEW, _AMONG, _FIRST = 96, 1024, 6  # points of the first look, among so many, in so many steps
_KEPT, _SOME, _SECOND = 10, 400, 8
_MANY, _LAST, _STILL = 2048, 12, 1e-6
# Poses that lie nearly as well as the best: a flat on a bore, or one hole of many, tells which is right, and few points see it.
_NEARLY, _OTHERWISE = 1.3, np.cos(np.radians(4))
_RIVALS, _RIVAL_POINTS, _RIVAL_STEPS = 8, 2048, 5
_PINS, _PINNED = 1024, 5  # points and steps on the faces themselves
_ASTRAY: Final = 4.0  # medians of those that face alike: farther away is another place, which pulls the pose aside
# Of the points: what lies farthest may be a piece that the other does not have, unless both are of one size.
_TRIM, _TRIM_ALIKE = 0.8, 0.98
_NEIGHBOURS: Final = 8
_REACH: Final = 3.0  # spacings of points: farther the surface may have ended
_FACING: Final = 0.7  # cosine: what faces otherwise is another side


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lying:
    """The asked shape, mirrored where it says so, times `scale`, turned by `turn`, then moved."""

    scale: float
    is_mirrored: bool
    turn: Floats
    move: Floats

    def placed(self, asked: Surface) -> tuple[Floats, Floats]:
        """Its points and ways out where they lie on the known one."""
        own = asked.mirrored() if self.is_mirrored else asked
        return self.carried(own.points_mm, own.ways_out)

    def carried(self, points: Floats, ways: Floats) -> tuple[Floats, Floats]:
        """The same of any of its points, mirrored already where that is asked for."""
        return points * self.scale @ self.turn.T + self.move, ways @ self.turn.T

    def carried_back(self, points: Floats, ways: Floats) -> tuple[Floats, Floats]:
        """Places of the known one as the asked one, not mirrored, has them."""
        flip = np.array([-1.0 if self.is_mirrored else 1.0, 1.0, 1.0])
        return (points - self.move) @ self.turn / self.scale * flip, ways @ self.turn * flip

    def distances(self, asked: Surface, known: Surface) -> tuple[Floats, Floats]:
        """Of each point of one from the surface of the other, in mm: asked to known, known to asked."""
        points, ways = self.placed(asked)
        is_signed = asked.is_oriented and known.is_oriented
        return (
            _from_surface((points, ways), (known.points_mm, known.ways_out), _REACH * _spacing(known), is_signed=is_signed),
            _from_surface((known.points_mm, known.ways_out), (points, ways), _REACH * _spacing(asked) * self.scale, is_signed=is_signed),
        )


def _spacing(surface: Surface) -> float:
    return float(np.sqrt(surface.area_mm2 / len(surface.points_mm)))


def _from_surface(own: tuple[Floats, Floats], its: tuple[Floats, Floats], reach: float, *, is_signed: bool) -> Floats:
    """To the plane of a point within reach that faces the same way; to the nearest point itself where none does."""
    (points, ways), (others, theirs) = own, its
    far, which = (np.asarray(each) for each in cKDTree(others).query(points, k=min(_NEIGHBOURS, len(others))))
    facing = np.einsum("ij,ikj->ik", ways, theirs[which])
    across = np.abs(np.einsum("ikj,ikj->ik", points[:, None] - others[which], theirs[which]))
    same = ((facing if is_signed else np.abs(facing)) > _FACING) & (far < reach)
    plane = np.where(same, across, np.inf).min(axis=1)
    return np.where(np.isfinite(plane), np.minimum(plane, far[:, 0]), far[:, 0])


def laid(asked: Surface, known: Surface, *, scale: float, is_mirrored: bool, faces: Faces | None = None) -> Lying:
    """The best of many poses at this size and hand. faces: of the known one, where its mesh is at hand."""
    own = asked.mirrored() if is_mirrored else asked
    points, ways = own.points_mm * scale, own.ways_out
    tree = cKDTree(known.points_mm[:_AMONG])
    alike = abs(np.log(_spread(points) / _spread(known.points_mm))) < 0.02
    turns = starts(points, known.points_mm, all_ways=not alike)
    middles = places(known.points_mm, 0.0 if alike else 1 - asked.area_mm2 * scale**2 / known.area_mm2)
    turns, middles = np.tile(turns, (len(middles), 1, 1)), np.repeat(middles, len(turns), axis=0)
    moves = middles - np.einsum("nij,j->ni", turns, points.mean(axis=0))
    trim = _TRIM_ALIKE if alike else _TRIM
    turns, moves, far = _closer(points[:_FEW], tree, turns, moves, _FIRST, trim)
    best = np.argsort(far, kind="stable")[:_KEPT]
    turns, moves, far = _closer(points[:_SOME], tree, turns[best], moves[best], _SECOND, trim)
    signed = asked.is_oriented and known.is_oriented
    ground = _on_points(known, is_signed=signed)
    measured = _on_faces(faces, is_signed=signed) if faces else ground
    pose = _best_of([(turns[i], moves[i]) for i in _rivals(turns, far)], (points, ways), ground, measured, trim)
    more, turn, move = _along_ways((points[:_MANY], ways[:_MANY]), ground, pose, trim, _LAST, is_sized=scale == 1)
    if faces:
        some = (more * points[:_PINS], ways[:_PINS])
        pinned, turn, move = _along_ways(some, measured, (turn, move), trim, _PINNED, is_sized=scale == 1)
        more *= pinned
    return Lying(scale=float(scale * more), is_mirrored=is_mirrored, turn=turn, move=move)


_Found = tuple[Floats, Floats, Floats]
_Ground = Callable[[Floats, Floats], _Found]
"""Of points and their ways out: how far the surface is, where, and its way out there."""


def _on_faces(faces: Faces, *, is_signed: bool) -> _Ground:
    return lambda points, ways: faces.nearest(points, ways, is_signed=is_signed)


def _on_points(known: Surface, *, is_signed: bool) -> _Ground:
    """The nearest point, whose plane stands for the surface: how far is asked of all the planes about it."""
    tree, reach = cKDTree(known.points_mm), _REACH * _spacing(known)

    def found(points: Floats, ways: Floats) -> _Found:
        far, which = (np.asarray(each) for each in tree.query(points, k=min(_NEIGHBOURS, len(known.points_mm))))
        theirs = known.ways_out[which]
        facing = np.einsum("ij,ikj->ik", ways, theirs)
        across = np.abs(np.einsum("ikj,ikj->ik", points[:, None] - known.points_mm[which], theirs))
        same = ((facing if is_signed else np.abs(facing)) > _FACING) & (far < reach)
        plane = np.where(same, across, np.inf).min(axis=1)
        away = np.where(np.isfinite(plane), np.minimum(plane, far[:, 0]), far[:, 0])
        return away, known.points_mm[which[:, 0]], theirs[:, 0]

    return found


def _rivals(turns: Floats, far: Floats) -> list[int]:
    """Those that lie nearly as well as the best, each turned otherwise than the ones before."""
    found: list[int] = []
    for at in np.argsort(far, kind="stable").tolist():
        turn_of = [(np.trace(turns[each].T @ turns[at]) - 1) / 2 for each in found]
        if far[at] <= far.min() * _NEARLY and all(cosine < _OTHERWISE for cosine in turn_of):
            found.append(at)
    return found[:_RIVALS]


_Pose = tuple[Floats, Floats]


def _best_of(poses: list[_Pose], own: tuple[Floats, Floats], ground: _Ground, measured: _Ground, trim: float) -> _Pose:
    """The pose whose points lie nearest to the surface of the known one, each first slid into place."""
    if len(poses) == 1:
        return poses[0]
    points, ways = (each[:_RIVAL_POINTS] for each in own)
    tried = []
    for pose in poses:
        _, turn, move = _along_ways((points, ways), ground, pose, trim, _RIVAL_STEPS, is_sized=True)
        away, *_ = measured(points @ turn.T + move, ways @ turn.T)
        tried.append((float(np.sort(away)[: max(1, int(trim * len(away)))].mean() if trim < _TRIM_ALIKE else away.mean()), turn, move))
    _, turn, move = min(tried, key=lambda each: each[0])
    return turn, move


def _spread(points: Floats) -> float:
    return float(np.sqrt(((points - points.mean(axis=0)) ** 2).sum(axis=1).mean())) or 1e-300


def _closer(  # noqa: PLR0917  one pose after the other
    points: Floats, tree: cKDTree, turns: Floats, moves: Floats, steps: int, trim: float
) -> tuple[Floats, Floats, Floats]:
    """All poses a few steps better, and how far each lies then: the mean of the nearer points."""
    kept = max(3, int(len(points) * trim))
    far = np.zeros(len(turns))
    for _ in range(steps):
        placed = np.einsum("nij,pj->npi", turns, points) + moves[:, None]
        distance, which = (np.asarray(each) for each in tree.query(placed))
        order = np.argpartition(distance, kept - 1, axis=1)[:, :kept]
        far = np.take_along_axis(distance, order, axis=1).mean(axis=1)
        turns, moves = _fitted(points[order], tree.data[np.take_along_axis(which, order, axis=1)])
    return turns, moves, far


def _fitted(ours: Floats, theirs: Floats) -> tuple[Floats, Floats]:
    """The turns and moves that bring (n, p, 3) points nearest to others (Kabsch 1976)."""
    middle, other = ours.mean(axis=1), theirs.mean(axis=1)
    u, _, vt = np.linalg.svd(np.einsum("npi,npj->nij", ours - middle[:, None], theirs - other[:, None]))
    flip = np.ones((len(ours), 3))
    flip[:, 2] = np.sign(np.linalg.det(np.einsum("nij,njk->nik", u, vt)))
    turns = np.einsum("nji,nj,nkj->nik", vt, flip, u)
    return turns, other - np.einsum("nij,nj->ni", turns, middle)


def _along_ways(
    own: tuple[Floats, Floats], ground: _Ground, pose: _Pose, trim: float, steps: int, *, is_sized: bool
) -> tuple[float, Floats, Floats]:
    """The last steps: each point may slide along the face it lies at, so that the few on the rim of a plate place it too.

    is_sized: False where the size is only nearly right and is found as well. Gives how much larger, the turn and the move.
    """
    (points, ways), larger = own, 1.0
    turn, move = pose
    for at in range(steps):
        placed, facing = larger * points @ turn.T + move, ways @ turn.T
        _, place, theirs = ground(placed, facing)
        gap = np.einsum("ij,ij->i", place - placed, theirs)
        same = np.abs(np.einsum("ij,ij->i", facing, theirs)) > _FACING
        if same.sum() < 12:
            break
        use = same & (np.abs(gap) <= np.quantile(np.abs(gap[same]), trim))
        if 2 * at >= steps:
            use &= ~_astray(np.abs(gap), theirs, use)
        middle = placed[use].mean(axis=0)
        out = placed[use] - middle
        rows = np.hstack([np.cross(out, theirs[use]), theirs[use], np.einsum("ij,ij->i", out, theirs[use])[:, None]])
        size = max(float(np.abs(out).max()), 1e-300)
        rows[:, [0, 1, 2, 6]] /= size  # so that turning, growing and moving weigh alike
        rows = rows[:, :6] if is_sized else rows
        heavy = rows * _rarity(theirs[use])[:, None]
        step = np.linalg.solve(heavy.T @ rows + 1e-9 * len(rows) * np.eye(rows.shape[1]), heavy.T @ gap[use])
        more, grown = _turned(step[:3] / size), 1.0 if is_sized else 1 + step[6] / size
        turn, larger = more @ turn, larger * grown
        move = grown * (more @ (move - middle)) + middle + step[3:6]
        if np.abs(step).max() < _STILL:
            break
    return larger, turn, move


def _astray(gap: Floats, theirs: Floats, among: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """What lies much farther away than others that face the same of six ways."""
    side = _sides(theirs)
    limit = np.array([_ASTRAY * np.median(gap[here]) if (here := among & (side == each)).any() else np.inf for each in range(6)])
    return gap > limit[side] + 1e-9


def _rarity(ways: Floats) -> Floats:
    """The rarer a way out, the more it weighs: each of six directions as much as the others."""
    bucket = _sides(ways)
    count = np.bincount(bucket, minlength=6)
    weight: Floats = len(ways) / 6 / np.maximum(count[bucket], len(ways) / 200)
    return weight


def _sides(ways: Floats) -> NDArray[np.int64]:
    """To which of six sides each way out goes."""
    axis = np.abs(ways).argmax(axis=1)
    side: NDArray[np.int64] = 2 * axis + (np.take_along_axis(ways, axis[:, None], axis=1)[:, 0] > 0)
    return side


def _turned(about: Floats) -> Floats:
    """The turn by an axis times an angle (Rodrigues)."""
    angle = float(np.linalg.norm(about))
    if angle < 1e-15:
        return np.eye(3)
    x, y, z = about / angle
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    turned: Floats = np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * (cross @ cross)
    return turned
