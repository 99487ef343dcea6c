"""What the newest commits changed, in facts: cases from the side of who reads it and of who would have it tell something else."""

import json
import shutil
from datetime import date

import pytest

from generator.provenance.remembering import lately as kept_lately
from generator.provenance.remembering.git import Repository
from generator.provenance.remembering.lately import lately
from generator.records.parts import SUBJECTS, Part
from tests.fixtures.committing import MAIL, PERSON, committed, git
from tests.fixtures.with_batches import with_batches

pytestmark = pytest.mark.skipif(not shutil.which("git"), reason="there is no git")
CLIP = "parts/EX-0003-hose-clip"
WITHDRAWN = "  - {on: 2026-10-30, what: withdrawn, by: keeper, reason: cracks}\n"


@pytest.fixture
def begun(depot):
    """A repository in the depot, with the whole of it as its first commit."""
    git(depot, "init", "-q", "-b", "main")
    committed(depot, "2026-10-01")
    return depot


def edit(file, *changes):
    text = file.read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")


def told(root, **how):
    """By commit, newest first: about, name, what and all else that a fact says."""
    found = lately(root, root.parent / "lately.json", **how)
    return [[" ".join(map(str, fact.as_plain().values())) for fact in change.facts] for change in found.changes]


def test_without_git_or_a_commit_there_is_nothing_to_tell(depot, tmp_path):
    assert lately(depot, tmp_path / "lately.json") is None
    git(depot, "init", "-q")
    assert lately(depot, tmp_path / "lately.json") is None


def test_the_first_commit_tells_that_the_catalogue_begins_and_of_no_part_that_it_is_new(begun):
    assert told(begun) == [["catalogue begun 3"]]


def test_a_commit_tells_what_its_records_say_that_they_did_not(begun):
    approval = begun / CLIP / "approval.yml"
    approval.write_text(approval.read_text("utf-8") + WITHDRAWN, encoding="utf-8")
    committed(begun, "2026-11-02")
    edit(begun / CLIP / "part.yml", ("revision: A", "revision: B"), ("name: Hose clip", "name: Clip"))
    (begun / CLIP / "model.stl").write_bytes(b"solid other")
    (begun / CLIP / "documents").mkdir(exist_ok=True)
    (begun / CLIP / "documents/letter.pdf").write_bytes(b"%PDF-1.4")
    committed(begun, "2026-11-03")
    assert told(begun)[:2] == [
        [
            f"part documents {CLIP} 1 EX-0003",
            f"part model {CLIP} EX-0003",
            f"part name {CLIP} EX-0003",
            f"part revision {CLIP} A B EX-0003",
        ],
        [f"part event {CLIP} withdrawn 2026-10-30"],
    ]


def test_what_was_said_and_is_no_more_is_told_as_rewritten(begun):
    approval = begun / CLIP / "approval.yml"
    approval.write_text(approval.read_text("utf-8") + WITHDRAWN, encoding="utf-8")
    committed(begun)
    edit(approval, (WITHDRAWN, ""))
    committed(begun)
    approval.write_text("route: [", encoding="utf-8")
    committed(begun)
    assert [each[0].split()[1] for each in told(begun)] == ["unread", "rewritten", "event", "begun"]


def test_a_part_folder_that_is_only_called_otherwise_is_no_news_and_a_number_that_goes_is(begun):
    (begun / CLIP).rename(begun / "parts/EX-0003-clip")
    committed(begun, "2026-11-02")
    edit(begun / "parts/EX-0003-clip/part.yml", ("revision: A", "revision: B"))
    (begun / "parts/EX-0003-clip").rename(begun / "parts/EX-0003-again")
    committed(begun, "2026-11-03")
    shutil.rmtree(begun / "parts/EX-0003-again")
    committed(begun, "2026-11-04")
    assert told(begun) == [
        ["part gone parts/EX-0003-again EX-0003"],
        ["part revision parts/EX-0003-again A B EX-0003"],
        ["catalogue begun 3"],
    ]


def test_a_new_part_is_told_once_and_not_by_each_of_its_files(begun):
    shutil.copytree(begun / CLIP, begun / "parts/EX-0009-other")
    edit(begun / "parts/EX-0009-other/part.yml", ("EX-0003", "EX-0009"))
    committed(begun)
    assert told(begun)[0] == ["part new parts/EX-0009-other EX-0009"]


def test_lots_batches_recalls_and_fitted_lines_are_told_by_what_came_to_them(begun):
    with_batches(begun)
    committed(begun)
    lot = next((begun / "materials/lots").glob("*.yml"))
    lot.write_text(lot.read_text("utf-8") + "  - {what: blocked, on: 2026-11-20, by: keeper, why: smells}\n", encoding="utf-8")
    (begun / "recalls").mkdir()
    recall = begun / "recalls/RC-0001.yml"
    recall.write_text(f"lot: {lot.stem}\nevents:\n  - {{what: called back, on: 2026-11-21, by: keeper, why: smells}}\n")
    committed(begun)
    recall.write_text(recall.read_text() + "  - {what: lifted, on: 2026-11-25, by: keeper, why: was another}\n")
    (begun / "fitted").mkdir(exist_ok=True)
    (begun / "fitted/2026.csv").write_bytes(b"day,fleet\r\na,b\r\nc,d\r\n\r\n")
    committed(begun)
    newest, second, third, _ = told(begun)
    assert newest == [f"recall event RC-0001 lifted 2026-11-25 {lot.stem}", "list lines fitted 2026 2"]
    assert second == [f"recall event RC-0001 called back 2026-11-21 {lot.stem}", f"lot event {lot.stem} blocked 2026-11-20"]
    assert any(each.startswith("batch new B-0001") and each.endswith("EX-0001") for each in third)


def test_a_merge_counts_once_with_what_it_brought(begun):
    git(begun, "checkout", "-q", "-b", "side")
    approval = begun / CLIP / "approval.yml"
    approval.write_text(approval.read_text("utf-8") + WITHDRAWN, encoding="utf-8")
    committed(begun, "2026-10-30")
    git(begun, "checkout", "-q", "main")
    edit(begun / "parts/EX-0001-lid-knob/part.yml", ("\nname: ", "\nname: Big "))
    committed(begun, "2026-10-31")
    git(begun, "merge", "-q", "--no-ff", "-m", "x", "side", day="2026-11-05")
    found = lately(begun, begun.parent / "lately.json")
    assert [(each.day.day, [fact.what for fact in each.facts]) for each in found.changes] == [(5, ["event"]), (31, ["name"]), (1, ["begun"])]


def test_a_repository_s_own_settings_turn_nothing_round(begun):
    edit(begun / CLIP / "part.yml", ("revision: A", "revision: B"))
    committed(begun)
    before = told(begun)
    for name, value in (("log.showRoot", "false"), ("log.diffMerges", "off"), ("diff.renames", "copies"), ("core.quotePath", "true"), ("log.follow", "true")):
        git(begun, "config", name, value)
    (begun.parent / "lately.json").unlink()
    assert told(begun) == before


def test_a_shallow_copy_does_not_take_its_oldest_commit_for_a_beginning(begun, tmp_path):
    edit(begun / CLIP / "part.yml", ("revision: A", "revision: B"))
    committed(begun)
    edit(begun / CLIP / "part.yml", ("revision: B", "revision: C"))
    committed(begun)
    copy = tmp_path / "shallow"
    git(tmp_path, "clone", "-q", "--depth", "2", f"file://{begun}", str(copy))
    found = lately(copy, tmp_path / "shallow.json")
    assert found.is_cut
    assert [[fact.what for fact in each.facts] for each in found.changes] == [["revision"]]
    git(copy, "fetch", "-q", "--unshallow")
    found = lately(copy, tmp_path / "shallow.json")  # kept by commit, and yet whole now
    assert not found.is_cut
    assert [fact.what for each in found.changes for fact in each.facts] == ["revision", "revision", "begun"]


def test_a_catalogue_in_a_subfolder_tells_only_of_itself_and_one_that_was_moved_begins_anew(depot, tmp_path):
    whole = tmp_path / "a repository of spaces"
    (whole / "other/parts/EX-0001-lid-knob").mkdir(parents=True)
    (whole / "other/parts/EX-0001-lid-knob/part.yml").write_text("number: EX-0001\n")
    root = whole / "the catalogue"
    shutil.copytree(depot, root)
    git(whole, "init", "-q")
    committed(whole)
    (whole / "other/parts/EX-0001-lid-knob/part.yml").write_text("number: EX-0002\n")
    (whole / "depot.yml").write_text("x: 1\n")
    committed(whole)
    assert told(root) == [["catalogue begun 3"]]
    root.rename(whole / "moved")
    committed(whole)
    assert told(whole / "moved") == [["catalogue begun 3"]]


def test_a_clock_that_ran_ahead_or_stood_still_gives_its_day_and_stops_nothing(begun):
    for second in ("4102444800", "99999999999999", "0"):
        parent, tree = git(begun, "rev-parse", "HEAD", "HEAD^{tree}").split()
        raw = f"tree {tree}\nparent {parent}\nauthor x <x> {second} +0000\ncommitter x <x> {second} +0000\n\nx\n"
        made = git(begun, "hash-object", "-t", "commit", "-w", "--literally", "--stdin", given=raw.encode())
        git(begun, "reset", "-q", "--soft", made)
    edit(begun / CLIP / "part.yml", ("revision: A", "revision: B"))
    committed(begun, "2099-01-01")
    assert [each.day.year for each in lately(begun, begun.parent / "lately.json").changes] == [2099, 2026]


def test_neither_who_wrote_a_commit_nor_its_message_is_anywhere(begun):
    edit(begun / CLIP / "part.yml", ("revision: A", "revision: B"))
    committed(begun)
    assert PERSON in git(begun, "log", "-1")
    told(begun)
    kept = (begun.parent / "lately.json").read_text("utf-8")
    assert not [each for each in (PERSON, PERSON.split()[0], MAIL, "script", "TV-9999") if each in kept]


def test_names_that_no_record_can_have_name_nothing(begun):
    for name in ("parts/<b>x<b>/part.yml", "parts/\u202eabc/part.yml", "batches/Ottilie B.yml", "requests/a\x07b.yml", "fitted/notes.csv", "materials/.yml"):
        (begun / name).parent.mkdir(parents=True, exist_ok=True)
        (begun / name).write_text("number: X\n")
    committed(begun)
    assert told(begun) == [["catalogue begun 3"]]


def test_what_is_kept_is_asked_of_git_no_more_and_tells_the_same(begun, monkeypatch):
    edit(begun / CLIP / "part.yml", ("revision: A", "revision: B"))
    committed(begun)
    first, kept = told(begun), (begun.parent / "lately.json").read_bytes()
    with monkeypatch.context() as unasked:
        unasked.setattr(Repository, "changes", lambda *_: pytest.fail("asked again"))
        assert told(begun) == first
    edit(begun / CLIP / "part.yml", ("revision: B", "revision: C"))
    committed(begun)
    read = []
    contents = Repository.contents
    monkeypatch.setattr(Repository, "contents", lambda self, blobs: contents(self, read.append(len(blobs)) or blobs))
    assert told(begun)[1:] == first
    assert read == [2]  # the two versions that the new commit lies between
    (begun.parent / "lately.json").unlink()
    git(begun, "reset", "-q", "--hard", "HEAD~1")
    told(begun)
    assert (begun.parent / "lately.json").read_bytes() == kept


@pytest.mark.parametrize("spoilt", [b"", b"[]", b'{"key": 1}', b'{"key": [], "changes": [[1]]}', b"\xff"])
def test_a_kept_file_that_is_none_of_ours_is_made_anew(begun, spoilt):
    before = told(begun)
    (begun.parent / "lately.json").write_bytes(spoilt)
    assert told(begun) == before


def test_a_kept_file_with_strange_facts_is_made_anew(begun):
    before = told(begun)
    file = begun.parent / "lately.json"
    content = json.loads(file.read_text())
    content["changes"][0][2][0]["colour"] = "red"
    file.write_text(json.dumps(content))
    assert told(begun) == before


def test_of_many_commits_so_many_are_told_and_the_rest_is_said_to_be_older(begun, monkeypatch):
    monkeypatch.setattr(kept_lately, "_MOST_READ", 8)
    for revision in "BCDEFGH":
        edit(begun / CLIP / "part.yml", (f"revision: {chr(ord(revision) - 1)}", f"revision: {revision}"))
        committed(begun)
        told(begun)
    found = lately(begun, begun.parent / "fresh.json", most=3)
    assert (found.is_cut, len(found.changes)) == (True, 3)
    found = lately(begun, begun.parent / "fresh.json")
    assert (found.is_cut, [fact.now for each in found.changes for fact in each.facts]) == (True, list("HGFE"))
    assert lately(begun, begun.parent / "lately.json") == found  # kept commit by commit, or asked at once
    monkeypatch.setattr(kept_lately, "_MOST_READ", 1)  # one commit alone, of more than is read
    assert [fact.what for each in lately(begun, begun.parent / "other.json").changes for fact in each.facts] == ["details"]


def test_a_version_that_is_too_large_or_missing_is_told_without_its_words(begun, monkeypatch):
    monkeypatch.setattr(kept_lately, "_LARGEST_BYTES", 2000)
    part = begun / CLIP / "part.yml"
    part.write_text(part.read_text("utf-8") + "#" * 3000, encoding="utf-8")
    committed(begun)
    assert told(begun)[0] == [f"part details {CLIP} EX-0003"]


def test_a_commit_of_the_same_day_as_the_build_says_that_day_in_utc(begun):
    assert lately(begun, begun.parent / "lately.json").changes[0].day == date(2026, 10, 1)


def test_every_field_of_a_part_but_its_number_has_a_word():
    assert {name for names in SUBJECTS.values() for name in names} == Part.model_fields.keys() - {"number"}
