"""Our figures are told only where a second way of measuring agrees."""

import json
from dataclasses import replace

import numpy as np
import pytest

from generator.geometry.measure import mesh_facts
from generator.geometry.mesh import Mesh
from generator.measuring.facts_of import facts_of
from generator.measuring.opened import Opened
from generator.measuring.products import FACTS_FILE
from generator.measuring.second_opinion import check_second_opinion
from tests.fixtures.told import refused
from tests.reading.meshes import files

BOX = Mesh(
    vertices_mm=np.array(files.box(10, 20, 30)[0], dtype=float),
    faces=np.array(files.box(10, 20, 30)[1], dtype=np.int64),
)


def test_two_ways_agree_on_a_box():
    check_second_opinion(BOX, mesh_facts(BOX))


@pytest.mark.parametrize("change", [{"volume_mm3": 6001.0}, {"area_mm2": 2199.0}])
def test_a_figure_that_only_one_finds_is_refused(change):
    with refused("do not agree"):
        check_second_opinion(BOX, replace(mesh_facts(BOX), **change))


def test_a_mesh_that_only_one_calls_closed_is_refused():
    open_box = Mesh(vertices_mm=BOX.vertices_mm, faces=BOX.faces[:-1])
    facts = replace(mesh_facts(open_box), volume_mm3=6000.0)
    with refused("do not agree"):
        check_second_opinion(open_box, facts)


def test_where_no_volume_is_told_nothing_is_compared():
    open_box = Mesh(vertices_mm=BOX.vertices_mm, faces=BOX.faces[:-1])
    check_second_opinion(open_box, mesh_facts(open_box))


def sliver(vertices, faces):
    """One edge of the box gets a further corner a hair beside its end, as coarse exporters do: a face collapses to a line."""
    (a, b, c), beside = faces[0], len(vertices)
    near = vertices[a] + (vertices[b] - vertices[a]) * 1e-9
    cut = [[beside, b, c], [a, beside, c], [a, a, beside]]
    return np.vstack([vertices, near]), np.vstack([faces[1:], cut, [[a, b, beside]]])


@pytest.mark.parametrize(
    ("vertices", "faces"),
    [sliver(*files.box(10, 20, 30)), (files.box(10, 20, 30)[0], np.vstack([files.box(10, 20, 30)[1], [[0, 0, 1]]]))],
    ids=["a sliver", "a point twice"],
)
def test_a_collapsed_triangle_does_not_open_a_closed_mesh(vertices, faces):
    """trimesh alone, given the file as it is, calls the box open for it."""
    made = facts_of(Opened(files.binary_stl(vertices, faces), ".stl", None))
    told = json.loads(made[FACTS_FILE])["facts"]
    assert told["is_watertight"]
    assert told["volume_mm3"] == pytest.approx(6000)
