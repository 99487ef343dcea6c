"""Which closed shells share space, and which lies inside which."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from generator.geometry.boxtree import TooManyPairsError, close_faces

__all__ = ["Nesting", "nesting"]

# Touching is not crossing: a corner must reach this share of the mesh's diagonal beyond a plane.
BEYOND = 1e-7
SAMPLES = 48  # faces of one shell asked whether they lie inside another
# A hostile mesh ends by what is counted, never by a clock, so that any machine gives the same answer.
MOST_FACE_PAIRS = 4_000_000  # whose boxes overlap: about ten seconds
MOST_FACES_ASKED = 400_000_000  # faces of a shell looked at for one point: about ten seconds
MOST_SHELL_PAIRS = 25_000  # whose boxes overlap and that do not cross: each costs some 8,000 of those faces at least, both ways
# Turned by angles no draughtsman uses, so that a ray meets no edge of a modelled part.
_X, _Y, _Z = 0.7391, 0.3217, 0.5113


@dataclass(frozen=True, slots=True, kw_only=True)
class Nesting:
    """How closed shells lie to one another.

    overlapping: (s,) shells whose surfaces cross, or whose insides share space while neither
        holds the other.
    depth: (s,) in how many other shells each lies.
    within: pairs of shells of which the first lies in the second.
    is_known: False where there are so many to compare that it was given up; the others then say nothing.
    """

    overlapping: NDArray[np.bool_]
    depth: NDArray[np.int64]
    within: tuple[tuple[int, int], ...] = ()
    is_known: bool = True


def nesting(corners: NDArray[np.float64], shell: NDArray[np.int64], volume: NDArray[np.float64]) -> Nesting:
    """Compare all closed shells pair by pair.

    corners: (m, 3, 3) of consistently wound closed shells; shell: (m,) numbers 0 to s - 1;
    volume: (s,) signed.

    Sound: what is reported overlapping does overlap. Two ways find it: an edge that passes
    through the inside of a face (exact up to rounding), and points just below the surface of
    one shell that lie inside another (sampled, for flush surfaces, where nothing passes
    through). Shells that only touch do not overlap.
    """
    count = len(volume)
    overlapping = np.zeros(count, dtype=bool)
    depth = np.zeros(count, dtype=np.int64)
    if count < 2:
        return Nesting(overlapping=overlapping, depth=depth)
    corners = corners - corners.mean(axis=(0, 1))
    crossed = _crossing(corners, shell)
    if crossed is None:
        return Nesting(overlapping=overlapping, depth=depth, is_known=False)
    for a, b in sorted(crossed):
        overlapping[[a, b]] = True
    space = _Space(corners, shell, volume)
    within = []
    asked = 0
    try:
        meeting = _boxes_that_meet(space.low, space.high, crossed)
    except TooManyPairsError:
        return Nesting(overlapping=overlapping, depth=depth, is_known=False)
    for inner, outer in meeting:
        asked += space.cost(inner, outer)
        if asked > MOST_FACES_ASKED:
            return Nesting(overlapping=overlapping, depth=depth, is_known=False)
        inside = space.samples_inside(inner, outer)
        if inside.size and inside.all() and space.box_holds(outer, inner):
            depth[inner] += 1
            within.append((inner, outer))
        elif inside.any():
            overlapping[[inner, outer]] = True
    return Nesting(overlapping=overlapping, depth=depth, within=tuple(within))


def _crossing(corners: NDArray[np.float64], shell: NDArray[np.int64]) -> set[tuple[int, int]] | None:
    """Pairs of shells of which an edge of one passes through a face of the other; None where it is too much to tell."""
    beyond = BEYOND * float(np.linalg.norm(np.ptp(corners.reshape(-1, 3), axis=0)))
    found: set[tuple[int, int]] = set()
    tried = 0
    try:
        for a, b in close_faces(corners, shell):
            tried += len(a)
            if tried > MOST_FACE_PAIRS:
                return None
            for one, other in ((a, b), (b, a)):
                hit = _edges_pass(corners[one], corners[other], beyond)
                pairs = np.sort(np.column_stack([shell[one[hit]], shell[other[hit]]]), axis=1)
                found.update((int(low), int(high)) for low, high in np.unique(pairs, axis=0))
    except TooManyPairsError:
        return None
    return found


def _edges_pass(edged: NDArray[np.float64], pierced: NDArray[np.float64], beyond: float) -> NDArray[np.bool_]:
    """Whether an edge of `edged` passes through the inside of `pierced`: (k,)."""
    a, b, c = np.moveaxis(pierced, 1, 0)
    normal = np.cross(b - a, c - a)
    length = np.linalg.norm(normal, axis=1)
    normal /= np.maximum(length, 1e-300)[:, None]
    height = np.einsum("kij,kj->ki", edged - a[:, None], normal)
    passes = np.zeros(len(edged), dtype=bool)
    for i, j in ((0, 1), (1, 2), (2, 0)):
        through = (height[:, i] > beyond) & (height[:, j] < -beyond)
        through |= (height[:, i] < -beyond) & (height[:, j] > beyond)
        at = np.flatnonzero(through & (length > 0))
        share = height[at, i] / (height[at, i] - height[at, j])
        point = edged[at, i] + share[:, None] * (edged[at, j] - edged[at, i])
        within = np.ones(len(at), dtype=bool)
        for start, end in ((a, b), (b, c), (c, a)):
            side = np.cross(end[at] - start[at], point - start[at])
            within &= np.einsum("ij,ij->i", side, normal[at]) > beyond * beyond
        passes[at[within]] = True
    return passes


def _boxes_that_meet(low: NDArray[np.float64], high: NDArray[np.float64], crossed: set[tuple[int, int]]) -> list[tuple[int, int]]:
    """Ordered pairs of shells with overlapping boxes, but for those that cross. Raises TooManyPairsError beyond `MOST_SHELL_PAIRS`."""
    found: list[tuple[int, int]] = []
    for a, b in close_faces(np.stack([low, high], axis=1), np.arange(len(low))):
        pairs = np.sort(np.column_stack([a, b]), axis=1).tolist()
        found += [(one, other) for one, other in pairs if (one, other) not in crossed]
        if len(found) > MOST_SHELL_PAIRS:
            raise TooManyPairsError
    return sorted([*found, *((other, one) for one, other in found)])


class _Space:
    """Closed shells in a turned frame, ready to be asked whether a point is inside."""

    def __init__(
        self,
        corners: NDArray[np.float64],
        shell: NDArray[np.int64],
        volume: NDArray[np.float64],
    ) -> None:
        turned = corners @ _turn()
        order = np.argsort(shell, kind="stable")
        starts = np.searchsorted(shell[order], np.arange(len(volume) + 1))
        self._faces = [
            turned[order[begin:end]]
            for begin, end in zip(starts[:-1].tolist(), starts[1:].tolist(), strict=True)
        ]
        self._outward = np.sign(volume)
        self.low = np.array([faces.min(axis=(0, 1)) for faces in self._faces])
        self.high = np.array([faces.max(axis=(0, 1)) for faces in self._faces])

    def cost(self, one: int, other: int) -> int:
        """How many faces `samples_inside` looks at, at most; a point costs some thousand beside."""
        return min(SAMPLES, len(self._faces[one])) * (len(self._faces[other]) + 2000)

    def box_holds(self, outer: int, inner: int) -> bool:
        """Whether one shell's box lies within the other's."""
        return bool(
            (self.low[outer] <= self.low[inner]).all() and (self.high[outer] >= self.high[inner]).all()
        )

    def samples_inside(self, one: int, other: int) -> NDArray[np.bool_]:
        """Whether points just below the surface of one shell lie inside the other."""
        faces = self._faces[one]
        middle = faces.mean(axis=1)
        near = ((middle >= self.low[other]) & (middle <= self.high[other])).all(axis=1)
        chosen = np.flatnonzero(near)
        chosen = chosen[np.linspace(0, len(chosen) - 1, min(SAMPLES, len(chosen))).astype(int)]
        a, b, c = np.moveaxis(faces[chosen], 1, 0)
        normal = np.cross(b - a, c - a) * self._outward[one]
        twice_area = np.linalg.norm(normal, axis=1)
        solid = twice_area > 0
        below = 2e-4 * normal[solid] / np.sqrt(twice_area[solid])[:, None]
        points = middle[chosen][solid] - below
        answers = [self._winding(point, other) != 0 for point in points]
        return np.array(answers, dtype=bool)

    def _winding(self, point: NDArray[np.float64], shell: int) -> int:
        """How often the shell goes round the point: faces above it, counted with their sign."""
        faces = self._faces[shell]
        x, y = faces[:, :, 0] - point[0], faces[:, :, 1] - point[1]
        over = (x.min(1) <= 0) & (x.max(1) >= 0) & (y.min(1) <= 0) & (y.max(1) >= 0)
        x, y, z = x[over], y[over], faces[over, :, 2] - point[2]
        turn = np.stack([x[:, i] * y[:, j] - x[:, j] * y[:, i] for i, j in ((1, 2), (2, 0), (0, 1))], axis=1)
        holds = (turn > 0).all(axis=1) | (turn < 0).all(axis=1)
        whole = turn[holds].sum(axis=1)
        height = (turn[holds] * z[holds]).sum(axis=1) / whole
        return int(np.sign(whole[height > 0]).sum())


def _turn() -> NDArray[np.float64]:
    """A rotation by three odd angles: (3, 3)."""
    turn = np.eye(3)
    for axis, angle in enumerate((_X, _Y, _Z)):
        i, j = (axis + 1) % 3, (axis + 2) % 3
        step = np.eye(3)
        step[i, i] = step[j, j] = np.cos(angle)
        step[i, j], step[j, i] = -np.sin(angle), np.sin(angle)
        turn = turn @ step
    return turn
