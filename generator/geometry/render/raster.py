"""Which face is nearest in each pixel."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

__all__ = ["FAR", "Layer", "rasterised"]

FAR = np.float32(-1e9)  # depth where there is no face
PIXELS_AT_ONCE = 3_000_000  # bounds the memory of one step
ROWS_AT_ONCE = 3_000_000  # rows of faces, likewise
# A face is looked at row by row and pixel by pixel. Where there are more than many, a dozen for each sample of the largest picture,
# the nearest faces are drawn first and what they hide is passed; beyond the most what lies farthest is left out. A part has a dozen such looks.
MANY, MOST = 16_000_000, 32_000_000  # rows and pixels of all faces together: at most some 1.5 s
TILE = 8  # px
DEPTH_STEPS = float(1 << 30)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """depth: (h, w) towards the eye, FAR where empty; face: (h, w) index, -1 where empty."""

    depth: NDArray[np.float32]
    face: NDArray[np.int32]


def rasterised(corners: NDArray[np.float64], width: int, height: int) -> Layer:
    """Draw faces with a depth buffer; a pixel belongs to a face that covers its middle.

    corners: (m, 3, 3) x and y in px from the top left, depth larger when nearer.

    All faces at once: each becomes one span a row, each span its pixels; depth and face number
    share one integer, so that the nearest wins in a single pass and ties go to the later face.
    """
    buffer = np.full(width * height, -1, dtype=np.int64)
    near, far = float(corners[:, :, 2].max(initial=0)), float(corners[:, :, 2].min(initial=0))
    step = DEPTH_STEPS / max(near - far, 1e-6)
    work = _work(corners, width, height)
    is_much = int(work.sum()) > MANY
    faces = np.argsort(-corners[:, :, 2].max(axis=1), kind="stable") if is_much else np.arange(len(corners))
    spent = 0
    for portion in _portions(work[faces]):
        drawn = faces[portion]
        if is_much and spent:
            drawn = drawn[~_hidden(buffer.reshape(height, width), corners[drawn], far, step)]
        spent += int(work[drawn].sum())
        if spent > MOST:
            break
        _draw(buffer, corners, drawn, (width, height), (far, step))
    empty = buffer < 0
    depth = ((buffer >> 32) / step + far).astype(np.float32)
    depth[empty] = FAR
    face = (buffer & 0xFFFFFFFF).astype(np.int32)
    face[empty] = -1
    return Layer(depth=depth.reshape(height, width), face=face.reshape(height, width))


def _work(corners: NDArray[np.float64], width: int, height: int) -> NDArray[np.int64]:
    """How many rows and pixels of the picture each face may have: (m,)."""
    x, y = np.clip(corners[:, :, 0], 0, width), np.clip(corners[:, :, 1], 0, height)
    rows, columns = np.ceil(np.ptp(y, axis=1)), np.ceil(np.ptp(x, axis=1))
    u, v = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    inside = np.minimum(np.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) / 2, rows * columns)
    work: NDArray[np.int64] = (rows + inside + 1).astype(np.int64)
    return work


def _portions(work: NDArray[np.int64]) -> list[slice]:
    """Faces one behind the other, so many that none is too much at once."""
    number = np.cumsum(work) // ROWS_AT_ONCE
    stops = [0, *(np.flatnonzero(np.diff(number)) + 1).tolist(), len(work)]
    return [slice(begin, end) for begin, end in pairwise(stops)]


def _hidden(buffer: NDArray[np.int64], corners: NDArray[np.float64], far: float, step: float) -> NDArray[np.bool_]:
    """Which faces lie behind what is drawn already wherever they are: (m,)."""
    height, width = buffer.shape
    padded = np.pad(buffer, ((0, -height % TILE), (0, -width % TILE)), constant_values=np.iinfo(np.int64).max)
    tiles = padded.reshape(padded.shape[0] // TILE, TILE, -1, TILE).min(axis=(1, 3)) >> 32
    nearest = np.clip((corners[:, :, 2].max(axis=1) - far) * step, 0, DEPTH_STEPS).astype(np.int64)
    low, high = (each(corners[:, :, :2], axis=1) for each in (np.min, np.max))
    first = np.clip(low // TILE, 0, [tiles.shape[1] - 1, tiles.shape[0] - 1]).astype(np.int64)
    last = np.clip(high // TILE, 0, [tiles.shape[1] - 1, tiles.shape[0] - 1]).astype(np.int64)
    hidden = np.zeros(len(corners), dtype=bool)
    # Of a face that is large the tiles are looked at as far as the bound goes: it is drawn, hidden or not.
    count = (last - first + 1).prod(axis=1)
    asked = np.flatnonzero(np.cumsum(np.minimum(count, ROWS_AT_ONCE)) <= ROWS_AT_ONCE)
    if not len(asked):
        return hidden
    many, across = count[asked], (last - first + 1)[asked, 0]
    of = np.repeat(np.arange(len(asked)), many)
    place = np.arange(len(of)) - np.repeat(np.cumsum(many) - many, many)
    down, right = np.divmod(place, across[of])
    covered = tiles[first[asked, 1][of] + down, first[asked, 0][of] + right] > nearest[asked][of]
    hidden[asked] = np.logical_and.reduceat(covered, np.cumsum(many) - many)
    return hidden


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spans:
    """Runs of pixels in one row and one face: first pixel, length, depth there, depth a pixel."""

    start: NDArray[np.int64]
    length: NDArray[np.int64]
    depth: NDArray[np.float64]
    slope: NDArray[np.float64]

    def part(self, begin: int, end: int) -> "_Spans":
        return _Spans(
            start=self.start[begin:end],
            length=self.length[begin:end],
            depth=self.depth[begin:end],
            slope=self.slope[begin:end],
        )


def _draw(
    buffer: NDArray[np.int64], corners: NDArray[np.float64], faces: NDArray[np.int64], size: tuple[int, int], depths: tuple[float, float]
) -> None:
    """Draw some faces. size: width and height. depths: the farthest and the steps to a px."""
    which, spans = _spans(corners[faces], *size)
    portion = np.cumsum(spans.length) // PIXELS_AT_ONCE
    stops = [0, *(np.flatnonzero(np.diff(portion)) + 1).tolist(), len(portion)]
    for begin, end in pairwise(stops):
        _fill(buffer, spans.part(begin, end), faces[which[begin:end]], *depths)


def _fill(
    buffer: NDArray[np.int64], spans: _Spans, which: NDArray[np.int64], far: float, step: float
) -> None:
    first = np.cumsum(spans.length) - spans.length
    along = np.arange(int(spans.length.sum())) - np.repeat(first, spans.length)
    pixel = np.repeat(spans.start, spans.length) + along
    depth = np.repeat((spans.depth - far) * step, spans.length)
    depth += np.repeat(spans.slope * step, spans.length) * along
    np.clip(depth, 0, DEPTH_STEPS, out=depth)
    packed = (depth.astype(np.int64) << 32) | np.repeat(which, spans.length)
    np.maximum.at(buffer, pixel, packed)


def _spans(corners: NDArray[np.float64], width: int, height: int) -> tuple[NDArray[np.int64], _Spans]:
    """Cut each face into rows; the face of each span, and the spans."""
    x, y, z = corners[:, :, 0], corners[:, :, 1], corners[:, :, 2]
    top = np.clip(np.ceil(y.min(axis=1) - 0.5), 0, height).astype(np.int64)
    bottom = np.clip(np.ceil(y.max(axis=1) - 0.5), 0, height).astype(np.int64)
    wide = np.ceil(x.max(axis=1) - 0.5) > np.ceil(x.min(axis=1) - 0.5)
    ux, uy, vx, vy = x[:, 1] - x[:, 0], y[:, 1] - y[:, 0], x[:, 2] - x[:, 0], y[:, 2] - y[:, 0]
    twice_area = ux * vy - uy * vx
    seen = np.flatnonzero((bottom > top) & wide & (np.abs(twice_area) > 1e-12))
    uz, vz = z[seen, 1] - z[seen, 0], z[seen, 2] - z[seen, 0]
    slope_x = (uz * vy[seen] - vz * uy[seen]) / twice_area[seen]
    slope_y = (vz * ux[seen] - uz * vx[seen]) / twice_area[seen]
    origin = z[seen, 0] - slope_x * x[seen, 0] - slope_y * y[seen, 0]
    order = np.argsort(y[seen], axis=1, kind="stable")
    sx, sy = np.take_along_axis(x[seen], order, 1), np.take_along_axis(y[seen], order, 1)

    rows = bottom[seen] - top[seen]
    of = np.repeat(np.arange(len(seen)), rows)
    row = np.arange(len(of)) - np.repeat(np.cumsum(rows) - rows, rows) + top[seen][of]
    middle = row + 0.5
    side = np.where(middle < sy[of, 1], 0, 1)  # of the two short ones
    long_side = _lean(sx, sy, 0, 2)[of] * (middle - sy[of, 0]) + sx[of, 0]
    lean = np.column_stack([_lean(sx, sy, 0, 1), _lean(sx, sy, 1, 2)])
    short_side = lean[of, side] * (middle - sy[of, side]) + sx[of, side]
    left = np.ceil(np.minimum(long_side, short_side) - 0.5)
    right = np.ceil(np.maximum(long_side, short_side) - 0.5)
    first = np.clip(left, 0, width).astype(np.int64)
    length = np.clip(right, 0, width).astype(np.int64) - first
    full = np.flatnonzero(length > 0)
    of, row, first = of[full], row[full], first[full]
    return seen[of], _Spans(
        start=row * width + first,
        length=length[full],
        depth=origin[of] + slope_y[of] * (row + 0.5) + slope_x[of] * (first + 0.5),
        slope=slope_x[of],
    )


def _lean(x: NDArray[np.float64], y: NDArray[np.float64], start: int, end: int) -> NDArray[np.float64]:
    """How far the side from corner `start` to `end` moves along x for each row down."""
    drop = y[:, end] - y[:, start]
    lean: NDArray[np.float64] = (x[:, end] - x[:, start]) / np.where(drop > 0, drop, 1)
    return lean
