"""What of the features is left out where there is too much to look at, and that nothing else changes."""

import manifold3d
import numpy as np
import pytest

from generator.geometry.features import piercing, rows
from generator.geometry.features.cylinders import cylinders_of
from generator.geometry.features.facets import facets_of
from generator.geometry.features.found import features_of
from generator.geometry.features.kinds import Kind
from generator.geometry.features.regions import regions_of
from generator.geometry.mesh import Mesh
from tests.geometry.solids import blocks, cylinder, moved, together


@pytest.fixture(scope="module")
def drilled():
    """A plate with a row of blind holes in each of two directions, the wider ones first."""
    plate = solid_of(blocks([0, 80], [0, 80], [0, 80], lambda *_: True))
    upright = [moved(cylinder(2 + 0.2 * n, 40, 32), by=(12 * n + 8, 10, 70)) for n in range(6)]
    across = np.array([[1, 0, 0], [0, 0, -1], [0, 1, 0]])
    lying = [moved(moved(cylinder(2.1 + 0.2 * n, 40, 32), matrix=across), by=(12 * n + 8, 10, 10)) for n in range(6)]
    for each in (*upright, *lying):
        plate = plate - solid_of(each)
    mesh = plate.to_mesh64()
    return Mesh(vertices_mm=np.array(mesh.vert_properties)[:, :3], faces=np.array(mesh.tri_verts, dtype=np.int64))


def solid_of(mesh):
    return manifold3d.Manifold(manifold3d.Mesh64(vert_properties=mesh.vertices_mm, tri_verts=mesh.faces.astype(np.uint64)))


def holes(found):
    return sorted(round(each.size_mm, 2) for each in found.found if each.kind is Kind.HOLE)


def test_of_too_many_holes_the_largest_are_told_and_that_it_was_too_much(monkeypatch, drilled):
    whole = features_of(drilled)
    assert whole.is_whole
    assert len(holes(whole)) == 12
    monkeypatch.setattr(piercing, "MOST_LOOKED_AT", 16 * len(drilled.faces))
    part = features_of(drilled)
    assert not part.is_whole
    assert holes(part) == holes(whole)[-len(holes(part)) :]
    assert 2 <= len(holes(part)) <= 6


def test_how_many_directions_are_kept_changes_no_feature(monkeypatch, drilled):
    whole = features_of(drilled)
    monkeypatch.setattr(piercing, "_directions", lambda _: 1)
    assert features_of(drilled) == whole


def test_of_too_many_rows_those_that_look_most_ways_are_told(monkeypatch):
    pins = facets_of(together(*(moved(cylinder(2 + 0.2 * n, 10, 32), by=(12 * n + 8, 10, 40)) for n in range(6))))
    whole, is_whole = rows.rows_of(pins)
    monkeypatch.setattr(rows, "MOST_BESIDE", 3)
    fewer, is_all = rows.rows_of(pins)
    assert 0 < len(fewer) < len(whole) == 6
    assert (is_whole, is_all) == (True, False)
    assert not cylinders_of(pins, regions_of(pins)).is_whole
