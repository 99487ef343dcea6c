"""Does the data of a part say where the unit of its model comes from?"""

from dataclasses import replace

import pytest

from generator.geometry.measured import ModelSource
from generator.pages.gathered import around_of
from generator.pages.part.figures import figures
from generator.pages.wording import wording
from generator.reading.meshes.sniff import MeshFormat
from generator.reading.meshes.units import UnitSource
from generator.records.mesh_units import MeshUnits
from tests.pages.sample import DAY, judged_sample

W = wording("en")
CATALOGUE, SHEETS, _ = judged_sample()
AROUND = around_of(CATALOGUE, SHEETS, DAY)
LATCH = SHEETS[0]


def rows(source):
    assert LATCH.part
    return dict(figures(replace(LATCH, source=source), LATCH.part, AROUND).model)


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


@pytest.mark.parametrize(("as_modelled", "smallest", "says"), [
    ((35.0, 35.0, 34.0), (35.0, 35.0, 34.0), "35 × 35 × 34 mm along the model's axes x, y, z"),
    ((18.0, 42.04, 18.0), (42.0, 18.0, 18.0), "18 × 42 × 18 mm along the model's axes x, y, z"),
    ((59.7, 62.0, 24.0), (61.9, 58.0, 24.0), "59.7 × 62 × 24 mm along the model's axes x, y, z; the part lies askew to them, and its size is that of the smallest box around it"),
    ((58.05, 24.0, 18.0), (58.0499, 24.0, 18.0), "58 × 24 × 18 mm along the model's axes x, y, z"),
])  # fmt: skip
def test_two_sizes_are_never_told_without_why_they_differ(as_modelled, smallest, says):
    assert LATCH.part
    assert LATCH.mesh
    sheet = replace(LATCH, mesh=replace(LATCH.mesh, size_mm=as_modelled, oriented_size_mm=smallest))
    assert dict(figures(sheet, LATCH.part, AROUND).model)["Size as modelled"] == says


def test_every_unit_source_and_format_has_its_words():
    for unit in MeshUnits:
        assert f"terms.mesh_unit.{unit}" in W.flat
    for kind in MeshFormat:
        assert f"terms.mesh_format.{kind}" in W.flat
    for who in UnitSource:
        assert f"figures.unit_of.{who}" in W.flat
