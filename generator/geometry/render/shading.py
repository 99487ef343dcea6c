"""How light a pixel is, by the direction its surface faces."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from generator.geometry.render.raster import Layer

__all__ = ["INK", "KEY_LIGHT", "STEEL", "Shade", "base_colour", "inner_ink", "shade_of"]

Colour = tuple[float, float, float]
STEEL: Colour = (0.60, 0.67, 0.74)
LIGHTEST, DARKEST = 0.78, 0.27  # of a base colour: the ground stays lighter, shades are still seen
INK = np.array([0.125, 0.15, 0.18], dtype=np.float32)
PALE_INK = np.array([0.60, 0.64, 0.69], dtype=np.float32)  # on dark parts edges catch the light

# Directions as the camera sees them: right, up, towards the eye.
KEY_LIGHT = np.array([-0.45, 0.55, 0.75])
_LIGHTS = (
    (KEY_LIGHT, 0.62),
    (np.array([0.70, 0.10, 0.50]), 0.20),
    (np.array([0.0, -0.60, 0.30]), 0.08),
)
_AMBIENT, _FROM_ABOVE = 0.33, 0.13
_SHINE, _SHARPNESS = 0.17, 36
_STEPS = 512  # of the table of shades along x and y


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """How each pixel of a layer is lit; 0 where empty.

    matt: what the material's colour is multiplied with; shine: what is added: (h, w).
    normals: as the camera sees them, of every n-th row and column only: (h / n, w / n, 3).
    """

    matt: NDArray[np.float32]
    shine: NDArray[np.float32]
    normals: NDArray[np.float32]


def base_colour(tint: Colour | None) -> NDArray[np.float32]:
    """The material's colour, moved between the darkest and lightest that read well.

    tint: red, green, blue from 0 to 1. Raises ValueError outside that.
    """
    if tint is None:
        return np.array(STEEL, dtype=np.float32)
    if not all(0 <= part <= 1 for part in tint):
        raise ValueError(f"a colour has parts from 0 to 1, not {tint}")
    colour = np.array(tint, dtype=np.float64)
    light = _lightness(colour)
    if light > LIGHTEST:
        colour *= LIGHTEST / light
    elif light < DARKEST:
        # A black part becomes charcoal with a trace of blue, so that its shapes are seen.
        share = (DARKEST - light) / DARKEST
        colour = colour * (1 - share) + np.array([0.25, 0.27, 0.295]) * share
    return colour.astype(np.float32)


def inner_ink(base: NDArray[np.float32]) -> NDArray[np.float32]:
    """The colour of lines within the part: dark, but pale on a dark part."""
    share = np.float32(np.interp(_lightness(base), [0.30, 0.42], [0.75, 0.0]))
    return INK * (1 - share) + PALE_INK * share


def _lightness(colour: NDArray[np.floating]) -> float:
    """How light the eye takes a colour for; common weights, no source."""
    return float(colour @ [0.30, 0.59, 0.11])


def shade_of(
    layer: Layer,
    corners_px: NDArray[np.float64],
    corner_normals: NDArray[np.float64],
    is_curved: NDArray[np.bool_],
    every: int,
) -> Shade:
    """Light each pixel; smooth faces have their normal interpolated in the pixel.

    corners_px: (m, 3, 3); corner_normals: (m, 3, 3) as the camera sees them; is_curved: (m,);
    every: of how many rows and columns one keeps its normals.
    """
    height, width = layer.face.shape
    y, x = np.nonzero(layer.face >= 0)
    face = layer.face[y, x]
    normal = [corner_normals[:, 0, axis].astype(np.float32)[face] for axis in range(3)]
    curved = np.flatnonzero(is_curved[face])
    smooth = _interpolated(face[curved], x[curved], y[curved], corners_px, corner_normals)
    for flat, round_ in zip(normal, smooth, strict=True):
        flat[curved] = round_
    half = np.float32((_STEPS - 1) / 2)
    column, row = ((normal[axis] * half + (half + np.float32(0.5))).astype(np.int32) for axis in (0, 1))
    place = row * _STEPS + column
    matt = np.zeros((height, width), dtype=np.float32)
    shine = np.zeros_like(matt)
    matt_table, shine_table = _tables()
    matt[y, x], shine[y, x] = matt_table[place], shine_table[place]
    normals = np.zeros((height // every, width // every, 3), dtype=np.float32)
    kept = (np.arange(height) % every == 0)[y] & (np.arange(width) % every == 0)[x]
    for axis in range(3):
        normals[y[kept] // every, x[kept] // every, axis] = normal[axis][kept]
    return Shade(matt=matt, shine=shine, normals=normals)


def _interpolated(
    face: NDArray[np.int32],
    x: NDArray[np.int64],
    y: NDArray[np.int64],
    corners: NDArray[np.float64],
    normals: NDArray[np.float64],
) -> list[NDArray[np.float32]]:
    """Normals inside faces: they change evenly over a face, from its first corner on.

    Gives their three parts one by one, which is several times faster than rows of three.
    """
    u, v = corners[:, 1, :2] - corners[:, 0, :2], corners[:, 2, :2] - corners[:, 0, :2]
    twice_area = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    twice_area = np.where(np.abs(twice_area) > 1e-12, twice_area, np.inf)
    to_second, to_third = normals[:, 1] - normals[:, 0], normals[:, 2] - normals[:, 0]
    dx = x.astype(np.float32) - (corners[:, 0, 0] - 0.5).astype(np.float32)[face]
    dy = y.astype(np.float32) - (corners[:, 0, 1] - 0.5).astype(np.float32)[face]
    parts: list[NDArray[np.float32]] = []
    for axis in range(3):
        by_x = (to_second[:, axis] * v[:, 1] - to_third[:, axis] * u[:, 1]) / twice_area
        by_y = (to_third[:, axis] * u[:, 0] - to_second[:, axis] * v[:, 0]) / twice_area
        part = normals[:, 0, axis].astype(np.float32)[face]
        part += by_x.astype(np.float32)[face] * dx
        part += by_y.astype(np.float32)[face] * dy
        parts.append(part)
    square = parts[0] * parts[0] + parts[1] * parts[1] + parts[2] * parts[2]
    per_length = np.float32(1) / np.sqrt(np.maximum(square, np.float32(1e-12)))
    return [part * per_length for part in parts]


@cache
def _tables() -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Shade and shine for each direction, by its x and y: (steps * steps,) each."""
    line = np.linspace(-1, 1, _STEPS)
    x, y = np.meshgrid(line, line)
    z = np.sqrt(np.clip(1 - x * x - y * y, 0, 1))
    matt = _AMBIENT + _FROM_ABOVE * y
    for towards, strength in _LIGHTS:
        light = towards / np.linalg.norm(towards)
        matt = matt + strength * np.clip(x * light[0] + y * light[1] + z * light[2], 0, 1)
    halfway = KEY_LIGHT / np.linalg.norm(KEY_LIGHT) + [0.0, 0.0, 1.0]
    halfway /= np.linalg.norm(halfway)
    facing = np.clip(x * halfway[0] + y * halfway[1] + z * halfway[2], 0, 1)
    shine = _SHINE * facing**_SHARPNESS
    return matt.astype(np.float32).ravel(), shine.astype(np.float32).ravel()
