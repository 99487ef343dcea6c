"""The scale of a picture against its pixels and against the formula of a parallel projection."""

import numpy as np
import pytest

from generator.geometry.mesh import Mesh
from generator.geometry.render.camera import View
from generator.geometry.render.picture import picture
from generator.geometry.render.scale import mm_per_px
from tests.geometry.solids import box, moved

SIZE = (640, 480)


def scaled(mesh: Mesh, by: float) -> Mesh:
    return Mesh(vertices_mm=mesh.vertices_mm * by, faces=mesh.faces)


@pytest.mark.parametrize(("width", "depth", "height"), [(30, 20, 10), (200, 10, 10), (4, 4, 90)])
def test_pixels_times_scale_are_millimetres(width: float, depth: float, height: float) -> None:
    """A box turned by 35° about its upright axis is w·cos 35° + d·sin 35° wide (elementary trigonometry)."""
    part = box(width, depth, height)
    drawn = picture(part, view=View.FRONT, size_px=SIZE)
    dark = (drawn[:, :, 2].astype(int) - drawn[:, :, 0] > 14) | (drawn.max(axis=2) < 90)
    columns = np.flatnonzero(dark.any(axis=0))
    across_px = columns[-1] - columns[0] + 1
    turn = np.radians(35.0)
    across_mm = width * np.cos(turn) + depth * np.sin(turn)
    # Lines are drawn about a pixel and a half beyond the outline on each side.
    assert across_px * mm_per_px(part, view=View.FRONT, size_px=SIZE) == pytest.approx(
        across_mm, abs=5 * mm_per_px(part, view=View.FRONT, size_px=SIZE)
    )


@pytest.mark.parametrize("by", [0.1, 1.0, 25.4])
def test_scale_follows_the_part_and_not_its_place(by: float) -> None:
    part = box(30, 20, 10)
    plain = mm_per_px(part, view=View.FRONT, size_px=SIZE)
    assert mm_per_px(
        moved(scaled(part, by), by=(1e4, -40, 7)), view=View.FRONT, size_px=SIZE
    ) == pytest.approx(by * plain, rel=1e-6)


def test_a_picture_of_half_the_size_has_twice_the_millimetres_a_pixel() -> None:
    part = box(30, 20, 10)
    large = mm_per_px(part, view=View.FRONT, size_px=(640, 480))
    assert mm_per_px(part, view=View.FRONT, size_px=(320, 240)) == pytest.approx(2 * large)
