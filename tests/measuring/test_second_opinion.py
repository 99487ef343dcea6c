"""Our figures are told only where a second way of measuring agrees."""

from dataclasses import replace

import numpy as np
import pytest

from generator.geometry.measure import mesh_facts
from generator.geometry.mesh import Mesh
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
