"""Pictures: the same bytes twice, the part well inside, lit from above, lines that show."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import binary_dilation

from generator.geometry.mesh import Mesh
from generator.geometry.render.camera import MARGIN, View, camera_for
from generator.geometry.render.encoded import encoded
from generator.geometry.render.picture import picture
from generator.geometry.render.shadow import PALE
from generator.geometry.render.surface import surface_of
from tests.geometry.solids import (
    box,
    cylinder,
    moved,
    revolved,
    soup,
    sphere,
    together,
    torus,
    turned_inside_out,
    with_faces,
)

STEP = together(box(40, 20, 6), box(6, 20, 24, at=(0, 0, 6.001)))
PARTS = {
    "box": box(30, 20, 10),
    "ball": sphere(),
    "ring": torus(),
    "tube": revolved([(8, 0), (10, 0), (10, 30), (8, 30)], 72),
    "step": STEP,
}


def ink_of(drawn) -> np.ndarray:
    """Pixels as dark as a line."""
    return drawn.max(axis=2) < 90


def part_of(drawn) -> np.ndarray:
    """Pixels clearly darker than ground in shadow, or of the part's blue."""
    return (drawn[:, :, 2].astype(int) - drawn[:, :, 0] > 14) | ink_of(drawn)


@pytest.mark.parametrize("name", PARTS)
@pytest.mark.parametrize("view", View)
def test_the_part_fills_the_middle_of_the_picture(name, view):
    drawn = picture(PARTS[name], view=view, size_px=(320, 240))
    assert drawn.shape == (240, 320, 3)
    rows, columns = np.nonzero(part_of(drawn))
    left, right, top, bottom = columns.min(), 319 - columns.max(), rows.min(), 239 - rows.max()
    assert abs(left - right) <= 3
    assert abs(top - bottom) <= 3
    assert min(left / 320, top / 240) == pytest.approx(MARGIN, abs=0.012)


def test_same_mesh_same_bytes():
    once, again = (encoded(picture(soup(torus()), size_px=(200, 150))) for _ in range(2))
    assert once == again


def test_the_two_views_show_different_sides():
    front, behind = picture(STEP, view=View.FRONT), picture(STEP, view=View.BEHIND)
    assert (front != behind).mean() > 0.2


def test_behind_shows_the_underside():
    cup = revolved([(0.01, 8), (9, 8), (9, 0), (10, 0), (10, 9), (0.01, 9)], 48)
    front, behind = (picture(cup, view=view, size_px=(320, 240)) for view in View)
    # The hollow is only seen from below: its rim draws a second ellipse of ink inside the part.
    middle = np.s_[60:180, 60:260]
    assert ink_of(behind)[middle].sum() > 2 * ink_of(front)[middle].sum()


def test_an_indexed_mesh_a_soup_and_an_inverted_mesh_look_alike():
    plain = picture(cylinder(), size_px=(160, 120))
    for other in (soup(cylinder()), turned_inside_out(cylinder())):
        difference = np.abs(plain.astype(int) - picture(other, size_px=(160, 120)))
        assert difference.mean() < 0.2


def test_size_and_place_of_the_part_do_not_matter():
    plain = picture(PARTS["tube"], size_px=(160, 120))
    for scale, by in ((1e-3, 0), (1e-9, 0), (1e5, 0), (1, 5000), (1e150, 0)):
        far = Mesh(vertices_mm=PARTS["tube"].vertices_mm * scale + by, faces=PARTS["tube"].faces)
        difference = np.abs(plain.astype(int) - picture(far, size_px=(160, 120)))
        assert difference.mean() < 0.3, scale


def test_light_comes_from_above_and_the_left():
    drawn = picture(box(20, 20, 20), size_px=(320, 240)).astype(int).sum(axis=2)
    # A cube seen from the front left: top face, left face, right face, each flat.
    top, left, right = drawn[70, 160], drawn[150, 120], drawn[150, 230]
    assert top > left > right


def test_a_ball_is_brightest_where_the_light_falls_and_smooth():
    drawn = picture(sphere(10, 96, 48), size_px=(320, 240)).astype(float).mean(axis=2)
    row, column = np.unravel_index(np.argmax(drawn[60:200, 100:220]), (140, 120))
    assert column + 100 < 160
    assert row + 60 < 120
    across = drawn[110, 110:210]
    assert np.abs(np.diff(across)).max() < 6  # no facets, no speckles


def test_a_groove_is_darker_than_the_open_face():
    deep = revolved([(4, 0), (10, 0), (10, 12), (4, 12), (4, 10), (6, 10), (6, 2), (4, 2)], 64)
    open_top = picture(deep, size_px=(320, 240)).astype(int).sum(axis=2)
    assert open_top[95:145, 120:200].min() < 0.75 * np.median(
        open_top[part_of(picture(deep, size_px=(320, 240)))]
    )


def test_the_ground_is_pale_and_dark_where_the_part_stands():
    drawn = picture(box(20, 20, 20), size_px=(320, 240))
    corner = drawn[2, 2] / 255
    assert corner == pytest.approx(PALE ** (1 / 1.12), abs=0.01)
    outside = ~binary_dilation(drawn.max(axis=2) < 200, iterations=4)
    darkest = drawn.astype(int).sum(axis=2)[outside].min()
    assert darkest < 0.93 * drawn[2, 2].sum()
    right, left = drawn[150:, 250:].astype(int), drawn[150:, :70].astype(int)
    assert right.mean() < left.mean() - 1  # the light comes from the left


@pytest.mark.parametrize("end", [(1, 0, 0), (0, 1, 0), (0, 0, -1)], ids=["right", "left", "down"])
def test_edges_that_meet_in_the_near_corner_are_whole_lines(end):
    mesh = box(30, 20, 10)
    drawn = picture(mesh).astype(int).sum(axis=2)
    home = surface_of(mesh).points
    camera = camera_for(home, View.FRONT, (640, 480))
    near = home.min(axis=0) * [1, 1, -1]  # front, left, top: the corner nearest to the eye
    run = np.array(end) * np.ptp(home, axis=0)
    for share in np.linspace(0.03, 0.97, 60):
        x, y, _ = camera.project((near + share * run)[None])[0]
        around = drawn[int(y) - 5 : int(y) + 6, int(x) - 5 : int(x) + 6]
        line = drawn[int(y) - 1 : int(y) + 2, int(x) - 1 : int(x) + 2].min()
        assert line < np.median(around) - 50


@pytest.mark.parametrize(
    "tint",
    [(0.02, 0.02, 0.02), (0.96, 0.95, 0.9), (0.75, 0.1, 0.08), (0.1, 0.2, 0.5)],
    ids=["black", "natural", "red", "blue"],
)
def test_lines_and_outline_show_in_every_colour(tint):
    drawn = picture(box(30, 20, 10), tint=tint).astype(int).sum(axis=2)
    home = surface_of(box(30, 20, 10)).points
    camera = camera_for(home, View.FRONT, (640, 480))
    low, high = home.min(axis=0), home.max(axis=0)

    def place(x, y, z):
        across, down, _ = camera.project(np.array([low + (high - low) * [x, y, z]]))[0]
        return int(across), int(down)

    def around(x, y, size):
        return drawn[y - size : y + size + 1, x - size : x + size + 1]

    edge, outline, face = place(0, 0, 0.5), place(0.5, 0, 0), place(0.5, 0.5, 1)
    flat = np.median(around(*edge, 6))
    assert np.abs(around(*edge, 1) - flat).max() > 45  # a dark line, or a pale one on a dark part
    assert drawn[2, 2] - around(*outline, 1).min() > 300
    top, left = np.median(around(*face, 3)), np.median(around(*place(0, 0.5, 0.5), 3))
    assert drawn[2, 2] - top > 90  # sums of three channels of 255
    assert top - left > 60


AWKWARD = {
    "one triangle": Mesh(
        vertices_mm=np.array([[0, 0, 0], [9, 0, 0], [0, 5, 3.0]]), faces=np.array([[0, 1, 2]])
    ),
    "very flat": box(100, 60, 0.001),
    "flat sheet": Mesh(
        vertices_mm=np.array([[0, 0, 0], [9, 0, 0], [9, 9, 0], [0, 9, 0.0]]),
        faces=np.array([[0, 1, 2], [0, 2, 3]]),
    ),
    "very long": box(3000, 2, 2),
    "needle upright": box(0.1, 0.1, 500),
    "tiny": box(1e-3, 2e-3, 1e-3),
    "huge": moved(box(1e6, 2e6, 1e6), by=(1e9, 1e9, 0)),
    "face missing": with_faces(box(), box().faces[1:]),
    "face flipped": with_faces(box(), np.vstack([box().faces[1:], box().faces[:1, ::-1]])),
    "two crumbs far apart": together(box(1, 1, 1), box(1, 1, 1, at=(900, 0, 0))),
}


@pytest.mark.parametrize("mesh", AWKWARD.values(), ids=AWKWARD)
@pytest.mark.parametrize("view", View)
def test_awkward_parts_are_drawn(mesh, view):
    drawn = picture(mesh, view=view, size_px=(160, 120))
    assert (drawn.max(axis=2) < 160).any()  # ink, if only half a pixel of it


@pytest.mark.parametrize(
    "mesh",
    [
        pytest.param(Mesh(vertices_mm=np.zeros((0, 3)), faces=np.zeros((0, 3), int)), id="empty"),
        pytest.param(Mesh(vertices_mm=np.ones((3, 3)), faces=np.array([[0, 1, 2]])), id="one point"),
        pytest.param(
            Mesh(vertices_mm=np.arange(9.0).reshape(3, 3), faces=np.array([[0, 1, 2]])), id="one line"
        ),
    ],
)
def test_nothing_to_draw_is_an_error(mesh):
    with pytest.raises(ValueError, match="cannot be drawn"):
        picture(mesh)


@pytest.mark.parametrize(
    "wrong", [{"size_px": (4, 4)}, {"supersample": 0}, {"tint": (2, 0, 0)}], ids=["size", "samples", "tint"]
)
def test_wrong_orders_are_refused(wrong):
    with pytest.raises(ValueError):
        picture(box(), **wrong)


def test_a_prepared_surface_gives_the_same_picture():
    mesh = PARTS["tube"]
    assert (picture(surface_of(mesh), size_px=(160, 120)) == picture(mesh, size_px=(160, 120))).all()


def test_webp_can_be_read_back():
    drawn = picture(STEP, size_px=(160, 120))
    written = encoded(drawn)
    with Image.open(BytesIO(written)) as read:
        assert (read.format, read.size) == ("WEBP", (160, 120))
        assert np.abs(np.asarray(read.convert("RGB")).astype(int) - drawn).mean() < 4
    assert len(encoded(drawn, quality=40)) < len(written)


def test_only_pictures_are_encoded():
    with pytest.raises(ValueError, match="picture"):
        encoded(np.zeros((4, 4), dtype=np.uint8))
