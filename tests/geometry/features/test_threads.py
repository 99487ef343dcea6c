"""Threads as coarse exporters facet them: told with the right hand and pitch, whatever the facets; source of the sizes: the solids' own."""

import numpy as np
import pytest

from generator.geometry.features.found import features_of
from generator.geometry.features.kinds import Kind
from generator.geometry.mesh import Mesh
from tests.geometry.solids import moved, screw, together, turned_inside_out, with_faces


@pytest.mark.parametrize("around", [8, 12, 31])
@pytest.mark.parametrize("is_left", [False, True])
@pytest.mark.parametrize(("outer", "inner", "pitch"), [(12.0, 10.3, 3.0), (16.0, 13.0, 4.0), (22.0, 8.0, 30.0)])
def test_few_facets_a_turn_tell_hand_and_pitch(outer, inner, pitch, is_left, around):
    """The last is a conveyor's screw."""
    told = [each for each in features_of(screw(outer, inner, pitch, around=around, is_left=is_left)).found if each.kind is Kind.THREAD]
    assert [str(each.hand) for each in told] == ["left" if is_left else "right"]
    assert told[0].second_mm == pytest.approx(pitch, rel=0.01)
    assert told[0].size_mm == pytest.approx(2 * outer, rel=0.005)
    assert not told[0].is_inner


def test_a_threaded_bore_is_thread_like():
    """A rod's skin inside out and without its ends: what a tap leaves, of twelve facets a turn."""
    rod = screw(12.0, 10.3, 3.0, around=12)
    bore = turned_inside_out(with_faces(rod, rod.faces[: -2 * 3 * 12]))
    told = features_of(bore).found
    assert [(each.is_inner, str(each.hand)) for each in told if each.kind is Kind.THREAD] == [(True, "right")]


def test_rings_and_cones_are_no_thread():
    rings = together(*[moved(screw(12.0, 10.3, 1e-9, turns=1, around=24), by=(0, 0, 3.0 * each)) for each in range(6)])
    assert not [each for each in features_of(rings).found if each.kind is Kind.THREAD]


def helical_gear(teeth: int, rows: int) -> Mesh:
    """Square teeth 34 / 46 that turn by one pitch over 15 mm: over all rows no angle is more frequent than another."""
    around = 4 * teeth
    turn = 2 * np.pi * (np.arange(around) / around + np.arange(rows + 1)[:, None] / rows / teeth)
    reach = 20 + 3 * np.where(np.arange(around) % 4 < 2, 1, -1)
    high = np.broadcast_to(15 * np.arange(rows + 1)[:, None] / rows, turn.shape)
    points = np.stack([reach * np.cos(turn), reach * np.sin(turn), high], axis=2).reshape(-1, 3)
    i, j = (each.ravel() for each in np.meshgrid(np.arange(rows), np.arange(around), indexing="ij"))
    a, b = i * around + j, i * around + (j + 1) % around
    k, last = np.arange(around), rows * around
    ends = [np.stack([np.full(around, len(points)), (k + 1) % around, k], 1), np.stack([np.full(around, len(points) + 1), last + k, last + (k + 1) % around], 1)]
    faces = np.concatenate([np.stack([a, b, a + around], 1), np.stack([b, b + around, a + around], 1), *ends])
    return Mesh(vertices_mm=np.vstack([points, [[0, 0, 0], [0, 0, 15]]]), faces=faces)


def test_a_helical_gear_tells_its_teeth_and_not_its_rows():
    told = features_of(helical_gear(18, 6)).found
    assert [each.count for each in told if each.kind is Kind.TEETH] == [18]
    assert not [each for each in told if each.kind is Kind.THREAD]
