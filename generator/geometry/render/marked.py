"""The picture of a part with places in it marked and numbered."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from generator.geometry.mesh import Mesh
from generator.geometry.render.camera import View, camera_for, in_scene
from generator.geometry.render.picture import picture
from generator.geometry.render.raster import rasterised
from generator.geometry.render.shading import Colour
from generator.geometry.render.surface import Surface, surface_of
from generator.geometry.sections import Place
from generator.geometry.weld import welded

__all__ = ["Spot", "marked_picture", "seen_in"]

Spot = tuple[Place, float]
"""A point midway in a wall, in the part's coordinates, and how thick the wall is there; mm."""

FINE = 3  # marks are drawn so many times larger and then shrunk
RING, DISC, LEADER = 7, 17, 58  # px: around the place, behind the number, between both
STROKE, HALO = 2.5, 5.5
MOST_SPOTS = 2
DARK, LIGHT = (24, 29, 36), (255, 255, 255)
# Strokes of the digits from -1 to 1, y downwards: drawn by hand, so that no font is needed.
DIGITS = {
    1: [(-0.45, -0.55), (0.1, -1), (0.1, 1)],
    2: [(-0.6, -0.5), (-0.45, -0.85), (0, -1), (0.45, -0.85), (0.6, -0.45), (0.45, -0.05), (-0.6, 1), (0.65, 1)],
}
Point = tuple[float, float]


def marked_picture(
    mesh: Mesh, spots: Sequence[Spot], *, size_px: tuple[int, int], tint: Colour | None = None
) -> NDArray[np.uint8]:
    """Draw a part from the side that shows most of the spots, numbered from 1: (height, width, 3).

    A spot that lies behind what is seen has a broken ring, as hidden lines are drawn broken (ISO 128). tint: see
    `picture`. Raises ValueError for more spots than there are digits, or nothing to draw.
    """
    if len(spots) > MOST_SPOTS:
        raise ValueError(f"at most {MOST_SPOTS} spots can be marked, not {len(spots)}")
    surface = surface_of(mesh)
    view = max(View, key=lambda each: sum(seen for _, seen in seen_in(mesh, surface, spots, each, size_px)))
    drawn = picture(surface, view=view, size_px=size_px, tint=tint)
    return _with_marks(drawn, seen_in(mesh, surface, spots, view, size_px))


def seen_in(
    mesh: Mesh, surface: Surface, spots: Sequence[Spot], view: View, size_px: tuple[int, int]
) -> list[tuple[Point, bool]]:
    """Where each spot falls in the picture, in px, and whether the wall that it lies in is seen there."""
    vertices = welded(mesh).mesh.vertices_mm
    low, high = vertices.min(axis=0), vertices.max(axis=0)
    diagonal = float(np.linalg.norm(high - low))
    scene = in_scene(surface.points, view)
    camera = camera_for(scene, view, size_px)
    at_home = (np.array([place for place, _ in spots]).reshape(-1, 3) - (low + high) / 2) / diagonal
    at = camera.project(in_scene(at_home, view))
    depth = rasterised(camera.project(scene)[surface.faces], *size_px).depth
    found = []
    for (x, y, near), (_, thick) in zip(at.tolist(), spots, strict=True):
        column, row = min(max(int(x), 0), size_px[0] - 1), min(max(int(y), 0), size_px[1] - 1)
        before = float(depth[row, column]) - near
        # A wall that is looked at aslant is longer along the look than it is thick.
        found.append(((x, y), before <= 1.5 * thick / diagonal * camera.scale + 2))
    return found


def _with_marks(drawn: NDArray[np.uint8], marks: Sequence[tuple[Point, bool]]) -> NDArray[np.uint8]:
    height, width = drawn.shape[:2]
    fine = Image.fromarray(drawn).resize((width * FINE, height * FINE), Image.Resampling.NEAREST)
    pen = ImageDraw.Draw(fine)
    discs = _discs([at for at, _ in marks], (width, height))
    for number, ((at, is_seen), disc) in enumerate(zip(marks, discs, strict=True), start=1):
        for stroke, colour in ((HALO, LIGHT), (STROKE, DARK)):
            _leader(pen, at, disc, stroke, colour)
            _ring(pen, at, stroke, colour, is_broken=not is_seen)
        _disc(pen, disc, number)
    return np.asarray(fine.resize((width, height), Image.Resampling.BOX))


def _discs(places: Sequence[Point], size_px: tuple[int, int]) -> list[Point]:
    """Where the numbers stand: away from the picture's middle and from each other, inside of the picture."""
    discs: list[Point] = []
    for x, y in places:
        angles = np.arctan2(y - size_px[1] / 2, x - size_px[0] / 2) + np.arange(0, 2 * np.pi, np.pi / 6)
        candidates = [(x + LEADER * float(np.cos(a)), y + LEADER * float(np.sin(a))) for a in angles]
        room = [at for at in candidates if _is_free(at, [*discs, *(each for each in places if each != (x, y))], size_px)]
        discs.append((room or candidates)[0])
    return discs


def _is_free(at: Point, taken: Sequence[Point], size_px: tuple[int, int]) -> bool:
    rim = DISC + 4
    inside = all(rim <= where <= side - rim for where, side in zip(at, size_px, strict=True))
    return inside and all(np.hypot(at[0] - x, at[1] - y) > 2 * rim for x, y in taken)


def _leader(pen: ImageDraw.ImageDraw, at: Point, disc: Point, stroke: float, colour: tuple[int, int, int]) -> None:
    off = np.subtract(disc, at)
    start = np.add(at, off / np.hypot(*off) * RING)
    pen.line([_fine(start), _fine(disc)], fill=colour, width=round(stroke * FINE))


def _ring(
    pen: ImageDraw.ImageDraw, at: Point, stroke: float, colour: tuple[int, int, int], *, is_broken: bool
) -> None:
    x, y = _fine(at)
    radius = (RING + stroke / 2) * FINE
    box = (x - radius, y - radius, x + radius, y + radius)
    for begin in range(0, 360, 60):
        pen.arc(box, begin, begin + (34 if is_broken else 61), fill=colour, width=round(stroke * FINE))


def _disc(pen: ImageDraw.ImageDraw, disc: Point, number: int) -> None:
    x, y = _fine(disc)
    radius = DISC * FINE
    pen.ellipse((x - radius, y - radius, x + radius, y + radius), fill=DARK, outline=LIGHT, width=2 * FINE)
    strokes = [(x + u * radius * 0.5, y + v * radius * 0.55) for u, v in DIGITS[number]]
    pen.line(strokes, fill=LIGHT, width=3 * FINE, joint="curve")


def _fine(at: Point | NDArray[np.float64]) -> tuple[float, float]:
    return float(at[0]) * FINE, float(at[1]) * FINE
