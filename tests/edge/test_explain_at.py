"""`spares explain --at`: the verdict by the files of a commit or a day, as git has them."""

import shutil
import subprocess
from datetime import timedelta
from pathlib import Path

import pytest

from generator.edge.commands import options as asking
from generator.edge.refusals import Ending
from generator.records.depot import NEWEST_CATALOGUE

APPROVAL = Path("catalogue/parts/EX-0001-lid-knob/approval.yml")
WITHDRAWN = "  - {on: 2026-11-02, what: withdrawn, by: keeper, reason: cracks}\n"
pytestmark = pytest.mark.skipif(not shutil.which("git"), reason="there is no git")


def git(*words, day="2026-10-14"):
    who = ["-c", "user.name=x", "-c", "user.email=x@example.org", "-c", "commit.gpgsign=false"]
    around = {"GIT_COMMITTER_DATE": f"{day}T12:00:00Z", "GIT_AUTHOR_DATE": f"{day}T12:00:00Z", "PATH": "/usr/bin:/bin"}
    return subprocess.run(["git", *who, *words], env=around, check=True, capture_output=True, text=True).stdout.strip()


def committed(day):
    git("add", "-A", "catalogue", day=day)
    git("commit", "-q", "-m", "x", day=day)
    return git("rev-parse", "HEAD")[:10]


@pytest.fixture
def history(depot):
    """The tiny depot of 14 October, its first part withdrawn on 2 November; the folder is renamed since."""
    git("init", "-q", "-b", "main")
    first = committed("2026-10-14")
    APPROVAL.write_text(APPROVAL.read_text("utf-8") + WITHDRAWN, encoding="utf-8")
    second = committed("2026-11-02")
    Path("catalogue/parts/EX-0001-lid-knob").rename("catalogue/parts/EX-0001-knob")
    return first, second


def test_what_stood_on_a_day_is_judged_by_the_files_of_that_day(history, spares):
    first, second = history
    for at, commit, day, verdict in [
        ("2026-10-20", first, "2026-10-14", "Fit it. Approved by L-1."),
        (first, first, "2026-10-14", "Fit it. Approved by L-1."),
        ("2026-11-02", second, "2026-11-02", "Do not fit. Withdrawn"),
        ("HEAD", second, "2026-11-02", "Do not fit. Withdrawn"),
    ]:
        code, out, err = spares("explain", "ex-0001", "--at", at)
        lines = out.splitlines()
        assert (code, err, lines[0]) == (0, "", f"As written in commit {commit} of {day}"), at
        assert any(line.startswith(verdict) for line in lines), at
        assert f"{commit}:catalogue/materials/documents/petg-certificate.txt" in out
        assert "PAST" not in out  # what git knew by then, and nothing that came later
    assert "EX-0001 Lid knob, 20 Oct 2026" in spares("explain", "EX-0001", "--at", "2026-10-20")[1]


def test_another_day_may_be_judged_by_the_files_of_then(history, spares):
    first, second = history
    _, out, _ = spares("explain", "EX-0001", "--at", first, "--on", "2027-07-01")
    assert "Do not fit. Ended: the last day was 30 Jun 2027" in out
    _, out, _ = spares("explain", "EX-0001", "--at", second, "--on", "2026-11-01")
    assert "Fit it. Approved by L-1." in out


def test_a_history_that_was_rewritten_by_then_was_so_then(history, spares):
    Path("catalogue/parts/EX-0001-knob").rename("catalogue/parts/EX-0001-lid-knob")
    APPROVAL.write_text(APPROVAL.read_text("utf-8").replace(WITHDRAWN, ""), encoding="utf-8")
    third = committed("2026-11-05")
    _, out, _ = spares("explain", "EX-0001", "--at", third)
    assert "PAST02" in out
    assert "Fit it. " not in out


def test_each_moment_that_cannot_be_asked_for_is_refused_once(history, spares):
    part = Path("catalogue/parts/EX-0001-knob")
    shutil.copytree(part, "catalogue/parts/EX-0009-other")
    text = (part / "part.yml").read_text("utf-8").replace("EX-0001", "EX-0009")
    Path("catalogue/parts/EX-0009-other/part.yml").write_text(text, encoding="utf-8")
    for words, says in [
        (("EX-0001", "--at", "2026-10-13"), "nothing is known of 2026-10-13: the first commit is of 2026-10-14"),
        (("EX-0001", "--at", "2026-02-30"), "argument --at: '2026-02-30' is not a day that exists"),
        (("EX-0001", "--at", (asking.today() + timedelta(days=1)).isoformat()), "it is a day that has not come yet"),
        (("EX-0001", "--at", "nowhere"), "git knows no commit nowhere"),
        (("EX-0009", "--at", history[1]), f"commit {history[1]} of 2026-11-02 has no part EX-0009"),
    ]:
        code, out, err = spares("explain", *words)
        assert (code, out) == (Ending.MISUSE, "")
        assert says in err.splitlines()[-1] + err.splitlines()[0], words
    depot_yml = Path("catalogue/depot.yml")
    depot_yml.write_text(f"format: {NEWEST_CATALOGUE + 1}\n" + depot_yml.read_text("utf-8").replace("format:", "was:"), encoding="utf-8")
    later = committed("2026-11-06")
    depot_yml.write_text(git("show", f"{history[0]}:catalogue/depot.yml") + "\n", encoding="utf-8")
    code, _, err = spares("explain", "EX-0001", "--at", later)
    assert code == Ending.PROBLEMS
    assert f"the catalogue in commit {later} of 2026-11-06 is of format {NEWEST_CATALOGUE + 1}" in err


def test_without_git_it_says_so(depot, spares):
    code, out, err = spares("explain", "EX-0001", "--at", "2026-10-14")
    assert (code, out) == (Ending.MISUSE, "")
    assert err.startswith("spares: what lay in catalogue on another day is known to git alone")
