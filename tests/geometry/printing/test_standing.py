"""Poses against solids whose overhang, contact and support are known because they are built of them; by formula, no other program."""

import numpy as np
import pytest

from generator.geometry.mesh import Mesh
from generator.geometry.printing.pose import ANGLES_DEG, AXES, Pose, Poses
from generator.geometry.printing.poses import poses_of
from generator.geometry.printing.score import Reason, best_pose, reason, score_mm3
from tests.geometry.solids import blocks, box, capped, cylinder, moved, prism, refined, soup, sphere, together

TURN = np.array([[0.36, 0.48, -0.8], [-0.8, 0.6, 0.0], [0.48, 0.64, 0.6]])


def tee() -> Mesh:
    """A stem of 10 × 10 × 30 under a bar of 30 × 10 × 10."""
    return blocks([0, 10, 20, 30], [0, 10], [0, 30, 40], lambda i, _j, k: k == 1 or i == 1)


def table() -> Mesh:
    """A top of 60 × 40 × 4 on four legs of 5 × 5 × 30."""
    return blocks([0, 5, 55, 60], [0, 5, 35, 40], [0, 30, 34], lambda i, j, k: k == 1 or (i != 1 and j != 1))


def bracket() -> Mesh:
    """Two plates of 5 mm, one 20 mm above the other, joined at one end: a C of 50 × 40 × 30."""
    return blocks([0, 10, 50], [0, 40], [0, 5, 25, 30], lambda i, _j, k: k != 1 or i == 0)


def standing(mesh: Mesh, axis: str) -> Pose:
    pose = poses_of(mesh).standing(axis)
    assert pose is not None
    return pose


def best(mesh: Mesh) -> Pose:
    pose = best_pose(poses_of(mesh))
    assert pose is not None
    return pose


@pytest.mark.parametrize("axis", AXES)
def test_a_block_on_any_face_hangs_nowhere(axis):
    pose = standing(box(20, 30, 40), axis)
    upright = {"x": 20, "y": 30, "z": 40}[axis[1]]
    assert pose.height_mm == pytest.approx(upright)
    assert pose.contact_mm2 == pytest.approx(20 * 30 * 40 / upright)
    assert (pose.overhang_mm2, pose.support_mm3, pose.is_stable) == (0, 0, True)


def test_a_ball_hangs_by_its_cap():
    """The cap of half angle 45°: 2πr²(1 − cos 45°). Below it, down to the plate: ∫ 2πρ (r − √(r²−ρ²)) dρ up to r sin 45°."""
    r = 10.0
    pose = standing(sphere(r, 96, 96), "+z")
    assert pose.overhang_mm2 == pytest.approx(2 * np.pi * r**2 * (1 - np.cos(np.pi / 4)), rel=0.01)
    s = r * np.sin(np.pi / 4)
    below = np.pi * r * s**2 - 2 * np.pi / 3 * (r**3 - (r**2 - s**2) ** 1.5)
    assert pose.support_mm3 == pytest.approx(below, rel=0.02)
    assert pose.contact_mm2 == 0


def test_each_angle_has_its_own_cap():
    """A surface that leans more than a from the vertical has a normal within 90° − a of straight down; to half a row of facets."""
    pose, rows = standing(sphere(10, 48, 180), "+z"), 180
    for angle in ANGLES_DEG:
        cap = 2 * np.pi * 100 * (1 - np.cos(np.radians(90 - angle)))
        half_a_row = 2 * np.pi * 100 * np.cos(np.radians(angle)) * np.pi / rows / 2
        assert pose.leaning_at(angle).overhang_mm2 == pytest.approx(cap, abs=half_a_row + 0.005 * cap)


def test_a_lying_cylinder_hangs_by_a_quarter_of_its_round():
    """±45° of the round, r π/2 long; below it ∫ (r − √(r²−x²)) dx over ± r sin 45°, times its length."""
    r, length = 10.0, 50.0
    facet = 2 * np.pi * r / 360 * length
    pose = standing(cylinder(r, length, 360), "+x")
    assert pose.overhang_mm2 + pose.contact_mm2 == pytest.approx(r * np.pi / 2 * length, abs=facet)
    s = r * np.sin(np.pi / 4)
    under = 2 * r * s - (s * np.sqrt(r**2 - s**2) + r**2 * np.arcsin(s / r))
    assert pose.support_mm3 == pytest.approx(under * length, rel=0.02)
    assert pose.contact_mm2 < 2 * length  # a facet or two
    assert standing(cylinder(r, length, 360), "+z").contact_mm2 == pytest.approx(np.pi * r**2, rel=0.001)


@pytest.mark.parametrize(("angle", "hangs"), [(44.0, 0), (45.0, 0), (46.0, 1), (60.0, 1)])
def test_what_leans_more_than_the_angle_hangs_over(angle, hangs):
    """A block with one side leaning outwards: 45° itself is printed without support."""
    lean = 20 * np.tan(np.radians(angle))
    leaning = prism([(0, 0), (30, 0), (30 + lean, 20), (0, 20)], 10)
    pose = standing(leaning, "+y")
    slant = 20 / np.cos(np.radians(angle)) * 10
    assert pose.overhang_mm2 == pytest.approx(slant * hangs, rel=1e-4)
    assert pose.support_mm3 == pytest.approx(hangs * lean * 20 / 2 * 10, rel=1e-4)
    single = Mesh(vertices_mm=leaning.vertices_mm.astype(np.float32), faces=leaning.faces)
    assert standing(single, "+y").overhang_mm2 == pytest.approx(slant * hangs, rel=1e-3)


def test_under_the_arms_of_a_tee_and_under_a_table():
    upright = standing(tee(), "+z")
    assert (upright.overhang_mm2, upright.support_mm3, upright.contact_mm2) == pytest.approx((200, 200 * 30, 100))
    under = standing(table(), "+z")
    assert (under.overhang_mm2, under.support_mm3, under.contact_mm2) == pytest.approx((2300, 2300 * 30, 100))


def test_support_ends_on_the_part_below():
    pose = standing(bracket(), "+z")
    assert pose.overhang_mm2 == pytest.approx(1600)
    assert pose.support_mm3 == pytest.approx(1600 * 20, rel=0.01)
    # A wedge lies below a lid: support from its slope, 10 mm high at one end and 20 mm at the other, up to 50 mm.
    wedge = prism([(0, 0), (40, 0), (40, 20), (0, 10)], 30)
    lid = box(40, 10, 30, at=(0, 50, 0))
    assert standing(together(wedge, lid), "+y").support_mm3 == pytest.approx(40 * 30 * 35, rel=0.01)


def test_the_best_pose_lays_a_tee_down_and_a_table_on_its_top():
    assert best(table()).axis == "-z"
    assert best(tee()).axis in ("+y", "-y")
    assert reason(poses_of(table())) is Reason.NO_SUPPORT
    assert reason(poses_of(box(10, 10, 10))) is Reason.AS_MODELLED
    assert best(box(10, 10, 10)).axis == "+z"
    assert best(box(3, 80, 100)).height_mm == pytest.approx(3)


def test_a_powder_carries_all_so_that_the_lowest_is_best():
    poses = poses_of(bracket())
    lying = best_pose(poses, None)
    assert lying is not None
    assert lying.height_mm == pytest.approx(min(pose.height_mm for pose in poses.candidates))
    assert reason(poses, None) is Reason.FLATTEST


def test_a_side_askew_is_tried_too():
    """A block turned in space stands on its own six faces, with its own sides."""
    poses = poses_of(moved(box(20, 30, 40), TURN, by=(500, -300, 70)))
    flat = best_pose(poses)
    assert flat is not None
    assert sorted(flat.size_mm) == pytest.approx([20, 30, 40], abs=1e-3)
    assert (flat.height_mm, flat.contact_mm2) == (pytest.approx(20, abs=1e-3), pytest.approx(1200, rel=1e-4))
    assert flat.support_mm3 == 0
    assert np.abs(np.abs(np.array(flat.up) @ TURN).max()) == pytest.approx(1)


def test_what_would_fall_over_is_no_side_to_stand_on():
    """The slanted face of a leaning prism, whose middle is beside it."""
    leaning = prism([(0, 0), (10, 0), (70, 60), (60, 60)], 10)
    poses = poses_of(leaning)
    assert not standing(leaning, "+y").is_stable
    assert all(pose.is_stable for pose in poses.candidates if pose.axis is None)


@pytest.mark.parametrize(
    "copy",
    [
        lambda mesh: refined(mesh, 2),
        soup,
        lambda mesh: moved(mesh, by=(3000.0, -900.0, 41.0)),
        lambda mesh: Mesh(vertices_mm=mesh.vertices_mm, faces=mesh.faces[::-1]),
    ],
)
def test_the_same_shape_has_the_same_poses(copy):
    for axis in AXES:
        one, other = standing(table(), axis), standing(copy(table()), axis)
        assert other.size_mm == pytest.approx(one.size_mm, abs=1e-3)
        assert other.overhang_mm2 == pytest.approx(one.overhang_mm2, rel=1e-4)
        assert other.contact_mm2 == pytest.approx(one.contact_mm2, rel=1e-4)
        assert other.support_mm3 == pytest.approx(one.support_mm3, rel=0.01, abs=1)


@pytest.mark.parametrize(
    "mesh",
    [
        Mesh(vertices_mm=np.zeros((0, 3)), faces=np.zeros((0, 3), dtype=int)),
        Mesh(vertices_mm=np.zeros((3, 3)), faces=np.array([[0, 1, 2]])),
        Mesh(vertices_mm=np.array([[0, 0, 0], [1, 1, 1], [2, 2, 2.0]]), faces=np.array([[0, 1, 2]])),
    ],
)
def test_of_no_surface_there_is_no_pose(mesh):
    assert poses_of(mesh) == Poses(candidates=())
    assert best_pose(poses_of(mesh)) is None
    assert reason(poses_of(mesh)) is None


def test_a_sheet_has_its_six_axes():
    sheet = Mesh(vertices_mm=np.array([[0, 0, 0], [9, 0, 0], [0, 9, 0.0]]), faces=np.array([[0, 1, 2]]))
    assert len(poses_of(sheet).candidates) == 6


def test_a_cone_on_its_tip_has_all_of_its_round_over_the_plate():
    """Half angle 60°: all leans, πrs; support is what the cone lacks of its cylinder, 2/3 πr²h."""
    h = 10.0
    r = h * np.tan(np.radians(60))
    pose = standing(capped([(0, 0), (r, h), (0, h)], 96), "+z")
    assert pose.overhang_mm2 == pytest.approx(np.pi * r * np.hypot(r, h), rel=0.002)
    assert pose.support_mm3 == pytest.approx(2 / 3 * np.pi * r**2 * h, rel=0.002)


def test_equal_meshes_give_equal_poses_and_they_come_back_from_the_store():
    poses = poses_of(sphere(10, 48, 24))
    assert poses == poses_of(sphere(10, 48, 24))
    assert Poses.from_json(poses.to_json()) == poses
    assert [score_mm3(pose) for pose in poses.candidates[1:]] == sorted(score_mm3(pose) for pose in poses.candidates[1:])


def test_needles_through_everything_make_the_grid_coarser_and_no_more_work(monkeypatch):
    from generator.geometry.printing import columns

    monkeypatch.setattr(columns, "MOST_MET", 2000)
    assert standing(bracket(), "+z").support_mm3 == pytest.approx(1600 * 20, rel=0.2)


def funnel(lean_deg: float, around: int, *, offset: bool, at: float = 0.0) -> Mesh:
    """A closed cone frustum that widens upwards from 10 mm, 5 mm high; its upper ring may be turned by half a facet. In single precision, as a file has it."""
    wide = 10 + 5 * np.tan(np.radians(lean_deg))
    low, high = (2 * np.pi * (np.arange(around) + turn) / around for turn in (0.0, 0.5 if offset else 0.0))
    rings = [np.column_stack([r * np.cos(a), r * np.sin(a), np.full(around, z)]) for r, a, z in ((10, low, 0), (wide, high, 5))]
    points = np.concatenate([*rings, [[0, 0, 0], [0, 0, 5]]]) + at
    each, after = np.arange(around), (np.arange(around) + 1) % around
    bottom, top = np.full(around, 2 * around), np.full(around, 2 * around + 1)
    triples = [(each, after, around + each), (after, around + after, around + each), (bottom, after, each), (top, around + each, around + after)]
    return Mesh(vertices_mm=points.astype(np.float32).astype(np.float64), faces=np.concatenate([np.column_stack(three) for three in triples]))


@pytest.mark.parametrize(("around", "at"), [(24, 0.0), (48, 300.0), (256, 300.0), (2000, 300.0)])
@pytest.mark.parametrize("offset", [False, True])
def test_a_cone_of_exactly_45_degrees_is_not_more_than_45(around, at, offset):
    """By its facets it may lean by half a degree more: triangles between rings that are turned, corners in single precision."""
    pose = standing(funnel(45, around, offset=offset, at=at), "+z")
    assert (pose.overhang_mm2, pose.support_mm3) == (0, 0)
    lean = 45.8 if around > 24 else 46.5
    leaning = standing(funnel(lean, around, offset=offset, at=at), "+z")
    assert leaning.overhang_mm2 == pytest.approx(np.pi * (20 + 5 * np.tan(np.radians(lean))) * 5 / np.cos(np.radians(lean)), rel=0.03)


def test_nor_one_of_facets_so_small_that_single_precision_tilts_them():
    fine = capped([(0, 0), *((10 + each / 8, each / 8) for each in range(41)), (0, 5)], 400)
    far = moved(fine, by=(700.0, 300.0, 100.0))
    single = Mesh(vertices_mm=far.vertices_mm.astype(np.float32).astype(np.float64), faces=far.faces)
    assert standing(single, "+z").overhang_mm2 == 0
