"""What a part looks like: the finished picture, put together from its layers."""

import numpy as np
from numpy.typing import NDArray

from generator.geometry.mesh import Mesh
from generator.geometry.render.camera import Camera, View, camera_for, in_scene
from generator.geometry.render.lines import ink
from generator.geometry.render.occlusion import sky_seen
from generator.geometry.render.raster import Layer, rasterised
from generator.geometry.render.shading import INK, Colour, Shade, base_colour, inner_ink, shade_of
from generator.geometry.render.shadow import shadow_picture
from generator.geometry.render.surface import Surface, surface_of

__all__ = ["picture"]

BRIGHTER = 1 / 1.12  # exponent that lifts the middle tones


def picture(
    part: Mesh | Surface,
    *,
    view: View = View.FRONT,
    size_px: tuple[int, int] = (640, 480),
    supersample: int = 2,
    tint: Colour | None = None,
) -> NDArray[np.uint8]:
    """Draw a part: (height, width, 3).

    part: a mesh, or `surface_of(mesh)` where several pictures are drawn of it.
    size_px: width and height. tint: the material's colour, 0 to 1 each; very dark and very
    light ones are moderated, so that shape and lines stay visible.

    Raises ValueError when there is nothing to draw or the size is below 8 px.
    """
    if min(size_px) < 8 or supersample < 1:
        raise ValueError(f"a picture of {size_px} px at {supersample} samples cannot be drawn")
    base = base_colour(tint)
    surface = part if isinstance(part, Surface) else surface_of(part)
    scene, normals = in_scene(surface.points, view), in_scene(surface.normals, view)
    camera = camera_for(scene, view, size_px)
    points_px = camera.project(scene)
    facing = camera.seen_along(normals)[:, 2]
    front = facing > 0 if surface.is_closed else facing != 0
    layer, shade = _lit(surface, points_px, front, view, camera, supersample)
    open_sky = sky_seen(layer.depth[::supersample, ::supersample], shade.normals)
    matt, shine = _averaged(shade.matt, supersample), _averaged(shade.shine, supersample)
    filled = _averaged((layer.face >= 0).astype(np.float32), supersample)[:, :, None]
    throws = ~surface.is_crumb
    under = shadow_picture(
        scene, surface.faces[throws], normals[throws] if surface.is_closed else None, camera
    )
    part_colour = base * (matt * open_sky)[:, :, None] + (shine * open_sky * open_sky)[:, :, None]
    outline, inner = ink(surface, points_px, facing, layer.depth, supersample)
    drawn = np.clip(under * (1 - filled) + part_colour, 0, 1) ** np.float32(BRIGHTER)
    for lines, colour in ((inner, inner_ink(base)), (outline, INK)):
        drawn = drawn * (1 - lines[:, :, None]) + colour * lines[:, :, None]
    finished: NDArray[np.uint8] = (np.clip(drawn, 0, 1) * 255 + 0.5).astype(np.uint8)
    return finished


def _lit(  # noqa: PLR0917 - one after the other, as they come into being
    surface: Surface,
    points_px: NDArray[np.float64],
    front: NDArray[np.bool_],
    view: View,
    camera: Camera,
    supersample: int,
) -> tuple[Layer, Shade]:
    """The nearest face of each sample and its light."""
    width, height = camera.size_px
    shown = np.flatnonzero(front)
    corners = points_px[surface.faces[shown]] * [supersample, supersample, 1.0]
    layer = rasterised(corners, width * supersample, height * supersample)
    smooth = camera.seen_along(in_scene(surface.corner_normals, view))
    normals = smooth[surface.corner_of[shown]]
    if not surface.is_closed:  # both sides of an open shell can be seen: light the near one
        away = camera.seen_along(in_scene(surface.normals[shown], view))[:, 2] < 0
        normals[away] *= -1
    return layer, shade_of(layer, corners, normals, surface.is_curved[shown], supersample)


def _averaged(fine: NDArray[np.float32], supersample: int) -> NDArray[np.float32]:
    """Blocks of samples to one pixel."""
    total = np.zeros((fine.shape[0] // supersample, fine.shape[1] // supersample), dtype=np.float32)
    for row in range(supersample):
        for column in range(supersample):
            total += fine[row::supersample, column::supersample]
    total /= np.float32(supersample * supersample)
    return total
