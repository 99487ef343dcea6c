"""A format that is read is forgotten by no list that hangs on its endings."""

import re
from pathlib import Path
from typing import get_args

import pytest

from generator.edge.cli import main
from generator.pages.wording import PAGES
from generator.reading.meshes import load
from generator.reading.meshes.endings import (
    MESH_ENDINGS,
    PACKED_ENDINGS,
    UNITLESS_ENDINGS,
    carries_unit,
    is_packed,
)
from generator.reading.meshes.sniff import SUFFIXES, MeshFormat
from tests.reading.meshes import files

ROOT = Path(__file__).parents[3]
BOX = files.box(10, 20, 30)
WRITTEN = {
    MeshFormat.STL_BINARY: files.binary_stl(*BOX),
    MeshFormat.STL_ASCII: files.ascii_stl(*BOX),
    MeshFormat.OBJ: files.obj(*BOX),
    MeshFormat.PLY: files.ply(*BOX),
    MeshFormat.THREEMF: files.threemf_box(10, 20, 30),
    MeshFormat.GLB: files.glb(*BOX),
    MeshFormat.STEP: files.STEP_BOX,
}
LISTED = ("README.md", "site_src/guide/specialist.md", "site_src/guide/specialist.de.md", "site_src/guide/specialist.da.md")


@pytest.mark.parametrize("kind", MeshFormat)
def test_every_format_has_an_ending_and_a_file_here(kind):
    assert kind in WRITTEN
    assert any(kind in held for held in SUFFIXES.values())


@pytest.mark.parametrize("kind", MeshFormat)
def test_a_format_carries_a_unit_where_its_reader_finds_one(kind):
    readers = load._Unitless if not carries_unit(kind) else load._WithOwnUnits
    assert kind in get_args(readers)


@pytest.mark.parametrize("kind", MeshFormat)
def test_a_format_is_packed_where_its_files_are_zips(kind):
    # APPNOTE 4.3.7: the signature of a local file header
    assert is_packed(kind) is WRITTEN[kind].startswith(b"PK\x03\x04")


def test_the_endings_are_those_of_the_formats():
    assert MESH_ENDINGS == ("stl", "3mf", "obj", "ply", "glb", "step", "stp")
    assert UNITLESS_ENDINGS == ("stl", "obj", "ply")
    assert PACKED_ENDINGS == ("3mf",)


def names(kinds):
    """What people call the formats: 'binary STL' and 'ASCII STL' are STL."""
    return {kind.value.split()[-1] for kind in kinds}


@pytest.mark.parametrize("text", LISTED)
def test_what_lists_the_formats_by_hand_has_each(text):
    line = next(each for each in (ROOT / text).read_text("utf-8").splitlines() if "model.stl" in each and "3MF" in each)
    assert names(MeshFormat) <= set(re.findall(r"\w+", line))


@pytest.mark.parametrize("command", [["new"], ["match"], ["request", "add"]], ids=" ".join)
def test_the_help_names_each_format_without_a_unit(command, capsys):
    assert main([*command, "--help"]) == 0
    said = capsys.readouterr().out.partition("\n  --units {")[2].partition("\n  --")[0]
    assert names(MeshFormat) & set(re.findall(r"\w+", said)) == names(kind for kind in MeshFormat if not carries_unit(kind))


@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_the_map_of_an_import_names_each_format_without_a_unit(language):
    text = (PAGES / "importing/words" / f"{language}.yml").read_text("utf-8")
    line = next(each for each in text.splitlines() if each.strip().startswith("mesh_units:"))
    assert names(MeshFormat) & set(re.findall(r"\w+", line)) == names(kind for kind in MeshFormat if not carries_unit(kind))
