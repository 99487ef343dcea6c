"""What a build leaves for tablets and sticks: the same site gives the same bytes, and no clock stands in them."""

import hashlib
import json
import zipfile

import pytest

from generator.pages.offline.service_worker import BuiltFile, service_worker
from tests.edge.conftest import bytes_of


def test_the_worker_names_every_file_that_was_written_with_its_hash(depot, spares):
    assert spares("build")[0] == 0
    files = bytes_of(depot / "site")
    text = files.pop("sw.js").decode()
    listed = json.loads(text.split("const FILES = ", 1)[1].split(";\n", 1)[0])
    assert [(path, digest, size) for path, digest, _, size in listed] == [
        (path, hashlib.sha256(content).hexdigest(), len(content)) for path, content in sorted(files.items())
    ]
    assert not any("sitemap" in path or path.endswith(".map") for path in files)
    assert "{{" not in text


def test_the_same_catalogue_gives_the_same_worker_and_zip(depot, spares):
    found = []
    for _ in range(2):
        assert spares("build", "--zip")[0] == 0
        found.append(((depot / "site/sw.js").read_bytes(), (depot / "site.zip").read_bytes()))
    assert found[0] == found[1]
    with zipfile.ZipFile(depot / "site.zip") as archive:
        inside = {name.removeprefix("site/"): archive.read(name) for name in archive.namelist()}
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert inside == bytes_of(depot / "site")


def test_an_edit_changes_the_worker(depot, spares):
    assert spares("build")[0] == 0
    before = (depot / "site/sw.js").read_bytes()
    part = depot / "catalogue/parts/EX-0001-lid-knob/part.yml"
    part.write_text(part.read_text(encoding="utf-8").replace("name: ", "name: New ", 1), encoding="utf-8")
    assert spares("build")[0] == 0
    assert (depot / "site/sw.js").read_bytes() != before


MARK = "0123456789abcdef" * 2
FILE = BuiltFile("a.html", "0" * 64, 5)


@pytest.mark.parametrize(
    "other",
    [BuiltFile("b.html", "0" * 64, 5), BuiltFile("a.html", "1" * 64, 5), BuiltFile("a.html", "0" * 64, 6)],
)
def test_every_difference_is_another_version(other):
    assert service_worker([FILE], "gone", MARK) != service_worker([other], "gone", MARK)
    assert service_worker([FILE], "gone", MARK) != service_worker([FILE], "not here", MARK)
    assert service_worker([FILE], "gone", MARK) != service_worker([FILE], "gone", MARK[::-1])


def test_the_order_of_the_files_does_not_matter():
    more = BuiltFile("parts/x.pdf", "2" * 64, 900_000)
    assert service_worker([FILE, more], "gone", MARK) == service_worker([more, FILE], "gone", MARK)
    assert not more.is_kept_at_once
    assert FILE.is_kept_at_once


@pytest.mark.parametrize(
    ("path", "size", "at_once"),
    [
        ("parts/X/documents/drawing.pdf", 90_000, True),
        ("parts/X/documents/report.PDF", 2_000_000, False),
        ("parts/X/model.stl", 90, False),
        ("assets/pictures/X-front.webp", 2_000_000, True),
    ],
)
def test_models_and_large_papers_come_on_demand(path, size, at_once):
    assert BuiltFile(path, "0" * 64, size).is_kept_at_once is at_once


def test_a_full_disk_leaves_the_last_good_zip(depot, spares, monkeypatch):
    assert spares("build", "--zip")[0] == 0
    before = (depot / "site.zip").read_bytes()

    def fails(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("generator.edge.site.zipped.zipfile.ZipFile.writestr", fails)
    code, _, err = spares("build", "--zip")
    assert code == 1
    assert "the disk is full" in err
    assert (depot / "site.zip").read_bytes() == before
    assert [each.name for each in depot.glob(".site.zip*")] == []
