"""A record against its own commits: what was unsaid, merged, left out or cannot be told."""

import shutil
import subprocess
from datetime import date

import pytest

from generator.assemble.whole_way import read_with_past
from generator.provenance.remembering import git
from generator.records.problems import Severity
from generator.systems.store import Store
from tests.fixtures.told import line, says

FOLDER = "parts/EX-0003-hose-clip"
WITHDRAWN = "  - {on: 2026-11-02, what: withdrawn, by: keeper, reason: cracks}\n"
CORRECTED = "  - {on: 2026-11-09, what: record corrected, by: quality, corrects: 3, why: another part, checked_by: keeper}\n"
QUALITY = "  - {id: quality, name: Quality, acts_as: [quality]}\n"
pytestmark = pytest.mark.skipif(not shutil.which("git"), reason="there is no git")


@pytest.fixture
def commit(depot):
    """Commit all that lies in the depot, on a day."""
    (depot / "depot.yml").write_text((depot / "depot.yml").read_text("utf-8") + QUALITY, encoding="utf-8")

    def committed(day="2026-11-01", *words):
        asked(depot, "add", "-A")
        asked(depot, "commit", "-q", "--allow-empty", "-m", "x", *words, day=day)

    asked(depot, "init", "-q", "-b", "main")
    committed()
    return committed


def asked(depot, *words, day="2026-11-01"):
    who = ["-c", "user.name=x", "-c", "user.email=x@example.org", "-c", "commit.gpgsign=false"]
    around = {"GIT_COMMITTER_DATE": f"{day}T12:00:00Z", "GIT_AUTHOR_DATE": f"{day}T12:00:00Z", "PATH": "/usr/bin:/bin"}
    return subprocess.run(["git", *who, *words], cwd=depot, env=around, check=True, capture_output=True, text=True).stdout


def record_of(depot, text=None):
    file = depot / FOLDER / "approval.yml"
    if text is not None:
        file.write_text(text, encoding="utf-8")
    return file.read_text(encoding="utf-8")


def looked(depot, store="store"):
    catalogue, memory = read_with_past(depot, Store(depot.parent / store))
    errors = [each for folder in catalogue.parts for each in folder.problems if each.severity is Severity.ERROR]
    return [line(each).partition("\n")[0] for each in errors], [says(each) for each in memory.notes]


def test_a_record_that_grows_is_as_it_was(depot, commit):
    record_of(depot, record_of(depot) + WITHDRAWN)
    assert looked(depot) == ([], [])
    commit("2026-11-02")
    assert looked(depot) == ([], [])


def test_a_committed_withdrawal_that_is_taken_out_is_told_with_its_commit(depot, commit):
    before = record_of(depot)
    record_of(depot, before + WITHDRAWN)
    commit("2026-11-03")
    head = asked(depot, "rev-parse", "HEAD")[:10]
    record_of(depot, before)
    place = next(at for at, text in enumerate(before.splitlines(), 1) if "what: trial opened" in text) - 1
    said = f"event 3 is gone: 'withdrawn' of 2026-11-02, as git, commit {head} of 2026-11-03, has it"
    assert looked(depot) == ([f"{FOLDER}/approval.yml:{place}:5: error PAST02: {said}"], [])
    commit("2026-11-04")  # to commit it says it no less
    assert looked(depot)[0] == [f"{FOLDER}/approval.yml:{place}:5: error PAST02: {said}"]
    record_of(depot, before + CORRECTED)  # a correction does not take a withdrawal back
    assert [each.partition("PAST")[2][:2] for each in looked(depot)[0]] == ["01"]
    record_of(depot, before + WITHDRAWN)
    assert looked(depot) == ([], [])


def test_a_whole_record_that_is_gone_is_told(depot, commit):
    (depot / FOLDER / "approval.yml").unlink()
    assert [each.partition(":")[0] for each in looked(depot)[0] if "PAST02" in each] == [FOLDER, FOLDER]


def test_a_folder_may_get_another_name_behind_its_number(depot, commit):
    (depot / FOLDER).rename(depot / "parts/EX-0003-clip-of-a-hose")
    commit()
    assert looked(depot) == ([], [])
    text = (depot / "parts/EX-0003-clip-of-a-hose/approval.yml").read_text("utf-8")
    (depot / "parts/EX-0003-clip-of-a-hose/approval.yml").write_text(text.replace("T-3", "T-4"), encoding="utf-8")
    assert "event 2 says something else than 'trial opened'" in looked(depot)[0][0]


def test_events_of_two_branches_in_one_place_are_told_with_both(depot, commit):
    base = record_of(depot)
    asked(depot, "checkout", "-q", "-b", "other")
    record_of(depot, base + WITHDRAWN)
    commit("2026-11-03")
    asked(depot, "checkout", "-q", "main")
    ours = base + "  - {on: 2026-11-02, what: condition added, by: keeper, condition: dry}\n"
    record_of(depot, ours)
    commit("2026-11-03")
    one, other = (asked(depot, "rev-parse", name)[:10] for name in ("main", "other"))
    asked(depot, "merge", "-q", "-s", "ours", "other", "-m", "x")
    found = looked(depot)[0]
    assert len(found) == 1
    assert "error PAST05: event 3 is " in found[0]
    assert one in found[0]
    assert other in found[0]
    record_of(depot, ours + WITHDRAWN)
    assert "PAST05" in looked(depot)[0][0]
    record_of(depot, ours + WITHDRAWN + CORRECTED)
    assert looked(depot) == ([], [])


def test_older_commits_are_left_out_and_that_is_told(depot, commit):
    record_of(depot, record_of(depot).replace("T-3", "T-4"))
    assert len(looked(depot)[0]) == 1
    since = "records_kept_since: {day: 2026-11-01, by: quality, why: trials}\n"
    depot_yml = (depot / "depot.yml").read_text("utf-8")
    (depot / "depot.yml").write_text(depot_yml + since, encoding="utf-8")
    told = "what was committed until 2026-11-01 is left out when records are compared with their past, by 'quality': trials"
    fresh = "nothing here remembers what the records said before: whether an event was taken out cannot be told yet"
    assert looked(depot) == ([], [fresh, told])
    commit("2026-11-02")
    record_of(depot, record_of(depot).replace("T-4", "T-5"))
    assert len(looked(depot)[0]) == 1


def test_only_quality_leaves_the_past_out(depot, commit):
    since = "records_kept_since: {day: 2026-11-01, by: keeper, why: trials}\n"
    (depot / "depot.yml").write_text((depot / "depot.yml").read_text("utf-8") + since, encoding="utf-8")
    catalogue, _ = read_with_past(depot, Store(depot.parent / "store"))
    assert [each.code for each in catalogue.problems] == ["APPR23"]


def test_a_shallow_copy_says_that_it_cannot_tell(depot, commit):
    commit("2026-11-02")
    asked(depot.parent, "clone", "-q", "--depth", "1", f"file://{depot}", "copy")
    assert looked(depot.parent / "copy") == (
        [], ["git knows only the newest commits here: whether an event was taken out before cannot be told"]
    )  # fmt: skip


def test_without_git_it_is_said(depot, commit, monkeypatch):
    monkeypatch.setenv("PATH", str(depot))
    assert looked(depot) == ([], ["git cannot tell what the records said before: there is no git on this machine"])


@pytest.mark.parametrize("spoilt", [b"", b"{}", b"[]", b'{"key": 1', b"\xff"])
def test_what_is_kept_of_git_may_be_spoilt(depot, commit, spoilt):
    record_of(depot, record_of(depot).replace("T-3", "T-4"))
    found = looked(depot)
    for file in (depot.parent / "store/memory").glob("*.git*"):
        file.write_bytes(spoilt)
    assert looked(depot) == found
    assert len(found[0]) == 1


def test_with_head_where_it_was_git_is_not_asked_for_its_log(depot, commit, monkeypatch):
    record_of(depot, record_of(depot).replace("T-3", "T-4"))
    found = looked(depot)
    monkeypatch.setattr(git.Repository, "log", None)
    assert looked(depot) == found


def test_a_branch_that_is_left_counts_no_more(depot, commit):
    before = record_of(depot)
    asked(depot, "checkout", "-q", "-b", "other")
    record_of(depot, before + WITHDRAWN)
    commit("2026-11-03")
    assert looked(depot) == ([], [])
    asked(depot, "checkout", "-q", "main")
    assert looked(depot) == ([], [])


def test_what_cannot_be_read_any_more_counts_up_to_there(depot, commit):
    whole = record_of(depot)
    record_of(depot, whole + "  - {on: 2026-11-02, what: was worn out, by: keeper}\n")
    commit("2026-11-02")
    record_of(depot, whole)
    assert looked(depot) == ([], [])
    record_of(depot, whole.replace("T-3", "T-4"))
    assert len(looked(depot)[0]) == 1


def test_neither_replaced_objects_nor_the_shells_settings_turn_it_round(depot, commit, monkeypatch, tmp_path):
    before = record_of(depot)
    record_of(depot, before + WITHDRAWN)
    commit("2026-11-03")
    told = asked(depot, "rev-parse", "HEAD", "HEAD~1").split()
    record_of(depot, before)
    asked(depot, "replace", *told)
    monkeypatch.setenv("GIT_DIR", str(tmp_path))
    assert "PAST02" in looked(depot)[0][0]


def test_days_are_those_of_the_commits(depot, commit):
    repository = git.Repository.around(depot)
    assert {version.day for version in repository.log(None).versions} == {date(2026, 11, 1)}


def test_while_depot_yml_cannot_be_read_git_is_not_asked_and_that_is_told_once(depot, commit):
    """It tells which commits are no past, and without it each of them would be held against the records."""
    record_of(depot, record_of(depot).replace("T-3", "T-4"))
    with (depot / "depot.yml").open("a", encoding="utf-8") as stream:
        stream.write("records_kept_since: {day: 2026-11-01, by: quality, why: trials}\n")
    commit("2026-11-02")
    (depot / "depot.yml").write_text("railway: [\n" + (depot / "depot.yml").read_text("utf-8"), encoding="utf-8")
    told = "depot.yml cannot be read, so nobody knows from which day on git holds the past of the records: they are not compared with it"
    assert looked(depot) == ([], [told])
