"""How much of the sky each pixel sees: corners and grooves are darker."""

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from generator.geometry.render.raster import FAR

__all__ = ["sky_seen"]

RINGS = (0.006, 0.014, 0.030, 0.062)  # radii as shares of the picture's height
DIRECTIONS = 6
STRENGTH, DARKEST = 1.55, 0.30
FACETS = 0.13  # rise over distance that a rounded surface cut into facets may have

Image = NDArray[np.float32]


def sky_seen(depth: Image, normals: Image) -> Image:
    """From 1 (open) down to DARKEST (deep in a corner): (h, w).

    depth: (h, w) in px towards the eye, FAR where empty; normals: (h, w, 3).

    Depths around a pixel are compared with the plane through it; what stands out above the
    plane hides sky, what stands out very far is another thing in front and hides none. Each
    pixel of a block of four looks in directions of its own; the blur mixes them.
    """
    height = depth.shape[0]
    filled = depth > FAR
    flat = np.maximum(normals[:, :, 2], np.float32(0.15))
    lean_x: Image = np.divide(-normals[:, :, 0], flat, dtype=np.float32)
    lean_y: Image = np.divide(normals[:, :, 1], flat, dtype=np.float32)
    radii = [max(1.0, share * height) for share in RINGS]
    pad = int(radii[-1]) + 3
    around = np.pad(depth, pad, constant_values=FAR)
    hidden = np.zeros_like(depth)
    for block in range(4):
        here = (slice(block // 2, None, 2), slice(block % 2, None, 2))
        plane = (np.ascontiguousarray(lean_x[here]), np.ascontiguousarray(lean_y[here]))
        hidden[here] = _hidden(around, np.ascontiguousarray(depth[here]), plane, (pad, block), radii)
    hidden *= np.float32(STRENGTH / (len(radii) * DIRECTIONS))
    weight = gaussian_filter(filled.astype(np.float32), 1.3)
    soft = gaussian_filter(np.where(filled, hidden, np.float32(0)), 1.3)
    soft /= np.maximum(weight, np.float32(1e-3))
    seen: Image = np.clip(1 - soft, DARKEST, 1)
    return seen


def _hidden(
    around: Image,
    depth: Image,
    plane: tuple[Image, Image],
    place: tuple[int, int],
    radii: list[float],
) -> Image:
    """What stands out round one pixel of each block of four, summed over all directions."""
    pad, block = place
    top, left = pad + block // 2, pad + block % 2
    rows, columns = depth.shape
    hidden = np.zeros_like(depth)
    for number, radius in enumerate(radii):
        for step in range(DIRECTIONS):
            angle = 2 * np.pi * (step + 0.25 * block + 0.37 * number) / DIRECTIONS
            dx, dy = round(radius * np.cos(angle)), round(radius * np.sin(angle))
            there = around[top + dy : top + dy + 2 * rows : 2, left + dx : left + dx + 2 * columns : 2]
            rise = there[:rows, :columns] - depth
            rise -= plane[0] * np.float32(dx)
            rise -= plane[1] * np.float32(dy)
            hidden += _standing_out(rise, max(float(np.hypot(dx, dy)), 1.0))
    return hidden


def _standing_out(rise: Image, radius: float) -> Image:
    rise *= np.float32(1 / radius)
    near = np.float32(1.6) - rise * np.float32(0.4)
    np.clip(near, 0, 1, out=near)
    rise -= np.float32(FACETS + 0.3 / radius)
    np.clip(rise, 0, 1, out=rise)
    rise *= near
    return rise
