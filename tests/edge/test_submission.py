"""`spares submission` and `spares families` as a specialist uses them: what is written is what is recorded afterwards."""

import hashlib
import json
import re
import tracemalloc
import zipfile
from datetime import date

import pytest
import yaml

from generator.edge.disk.submission_files import write_zip
from generator.edge.refusals import Refusal
from tests.papers.printed import text_of
from tests.papers.test_submission import FILE, VALUE, replace
from tests.reading.test_photos import with_position

PART = "EX-0001"
FOLDER = "catalogue/parts/EX-0001-lid-knob"
ON = ("--on", "2026-11-25")


def index_in(file):
    with zipfile.ZipFile(file) as packed:
        return json.loads(packed.read("index.json")), {each.filename: packed.read(each) for each in packed.infolist()}


def fingerprint(index, number=PART):
    return next(each["fingerprint"] for each in index["parts"] if each["number"] == number)


def test_the_paper_and_the_zip_are_written_and_told(depot, spares):
    code, out, err = spares("submission", PART, "--zip", *ON)
    assert (code, err) == (0, "")
    assert "submission-EX-0001.pdf: " in out
    assert "PDF/A-2b" in out
    index, files = index_in(depot / "submission-EX-0001.zip")
    assert files["submission-EX-0001.pdf"] == (depot / "submission-EX-0001.pdf").read_bytes()
    assert fingerprint(index) in out
    for gap in index["parts"][0]["gaps"]:
        assert " ".join(gap["says"].split()) in " ".join(out.split())


def test_photos_stand_in_the_paper_without_their_position(depot, spares):
    (depot / FOLDER / "photos").mkdir(exist_ok=True)
    (depot / FOLDER / "photos/broken-original.jpg").write_bytes(with_position())
    code, out, err = spares("submission", PART, *ON)
    assert (code, err) == (0, "")
    assert "No photo of the original" not in out
    paper = (depot / "submission-EX-0001.pdf").read_bytes()
    assert "Photo: broken original (D" in text_of(paper)
    assert b"/DCTDecode" in paper
    assert b"camera" not in paper
    assert b"Exif" not in paper
    assert spares("submission", PART, "--force", *ON)[0] == 0
    assert (depot / "submission-EX-0001.pdf").read_bytes() == paper


def test_the_index_names_every_file_with_its_sum(depot, spares):
    assert spares("submission", PART, "EX-0002", "--zip", "--out", "both.pdf", *ON)[0] == 0
    index, files = index_in(depot / "both.zip")
    told = {each["name"]: each for each in index["files"]}
    assert set(told) == set(files) - {"index.json"}
    for name, content in files.items():
        if name != "index.json":
            assert (told[name]["sha256"], told[name]["size_bytes"]) == (hashlib.sha256(content).hexdigest(), len(content))
    for part in index["parts"]:
        if part["bound"]:
            assert hashlib.sha256(files[part["bound"]]).hexdigest() == part["fingerprint"]
    for each in index["documents"]:
        if each["name"]:
            assert files[each["name"]] == (depot / "catalogue" / each["path"]).read_bytes()


@pytest.mark.parametrize("step", ["documents complete", "sent to technical review"])
def test_its_fingerprint_is_the_one_that_the_step_records(depot, spares, step):
    """Whatever is recorded, and with whichever letter: the sum on paper is the sum in the record."""
    (depot / "note.txt").write_text("an answer", "utf-8")
    before = {"documents complete": ["customer acceptance given"], "sent to technical review": ["customer acceptance given", "documents complete"]}[step]
    for each in before:
        assert spares("record", "EX-0003", each, "--by", "keeper", "--on", "2026-11-03", "--evidence", "note.txt")[0] == 0
    assert spares("submission", "EX-0003", "--zip", "--out", "s.pdf", *ON)[0] == 0
    said = fingerprint(index_in(depot / "s.zip")[0], "EX-0003")
    (depot / "answer.txt").write_text("another letter", "utf-8")
    assert spares("record", "EX-0003", step, "--by", "keeper", "--on", "2026-11-25", "--evidence", "answer.txt")[0] == 0
    record = yaml.safe_load(next(depot.glob("catalogue/parts/EX-0003*/approval.yml")).read_text("utf-8"))
    assert (record["events"][-1]["what"], record["events"][-1]["fingerprint"]) == (step, said)


def test_the_same_bytes_twice_in_a_row_and_on_another_day(depot, spares, monkeypatch):
    for name, now in (("a", "1795564800"), ("b", "1795564800"), ("c", "1795737600")):  # 2026-11-25 twice, and two days later
        monkeypatch.setenv("SOURCE_DATE_EPOCH", now)
        (depot / name).mkdir()
        assert spares("submission", PART, "--zip", "--out", f"{name}/s.pdf", *ON)[0] == 0
    for kind in ("pdf", "zip"):
        assert len({(depot / name / f"s.{kind}").read_bytes() for name in "abc"}) == 1


def test_nothing_is_written_over_and_nothing_among_the_records(depot, spares):
    (depot / "s.zip").write_text("mine", "utf-8")
    code, _, err = spares("submission", PART, "--zip", "--out", "s.pdf", *ON)
    assert (code, (depot / "s.zip").read_text("utf-8"), (depot / "s.pdf").exists()) == (1, "mine", False)
    assert "s.zip is there already" in err
    assert spares("submission", PART, "--zip", "--out", "s.pdf", "--force", *ON)[0] == 0
    assert spares("submission", PART, "--out", "catalogue/s.pdf", *ON)[0] == 2
    assert spares("submission", PART, "--out", "s.txt", *ON)[0] == 2
    monkey = depot / FOLDER / "documents"
    before = sorted(monkey.iterdir())
    assert spares("submission", PART, "--out", f"{FOLDER}/documents/s.pdf", *ON)[0] == 2
    assert sorted(monkey.iterdir()) == before


def test_what_is_asked_wrongly_is_refused_with_what_would_do(depot, spares):
    assert "EX-0001" in spares("submission", "EX-0009")[2]
    code, _, err = spares("submission", PART, "--fleet", "Z9")
    assert code == 2
    assert "A1" in err
    (depot / FOLDER / "part.yml").write_text("number: [", "utf-8")
    code, _, err = spares("submission", PART)
    assert code in (1, 2)
    (depot / "catalogue/depot.yml").write_text("railway: [", "utf-8")
    assert spares("submission", "EX-0002")[0] == 1
    assert not list(depot.glob("*.pdf"))


@pytest.mark.parametrize("asks", ["authority", "confirmation"])
def test_what_nobody_can_answer_is_not_asked(depot, spares, asks):
    """A part of the customer route, which no letter of before came to."""
    code, _, err = spares("submission", PART, "--asks", asks, *ON)
    assert code == 2
    assert f"cannot ask for {asks}" in err
    assert "renewal" in err
    assert not list(depot.glob("*.pdf"))


def test_a_part_named_twice_is_told_once(depot, spares):
    assert spares("submission", PART, PART.lower(), "--zip", "--out", "s.pdf", *ON)[0] == 0
    assert [each["number"] for each in index_in(depot / "s.zip")[0]["parts"]] == [PART]


def test_parts_that_share_nothing_are_one_paper_and_told_to_be_no_family(depot, spares):
    assert spares("submission", PART, "EX-0002", "--zip", "--out", "s.pdf", *ON)[0] == 0
    index, _ = index_in(depot / "s.zip")
    assert [each["number"] for each in index["parts"]] == [PART, "EX-0002"]


def test_of_another_day_it_says_that_files_and_fingerprint_are_of_now(depot, spares):
    """Looking back judges by an earlier day, and takes no file away that came since."""
    code, _, err = spares("submission", PART, "--on", "2026-11-24", "--out", "s.pdf")
    assert (code, "those of today" in err) == (0, True)
    assert "judged on 24 Nov 2026, of the files that lie here now" in " ".join(text_of((depot / "s.pdf").read_bytes()).split())
    assert "those of today" not in spares("submission", PART, *ON)[2]


@pytest.mark.parametrize("far", ["9999-12-31", "3000-01-01", "0001-01-01"])
def test_a_day_that_cannot_be_reckoned_with_is_refused(depot, spares, far):
    code, _, err = spares("submission", PART, "--on", far)
    assert code == 2
    assert "between 1900-01-01 and 2999-12-31" in err
    assert not list(depot.glob("*.pdf"))


@pytest.mark.parametrize("near", ["2999-12-31", "1900-01-01"])
def test_the_first_and_last_day_are_reckoned_with(depot, spares, near):
    assert spares("submission", PART, "--out", "s.pdf", "--zip", "--on", near)[0] == 0


def test_what_a_number_is_taken_for_is_said(depot, spares):
    code, _, err = spares("submission", "EX-001", *ON)
    assert code == 0
    assert "EX-0001" in err


def test_a_document_that_is_gone_is_a_gap_and_not_in_the_zip(depot, spares):
    (depot / FOLDER / "documents/acceptance.txt").unlink()
    code, out, err = spares("submission", PART, "--zip", "--out", "s.pdf", *ON)
    assert code == 0
    assert "1 file is not in it" in err
    gone = next(each for each in index_in(depot / "s.zip")[0]["documents"] if each["path"].endswith("acceptance.txt"))
    assert (gone["name"], bool(gone["doubt"])) == (None, True)
    assert gone["number"] in out


def big(tmp_path, size, sha256):
    root = tmp_path / "root"
    (root / "parts").mkdir(parents=True)
    with (root / "parts/big.bin").open("wb") as stream:
        stream.truncate(size)
    return root, replace(VALUE, attachments=(replace(FILE, path="parts/big.bin", size_bytes=size, sha256=sha256),))


def test_attachments_go_through_in_pieces(tmp_path):
    """Memory grows by a few megabytes, whatever the size; 48 MB here, 200 MB by hand."""
    size = 48_000_000
    sha256 = hashlib.sha256(bytes(size)).hexdigest()
    root, value = big(tmp_path, size, sha256)
    tracemalloc.start()
    write_zip(tmp_path / "big.zip", value, ("s.pdf", b"%PDF"), root, force=False)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 8_000_000
    with zipfile.ZipFile(tmp_path / "big.zip") as packed:
        assert packed.testzip() is None
        assert {each.date_time for each in packed.infolist()} == {(2026, 11, 28, 0, 0, 0)}
        assert {each.compress_type for each in packed.infolist()} == {zipfile.ZIP_STORED}


def test_a_document_too_large_to_be_read_is_listed_with_its_sum_and_left_out(depot, spares):
    with (depot / FOLDER / "documents/scan.pdf").open("wb") as stream:
        stream.truncate(91_000_000)
    code, out, err = spares("submission", PART, "--zip", "--out", "s.pdf", *ON)
    sha256 = hashlib.sha256(bytes(91_000_000)).hexdigest()
    assert (code, "1 file is not in it" in err, sha256 in "".join(out.split())) == (0, True, True)
    listed = next(each for each in index_in(depot / "s.zip")[0]["documents"] if each["path"].endswith("scan.pdf"))
    assert (listed["name"], listed["sha256"], listed["size_bytes"]) == (None, sha256, 91_000_000)
    assert (depot / "s.zip").stat().st_size < 5_000_000


def test_a_file_that_changes_meanwhile_leaves_no_zip(tmp_path):
    root, value = big(tmp_path, 1000, "0" * 64)
    with pytest.raises(Refusal, match="has changed while the zip was written"):
        write_zip(tmp_path / "s.zip", value, ("s.pdf", b"%PDF"), root, force=False)
    assert sorted(each.name for each in tmp_path.iterdir()) == ["root"]
    (root / "parts/big.bin").unlink()
    with pytest.raises(Refusal):
        write_zip(tmp_path / "s.zip", value, ("s.pdf", b"%PDF"), root, force=False)
    assert sorted(each.name for each in tmp_path.iterdir()) == ["root"]


@pytest.mark.parametrize("day", [date(1900, 1, 1), date(2400, 1, 1)])
def test_a_day_that_no_zip_can_tell_is_the_nearest_that_one_can(tmp_path, day):
    write_zip(tmp_path / "s.zip", replace(VALUE, day=day, attachments=()), ("s.pdf", b"%PDF"), tmp_path, force=False)
    with zipfile.ZipFile(tmp_path / "s.zip") as packed:
        assert {each.date_time[0] for each in packed.infolist()} <= {1980, 2107}


def test_families_are_told_in_words_and_for_programs(depot, spares):
    code, out, _ = spares("families", *ON)
    assert code == 0
    assert re.search(r"No two parts|\$ spares submission", out)
    code, out, _ = spares("families", "--format", "json", *ON)
    assert code == 0
    assert isinstance(json.loads(out), list)


BROKEN = {
    "approval": (f"{FOLDER}/approval.yml", "  - what: ["),
    "approval of a strange event": (f"{FOLDER}/approval.yml", "  - what: nothing of ours\n"),
    "fitting": (f"{FOLDER}/fitting.md", b"\xff"),
    "material": ("catalogue/materials/petg.yml", "name: ["),
    "makers": ("catalogue/makers.yml", "xx: ["),
    "fleets": ("catalogue/fleets.yml", "xx: ["),
    "batch": ("catalogue/batches/B-0001.yml", f"part: {PART}\nxx: ["),
}


@pytest.mark.parametrize("what", BROKEN)
def test_a_record_that_it_rests_on_and_that_cannot_be_read_is_refused(depot, spares, what):
    """Else it would say that nothing was ever approved, or that a prototype is to be tried."""
    name, text = BROKEN[what]
    (depot / name).parent.mkdir(exist_ok=True)
    with (depot / name).open("ab") as stream:
        stream.write(text if isinstance(text, bytes) else text.encode())
    code, out, err = spares("submission", PART, *ON)
    assert code == 1
    assert f"{name.removeprefix('catalogue/')}" in err
    assert re.search(rf"^{re.escape(name)}:\d+", out, re.MULTILINE), "with the line"
    assert "mend: " in out
    assert not list(depot.glob("*.pdf"))


def test_a_record_of_another_part_that_cannot_be_read_stops_nothing(depot, spares):
    (next(depot.glob("catalogue/parts/EX-0002*")) / "approval.yml").write_text("xx: [", "utf-8")
    (depot / "catalogue/batches").mkdir(exist_ok=True)
    (depot / "catalogue/batches/B-0001.yml").write_text("part: EX-0002\nevents: 7\n", "utf-8")
    assert spares("submission", PART, *ON)[0] == 0
    assert spares("submission", PART, "EX-0002", "--out", "s.pdf", *ON)[0] == 1
