"""`spares hook`: what is committed is checked, what is pushed is built; cases from the side of who commits and of what goes wrong."""

import os
import shutil
import subprocess
import sys
import threading
from dataclasses import replace
from pathlib import Path

import pytest

from generator.edge.disk import pushed
from generator.edge.disk.hooks import MARK, Hook, text_of
from generator.edge.disk.swapping import MARKER
from generator.edge.refusals import Ending
from tests.edge.conftest import EPOCH
from tests.fixtures.committing import committed, git

KNOB, CLIP = "catalogue/parts/EX-0001-lid-knob", "catalogue/parts/EX-0003-hose-clip"
ROOT = Path(__file__).parents[2]
PROGRAM = f"#!/bin/sh\nexec '{sys.executable}' -c 'import sys; from generator.edge.cli import main; sys.exit(main())' \"$@\"\n"
IGNORED = ".store\nbin\nconfig\nserved\n*.git\nremote\n"
pytestmark = pytest.mark.skipif(not shutil.which("git"), reason="there is no git")


@pytest.fixture
def begun(depot, monkeypatch):
    """The tiny depot in a repository, with a program `spares` that git finds."""
    (depot / ".gitignore").write_text(IGNORED, encoding="utf-8")
    (depot / "site_src/note.md").write_text("# Note\n", encoding="utf-8")  # git keeps no empty folder
    (depot / "bin").mkdir()
    tool = depot / "bin/spares"
    tool.write_text(PROGRAM, encoding="utf-8")
    tool.chmod(0o755)
    monkeypatch.setenv("PATH", f"{depot / 'bin'}:{os.environ['PATH']}")
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    git(depot, "init", "-q", "-b", "main")
    committed(depot)
    return depot


def edit(file, old, new):
    text = Path(file).read_text("utf-8")
    assert old in text
    Path(file).write_text(text.replace(old, new), encoding="utf-8")


def test_what_is_committed_is_checked_and_not_what_lies_beside_it(begun, spares):
    assert spares("check", "--staged")[:2] == (0, "Nothing of the catalogue is changed by it.\n")
    edit(f"{KNOB}/part.yml", "revision: A", "revision: [")
    assert spares("hook", "pre-commit")[:2] == (0, "")  # not added, so no part of the commit
    git(begun, "add", "-A")
    edit(f"{KNOB}/part.yml", "revision: [", "revision: A")  # mended here, and not there
    code, out, err = spares("hook", "pre-commit")
    assert code == Ending.PROBLEMS, out + err
    assert "catalogue/parts/EX-0001-lid-knob/part.yml" in out + err
    assert "1 part looked at: EX-0001;" in out
    assert out.splitlines()[-1] == "The commit is stopped. Mend the errors, git add, and commit again."
    git(begun, "add", "-A")
    assert spares("hook", "pre-commit")[0] == 0


def test_a_paper_that_was_not_added_stops_it(begun, spares):
    edit(f"{CLIP}/approval.yml", "documents/trial-note.txt", "documents/other-note.txt")
    Path(CLIP, "documents/trial-note.txt").rename(Path(CLIP, "documents/other-note.txt"))
    git(begun, "add", f"{CLIP}/approval.yml")
    code, out, err = spares("hook", "pre-commit")
    assert (code, "other-note.txt" in out + err) == (Ending.PROBLEMS, True)


def test_an_error_that_was_there_before_stops_no_other_part_and_is_told(begun, spares):
    edit(f"{KNOB}/part.yml", "revision: A", "revision: [")
    committed(begun)
    edit(f"{CLIP}/part.yml", "name: Hose clip", "name: Clip")
    git(begun, "add", "-A")
    code, out, err = spares("hook", "pre-commit")
    assert code == 0, out
    assert "elsewhere in the catalogue" in out + err
    assert "EX-0001-lid-knob" not in out + err


def test_an_old_error_stops_no_commit_that_changes_a_list(begun, spares):
    edit(f"{KNOB}/part.yml", "makers: [bench]", "makers: [nobody-here]")
    edit(f"{CLIP}/approval.yml", "documents/trial-note.txt", "documents/never-kept.txt")
    committed(begun)  # a draft, with --no-verify
    for change in (
        lambda: (begun / "catalogue/makers.yml").write_text((begun / "catalogue/makers.yml").read_text("utf-8") + "# one more\n", "utf-8"),
        lambda: edit("catalogue/makers.yml", "id: bureau", "id: other\n    name: Other\n    kind: in-house\n    process: material extrusion\n    build_volume_mm: [9, 9, 9]\n    materials: [petg]\n    lead_time_days: 2\n    price: {per_gram: 1}\n    order_at: here\n  - id: bureau"),
        (begun / "catalogue/words.yml").unlink,
    ):
        change()
        git(begun, "add", "-A")
        code, out, err = spares("hook", "pre-commit")
        assert code == 0, out + err
        assert "elsewhere in the catalogue" in out + err
    edit("catalogue/fleets.yml", "id: bogie", "id: truck")  # what it does spoil is told, and the old errors are not
    git(begun, "add", "-A")
    code, out, err = spares("hook", "pre-commit")
    assert (code, "EX-0003-hose-clip/part.yml" in out + err) == (Ending.PROBLEMS, True)
    assert "never-kept.txt" not in out + err
    assert "elsewhere in the catalogue" in out + err


def test_a_part_taken_out_stops_it_where_another_names_it(begun, spares):
    git(begun, "rm", "-rq", CLIP)
    code, out, err = spares("hook", "pre-commit")
    assert (code, "EX-0001-lid-knob/part.yml" in out + err) == (Ending.PROBLEMS, True)


def test_a_list_with_an_error_of_its_own_stops_it(begun, spares):
    (begun / "catalogue/words.yml").write_text("same: [\n", encoding="utf-8")
    git(begun, "add", "-A")
    assert spares("hook", "pre-commit")[0] == Ending.PROBLEMS
    committed(begun)
    (begun / "catalogue/words.yml").write_text("# touched\nsame: [\n", encoding="utf-8")
    git(begun, "add", "-A")
    assert spares("hook", "pre-commit")[0] == Ending.PROBLEMS


def test_a_list_that_parts_rest_on_stops_it_by_their_errors(begun, spares):
    edit("catalogue/fleets.yml", "id: bogie", "id: truck")
    git(begun, "add", "-A")
    code, out, err = spares("check", "--staged")
    assert (code, "EX-0003-hose-clip/part.yml" in out + err) == (Ending.PROBLEMS, True)


@pytest.mark.parametrize(("list_file", "broken"), [("fleets.yml", "fleets: ["), ("makers.yml", "makers: ["), ("depot.yml", "roles: [")])
def test_who_mends_a_list_is_not_stopped_by_what_it_hid(begun, spares, list_file, broken):
    """An old error of a part that names what its lists do not have; while the list could not be read nobody told it."""
    edit(f"{CLIP}/part.yml", "bogie", "roof-hatch")
    edit(f"{CLIP}/part.yml", "makers: [", "makers: [nobody, ")
    edit(f"{CLIP}/approval.yml", "by: specialist", "by: stranger")
    file = Path("catalogue", list_file)
    good = file.read_text("utf-8")
    file.write_text(f"{broken}\n", encoding="utf-8")
    committed(begun)
    file.write_text(good, encoding="utf-8")
    git(begun, "add", "-A")
    code, out, err = spares("hook", "pre-commit")
    assert code == 0, out + err
    assert "elsewhere in the catalogue" in out + err
    # What the mended list itself has wrong, and a part that is broken by the same commit, still stop it.
    edit(f"{KNOB}/part.yml", "revision: A", "revision: [")
    git(begun, "add", "-A")
    code, out, _ = spares("hook", "pre-commit")
    assert (code, "EX-0001-lid-knob" in out, "EX-0003-hose-clip" in out) == (Ending.PROBLEMS, True, False)


def test_an_event_that_is_taken_out_stops_it(begun, spares):
    text = Path(CLIP, "approval.yml").read_text("utf-8")
    Path(CLIP, "approval.yml").write_text(text.partition("  - on: 2026-10-01")[0], encoding="utf-8")
    git(begun, "add", "-A")
    code, out, err = spares("hook", "pre-commit")
    assert (code, "PAST02" in out + err) == (Ending.PROBLEMS, True)


def test_before_the_first_commit_and_without_git_all_is_checked(depot, spares):
    assert spares("hook", "pre-commit")[0] == 0
    edit(f"{KNOB}/part.yml", "revision: A", "revision: [")
    assert spares("hook", "pre-commit")[0] == Ending.PROBLEMS
    git(depot, "init", "-q")
    assert spares("hook", "pre-commit")[0] == Ending.PROBLEMS


def test_parts_that_are_named_are_checked_alone(begun, spares):
    edit(f"{KNOB}/part.yml", "revision: A", "revision: [")
    assert spares("check", "ex-0003")[0] == 0
    assert spares("check", "EX-0001", "EX-0003")[0] == Ending.PROBLEMS
    code, _, err = spares("check", "EX-0009")
    assert (code, "there is no part EX-0009" in err) == (Ending.MISUSE, True)
    assert spares("check", "EX-0001", "--staged")[0] == Ending.MISUSE


def test_git_itself_stops_the_commit_in_the_depots_language_where_the_catalogue_is_a_folder_of_spaces(begun, spares, monkeypatch):
    below = begun / "südlich und 'quer'"
    below.mkdir()
    for name in ("catalogue", "mkdocs.yml", ".store"):
        (begun / name).rename(below / name)
    (below / "catalogue/depot.yml").write_text("language: de\n" + (below / "catalogue/depot.yml").read_text("utf-8").replace("language: en\n", ""))
    monkeypatch.chdir(below)
    committed(begun)
    code, out, _ = spares("hook", "install")
    assert (code, out.splitlines()[1]) == (0, "Vor jedem Commit wird geprüft, was er am Katalog ändert; Fehler halten ihn auf.")
    assert spares("hook", "install")[1].startswith("Er ist schon da: ")
    edit(f"{KNOB}/part.yml", "revision: A", "revision: [")
    edit(f"{CLIP}/part.yml", "name: Hose clip", "name: Clip")
    git(begun, "add", "-A")
    around = {"PATH": os.environ["PATH"], "PYTHONPATH": str(ROOT), "HOME": str(begun), "SOURCE_DATE_EPOCH": EPOCH}
    who = ("git", "-c", "user.name=x", "-c", "user.email=x@x", "commit", "-q", "-m", "x")
    whole = subprocess.run(who, cwd=below, env=around, capture_output=True, text=True, check=False)
    assert (whole.returncode, "Der Commit ist aufgehalten." in whole.stdout + whole.stderr) == (1, True)
    # Of one file alone git makes another index, and names it to its hooks.
    one = subprocess.run([*who, f"{CLIP}/part.yml"], cwd=below, env=around, capture_output=True, text=True, check=False)
    assert one.returncode == 0, one.stdout + one.stderr
    assert git(begun, "show", "--name-only", "--format=", "HEAD").count("\n") == 0


def test_a_hook_of_somebody_elses_stays_and_it_is_told_what_to_add(begun, spares):
    file = begun / ".git/hooks/pre-commit"
    file.parent.mkdir(exist_ok=True)
    for own in ("#!/bin/sh\necho mine\n", "", f"#!/bin/sh\necho '{MARK}'\n"):
        file.write_text(own)
        code, _, err = spares("hook", "install")
        assert (code, file.read_text()) == (Ending.PROBLEMS, own)
        assert "add this line to it: spares hook pre-commit" in " ".join(err.split())
    file.unlink()
    file.symlink_to("nowhere")
    assert spares("hook", "install")[0] == Ending.PROBLEMS
    assert file.is_symlink()
    file.unlink()
    assert spares("hook", "install")[0] == 0
    file.rename(begun / "bin/shared")
    file.symlink_to(begun / "bin/shared")
    (begun / "bin/shared").write_text((begun / "bin/shared").read_text() + "# of all\n")
    assert spares("hook", "install")[0] == Ending.PROBLEMS  # what a link leads to may be others' too
    file.unlink()
    assert spares("hook", "install")[0] == 0
    file.write_text(file.read_text().replace("spares=", "spares=/elsewhere"))
    assert spares("hook", "install")[1].startswith("Written anew: ")
    file.write_text(file.read_text().replace("spares=", "cd other || exit 1\nspares="))
    assert "of another catalogue" in " ".join(spares("hook", "install")[2].split())


def test_where_no_hook_can_be_it_is_refused_with_the_reason(begun, spares, monkeypatch, tmp_path_factory):
    git(begun, "config", "core.hooksPath", "shared")
    assert "core.hooksPath" in spares("hook", "install")[2]
    git(begun, "config", "--unset", "core.hooksPath")
    assert "is no bare repository" in " ".join(spares("hook", "install", "--served", "x")[2].split())
    bare = begun / "bare.git"
    git(begun, "init", "-q", "--bare", str(bare))
    monkeypatch.chdir(bare)
    assert "no folder to be served" in " ".join(spares("hook", "install")[2].split())
    assert "lies inside the repository" in " ".join(spares("hook", "install", "--served", "site")[2].split())
    for around in ("/", ".."):
        assert "holds the repository" in " ".join(spares("hook", "install", "--served", around)[2].split())
    taken = tmp_path_factory.mktemp("taken")
    (taken / "letter.txt").write_text("mine")
    for served in (taken, taken / "letter.txt"):
        assert "holds what spares did not make" in " ".join(spares("hook", "install", "--served", served)[2].split())
    assert not (bare / "hooks/post-receive").exists()
    (taken / "index.html").write_text("another's site")
    assert "holds what spares did not make" in " ".join(spares("hook", "install", "--served", taken)[2].split())
    assert not (bare / "hooks/post-receive").exists()
    (taken / MARKER).write_text("a site")
    installed = spares("hook", "install", "--served", taken)
    assert (installed[0], "no site lies there yet" in " ".join(installed[1].split())) == (0, False)
    (bare / "hooks/post-receive").unlink()
    assert "once there is one: no site lies there yet" in " ".join(spares("hook", "install", "--served", taken.parent / "not there")[1].split())
    (bare / "hooks/post-receive").unlink()
    nowhere = tmp_path_factory.mktemp("nowhere")
    monkeypatch.chdir(nowhere)
    assert "there is no git repository" in spares("hook", "install")[2]
    assert not list(bare.glob("hooks/post-receive"))


def test_the_starters_hint_calls_what_install_writes():
    for language in ("en", "de", "da"):
        hint = (ROOT / "generator/writing/starter" / language / "hints/pre-commit").read_text("utf-8")
        assert hint.splitlines()[-1] == "exec spares hook pre-commit"
    assert text_of(Hook.BEFORE_COMMIT, "spares", ".").splitlines()[-1] == 'exec "$spares" hook pre-commit'


@pytest.fixture
def bare(begun, spares, monkeypatch, tiny_store):
    """A bare repository that serves main into a folder beside it, and that the depot pushes to."""
    remote = begun / "a remote.git"
    git(begun, "init", "-q", "--bare", "-b", "main", str(remote))
    monkeypatch.chdir(remote)
    assert spares("hook", "install", "--served", "../served here/site")[0] == 0
    monkeypatch.chdir(begun)
    (remote / "spares").mkdir()
    shutil.copytree(tiny_store, remote / "spares/store")
    git(begun, "remote", "add", "origin", str(remote))
    return remote


def push(begun, *words):
    around = {"PATH": os.environ["PATH"], "PYTHONPATH": str(ROOT), "HOME": str(begun), "SOURCE_DATE_EPOCH": EPOCH}
    ran = subprocess.run(["git", "push", "-q", "origin", *words], cwd=begun, env=around, capture_output=True, text=True, check=False)
    return " ".join(line.removeprefix("remote:").strip() for line in ran.stderr.splitlines())


def test_a_push_becomes_a_site_and_a_failed_build_leaves_the_last_good_one(begun, bare):
    site = begun / "served here/site"
    said = push(begun, "main:before", "main:it's")
    assert f"Not on main: in {site} no site lies yet. Pushed: before; it's. There is no branch main here. To serve before, in {bare}:" in said
    assert f"spares hook install --served '{site}' --branch before" in said
    push(begun, ":before", ":it's")
    edit(f"{CLIP}/part.yml", "name: Hose clip", "name: Clip of another name")
    committed(begun)
    said = push(begun, "main")
    assert f"Commit {git(begun, 'rev-parse', 'HEAD')[:10]} is served in {site}." in said, said
    assert "Clip of another name" in (site / "parts/EX-0003.html").read_text("utf-8")
    assert "Called otherwise" in (site / "lately.html").read_text("utf-8")  # it knows its history
    before = sorted((each.relative_to(site), each.read_bytes()) for each in site.rglob("*") if each.is_file())
    said = push(begun, "main:other")
    assert f"Not on main: in {site} the last good site stays. Pushed: other." in said
    assert "There is no branch" not in said
    Path("catalogue/depot.yml").write_text("railway: [\n", encoding="utf-8")
    committed(begun)
    said = push(begun, "main")
    assert f"could not be built; in {site} the last good site stays" in said
    assert f"the log: {bare}/spares/build.log" in said
    assert "the depot itself cannot be read" in (bare / "spares/build.log").read_text("utf-8")
    assert sorted((each.relative_to(site), each.read_bytes()) for each in site.rglob("*") if each.is_file()) == before
    git(bare, "config", "core.hooksPath", str(bare / "hooks"))  # by whom it is called is no matter
    git(begun, "rm", "-rq", "catalogue")
    committed(begun)
    assert f"holds no depot.yml, so nothing is built; in {site} the last good site stays" in push(begun, "main")
    assert [each.name for each in site.parent.iterdir()] == ["site"]


def test_where_nothing_was_built_yet_no_site_is_said_to_stay(begun, bare):
    site = begun / "served here/site"
    git(begun, "rm", "-rq", "catalogue")
    (begun / "letter.txt").write_text("no depot")
    committed(begun)
    assert f"holds no depot.yml, so nothing is built; in {site} no site lies yet" in push(begun, "main")
    assert not site.exists()
    git(begun, "checkout", "-q", "HEAD~", "--", "catalogue")
    Path("catalogue/depot.yml").write_text("name: [", encoding="utf-8")
    committed(begun)
    said = " ".join(push(begun, "main").split())  # the build's own words and those of the hook say the same
    assert "no site lies there yet" in said
    assert f"in {site} no site lies yet" in said
    assert "the last good site stays" not in said


def test_two_pushes_at_once_are_built_one_after_the_other_and_the_newest_stays(begun, bare, monkeypatch):
    laid_out, running, most = [], [], []

    def laid(_repository, tip, *_):
        laid_out.append(tip)
        if len(laid_out) == 2:
            second_began.set()
        return begun

    def run(*_):
        running.append(1)
        most.append(len(running))
        if len(laid_out) == 1:  # the second push comes while the first is built
            edit(f"{CLIP}/part.yml", "name: Hose clip", "name: Clip")
            committed(begun)
            git(begun, "-c", "core.hooksPath=/dev/null", "push", "-q", "origin", "main")
            second.start()
            waiting.wait(10)
            assert not second_began.wait(0.3)  # what must not come can only be waited for
        (begun / "served").mkdir(exist_ok=True)
        (begun / "served/index.html").write_text(laid_out[-1])
        (begun / "served" / MARKER).write_text("")
        (bare / "spares/build.log").write_text("x")
        running.pop()
        return 0

    git(bare, "config", "receive.denyCurrentBranch", "ignore")
    (bare / "hooks/post-receive").unlink()
    push(begun, "main")
    monkeypatch.setattr(pushed, "_laid_out", laid)
    monkeypatch.setattr(pushed, "_run", run)
    monkeypatch.setattr(pushed, "_SAID_AFTER_S", 0.01)
    wish = pushed.PushSettings(git=bare, served=begun / "served", branch=None, is_strict=False, day=pushed.date(2026, 11, 25))
    waiting, second_began, found = threading.Event(), threading.Event(), []
    second = threading.Thread(target=lambda: found.append(pushed.build(wish, "refs/heads/main", lambda _: waiting.set())))
    first = pushed.build(wish, "refs/heads/main", lambda _: None)
    second.join()
    assert waiting.is_set()
    assert (first.commit, found[0].commit) == (laid_out[0], laid_out[1])
    assert most == [1, 1]
    assert found[0].commit == git(begun, "rev-parse", "HEAD")
    again = pushed.build(wish, "refs/heads/main", lambda _: None)  # a third that waited finds the newest built
    assert (again.was_built, len(laid_out)) == (True, 2)


def test_the_only_branch_is_served_where_head_names_none_that_is_there(begun, tmp_path_factory):
    bare, served = begun / "bare.git", tmp_path_factory.mktemp("served")
    git(begun, "init", "-q", "--bare", "-b", "master", str(bare))
    git(bare, "config", "receive.denyDeleteCurrent", "ignore")
    wish = pushed.PushSettings(git=bare, served=served, branch=None, is_strict=False, day=pushed.date(2026, 11, 25))
    assert pushed.branch_of(wish) == "refs/heads/master"  # nothing was pushed yet
    git(begun, "push", "-q", str(bare), "main:one", "main:two")
    assert pushed.branch_of(wish) == "refs/heads/master"  # which of two nobody can tell
    git(begun, "push", "-q", str(bare), ":two")
    assert pushed.branch_of(wish) == "refs/heads/one"
    git(begun, "push", "-q", str(bare), "main:two")
    assert pushed.branch_of(wish) == "refs/heads/one"  # it stays the one
    git(begun, "push", "-q", str(bare), "main:master")
    assert pushed.branch_of(wish) == "refs/heads/master"
    (served / MARKER).write_text("")
    git(begun, "push", "-q", str(bare), ":master", ":one")
    assert pushed.branch_of(wish) == "refs/heads/master"  # where the served one was taken away, no other takes its place
    assert pushed.branch_of(replace(wish, branch="x")) == "refs/heads/x"


@pytest.mark.parametrize(
    ("lines", "moved"),
    [
        ([f"{'0' * 40} {'a' * 40} refs/heads/main\n"], {"refs/heads/main": True}),
        ([f"{'a' * 40} {'0' * 40} refs/heads/main\n"], {"refs/heads/main": False}),
        ([f"{'0' * 40} {'a' * 40} refs/heads/main2\n", f"{'0' * 40} {'a' * 40} refs/tags/main\n"], {"refs/heads/main2": True, "refs/tags/main": True}),
        ([], {}),
        (["", "x", "a b"], {}),
    ],
)
def test_a_push_tells_what_it_moved_and_what_it_took_away(lines, moved):
    assert pushed.moved(lines) == moved
