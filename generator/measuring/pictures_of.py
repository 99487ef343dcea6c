"""What does a mesh look like, as it is kept: WebP pictures, each with what a pixel of it shows?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from generator.geometry.render.camera import View
from generator.geometry.render.encoded import encoded
from generator.geometry.render.picture import picture
from generator.geometry.render.scale import mm_per_px
from generator.geometry.render.surface import surface_of
from generator.measuring.opened import Opened
from generator.measuring.products import PICTURE_FILE, SCALE_FILE


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """From where a picture is drawn, how large, and whether it says how large the part is in it."""

    view: View
    size_px: tuple[int, int]
    has_scale: bool = False


SIGHTS: Final = {
    "front": Sight(view=View.FRONT, size_px=(640, 480), has_scale=True),
    "behind": Sight(view=View.BEHIND, size_px=(640, 480)),
    "thumb": Sight(view=View.FRONT, size_px=(160, 120)),
}


def pictures_of(opened: Opened, names: Iterable[str], tint: str) -> Iterator[tuple[str, dict[str, bytes]]]:
    """Each picture of `SIGHTS` that is named, as it is kept, with its scale where it has one.

    tint: '#rrggbb'. Raises MeshError where the mesh cannot be loaded.
    """
    mesh = opened.loaded.mesh
    surface, colour = surface_of(mesh), colour_of(tint)
    for name in names:
        sight = SIGHTS[name]
        drawn = picture(surface, view=sight.view, size_px=sight.size_px, tint=colour)
        blobs = {PICTURE_FILE: encoded(drawn)}
        if sight.has_scale:
            blobs[SCALE_FILE] = repr(mm_per_px(mesh, view=sight.view, size_px=sight.size_px)).encode()
        yield name, blobs


def colour_of(tint: str) -> tuple[float, float, float]:
    """Turn '#rrggbb' into shares of red, green and blue."""
    red, green, blue = bytes.fromhex(tint.removeprefix("#"))
    return red / 255, green / 255, blue / 255
