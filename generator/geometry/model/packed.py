"""A model as few bytes, and back again.

A head of JSON, its length before it (uint32); then planes, low bytes first, each before the next so that like stands beside like:
the points (the way from one to the next along x, y, z, zigzag, 2 planes each), the faces (how far each corner is below the
next one that is new, 3 planes), a bit for each edge of each face, and the corners like the points. All of it deflated (zlib, RFC 1950).
The browser's model/unpacked.js reads it.
"""

from __future__ import annotations

import json
import zlib
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from generator.geometry.model.kinds import Model

__all__ = ["packed", "unpacked"]

Ints = NDArray[np.int64]

FORM = 1
_BITS = 8  # of each axis, by which faces that have no order of their own are put beside their neighbours


def packed(model: Model) -> bytes:
    """The model as it is kept; of the two orders of faces that are tried, the file's and by place, the smaller one."""
    return min((_in_order(model, order) for order in (np.arange(len(model.faces)), _by_place(model))), key=len)


def unpacked(content: bytes) -> Model:
    """Read back what `packed` gave; its faces and points may stand in another order. ValueError for anything else."""
    try:
        plain = zlib.decompress(content)
        length = int.from_bytes(plain[:4], "little")
        head = json.loads(plain[4 : 4 + length])
        counts = [int(head[name]) for name in ("points", "faces", "corners")]
        sizes = [6 * counts[0], 9 * counts[1], -(-3 * counts[1] // 8), 6 * counts[2]]
        ends = np.cumsum([4 + length, *sizes])
        if head["form"] != FORM or ends[-1] != len(plain):
            raise ValueError("cut short")
        points, faces, lines, corners = (plain[a:b] for a, b in pairwise(ends))
        return Model(
            low_mm=tuple(head["low_mm"]),
            step_mm=head["step_mm"],
            points=_points(points),
            faces=_faces(faces),
            lines=np.unpackbits(np.frombuffer(lines, np.uint8), count=3 * counts[1], bitorder="little").astype(bool).reshape(-1, 3),
            corners=_points(corners),
            is_closed=head["is_closed"],
            within_mm=head["within_mm"],
            made_of=head["made_of"],
        )
    except (zlib.error, KeyError, TypeError) as error:
        raise ValueError(f"no packed model: {error}") from error


def _in_order(model: Model, order: Ints) -> bytes:
    """The faces in this order, the points as faces name them first, and those that none names left out."""
    faces = model.faces[order]
    used, first = np.unique(faces, return_index=True)
    named = used[np.argsort(first)]
    place = np.zeros(len(model.points), dtype=np.int64)
    place[named] = np.arange(len(named))
    head = {
        "form": FORM,
        "low_mm": model.low_mm,
        "step_mm": model.step_mm,
        "points": len(named),
        "faces": len(faces),
        "corners": len(model.corners),
        "is_closed": model.is_closed,
        "within_mm": model.within_mm,
        "made_of": model.made_of,
    }
    told = json.dumps(head, sort_keys=True, separators=(",", ":")).encode()
    lines = np.packbits(model.lines[order].ravel(), bitorder="little").tobytes()
    parts = (_ways(model.points[named]), _below(place[faces]), lines, _ways(model.corners[np.lexsort(model.corners.T)]))
    return zlib.compress(len(told).to_bytes(4, "little") + told + b"".join(parts), 9)


def _by_place(model: Model) -> Ints:
    """The faces along a Z-order curve through their middles."""
    cell = model.points[model.faces].astype(np.int64).sum(axis=1) // 3 >> (16 - _BITS)
    key = np.zeros(len(cell), dtype=np.int64)
    for bit in range(_BITS):
        for axis in range(3):
            key |= (cell[:, axis] >> bit & 1) << (3 * bit + axis)
    return np.argsort(key, kind="stable")


def _ways(points: NDArray[np.uint16]) -> bytes:
    here = points.astype(np.int64)
    way = here - np.concatenate([np.zeros((1, 3), dtype=np.int64), here[:-1]])
    way = (way + 32_768) % 65_536 - 32_768  # around the end: 16 bits hold every way
    return _planes(((way << 1) ^ (way >> 63)).T, 2)


def _points(content: bytes) -> NDArray[np.uint16]:
    zigzag = _numbers(content, 3, 2)
    return (np.cumsum((zigzag >> 1) ^ -(zigzag & 1), axis=1) % 65_536).astype(np.uint16).T


def _below(faces: Ints) -> bytes:
    flat = faces.ravel()
    fresh = np.concatenate(([0], np.maximum.accumulate(flat)[:-1] + 1))
    return _planes((fresh - flat)[None], 3)


def _faces(content: bytes) -> Ints:
    below = _numbers(content, 1, 3)[0]
    fresh = np.concatenate(([0], np.cumsum(below == 0)[:-1]))
    faces: Ints = (fresh - below).reshape(-1, 3)
    return faces


def _planes(rows: Ints, size: int) -> bytes:
    """For each row its lowest bytes, then the next: `size` of each number."""
    return b"".join((row >> 8 * plane & 255).astype(np.uint8).tobytes() for row in rows for plane in range(size))


def _numbers(content: bytes, rows: int, size: int) -> Ints:
    planes = np.frombuffer(content, np.uint8).reshape(rows, size, -1).astype(np.int64)
    numbers: Ints = (planes << 8 * np.arange(size)[:, None]).sum(axis=1)
    return numbers
