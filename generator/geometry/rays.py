"""Where does a ray first leave a solid? A tree of boxes over the faces, for many rays at once, with bounded work."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from generator.geometry.boxtree import along_curve
from generator.geometry.corners import least, most

__all__ = ["NO_FACE", "Hits", "RayTree", "TooMuchWorkError"]

NO_FACE = -1
FANOUT = 4
NODES_AT_ONCE = 30_000  # bounds the memory of one step
# Large faces stand in the tree piece by piece: their one box would be in the way of nearly every ray.
FINEST_PIECE = 32  # to the mesh's diagonal
PIECES_A_FACE, FEWEST_PIECES = 3, 12_000
# A ray is tried short first: most walls are thin, and a short ray meets few boxes.
LENGTHS = (1 / 64, 1 / 8, 1)  # of the diagonal
MARGIN = np.float32(2e-6)  # of the diagonal around each box, so that rounding opens no seam between two
ON_EDGE = 1e-9  # a ray through an edge meets both faces rather than none


class TooMuchWorkError(Exception):
    """More boxes and faces would have to be tried than was allowed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hits:
    """Where each ray first leaves: how far off in mm, inf where nowhere, and by which face, NO_FACE where by none."""

    distance: NDArray[np.float64]
    face: NDArray[np.int64]


class RayTree:
    """The faces of a mesh, to be met by rays."""

    def __init__(self, corners: NDArray[np.float64], *, most_work: int) -> None:
        """corners: (m, 3, 3), about the origin. most_work: what all rays together may cost, see `work`."""
        self._corner = corners[:, 0].copy()
        self._sides = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        self.diagonal = float(np.linalg.norm(np.ptp(corners, axis=(0, 1))))
        self._levels, self._face = _levels(corners / self.diagonal)
        self._most_work = most_work
        self.work = 0
        """How many boxes were tried; the same for the same rays on every machine."""

    def first_hits(
        self, origins: NDArray[np.float64], directions: NDArray[np.float64], nearest_mm: float
    ) -> Hits:
        """Where rays leave beyond nearest_mm; both (n, 3), directions of length 1.

        Faces that look at the ray do not count: from inside only a body in touch with this one shows one.
        Raises TooMuchWorkError.
        """
        rays = _Rays(
            origins=origins,
            directions=directions,
            nearest_mm=nearest_mm,
            home=(origins / self.diagonal).astype(np.float32).T.copy(),
            inverse=(1 / np.where(np.abs(directions) < 1e-30, 1e-30, directions)).astype(np.float32).T.copy(),
        )
        found = Hits(distance=np.full(len(origins), np.inf), face=np.full(len(origins), NO_FACE))
        for share in LENGTHS:
            waiting = np.flatnonzero(~np.isfinite(found.distance))
            self._meet_within(rays, waiting, share, found)
        return found

    def _meet_within(self, rays: "_Rays", asked: NDArray[np.int64], share: float, found: Hits) -> None:
        """Follow rays down the tree as far as a share of the diagonal; each step tries the boxes in one node."""
        portions = [(0, asked, np.zeros(len(asked), dtype=np.int64))]
        while portions:
            depth, ray, node = portions.pop()
            if len(ray) > NODES_AT_ONCE:
                half = len(ray) // 2
                portions += [(depth, ray[half:], node[half:]), (depth, ray[:half], node[:half])]
                continue
            self.work += len(ray) * FANOUT
            if self.work > self._most_work:
                raise TooMuchWorkError
            limit = np.minimum(found.distance[ray] / self.diagonal, share).astype(np.float32) + MARGIN
            which, child = np.nonzero(_crossed(self._levels[depth][node], rays, ray, limit))
            ray, child = ray[which], node[which] * FANOUT + child
            if depth == len(self._levels) - 1:
                self._meet(rays, ray, self._face[child], share * self.diagonal, found)
            elif len(ray):
                portions.append((depth + 1, ray, child))

    def _meet(
        self, rays: "_Rays", ray: NDArray[np.int64], face: NDArray[np.int64], reach: float, found: Hits
    ) -> None:
        """Möller and Trumbore's test of rays against faces, pair by pair; faces that look at the ray are passed."""
        along, b, c = rays.directions[ray], self._sides[0][face], self._sides[1][face]
        across = _cross(along, c)
        scale = _dot(b, across)
        scale[scale >= 0] = np.nan  # the ray comes from in front of the face, or along it: nothing is met
        offset = rays.origins[ray] - self._corner[face]
        u = _dot(offset, across) / scale
        turned = _cross(offset, b)
        v = _dot(along, turned) / scale
        distance = _dot(c, turned) / scale
        met = (u >= -ON_EDGE) & (v >= -ON_EDGE) & (u + v <= 1 + ON_EDGE)
        met &= (distance > rays.nearest_mm) & (distance <= reach)
        ray, face, distance = ray[met], face[met], distance[met]
        np.minimum.at(found.distance, ray, distance)
        nearest = distance == found.distance[ray]
        found.face[ray[nearest]] = face[nearest]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rays:
    """home and inverse: (3, n) the origins as shares of the diagonal and 1 / directions, in single precision for the boxes."""

    origins: NDArray[np.float64]
    directions: NDArray[np.float64]
    nearest_mm: float
    home: NDArray[np.float32]
    inverse: NDArray[np.float32]


def _crossed(
    boxes: NDArray[np.float32], rays: _Rays, ray: NDArray[np.int64], limit: NDArray[np.float32]
) -> NDArray[np.bool_]:
    """Whether each ray crosses each box of its node before its limit: (k, FANOUT); boxes: (k, 6, FANOUT)."""
    entered: NDArray[np.float32] | np.float32 = np.float32(0)
    left: NDArray[np.float32] | np.float32 = np.float32(np.inf)
    for axis in range(3):
        origin, inverse = rays.home[axis][ray][:, None], rays.inverse[axis][ray][:, None]
        low, high = (boxes[:, axis] - origin) * inverse, (boxes[:, 3 + axis] - origin) * inverse
        entered = np.maximum(entered, np.minimum(low, high))
        left = np.minimum(left, np.maximum(low, high))
    crossed: NDArray[np.bool_] = entered <= np.minimum(left, limit[:, None])
    return crossed


def _levels(corners: NDArray[np.float64]) -> tuple[list[NDArray[np.float32]], NDArray[np.int64]]:
    """Nodes from the top down, the boxes in each (k, 6, FANOUT) low and high, and the face in each box of the last.

    Boxes of NaN, which no ray crosses, fill up. corners: (m, 3, 3) of a mesh with a diagonal of 1.
    """
    pieces, face = _pieces(corners)
    order = np.argsort(along_curve(pieces.mean(axis=1)), kind="stable")
    pieces, face = pieces[order], face[order]
    boxes = np.concatenate([least(pieces) - MARGIN, most(pieces) + MARGIN], axis=1)
    levels: list[NDArray[np.float32]] = []
    while not levels or len(boxes) > 1:
        filled = np.pad(boxes, ((0, -len(boxes) % FANOUT), (0, 0)), constant_values=np.nan)
        nodes = filled.reshape(-1, FANOUT, 6)
        levels.append(nodes.transpose(0, 2, 1).astype(np.float32))
        boxes = np.concatenate([_of_four(np.fmin, nodes[:, :, :3]), _of_four(np.fmax, nodes[:, :, 3:])], axis=1)
    return levels[::-1], face


def _of_four(each: np.ufunc, boxes: NDArray[np.float64]) -> NDArray[np.float64]:
    """Over the boxes of each node, (k, FANOUT, 3): written out for the reason that corners.py gives."""
    found: NDArray[np.float64] = each(each(boxes[:, 0], boxes[:, 1]), each(boxes[:, 2], boxes[:, 3]))
    return found


def _pieces(corners: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Faces halved at their longest side while they are large, and the face of each piece."""
    allowed = max(PIECES_A_FACE * len(corners), FEWEST_PIECES)
    pieces, face = corners, np.arange(len(corners))
    size = _sizes(pieces)
    part = 2
    while part <= FINEST_PIECE:
        large = np.flatnonzero(size > 1 / part)
        if not len(large):
            part *= 2
            continue
        if len(pieces) + len(large) > allowed:
            break
        one, other = _halves(pieces[large])
        pieces[large], size[large] = one, _sizes(one)
        pieces, face = np.concatenate([pieces, other]), np.concatenate([face, face[large]])
        size = np.concatenate([size, _sizes(other)])
    return pieces, face


def _sizes(corners: NDArray[np.float64]) -> NDArray[np.float64]:
    """The longest side of each piece's box: (m,)."""
    x, y, z = (most(corners) - least(corners)).T
    size: NDArray[np.float64] = np.maximum(np.maximum(x, y), z)
    return size


def _halves(corners: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    edge = np.roll(corners, -1, axis=1) - corners
    longest = np.einsum("ijk,ijk->ij", edge, edge).argmax(axis=1)
    turn = (longest[:, None] + np.arange(3)) % 3
    a, b, c = np.take_along_axis(corners, turn[:, :, None], axis=1).transpose(1, 0, 2)
    middle = (a + b) / 2
    return np.stack([a, middle, c], axis=1), np.stack([middle, b, c], axis=1)


def _cross(a: NDArray[np.float64], b: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.column_stack(
        [
            a[:, 1] * b[:, 2] - a[:, 2] * b[:, 1],
            a[:, 2] * b[:, 0] - a[:, 0] * b[:, 2],
            a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0],
        ]
    )


def _dot(a: NDArray[np.float64], b: NDArray[np.float64]) -> NDArray[np.float64]:
    product: NDArray[np.float64] = a[:, 0] * b[:, 0] + a[:, 1] * b[:, 1] + a[:, 2] * b[:, 2]
    return product
