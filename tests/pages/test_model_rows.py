"""Does the data of a part say where the unit of its model comes from?"""

from dataclasses import replace

import pytest

from generator.geometry.measured import ModelSource
from generator.pages.part.figures import figures
from generator.pages.wording import wording
from generator.reading.meshes.sniff import MeshFormat
from generator.reading.meshes.units import UnitSource
from generator.records.mesh_units import MeshUnits
from tests.pages.sample import judged_sample

W = wording("en")
CATALOGUE, SHEETS, _ = judged_sample()
LATCH = SHEETS[0]


def rows(source):
    assert LATCH.part
    return dict(figures(replace(LATCH, source=source), LATCH.part, CATALOGUE, W).model)


@pytest.mark.parametrize(
    ("units", "unit_source", "says"),
    [
        ("mm", "assumed", "millimetres, assumed: neither the file nor part.yml says"),
        ("inch", "given", "inches, as part.yml says"),
        ("mm", "file", "millimetres, as the file says"),
        ("m", "standard", "metres, as the file format lays down"),
    ],
)
def test_the_unit_says_who_said_it(units, unit_source, says):
    assert rows(ModelSource(format="binary STL", units=units, unit_source=unit_source))["Unit"] == says


def test_without_a_model_there_is_no_unit():
    assert "Unit" not in rows(None)


def test_every_unit_source_and_format_has_its_words():
    for unit in MeshUnits:
        assert f"terms.mesh_unit.{unit}" in W.flat
    for kind in MeshFormat:
        assert f"terms.mesh_format.{kind}" in W.flat
    for who in UnitSource:
        assert f"figures.unit_of.{who}" in W.flat
