"""What lies under the part: a pale ground, its soft shadow, the dark line where it stands."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image as Picture
from scipy.ndimage import gaussian_filter

from generator.geometry.render.camera import Camera
from generator.geometry.render.raster import rasterised
from generator.geometry.render.shading import KEY_LIGHT

__all__ = ["shadow_picture"]

Floats = NDArray[np.float64]

PALE = np.array([0.962, 0.968, 0.974], dtype=np.float32)
TONE = np.array([1.0, 0.965, 0.92], dtype=np.float32)  # shadows in daylight are bluish
CELLS = 256  # of the ground along its longer side
SHADOW, CONTACT = 0.34, 0.46
REACH = 0.62  # length of shadows against the true one: they stay near the part and in the picture
LIFTED = 0.45  # how much paler the shadow of the highest is than that of what stands low
# Blur of the shadow of what is at a height, both as shares of the part's size: what stands high
# throws a softer shadow.
SOFTNESS = ((0.0, 0.008), (0.15, 0.022), (0.5, 0.055))
TOUCHING = 0.035  # height at which the contact shadow has faded, as a share of the size
FADE = 0.12  # of the picture's width, in which a shadow fades out towards its rim


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grid:
    """Square cells on the ground: the first corner, side length, columns and rows."""

    low: Floats
    cell: float
    columns: int
    rows: int

    def lowest(self, flat: Floats, height: Floats, faces: NDArray[np.int64]) -> Floats:
        """The lowest height over each cell, infinite where there is nothing: (rows, columns)."""
        on_grid = np.column_stack([(flat - self.low) / self.cell, -height])
        layer = rasterised(on_grid[faces], self.columns, self.rows)
        return np.where(layer.face >= 0, -layer.depth.astype(np.float64), np.inf)


def shadow_picture(
    scene: Floats,
    faces: NDArray[np.int64],
    normals: Floats | None,
    camera: Camera,
) -> NDArray[np.float32]:
    """The ground as the camera sees it: (h, w, 3), 0 to 1.

    scene: (n, 3) points with z up; faces: (m, 3); normals: (m, 3) of a closed surface, of which
    half is enough, or None. The ground touches the lowest point of these faces.
    """
    used = np.zeros(len(scene), dtype=bool)
    used[faces] = True
    floor = float(scene[used, 2].min())
    light = camera.axes.T @ KEY_LIGHT
    height = scene[:, 2] - floor
    below = scene[:, :2]
    cast = below - REACH * light[:2] / light[2] * height[:, None]
    size = float(np.linalg.norm(np.ptp(scene[used], axis=0)))
    reached = np.concatenate([cast[used], below[used]])
    low, high = reached.min(axis=0) - 0.18 * size, reached.max(axis=0) + 0.18 * size
    cell = float((high - low).max()) / CELLS
    columns, rows = (int(n) for n in np.ceil((high - low) / cell))
    grid = _Grid(low=low, cell=cell, columns=columns, rows=rows)
    away, down = faces, faces
    if normals is not None:
        away, down = faces[normals @ light < 0], faces[normals[:, 2] < 0]
    dark = SHADOW * _shadow(grid.lowest(cast, height, away) / size, cell / size)
    dark += CONTACT * _contact(grid.lowest(below, height, down) / size, cell / size)
    seen = _looked_at(dark, grid, floor, camera)[:, :, None]
    seen *= _towards_rim(camera.size_px)[:, :, None]
    picture: NDArray[np.float32] = PALE * (1 - np.minimum(seen, np.float32(0.8)) * TONE)
    return picture


def _shadow(lowest: Floats, cell: float) -> Floats:
    """Darkness from 0 to 1; heights and the cell as shares of the part's size."""
    mask = np.isfinite(lowest).astype(np.float64)
    wide = SOFTNESS[1][1] / cell
    weight = gaussian_filter(mask, wide)
    height = gaussian_filter(np.where(mask > 0, lowest, 0), wide) / np.maximum(weight, 1e-6)
    layers = [gaussian_filter(mask, blur / cell) for _, blur in SOFTNESS]
    heights = [at for at, _ in SOFTNESS]
    level = np.interp(height, heights, range(len(heights)))
    dark = sum(
        (layer * np.clip(1 - np.abs(level - number), 0, 1) for number, layer in enumerate(layers)),
        start=np.zeros_like(mask),
    )
    return dark * (1 - LIFTED * np.clip(height / heights[-1], 0, 1))


def _contact(lowest: Floats, cell: float) -> Floats:
    near = np.exp(-lowest / TOUCHING)
    soft: Floats = 0.5 * gaussian_filter(near, 0.012 / cell) + 0.5 * gaussian_filter(near, 0.035 / cell)
    return soft


def _looked_at(dark: Floats, grid: _Grid, floor: float, camera: Camera) -> NDArray[np.float32]:
    """The grid on the ground drawn into the picture: each pixel's ray meets z = floor."""
    right, up, near = camera.axes
    # A pixel (px, py) is u = (px - shift x) / scale to the right and v up; its ray meets the
    # ground at u right + v up + k near with k = (floor - u right_z - v up_z) / near_z.
    by_u = right[:2] - near[:2] * right[2] / near[2]
    by_v = up[:2] - near[:2] * up[2] / near[2]
    fixed = near[:2] * floor / near[2]
    x_step, y_step = by_u / camera.scale / grid.cell, -by_v / camera.scale / grid.cell
    start = (fixed - grid.low) / grid.cell - x_step * camera.shift[0] - y_step * camera.shift[1]
    rule = (x_step[0], y_step[0], start[0], x_step[1], y_step[1], start[1])
    source = Picture.fromarray(dark.astype(np.float32))
    seen = source.transform(camera.size_px, Picture.Transform.AFFINE, rule, Picture.Resampling.BILINEAR)
    return np.array(seen, dtype=np.float32)


def _towards_rim(size_px: tuple[int, int]) -> NDArray[np.float32]:
    """1 inside, down to 0 at the rim, so that no shadow is cut off: (h, w)."""
    width, height = size_px
    fade = FADE * width
    x = np.clip((0.5 + np.minimum(np.arange(width), np.arange(width)[::-1])) / fade, 0, 1)
    y = np.clip((0.5 + np.minimum(np.arange(height), np.arange(height)[::-1])) / fade, 0, 1)
    smooth_x, smooth_y = x * x * (3 - 2 * x), y * y * (3 - 2 * y)
    return np.outer(smooth_y, smooth_x).astype(np.float32)
