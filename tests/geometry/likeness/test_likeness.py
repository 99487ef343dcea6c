"""What the descriptor ignores and what it tells, against formulas; and what one shape laid onto another is called."""

import json

import numpy as np
import pytest

from generator.geometry.likeness.aligned import compared
from generator.geometry.likeness.described import Descriptor
from generator.geometry.likeness.kinds import Compared, Sameness
from generator.geometry.likeness.nearest import near_pairs, nearest
from generator.geometry.likeness.surface import Surface, surface_of
from generator.geometry.mesh import Mesh
from tests.geometry.likeness.asked import described
from tests.geometry.solids import box, sphere


def joined(*meshes):
    """One mesh of several bodies."""
    shift = np.cumsum([0, *(len(each.vertices_mm) for each in meshes[:-1])])
    return Mesh(
        vertices_mm=np.vstack([each.vertices_mm for each in meshes]),
        faces=np.vstack([each.faces + by for each, by in zip(meshes, shift, strict=True)]),
    )


def at(mesh, x, y, z):
    return Mesh(vertices_mm=mesh.vertices_mm + np.array((x, y, z)), faces=mesh.faces)


def handed():
    """Three blocks that no mirror brings onto themselves."""
    return joined(box(40, 20, 10), at(box(10, 8, 12), 22, 3, 8), at(box(6, 30, 5), -12, 20, 6))


def turned(mesh, times=1.0):
    c, s = np.cos(0.7), np.sin(0.7)
    turn = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]]) @ np.array([[1, 0, 0], [0, s, -c], [0, c, s]])
    return Mesh(vertices_mm=times * mesh.vertices_mm @ turn.T + [100, -30, 7], faces=mesh.faces[::-1])


def mirrored(mesh):
    return Mesh(vertices_mm=mesh.vertices_mm * [-1, 1, 1], faces=mesh.faces[:, ::-1])


def finer(mesh):
    """Each face cut into four, the surface where it was."""
    corners = mesh.vertices_mm[mesh.faces]
    a, b, c = corners.transpose(1, 0, 2)
    ab, bc, ca = (a + b) / 2, (b + c) / 2, (c + a) / 2
    soup = np.stack([a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca], axis=1).reshape(-1, 3)
    return Mesh(vertices_mm=soup, faces=np.arange(len(soup)).reshape(-1, 3))


# D2 of the surfaces: the mean distance of two points, in units of the radius of gyration of the surface.
# Ball: mean 4/3 R, radius of gyration R (formula; the distance d has the density d/2 on [0, 2]).
# Cube of side 1: mean 0.8588926 ((the square's 0.5214054 + 4 × 0.8707768 + 1.1488430) / 6, by Monte Carlo of four million pairs
# confirmed to 0.00015), mean square 5/6, so that the radius of gyration is √(5/12).
@pytest.mark.parametrize(
    ("solid", "mean"), [(sphere(10, 96, 48), 4 / 3), (box(10, 10, 10), 0.8588926182 / np.sqrt(5 / 12))], ids=["ball", "cube"]
)
def test_d2_of_a_ball_and_a_cube_have_the_mean_of_their_formulas(solid, mean):
    assert described(solid).d2.mean() == pytest.approx(mean, rel=0.01)


def test_d2_of_a_ball_has_the_spread_of_its_formula():
    """CDF d²/4: the quantile q lies at 2√q."""
    at_ = (np.arange(24) + 0.5) / 24
    assert described(sphere(10, 96, 48)).d2 == pytest.approx(2 * np.sqrt(at_), abs=0.03)


def test_the_size_of_a_cube_is_the_radius_of_gyration_of_its_surface():
    assert described(box(10, 10, 10)).size_mm == pytest.approx(10 * np.sqrt(5 / 12), rel=0.01)


@pytest.mark.parametrize("changed", [turned, finer, lambda mesh: turned(mesh, 25.4)], ids=["turned", "finer", "in inches"])
def test_pose_mesh_and_size_hardly_move_a_shape(changed):
    others = {"own": handed(), "box": box(40, 20, 12), "mirrored": mirrored(handed()), "ball": sphere(10, 48, 24)}
    (first, *_) = nearest(described(changed(handed())), {name: described(each) for name, each in others.items()})
    assert first.name == "own"


def test_the_other_hand_turns_the_sign_of_the_twist_and_nothing_else():
    own, other = described(handed()), described(mirrored(handed()))
    strong = np.abs(own.twist) > 0.05
    assert strong.any()
    assert (np.sign(own.twist[strong]) == -np.sign(other.twist[strong])).all()
    assert own.d2 == pytest.approx(other.d2, abs=0.02)


@pytest.mark.parametrize(
    ("asked", "kind"),
    [
        (turned(handed()), Sameness.SAME),
        (turned(finer(handed())), Sameness.SAME),
        (turned(mirrored(handed())), Sameness.OTHER_HAND),
        (turned(handed(), 25.4), Sameness.SCALED),
        (turned(joined(handed(), at(box(4, 4, 1), -8, -4, 5))), Sameness.SIMILAR),
        (sphere(15, 48, 24), Sameness.OTHER),
    ],
    ids=["turned", "finer", "mirrored", "in inches", "with a boss", "a ball"],
)
def test_what_lies_on_the_other_has_its_word(asked, kind):
    assert compared(asked, handed()).kind is kind


def test_what_is_its_own_mirror_image_is_the_same_mirrored():
    assert compared(turned(mirrored(box(40, 20, 10))), box(40, 20, 10)).kind is Sameness.SAME


def test_the_ratio_is_that_of_asked_to_known():
    assert compared(turned(handed(), 0.5), handed()).ratio == pytest.approx(0.5, rel=1e-3)


def test_a_piece_covers_its_share_and_is_no_smaller_copy():
    whole = finer(finer(finer(box(60, 20, 10))))
    middle = whole.vertices_mm[whole.faces].mean(axis=1)
    piece = Mesh(vertices_mm=whole.vertices_mm, faces=whole.faces[middle[:, 0] < 45])
    told = compared(turned(piece), whole)
    assert (told.kind, told.ratio) == (Sameness.SIMILAR, 1.0)
    assert told.covered == pytest.approx(0.75, abs=0.06)
    assert told.explained > 0.9


def test_a_coarse_ball_is_the_same_as_a_fine_one_within_its_facets():
    told = compared(sphere(10, 24, 12), sphere(10, 96, 48))
    assert told.kind is Sameness.SAME
    assert told.distance_mm < told.within_mm


def test_what_has_no_area_has_no_descriptor_and_is_like_nothing():
    line = Mesh(vertices_mm=np.array([[0.0, 0, 0], [1, 0, 0], [2, 0, 0]]), faces=np.array([[0, 1, 2]]))
    assert described(line) is None
    assert compared(line, box(1, 1, 1)).kind is Sameness.OTHER


def test_pairs_are_those_that_are_near():
    known = {"a": handed(), "b": turned(handed(), 3), "c": sphere(10, 48, 24)}
    ((one, other, distance),) = near_pairs({name: described(each) for name, each in known.items()}, 0.1)
    assert (one, other) == ("a", "b")
    assert distance < 0.05


def test_what_is_kept_is_read_again():
    own = described(handed())
    again = Descriptor.from_json(json.loads(json.dumps(own.to_json())))
    assert nearest(own, {"again": again})[0].distance == pytest.approx(0, abs=1e-3)
    surface = surface_of(handed())
    read = Surface.from_bytes(surface.to_bytes())
    assert read.points_mm == pytest.approx(surface.points_mm, abs=0.001)
    assert (read.facets_mm, read.is_oriented) == (surface.facets_mm, True)
    told = compared(handed(), handed())
    assert Compared.from_json(json.loads(json.dumps(told.to_json()))) == told
    with pytest.raises(ValueError, match="no kept surface"):
        Surface.from_bytes(b"x")
