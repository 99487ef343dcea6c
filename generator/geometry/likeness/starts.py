"""In which poses may one shape lie on another, before any of them is looked at more closely?"""

from __future__ import annotations

from itertools import permutations, product
from typing import Final

import numpy as np
from numpy.typing import NDArray

__all__ = ["places", "starts"]

Floats = NDArray[np.float64]

_ALIKE: Final = 0.88  # two principal radii that are nearer than this may be exchanged, for holes and pieces lost move them
_LOST_LEAST, _LOST_MOST = 0.1, 0.7  # of the surface
_TURNS: Final = 16  # steps about an axis that is alone
_SIGNS: Final = np.array([np.diag(s) for s in product((1.0, -1.0), repeat=3) if np.prod(s) > 0])


def _cube() -> Floats:
    """The 24 turns of a cube: (24, 3, 3)."""
    every = [np.eye(3)[list(order)] * np.array(s)[:, None] for order in permutations(range(3)) for s in product((1.0, -1.0), repeat=3)]
    return np.array([each for each in every if np.linalg.det(each) > 0])


_CUBE: Final = _cube()


def starts(asked: Floats, known: Floats, *, all_ways: bool) -> Floats:
    """Turns that bring the principal axes of one set of points onto those of the other: (n, 3, 3).

    Where principal radii are alike the axes are no axes, and turns about the others are tried. all_ways: each axis may lie
    on each, and between them, for what has lost a piece.
    """
    radii_a, axes_a = _axes(asked)
    radii_k, axes_k = _axes(known)
    inner = _inner(np.minimum(_gaps(radii_a), 1), np.minimum(_gaps(radii_k), 1), all_ways=all_ways)
    turns: Floats = np.einsum("ji,njk,kl->nil", axes_k, inner, axes_a)
    return turns


def places(known: Floats, lost: float) -> Floats:
    """Where the middle of what is left may lie in the known one once a share of its surface is lost: (n, 3).

    Of a bar that has lost a share at one end the middle moves by half that share of its length; no end is known to be the lost one.
    """
    middles: Floats = known.mean(axis=0)[None]
    if lost >= _LOST_LEAST:
        axes = _axes(known)[1]
        by = np.ptp((known - middles) @ axes.T, axis=0) * min(lost, _LOST_MOST) / 2
        middles = np.vstack([middles, *(middles + sign * far * axis for far, axis in zip(by, axes, strict=True) for sign in (1, -1))])
    return middles


def _axes(points: Floats) -> tuple[Floats, Floats]:
    """Principal radii, smallest first, and their axes, one a row, right-handed."""
    centred = points - points.mean(axis=0)
    values, vectors = np.linalg.eigh(centred.T @ centred / len(centred))
    axes = vectors.T * np.array([1.0, 1.0, np.sign(np.linalg.det(vectors))])[:, None]
    return np.sqrt(np.maximum(values, 0)), axes


def _gaps(radii: Floats) -> Floats:
    """How alike the small two and the large two are: 1 = equal."""
    return radii[:2] / np.maximum(radii[1:], 1e-300)


def _inner(one: Floats, other: Floats, *, all_ways: bool) -> Floats:
    small, large = np.maximum(one, other) > _ALIKE
    if all_ways or (small and large):
        return np.concatenate([_CUBE @ _about(2, turn) for turn in (0, np.pi / 6, np.pi / 3)] + [_CUBE @ _about(0, np.pi / 4)])
    if small or large:
        alone = 2 if small else 0
        return np.concatenate([_SIGNS @ _about(alone, 2 * np.pi * i / _TURNS) for i in range(_TURNS // 2)])
    return _SIGNS


def _about(axis: int, turn: float) -> Floats:
    c, s = np.cos(turn), np.sin(turn)
    one, other = [each for each in range(3) if each != axis]
    turned = np.eye(3)
    turned[one, one] = turned[other, other] = c
    turned[one, other], turned[other, one] = -s, s
    return turned
