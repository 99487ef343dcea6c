"""`spares match` as a specialist runs it on a scan, and on what is none."""

import json

import numpy as np
import pytest

from generator.reading.meshes.load import mesh_from_bytes
from tests.fixtures.stl import stl


@pytest.fixture
def model(depot):
    """The corners of the first part's model, lying otherwise."""
    file = next(each for each in sorted(depot.glob("catalogue/parts/EX-0001*/*")) if each.suffix in (".stl", ".step", ".3mf"))
    mesh = mesh_from_bytes(file.read_bytes(), file.suffix, None).mesh
    c, s = np.cos(1.1), np.sin(1.1)
    return (mesh.vertices_mm @ np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]).T + [10, 20, 30])[mesh.faces]


def test_a_turned_copy_is_the_same_part_and_an_inch_copy_a_scaled_one(depot, spares, model):
    for times, kind in ((1, "same"), (1 / 25.4, "scaled")):
        (depot / "asked.stl").write_bytes(stl(model * times))
        code, said, _ = spares("match", "asked.stl", "--format", "json")
        first = json.loads(said)[0]
        assert (code, first["number"], first["kind"]) == (0, "EX-0001", kind)
        assert first["size_ratio"] == pytest.approx(times, rel=0.01)


def test_an_open_scan_is_told_with_what_it_covers_a_caution_and_its_picture(depot, spares, model):
    high = model.mean(axis=1)[:, 2]
    (depot / "scan.stl").write_bytes(stl(model[high > np.quantile(high, 0.1)]))
    _, said, _ = spares("match", "scan.stl", "--picture", "beside.png")
    told = " ".join(said.split())
    assert "no sure volume" in told
    assert "EX-0001" in told
    assert "A likeness says nothing about fitting." in told
    assert (depot / "beside.png").read_bytes().startswith(b"\x89PNG")


def test_a_broken_part_of_the_catalogue_is_named_and_the_others_are_compared(depot, spares, model):
    broken = next(each for each in sorted(depot.glob("catalogue/parts/EX-0002*/*")) if each.suffix in (".stl", ".step", ".3mf"))
    broken.write_bytes(b"solid nothing\nfacet")
    (depot / "asked.stl").write_bytes(stl(model))
    code, said, beside = spares("match", "asked.stl")
    assert code == 0
    assert "EX-0001" in said
    assert "EX-0002" in beside


def test_what_is_no_model_ends_in_one_message(depot, spares):
    (depot / "bad.stl").write_bytes(b"solid nothing\nfacet")
    code, _, beside = spares("match", "bad.stl")
    assert code == 1
    assert beside.count("spares: ") == 1
    assert "Traceback" not in beside


def test_a_picture_needs_the_name_of_one(depot, spares):
    code, _, beside = spares("match", "bad.stl", "--picture", "beside.jpg")
    assert code == 2
    assert "PNG" in beside
