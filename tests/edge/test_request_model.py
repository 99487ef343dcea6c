"""A request that brings a model: what is it like, at once, on its page, and when all is checked?"""

import json

import numpy as np
import pytest

from generator.reading.meshes.load import mesh_from_bytes
from tests.edge.conftest import bytes_of
from tests.edge.test_request import REQUEST, VOICE
from tests.fixtures.stl import stl


@pytest.fixture
def model(depot):
    """The corners of the first part's model, lying otherwise."""
    file = next(each for each in sorted(depot.glob("catalogue/parts/EX-0001*/*")) if each.suffix in (".stl", ".step", ".3mf"))
    mesh = mesh_from_bytes(file.read_bytes(), file.suffix, None).mesh
    c, s = np.cos(0.7), np.sin(0.7)
    return (mesh.vertices_mm @ np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]).T + [10, 20, 30])[mesh.faces]


def checked(spares):
    told = json.loads(spares("check", "--format", "json")[1])
    return [(each["code"], each["file"], each["says"]) for each in told["problems"]]


def test_a_model_goes_with_its_request_and_what_it_is_like_is_told_first(depot, sent, spares, model):
    """One model all the way, for measuring it is dear."""
    scan, before = depot / "scan.stl", bytes_of(depot / "catalogue")
    scan.write_bytes(stl(model / 25.4))
    asked = ("request", "add", sent(REQUEST), "--model", scan, "--units", "inch")
    for is_dry in (True, False):
        code, out, err = spares(*asked, *(("--dry-run",) if is_dry else ()))
        assert (code, err) == (0, "")
        told = " ".join(out.split())
        assert told.index("EX-0001") < told.index("same part, another mesh") < told.index("requests/R-0001.yml")
        assert not is_dry or bytes_of(depot / "catalogue") == before
    record = (depot / "catalogue/requests/R-0001.yml").read_text("utf-8")
    assert "model: models/R-0001.stl\nmodel_units: inch\n" in record
    kept = depot / "catalogue/requests/models/R-0001.stl"
    assert kept.read_bytes() == scan.read_bytes()
    ((found, where, says),) = checked(spares)
    assert (found, where) == ("LIKE03", "requests/R-0001.yml")
    assert "EX-0001" in says
    code, _, err = spares("request", "add", sent(VOICE, "voice.yml"), "--model", scan, "--units", "inch")
    assert (code, "--model goes with one request" in " ".join(err.split())) == (2, True)
    kept.write_bytes(b"solid nothing\nfacet")
    ((_, where, _),) = checked(spares)
    assert where == "requests/models/R-0001.stl"


@pytest.mark.parametrize("content", [b"solid nothing\nfacet", b"", b"\x89PNG\r\n\x1a\n" + bytes(60)])
def test_what_is_no_model_adds_nothing(depot, sent, spares, content):
    before = bytes_of(depot / "catalogue")
    (depot / "bad.stl").write_bytes(content)
    code, _, err = spares("request", "add", sent(REQUEST), "--model", "bad.stl")
    assert code == 1
    assert "bad.stl" in err
    assert bytes_of(depot / "catalogue") == before


def test_a_model_goes_with_one_request_alone(depot, sent, spares):
    before = bytes_of(depot / "catalogue")
    for arguments in (["--model", "scan.stl", sent(REQUEST.replace("cord", "rail"), "b.yml")], ["--units", "inch"]):
        assert spares("request", "add", sent(REQUEST, "a.yml"), *arguments)[0] == 2
    assert bytes_of(depot / "catalogue") == before


def test_a_file_from_outside_names_no_model(depot, sent, spares):
    code, out, _ = spares("request", "add", sent(REQUEST + "model: models/R-0007.stl\n"))
    assert code == 1
    assert "error REQ06: names the model models/R-0007.stl, which did not come with it" in out
