"""What lay in the catalogue on a day: which commit is taken, and that a repository only tells and never acts."""

import os
import shutil
import subprocess
from datetime import date

import pytest

from generator.provenance.remembering.as_of import NoStateError, as_of, written

pytestmark = pytest.mark.skipif(not shutil.which("git"), reason="there is no git")


def git(folder, *words, day="2026-10-01", hour="12:00:00Z", given=None):
    who = ["-c", "user.name=x", "-c", "user.email=x@example.org", "-c", "commit.gpgsign=false"]
    around = {"GIT_COMMITTER_DATE": f"{day}T{hour}", "GIT_AUTHOR_DATE": "2020-01-01T12:00:00Z", "PATH": "/usr/bin:/bin"}
    ran = subprocess.run(["git", *who, *words], cwd=folder, env=around, check=True, capture_output=True, input=given)
    return ran.stdout.decode().strip()


@pytest.fixture
def place(tmp_path):
    """A repository whose catalogue lies in a folder of it."""
    folder = tmp_path / "repository" / "catalogue"
    folder.mkdir(parents=True)
    git(folder.parent, "init", "-q", "-b", "main")
    return folder


def said(folder, text, day, hour="12:00:00Z", name="depot.yml"):
    (folder / name).parent.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "-m", "x", day=day, hour=hour)
    return git(folder, "rev-parse", "HEAD")


def lay(folder, at, tmp_path):
    """The files as they lay then, by path, and the commit."""
    state = as_of(folder, at)
    into = tmp_path / f"then-{len(list(tmp_path.iterdir()))}"
    written(state, into)
    files = (each for each in into.rglob("*") if each.is_file() and not each.is_symlink())
    return {each.relative_to(into).as_posix(): each.read_bytes() for each in files}, state


def test_a_day_takes_the_last_commit_until_its_end_in_utc(place, tmp_path):
    first = said(place, "one", "2026-10-14", "23:59:59Z")
    second = said(place, "two", "2026-10-15", "01:30:00+02:00")  # 23:30 of the 14th in UTC
    third = said(place, "three", "2026-10-15", "00:00:00Z")
    for at, commit, text in [
        (date(2026, 10, 14), second, b"two"),
        (date(2026, 10, 15), third, b"three"),
        (date(2030, 1, 1), third, b"three"),
        (first[:8], first, b"one"),
        ("HEAD~1", second, b"two"),
    ]:
        files, state = lay(place, at, tmp_path)
        assert (state.commit, files) == (commit, {"depot.yml": text})
    assert as_of(place, first).day == date(2026, 10, 14)


def test_a_merge_counts_from_its_own_day(place, tmp_path):
    said(place, "one", "2026-10-01")
    git(place, "checkout", "-q", "-b", "side")
    said(place, "side", "2026-10-02", name="side.yml")
    git(place, "checkout", "-q", "main")
    said(place, "two", "2026-10-03")
    git(place, "merge", "-q", "--no-ff", "side", "-m", "x", day="2026-10-05")
    assert lay(place, date(2026, 10, 4), tmp_path)[0] == {"depot.yml": b"two"}
    assert lay(place, date(2026, 10, 5), tmp_path)[0] == {"depot.yml": b"two", "side.yml": b"side"}


@pytest.mark.parametrize(
    ("at", "key"),
    [
        (date(2026, 9, 30), "at_before"), ("nothing", "at_no_commit"), ("", "at_no_commit"), ("--all", "at_no_commit"),
        ("HEAD..HEAD", "at_no_commit"), ("HEAD:depot.yml", "at_no_commit"), ("HEAD^{tree}", "at_no_commit"), ("0" * 40, "at_no_commit"),
    ],
)  # fmt: skip
def test_what_is_no_commit_or_before_the_first_is_refused(place, at, key):
    said(place, "one", "2026-10-01")
    with pytest.raises(NoStateError) as refused:
        as_of(place, at)
    assert refused.value.key == key


def test_where_there_is_no_git_or_no_commit_or_no_folder(place, tmp_path):
    with pytest.raises(NoStateError, match="at_no_git") as none:
        as_of(place, date(2026, 10, 1))
    assert none.value.facts["day"] == "2026-10-01"  # which --on can be asked without git
    (tmp_path / "plain").mkdir()
    with pytest.raises(NoStateError, match="at_no_git"):
        as_of(tmp_path / "plain", "HEAD")
    said(place.parent, "readme", "2026-10-01", name="README.md")
    said(place, "one", "2026-10-02")
    with pytest.raises(NoStateError) as refused:
        written(as_of(place, date(2026, 10, 1)), tmp_path / "then")
    assert (refused.value.key, refused.value.facts["folder"]) == ("at_no_catalogue", "catalogue")
    assert not (tmp_path / "then").exists()


def test_a_shallow_copy_says_that_it_is_one(place, tmp_path):
    first = said(place, "one", "2026-10-01")
    said(place, "two", "2026-10-02")
    git(tmp_path, "clone", "-q", "--depth", "1", f"file://{place.parent}", "shallow")
    for at in (date(2026, 10, 1), first):
        with pytest.raises(NoStateError, match="at_shallow"):
            as_of(tmp_path / "shallow" / "catalogue", at)


def test_a_hostile_repository_runs_nothing(place, tmp_path):
    run = tmp_path / "was-run"
    evil = tmp_path / "evil.sh"
    evil.write_text(f"#!/bin/sh\necho run >> {run}\ncat\n", encoding="utf-8")
    evil.chmod(0o755)
    said(place, "one $Id$\n", "2026-10-01")
    attributes = "* filter=evil diff=evil merge=evil text eol=crlf ident\n"
    commit = said(place, attributes, "2026-10-01", name=".gitattributes")
    for key in ("filter.evil.smudge", "filter.evil.process", "filter.evil.clean", "diff.evil.command", "diff.evil.textconv",
                "core.fsmonitor", "core.pager", "core.sshCommand", "diff.external", "gpg.program", "core.editor"):  # fmt: skip
        git(place, "config", key, str(evil))
    git(place, "config", "core.hooksPath", str(tmp_path / "hooks"))
    (tmp_path / "hooks").mkdir()
    for hook in ("post-checkout", "post-index-change", "pre-commit", "reference-transaction"):
        shutil.copy(evil, tmp_path / "hooks" / hook)
    files, _ = lay(place, commit, tmp_path)
    assert files["depot.yml"] == b"one $Id$\n"
    assert not run.exists()


def test_what_a_partial_copy_lacks_is_not_fetched(place, tmp_path):
    run = tmp_path / "was-run"
    commit = said(place, "one", "2026-10-01")
    blob = git(place, "rev-parse", "HEAD:catalogue/depot.yml")
    (place.parent / ".git/objects" / blob[:2] / blob[2:]).unlink()
    for key, value in [("core.repositoryFormatVersion", "1"), ("extensions.partialClone", "origin"), ("remote.origin.promisor", "true"),
                       ("remote.origin.url", f"ext::sh -c touch% {run}"), ("protocol.ext.allow", "always")]:  # fmt: skip
        git(place, "config", key, value)
    with pytest.raises(NoStateError, match="at_git"):
        lay(place, commit, tmp_path)
    assert not run.exists()


def tree_of(folder, *entries):
    """A tree that `git add` would refuse, made of (mode, name, blob or tree)."""
    raw = b"".join(f"{mode} {name}".encode() + b"\0" + bytes.fromhex(held) for mode, name, held in entries)
    return git(folder, "hash-object", "-t", "tree", "-w", "--literally", "--stdin", given=raw)


def test_paths_that_lead_out_are_left_out_and_nothing_is_written_through_a_link(place, tmp_path):
    said(place, "one", "2026-10-01")
    out = tmp_path / "out"
    out.mkdir()
    held = git(place, "rev-parse", "HEAD:catalogue/depot.yml")
    link = git(place, "hash-object", "-w", "--stdin", given=os.fsencode(out))
    inner = tree_of(place, ("100644", "written", held), ("120000", "linked", link))
    up = tree_of(place, ("100644", "escaped", held))
    top = tree_of(
        place, ("40000", "..", up), ("40000", ".GIT", inner), ("40000", "sub", inner), ("120000", "away", link), ("40000", "away", inner),
        ("120000", "zlink", link), ("100644", "depot.yml", held), ("160000", "module", "1" * 40),
    )  # fmt: skip
    root = tree_of(place, ("40000", "catalogue", top))
    commit = git(place, "commit-tree", root, "-m", "x")
    files, _ = lay(place, commit, tmp_path)
    assert sorted(files) == ["away/written", "depot.yml", "sub/written"]
    assert list(out.iterdir()) == []
    assert not list(tmp_path.rglob("escaped"))
