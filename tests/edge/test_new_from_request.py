"""`spares new --from R-0031`: what the request knows is filled in and the request answered, in one go or not at all."""

import json
import shutil
from pathlib import Path

import pytest
import yaml
from PIL import Image

from generator.edge.disk import new_folder
from generator.edge.disk.atomic import ChangedMeanwhileError
from generator.pages.requests.asked import open_requests
from generator.reading.catalogue import read_catalogue
from tests.edge.conftest import bytes_of, names_in

REQUEST = """\
on: 2026-11-20
by: fitter
name: {name}
what_it_does: {does}
fleet: A1
vehicles: ["11"]
place: cab
words: [end cap]
numbers: ["4-117-0431", "0815"]
sizes_mm: [36, 35, 36]
yearly_demand: 6
stops_without: The door stays shut.
photo: photos/R-0031.jpg
also_wanted:
  - on: 2026-11-21
    by: fitter
    yearly_demand: 2.5
# written by hand, and kept
"""
FOLDER = "catalogue/parts/EX-0100-end-cap-of-the-rail"


@pytest.fixture
def mesh(depot):
    """A model of its own."""
    text = (depot / "catalogue/parts/EX-0001-lid-knob/model.stl").read_text("ascii")
    file = depot / "cap.stl"
    file.write_text(text.replace("vertex", "vertex").replace(" 10", " 11"), "ascii")
    return file


@pytest.fixture
def request_file(depot):
    requests = depot / "catalogue/requests"
    (requests / "photos").mkdir(parents=True, exist_ok=True)
    Image.new("RGB", (64, 48), "#884422").save(requests / "photos/R-0031.jpg")
    file = requests / "R-0031.yml"
    file.write_text(REQUEST.format(name="End cap of the rail", does="Closes the end."), encoding="utf-8")
    return file


def started(spares, mesh, *more, number="ex-0100", request="r-0031"):
    return spares("new", number.upper(), *more, "--from", request, "--mesh", mesh)


def part_of(depot, folder=FOLDER):
    return yaml.safe_load((depot / folder / "part.yml").read_text("utf-8"))


def test_what_the_request_knows_is_filled_in(depot, spares, mesh, request_file):
    before = request_file.read_bytes()
    code, out, _ = started(spares, mesh)
    assert code == 0
    assert "R-0031 is answered by EX-0100." in out
    part = part_of(depot)
    assert part["name"] == "End cap of the rail"
    assert part["purpose"] == "Closes the end."
    assert part["other_names"] == ["end cap"]
    assert [each["number"] for each in part["replaces"]] == ["4-117-0431", "0815"]
    assert part["fits"][0] == {"fleet": "A1", "vehicles": ["11"], "place": "cab", "per_vehicle": part["fits"][0]["per_vehicle"]}
    assert part["yearly_demand"] == 8.5
    assert [(each["feature"], each["size"]) for each in part["features"]] == [("TODO", 36), ("TODO", 35)]
    assert "The door stays shut." in part["symptoms"][0]
    assert names_in(depot / FOLDER / "photos") == ["R-0031.jpg"]
    assert request_file.read_bytes() == before + b"answered_by: EX-0100\n"


def test_only_what_a_person_knows_is_left(depot, spares, mesh, request_file):
    started(spares, mesh)
    found = json.loads(spares("check", "--format", "json")[1])["problems"]
    assert {each["code"] for each in found} == {"REC04", "FIT02"}
    assert "requests" not in {each["file"].split("/")[0] for each in found}


def test_the_request_leads_to_the_part(depot, spares, mesh, request_file):
    started(spares, mesh)
    spares("build", "--markdown", "pages")
    assert "parts/EX-0100" in (depot / "pages/requests.md").read_text("utf-8")


def test_a_name_that_is_given_counts(depot, spares, mesh, request_file):
    assert started(spares, mesh, "Rail cap")[0] == 0
    assert part_of(depot, "catalogue/parts/EX-0100-rail-cap")["name"] == "Rail cap"


@pytest.mark.parametrize(("request_id", "says"), [("R-0999", "there is no request R-0999"), ("../R-0031", "there is no request ../R-0031")])
def test_an_unknown_request_is_refused(depot, spares, mesh, request_file, request_id, says):
    before = bytes_of(depot / "catalogue")
    code, _, err = started(spares, mesh, request=request_id)
    assert (code, says in err) == (2, True)
    assert bytes_of(depot / "catalogue") == before


def test_an_answered_request_is_refused_and_says_by_what(depot, spares, mesh, request_file):
    request_file.write_text(request_file.read_text("utf-8").rstrip() + "\nanswered_by: EX-0001\n", "utf-8")
    before = bytes_of(depot / "catalogue")
    code, _, err = started(spares, mesh, number="EX-0101")
    assert code == 1
    assert "R-0031 is answered already, by EX-0001" in err
    assert bytes_of(depot / "catalogue") == before


def test_a_request_with_mistakes_is_not_called_unknown(depot, spares, mesh, request_file):
    request_file.write_text(request_file.read_text("utf-8").replace("fleet: A1", "fleet: A1\nfleat: A1"), "utf-8")
    code, out, err = started(spares, mesh)
    assert code == 1
    assert "R-0031.yml" in out + err


def test_two_requests_are_refused_and_no_name_needs_one(depot, spares, mesh, request_file):
    assert spares("new", "EX-0100", "--from", "R-0031", "--from", "R-0032", "--mesh", mesh)[0] == 2
    assert "the name is missing" in spares("new", "EX-0100", "--mesh", mesh)[2]


def test_a_broken_mesh_answers_nothing(depot, spares, mesh, request_file):
    mesh.write_text("solid nothing\nendsolid\n")
    before = bytes_of(depot / "catalogue")
    assert started(spares, mesh)[0] == 1
    assert bytes_of(depot / "catalogue") == before


@pytest.mark.parametrize("error", [ChangedMeanwhileError(), OSError(28, "No space left on device")])
def test_where_the_answer_cannot_be_written_there_is_no_part(depot, spares, mesh, request_file, monkeypatch, error):
    def fails(*_):
        raise error

    monkeypatch.setattr(new_folder, "exchanged_whole", fails)
    before = bytes_of(depot / "catalogue")
    assert started(spares, mesh)[0] == 1
    assert {name: content for name, content in bytes_of(depot / "catalogue").items() if not name.startswith(".")} == before


HOSTILE = [
    '"\\"; rm -rf / #"', '"--- !!python/object:os.system"', '"../../../etc/passwd"', '"{{ 7*7 }} {% raw %}"',
    '"<script>alert(1)</script>"', '"a: b: c # d"', '"&anchor *alias"', '"null"',
]  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE)
def test_nothing_that_a_request_says_is_more_than_text(depot, spares, mesh, request_file, text):
    request_file.write_text(REQUEST.format(name=text, does=text), encoding="utf-8")
    outside = sorted(each.name for each in depot.iterdir())
    assert started(spares, mesh)[0] == 0
    (folder,) = (depot / "catalogue/parts").glob("EX-0100*")
    part = yaml.safe_load((folder / "part.yml").read_text("utf-8"))
    assert part["name"] == part["purpose"] == yaml.safe_load(text)
    assert sorted(each.name for each in depot.iterdir()) == outside


def test_several_lines_and_crlf_come_back_as_they_were(depot, spares, mesh, request_file):
    text = REQUEST.format(name="Cap", does='"First line.\\nkey: value\\n--- x"')
    request_file.write_bytes(text.replace("\n", "\r\n").encode())
    assert started(spares, mesh)[0] == 0
    assert part_of(depot, "catalogue/parts/EX-0100-cap")["purpose"] == "First line.\nkey: value\n--- x"
    assert request_file.read_bytes().endswith(b"answered_by: EX-0100\r\n")


def test_a_photo_with_another_name_is_taken_by_the_requests_number(depot, spares, mesh, request_file):
    photos = depot / "catalogue/requests/photos"
    shutil.move(photos / "R-0031.jpg", photos / "seen at the depot.jpg")
    request_file.write_text(request_file.read_text("utf-8").replace("photos/R-0031.jpg", '"photos/seen at the depot.jpg"'), "utf-8")
    assert started(spares, mesh)[0] == 0
    assert names_in(depot / FOLDER / "photos") == ["R-0031.jpg"]


@pytest.mark.parametrize("because", ["bought", "drawing only", "scan to come"])
def test_a_part_without_a_model_can_answer_too(depot, spares, request_file, because):
    assert spares("new", "EX-0100", "--from", "R-0031", "--no-model", because, "--size", "36x35x12.5")[0] == 0
    assert part_of(depot)["no_model"] == {"because": because, "size_mm": [36, 35, 12.5]}
    assert not list(Path(depot / FOLDER).glob("model.*"))


@pytest.mark.parametrize("size", ["62x40", "0x1x1", "-1x2x3", "1e9x1x1", "49,5x40x18", "nanx1x1", "62x40x18x2", "99999x1x1"])
def test_a_size_that_cannot_be_is_refused(depot, spares, size):
    code, _, err = spares("new", "EX-0100", "Cap", "--no-model", "bought", f"--size={size}")
    assert code == 2
    assert "is no size" in err


def test_a_model_and_none_cannot_both_be_said(depot, spares, mesh):
    assert spares("new", "EX-0100", "Cap", "--mesh", mesh, "--no-model", "bought")[0] == 2
    assert spares("new", "EX-0100", "Cap")[0] == 2
    assert spares("new", "EX-0100", "Cap", "--mesh", mesh, "--size", "1x2x3")[0] == 2
    assert spares("new", "EX-0100", "Cap", "--no-model", "bought", "--units", "mm")[0] == 2


def test_a_request_is_open_again_when_the_part_that_answered_it_is_withdrawn(depot, spares, mesh, request_file):
    request_file.write_text(request_file.read_text("utf-8").rstrip() + "\nanswered_by: EX-0001   # once\n", "utf-8")
    voice = depot / "catalogue/requests/voice.yml"
    voice.write_text("adds_to: R-0031\non: 2026-11-22\nby: fitter\nyearly_demand: 1\n", "utf-8")
    assert started(spares, mesh)[0] == 1
    assert "REQ02" in spares("check")[1]
    assert spares("record", "EX-0001", "withdrawn", "--by", "keeper", "--reference", "L-9", "--reason", "it breaks")[0] == 0
    out = spares("check")[1]
    assert "REQ02" not in out
    open_page = asked_in(depot)
    assert any(each["name"] == "End cap of the rail" for each in open_page)
    voice.unlink()
    code, _, err = started(spares, mesh)
    assert (code, err) == (0, "")
    assert "answered_by: EX-0100   # once\n" in request_file.read_text("utf-8")


def asked_in(depot):
    """The requests that the finder and the page of requests show as open."""
    catalogue = read_catalogue(depot / "catalogue")
    return [{"name": each.name} for _, each in open_requests(catalogue)]


def test_a_request_stays_open_while_its_part_is_unfinished(depot, spares, mesh, request_file):
    assert started(spares, mesh)[0] == 0
    assert any(each["name"] == "End cap of the rail" for each in asked_in(depot))
    out = spares("find", "end cap of the rail")[1]
    assert "R-0031" in out
    assert "being worked on: EX-0100" in out
    spares("build", "--markdown", "pages")
    assert "Being worked on: [**EX-0100**](parts/EX-0100" in (depot / "pages/requests.md").read_text("utf-8")
    voice = depot / "catalogue/requests/voice.yml"
    voice.write_text("adds_to: R-0031\non: 2026-11-22\nby: fitter\nyearly_demand: 1\n", "utf-8")
    assert "REQ02" not in spares("check")[1]
    code, _, err = started(spares, mesh, number="ex-0200")
    assert code == 1
    assert "R-0031 is being worked on already: EX-0100" in err


def test_a_request_is_open_again_when_the_folder_of_its_part_is_gone(depot, spares, mesh, request_file):
    assert started(spares, mesh)[0] == 0
    shutil.rmtree(depot / FOLDER)
    assert any(each["name"] == "End cap of the rail" for each in asked_in(depot))
    assert "being worked on" not in spares("find", "end cap of the rail")[1]
    assert started(spares, mesh, number="ex-0200")[0] == 0
