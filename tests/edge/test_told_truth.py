"""What is written, and whether it could be shown: the last words and the exit code of a command tell the truth."""

import errno
import io
import os
import signal
import sys

import pytest

from generator.edge.cli import main
from generator.edge.disk import atomic, done, swapping
from generator.edge.disk.atomic import ChangedMeanwhileError, beside, exchanged_whole, tidied
from generator.edge.disk.outputs import Watched, watched
from generator.edge.disk.swapping import replaced
from generator.edge.disk.unbroken import unbroken
from generator.systems.renaming import swapped
from tests.edge.conftest import names_in

WITHDRAWN = ["record", "EX-0001", "withdrawn", "--by", "reviewer", "--reason", "cracks"]


class Broken(io.StringIO):
    """An output that takes nothing."""

    def __init__(self, error):
        super().__init__()
        self.error = error

    def flush(self):
        raise self.error


FULL = OSError(errno.ENOSPC, "No space left on device")


@pytest.fixture
def knob(depot):
    return depot / "catalogue/parts/EX-0001-lid-knob/approval.yml"


@pytest.mark.parametrize(
    ("stream", "why"),
    [
        (Broken(FULL), "the disk is full"),
        (Broken(BrokenPipeError()), "its reader has gone"),
        (None, "it is closed"),
    ],
    ids=["full", "gone", "closed"],
)
def test_written_but_not_shown(knob, capsys, monkeypatch, stream, why):
    monkeypatch.setattr(sys, "stdout", stream)
    assert main(WITHDRAWN) == 1
    written = "catalogue/parts/EX-0001-lid-knob/approval.yml is written, with the event"
    assert capsys.readouterr().err == f"spares: {written}; only the message could not be shown: {why}\n"
    assert knob.read_text().count("reason: cracks") == 1


def test_with_nothing_to_speak_with_the_code_tells(knob, monkeypatch):
    for name in ("stdout", "stderr"):
        monkeypatch.setattr(sys, name, None)
    assert main(WITHDRAWN) == 0
    assert knob.read_text().count("reason: cracks") == 1
    assert main(["record", "EX-0001", "withdrawn", "--by", "nobody", "--reason", "tried"]) == 1
    assert main(["approvals"]) == 1


def test_a_reader_that_has_gone_is_no_mistake_of_who_only_reads(depot, capsys, monkeypatch):
    monkeypatch.setattr(sys, "stdout", Broken(BrokenPipeError()))
    assert (main(["approvals"]), capsys.readouterr().err) == (1, "")
    monkeypatch.setattr(sys, "stdout", Broken(FULL))
    assert main(["approvals"]) == 1
    assert capsys.readouterr().err == "spares: the answer could not be shown: the disk is full\n"


def test_ctrl_c_after_the_write_does_not_deny_it(knob, spares, monkeypatch):
    real = done.wrote

    def wrote(what):
        real(what)
        signal.raise_signal(signal.SIGINT)  # it comes in the middle of the step, and waits for its end

    monkeypatch.setattr("generator.edge.disk.done.wrote", wrote)
    code, _, err = spares(*WITHDRAWN)
    assert code == 130
    assert err == (
        "spares: stopped before it was done\n"
        "  before that: catalogue/parts/EX-0001-lid-knob/approval.yml is written, with the event\n"
    )
    assert "reason: cracks" in knob.read_text()


def test_of_two_requests_the_first_is_told_when_the_second_fails(depot, spares, monkeypatch):
    text = (depot / "catalogue/requests/coat-hook.yml").read_text()
    for name in ("Lamp", "Bag"):
        (depot / f"{name}.yml").write_text(text.replace("Coat", name))
    real, calls = atomic.created_whole, []

    def full_at_the_second(file, content):
        calls.append(file)
        if len(calls) == 2:
            raise FULL
        real(file, content)

    monkeypatch.setattr(atomic, "created_whole", full_at_the_second)
    code, _, err = spares("request", "add", "Lamp.yml", "Bag.yml")
    assert code == 1
    assert "requests/R-0002.yml failed: the disk is full" in err
    assert err.endswith("  before that: catalogue/requests/R-0001.yml is written\n")


def test_a_signal_waits_for_the_end_of_what_belongs_together():
    steps = []

    def interrupted():
        with unbroken():
            with unbroken():
                signal.raise_signal(signal.SIGINT)
                steps.append("inner")
            steps.append("outer")

    with pytest.raises(KeyboardInterrupt):
        interrupted()
    assert steps == ["inner", "outer"]
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_watched_outputs_are_put_back(capsys):
    before = sys.stdout, sys.stderr
    with watched() as outputs:
        print("seen")
        assert isinstance(sys.stdout, Watched)
    assert (sys.stdout, sys.stderr) == before
    assert not outputs.out.lost
    assert capsys.readouterr().out == "seen\n"


# ---- files


def test_what_an_editor_saved_an_instant_before_stays(tmp_path):
    file = tmp_path / "approval.yml"
    file.write_bytes(b"saved by hand")
    with pytest.raises(ChangedMeanwhileError):
        exchanged_whole(file, b"as it was read", b"new")
    with pytest.raises(ChangedMeanwhileError):
        exchanged_whole(file, None, b"new")
    assert (file.read_bytes(), names_in(tmp_path)) == (b"saved by hand", ["approval.yml"])
    exchanged_whole(file, b"saved by hand", b"new")
    assert (file.read_bytes(), names_in(tmp_path)) == (b"new", ["approval.yml"])


def test_only_what_a_dead_process_left_is_taken_away(tmp_path):
    dead = 2**22 + 1  # above the largest process number of Linux
    for name in (f".new-{dead}-a.yml", f".new-{os.getppid()}-a.yml", ".new-x", "new-1-a", ".newest"):
        (tmp_path / name).touch()
    (tmp_path / f".new-{dead}-part").mkdir()
    tidied(tmp_path)
    assert names_in(tmp_path) == sorted([f".new-{os.getppid()}-a.yml", ".new-x", ".newest", "new-1-a"])


def test_no_name_is_too_long_for_what_grows_beside_it(tmp_path):
    longest = tmp_path / ("é" * 127)  # of 255 bytes, as disks have it
    exchanged_whole(longest, None, b"x")
    exchanged_whole(longest, b"x", b"y")
    assert len(beside(longest).name.encode()) <= 255


@pytest.mark.skipif(sys.platform not in ("linux", "darwin"), reason="the system has no such step")
def test_two_folders_change_hands_in_one_step(tmp_path):
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    assert swapped(tmp_path / "one", tmp_path / "other")
    assert (names_in(tmp_path / "one"), names_in(tmp_path / "other")) == (["other"], ["one"])
    with pytest.raises(FileNotFoundError):
        swapped(tmp_path / "one", tmp_path / "gone")


@pytest.mark.parametrize("can", [True, False], ids=["in one step", "by two renames"])
def test_the_new_folder_takes_the_place_of_the_old_one(tmp_path, monkeypatch, can):
    if not can:
        monkeypatch.setattr(swapping, "swapped", lambda _one, _other: False)
    for text in ("first", "second"):
        with replaced(tmp_path / "site") as fresh:
            (fresh / "index.html").write_text(text)
        assert (tmp_path / "site" / "index.html").read_text() == text
        assert names_in(tmp_path) == ["site"]
