"""Links, pipes, odd names and oversized files: made here, for they cannot be committed."""

import hashlib
import os
import shutil
import stat
import tempfile
import threading
import tracemalloc
from pathlib import Path

import pytest

from generator.reading.catalogue import read_catalogue
from generator.reading.disk import Disk
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import CLIP, KNOB, LEVER, copied, sheets, verdicts
from tests.fixtures.told import line

KNOB_FOLDER = "parts/EX-0001-lid-knob"
CLIP_FOLDER = "parts/EX-0003-hose-clip"
ORDINARY = 65534  # "nobody" on most systems; any number but root's would do


def said(root):
    return [line(problem) for problem in sheets(root)[1]]


@pytest.mark.parametrize(
    "file",
    [
        f"{CLIP_FOLDER}/part.yml",
        f"{CLIP_FOLDER}/approval.yml",
        f"{CLIP_FOLDER}/fitting.md",
        f"{CLIP_FOLDER}/model.stl",
        f"{CLIP_FOLDER}/documents/trial-note.txt",
    ],
)
def test_a_link_out_of_the_catalogue_is_never_followed(depot, file):
    outside = depot.parent / "outside"
    (depot / file).rename(outside)
    (depot / file).symlink_to(outside)
    assert f"{file}: error DISK04: is a link that leads out of the catalogue" in "\n".join(said(depot))
    assert verdicts(depot) == {KNOB: Verdict.FIT_IT, LEVER: Verdict.FIT_IT, CLIP: Verdict.DO_NOT_FIT}


def test_a_folder_beside_the_catalogue_whose_name_begins_as_its_own_lies_outside(depot):
    outside = depot.with_name(f"{depot.name}-old")
    (depot / CLIP_FOLDER).rename(outside)
    (depot / CLIP_FOLDER).symlink_to(outside, target_is_directory=True)
    assert f"{CLIP_FOLDER}: error DISK04" in "\n".join(said(depot))


def test_a_sum_is_taken_of_a_plain_file_inside_alone_and_in_pieces(tmp_path):
    root = tmp_path / "root"
    (root / "folder").mkdir(parents=True)
    (tmp_path / "outside").write_bytes(b"secret")
    with (root / "large").open("wb") as stream:
        stream.truncate(30_000_001)
    (root / "linked").symlink_to("large")
    (root / "out").symlink_to(tmp_path / "outside")
    (root / "nowhere").symlink_to("gone")
    (root / "round").symlink_to("round")
    os.mkfifo(root / "pipe")  # nobody writes into it
    disk = Disk(root)
    tracemalloc.start()
    found = [disk.summed(name) for name in ("large", "linked")]
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert {(each.size_bytes, each.sha256) for each in found} == {(30_000_001, hashlib.sha256(bytes(30_000_001)).hexdigest())}
    assert peak < 8_000_000
    assert [disk.summed(name) for name in ("gone", "folder", "pipe", "out", "nowhere", "round", "../outside", "folder/in it")] == [None] * 8
    assert not disk.problems


@pytest.mark.parametrize("change", [lambda file: file.write_bytes(b"x" * 2), lambda file: file.write_bytes(b"x" * 3_000_000)], ids=["shorter", "longer"])
def test_what_changes_while_its_sum_is_taken_has_none(tmp_path, monkeypatch, change):
    file = tmp_path / "a"
    file.write_bytes(b"x" * 2_000_000)

    class Sum:
        def __init__(self):
            self.is_first = True

        def update(self, _):
            if self.is_first:
                change(file)
            self.is_first = False

        def hexdigest(self):
            return "-"

    monkeypatch.setattr(hashlib, "sha256", Sum)
    assert Disk(tmp_path).summed("a") is None


@pytest.mark.parametrize("folder", [CLIP_FOLDER, f"{CLIP_FOLDER}/documents", "materials/documents", "parts"])
def test_a_linked_folder_is_not_entered(depot, folder):
    outside = depot.parent / "outside"
    (depot / folder).rename(outside)
    (depot / folder).symlink_to(outside, target_is_directory=True)
    assert f"{folder}: error DISK04" in "\n".join(said(depot))
    assert verdicts(depot).get(CLIP, Verdict.DO_NOT_FIT) is Verdict.DO_NOT_FIT


def test_a_link_inside_the_catalogue_is_followed(depot):
    kept = depot / CLIP_FOLDER / "documents/trial-note.txt"
    kept.rename(kept.with_name("note-2026.txt"))
    kept.symlink_to("note-2026.txt")
    assert said(depot) == []


@pytest.mark.parametrize("target", ["loop", "nowhere"])
def test_a_link_that_ends_nowhere_is_told(depot, target):
    mesh = depot / CLIP_FOLDER / "model.stl"
    mesh.unlink()
    mesh.symlink_to(mesh.name if target == "loop" else "nowhere.stl")
    assert f"{CLIP_FOLDER}/model.stl" in "\n".join(said(depot))
    assert verdicts(depot)[CLIP] is Verdict.DO_NOT_FIT


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="named pipes exist on Unix only")
@pytest.mark.parametrize(
    "name", ["part.yml", "approval.yml", "fitting.md", "model.stl", "documents/trial-note.txt"]
)
def test_a_pipe_is_not_waited_for(depot, name):
    file = depot / CLIP_FOLDER / name
    file.unlink()
    os.mkfifo(file)
    assert f"{CLIP_FOLDER}/{name}: error DISK06: is not a plain file" in "\n".join(said(depot))
    assert verdicts(depot)[CLIP] is Verdict.DO_NOT_FIT


def test_a_folder_in_place_of_a_record_is_told(depot):
    file = depot / CLIP_FOLDER / "part.yml"
    file.unlink()
    file.mkdir()
    assert f"{CLIP_FOLDER}/part.yml: error DISK06: is not a plain file" in "\n".join(said(depot))


@pytest.mark.parametrize(
    "name", [b"scan-\xff.pdf", "scan\u202efdp.txt".encode(), b"a\nb.txt", b"bell\x07.txt"]
)
def test_a_file_name_that_no_page_can_hold_is_told(depot, name):
    path = os.fsencode(depot / CLIP_FOLDER / "documents") + b"/" + name
    try:
        Path(os.fsdecode(path)).write_bytes(b"x")
    except OSError:
        pytest.skip("this file system refuses the name itself")
    told = "\n".join(said(depot))
    assert "error DISK05: has a name with unprintable characters" in told
    assert told.encode("utf-8").decode("utf-8").replace("\n", "").isprintable()
    assert verdicts(depot)[CLIP] is Verdict.DO_NOT_FIT


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (("aux.txt",), "documents/aux.txt: error DISK07: has a name that Windows takes for the device AUX"),
        (("a:b.txt",), "documents/a:b.txt: error DISK07: has the sign : in its name"),
        (("a.",), "documents/a.: error DISK07: has a name that ends with a dot"),
        (("b.txt", "B.txt"), "documents/b.txt: error DISK07: differs from 'B.txt' in upper case"),
        (("x" * 150,), "warning DISK07: has a path of"),
    ],
)
def test_a_name_that_another_system_cannot_hold_is_told_on_every_one(depot, names, told):
    for name in names:
        try:
            (depot / CLIP_FOLDER / "documents" / name).write_bytes(b"x")
        except OSError:
            pytest.skip("this file system refuses the name itself")
    assert told in "\n".join(said(depot))


@pytest.mark.parametrize(
    ("name", "told"),
    [("con", "parts/con"), ("EX-0009-a.", "parts/EX-0009-a."), ("ex-0003-HOSE-CLIP", "parts/ex-0003-HOSE-CLIP")],
)
def test_a_folder_that_another_system_cannot_hold_is_told(depot, name, told):
    (depot / "parts" / name).mkdir()
    assert f"{told}: error DISK07" in "\n".join(said(depot))


@pytest.mark.parametrize("name", ["model.stl", "documents/approval-letter.txt"])
@pytest.mark.parametrize("change", [lambda raw: raw.replace(b"\n", b"\r\n"), lambda raw: raw.replace(b"\n", b"\r\n") + b"more\r\n"])
def test_line_ends_that_git_changed_are_said_and_change_the_verdict(depot, name, change):
    file = depot / KNOB_FOLDER / name
    before = file.read_bytes()
    file.write_bytes(change(before))
    is_said = f"{KNOB_FOLDER}/{name}: warning DISK08: is what the record speaks of but for the ends" in "\n".join(said(depot))
    assert is_said == (not file.read_bytes().endswith(b"more\r\n"))
    assert verdicts(depot)[KNOB] is not Verdict.FIT_IT


def test_what_systems_leave_beside_documents_is_none(depot):
    before = said(depot)
    for name in ("desktop.ini", "Thumbs.db", "Icon\r", "~$letter.docx", "._letter.txt"):
        (depot / CLIP_FOLDER / "documents" / name).write_bytes(b"x")
    assert said(depot) == before


def test_a_number_that_is_a_device_is_refused(depot):
    file = depot / CLIP_FOLDER / "part.yml"
    file.write_text(file.read_text("utf-8").replace(f"number: {CLIP}", "number: NUL.1"), encoding="utf-8")
    assert "is a name that Windows keeps for a device" in "\n".join(said(depot))


def test_a_record_of_megabytes_is_not_read(depot):
    (depot / CLIP_FOLDER / "part.yml").write_bytes(b"# " + b"x" * 3_000_000)
    assert "DISK03" in "\n".join(said(depot))


@pytest.fixture
def as_ordinary_user(tmp_path_factory):
    """A depot that belongs to an ordinary user, who then runs the test: root may read everything."""
    if not hasattr(os, "geteuid"):
        pytest.skip("file rights are otherwise on Windows")
    base = Path(tempfile.mkdtemp())
    root = copied(base / "depot")
    user = os.geteuid() or ORDINARY
    if os.geteuid() == 0:
        for path in (base, *base.rglob("*")):
            os.chown(path, user, user)
        os.seteuid(user)
    yield root
    if os.getuid() == 0:
        os.seteuid(0)
    for path in base.rglob("*"):
        path.chmod(0o700)
    shutil.rmtree(base)


@pytest.mark.parametrize(
    "name",
    ["part.yml", "approval.yml", "fitting.md", "model.stl", "documents/trial-note.txt", "documents", "."],
)
def test_what_may_not_be_read_is_told(as_ordinary_user, name):
    target = as_ordinary_user / CLIP_FOLDER / name
    target.chmod(0)
    try:
        told = said(as_ordinary_user)
        assert "cannot be" in "\n".join(told)
        assert verdicts(as_ordinary_user).get(CLIP, Verdict.DO_NOT_FIT) is Verdict.DO_NOT_FIT
    finally:
        target.chmod(0o700)


@pytest.mark.parametrize("name", ["parts", "materials", "materials/documents", "fleets.yml"])
def test_a_shared_folder_that_may_not_be_read_is_told(as_ordinary_user, name):
    target = as_ordinary_user / name
    target.chmod(0)
    try:
        assert "cannot be" in "\n".join(said(as_ordinary_user))
        assert Verdict.FIT_IT not in verdicts(as_ordinary_user).values() or name == "materials/documents"
    finally:
        target.chmod(0o700)


def test_a_catalogue_that_is_not_there_is_told(tmp_path):
    assert "depot.yml: error DEPOT05" in "\n".join(said(tmp_path / "nowhere"))


def test_an_empty_catalogue_is_told(tmp_path):
    told = said(tmp_path)
    assert [problem.splitlines()[0].split(": ")[1] for problem in told] == ["error DEPOT05"]


@pytest.mark.parametrize("place", ["requests", "materials", "parts", "."])
@pytest.mark.parametrize("name", [b"\xff.yml", b"a\nb.yml", b"link.yml"], ids=["no text", "line end", "ring"])
def test_a_bad_name_elsewhere_is_charged_to_no_part(depot, place, name):
    file = depot / place / os.fsdecode(name)
    if name == b"link.yml":
        file.symlink_to(file.name)
    else:
        file.write_text("a: 1\n")
    assert all(not sheet.problems for sheet in sheets(depot)[0])
    assert any(line.startswith("" if place == "." else f"{place}/") for line in said(depot))


@pytest.mark.parametrize(
    ("key", "file", "code"),
    [
        ("model", "models/hook.stl", "DISK03"),
        ("model", "models/hook.stl", "DISK04"),
        ("model", "models/hook.stl", "DISK06"),
        ("model", "models/hook.stl", "DISK02"),
        ("model", "models/hook.blend", "REQ06"),
        ("model", "models/hook.stl", "EVID01"),
        ("photo", "photos/hook.jpg", "DISK04"),
    ],
)
def test_a_file_of_a_request_that_is_there_and_refused_has_its_own_problem_and_its_request_says_only_so(depot, monkeypatch, key, file, code):
    request = depot / "requests/coat-hook.yml"
    request.write_text(request.read_text("utf-8").rstrip("\n") + f"\n{key}: {file}\n", encoding="utf-8")
    there = depot / "requests" / file
    there.parent.mkdir()
    if code == "DISK03":
        monkeypatch.setattr("generator.reading.disk.LARGEST_DOCUMENT_BYTES", 10)
    if code in ("DISK03", "REQ06"):
        there.write_bytes(bytes(40))
    elif code == "DISK04":
        (depot.parent / "outside").write_bytes(b"solid")
        there.symlink_to(depot.parent / "outside")
    elif code == "DISK06":
        there.mkdir()
    elif code == "DISK02":
        there.symlink_to(there.parent / "nothing")
    told = {each.where.file: each for each in read_catalogue(depot).problems if each.where.file.startswith("requests")}
    named = told.pop("requests/coat-hook.yml")
    assert (named.code, named.key) == ("EVID01", "not there" if code == "EVID01" else "not taken")
    assert {file: (each.code, each.severity.value) for file, each in told.items()} == ({} if code == "EVID01" else {f"requests/{file}": (code, "error")})


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes among its files")
@pytest.mark.parametrize(
    ("ask", "name", "size"),
    [(Disk.raw, "a.yml", 9), (Disk.lines, "a.csv", 9), (Disk.letter, "a.pdf", 9), (Disk.kept, "a.pdf", 9), (Disk.kept, "a.png", 9), (Disk.kept, "a.bin", 5_000_000)],
)
def test_a_pipe_that_comes_in_between_look_and_open_keeps_nobody_waiting(tmp_path, monkeypatch, ask, name, size):
    file, look = tmp_path / name, os.stat
    file.write_bytes(b"x" * size)

    def swapped(path, *args, **named):
        found = look(path, *args, **named)
        if str(path) == str(file) and stat.S_ISREG(found.st_mode):
            file.unlink()
            os.mkfifo(file)
        return found

    disk, found = Disk(tmp_path), []
    reader = threading.Thread(target=lambda: found.append(ask(disk, name)), daemon=True)
    monkeypatch.setattr("generator.reading.disk.os.stat", swapped)
    reader.start()
    reader.join(20)
    assert (found, [problem.code for problem in disk.problems]) == ([None], ["DISK06"])
