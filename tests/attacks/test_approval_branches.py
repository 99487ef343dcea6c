"""A withdrawal that is lost between branches, by git itself, or with the folder of git."""

import subprocess
from pathlib import Path

import pytest

from tests.attacks.approval_depot import (
    KNOB,
    Said,
    add,
    committed,
    event,
    fits,
    folder,
    history,
    refuses,
    run,
)
from tests.attacks.test_approval_history import PAST, asked, conditioned, edit, last_gone, withdrawn


def git(catalogue, *words):
    who = ["-c", "user.name=Depot", "-c", "user.email=depot@example.invalid", "-c", "commit.gpgsign=false"]
    done = subprocess.run(["git", *who, "-C", catalogue, *words], check=True, capture_output=True, text=True)
    return done.stdout.strip()


def test_the_withdrawal_of_another_branch_is_lost_in_a_merge(demo):
    catalogue = committed(demo())
    main = git(catalogue, "branch", "--show-current")
    git(catalogue, "checkout", "-q", "-b", "reviewer")
    withdrawn(catalogue)
    committed(catalogue, "withdrawn")
    git(catalogue, "checkout", "-q", main)
    (catalogue / "words.yml").write_text((catalogue / "words.yml").read_text() + "# more\n")
    committed(catalogue, "words")
    git(catalogue, "merge", "-q", "-s", "ours", "--no-edit", "reviewer")
    refuses(catalogue, PAST)


def test_two_branches_that_each_said_something_else(demo):
    catalogue = committed(demo())
    main = git(catalogue, "branch", "--show-current")
    git(catalogue, "checkout", "-q", "-b", "reviewer")
    conditioned(catalogue)
    committed(catalogue, "condition")
    git(catalogue, "checkout", "-q", main)
    asked(catalogue)
    committed(catalogue, "question")
    git(catalogue, "merge", "-q", "-s", "ours", "--no-edit", "reviewer")
    conditioned(catalogue)
    with history(catalogue) as record:
        record["events"].append(event("2026-06-06", "question answered", "am-specialist"))
    committed(catalogue, "both")
    refuses(catalogue, "branch|merge|" + PAST)


def test_a_commit_that_is_undone_by_git_itself(demo):
    catalogue = committed(demo())
    withdrawn(catalogue)
    committed(catalogue, "withdrawn")
    git(catalogue, "revert", "--no-edit", "HEAD")
    refuses(catalogue, PAST)


def test_the_folder_of_git_is_thrown_away_and_the_store_still_knows(demo):
    catalogue = demo()
    withdrawn(catalogue)
    committed(catalogue)
    run(catalogue, "check")
    (catalogue / ".git").rename(catalogue.parent / "git-away")
    edit(last_gone)(catalogue)
    refuses(catalogue, PAST)


def test_a_catalogue_in_a_folder_of_a_larger_repository(demo):
    catalogue = demo()
    withdrawn(catalogue)
    (catalogue.parent / ".gitignore").write_text("store\n")
    committed(catalogue.parent)
    edit(last_gone)(catalogue)
    refuses(catalogue, PAST)


def test_a_catalogue_reached_through_another_path(demo):
    catalogue = demo()
    withdrawn(catalogue)
    run(catalogue, "check")
    edit(last_gone)(catalogue)
    other = Path(catalogue.parent / "link")
    other.symlink_to(catalogue, target_is_directory=True)
    assert Said(other).fitted == set()


# Positive


def test_the_untouched_record_under_git_is_fitted(demo):
    fits(committed(demo()))


@pytest.mark.parametrize("how", ["git", "store"])
def test_what_is_only_written_otherwise_is_the_same_past(demo, how):
    catalogue = demo()
    committed(catalogue) if how == "git" else run(catalogue, "check")
    edit(lambda record: record)(catalogue)  # other quotes, no comments
    text = (folder(catalogue) / "approval.yml").read_text()
    (folder(catalogue) / "approval.yml").write_text("# A comment.\n" + text)
    fits(catalogue)


@pytest.mark.parametrize("how", ["git", "store"])
def test_what_is_only_added_is_the_same_past(demo, how):
    catalogue = demo()
    committed(catalogue) if how == "git" else run(catalogue, "check")
    asked(catalogue)
    add(catalogue, KNOB, event("2026-06-06", "question answered", "am-specialist"))
    fits(catalogue)
