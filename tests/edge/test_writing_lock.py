"""One command at a time writes into a catalogue: waited for, told, and never left behind."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from generator.edge.commands.terminal import Terminal
from generator.edge.disk import writing_lock
from generator.edge.disk.writing_lock import HOLDER, LOCK, held
from generator.edge.refusals import Refusal
from tests.edge.conftest import bytes_of, names_in

ROOT = Path("catalogue")
# Holds the lock until its input ends, or until it is killed.
HOLD = """
import sys
from pathlib import Path
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.writing_lock import held
with held(Path("catalogue"), "record EX-0001", Terminal().note):
    print("held", flush=True)
    sys.stdin.read()
"""
WITHDRAWN = ["record", "EX-0001", "withdrawn", "--by", "reviewer", "--reason", "cracks"]


@pytest.fixture
def holder(depot):
    process = subprocess.Popen(
        [sys.executable, "-c", HOLD], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert process.stdout.readline() == "held\n"
    yield process
    process.kill()
    process.wait()
    for stream in (process.stdin, process.stdout):
        stream.close()


@pytest.fixture
def impatient(monkeypatch):
    monkeypatch.setattr(writing_lock, "PATIENCE_S", 0.2)
    monkeypatch.setattr(writing_lock, "SAID_AFTER_S", 0.1)


@pytest.mark.parametrize(
    "command",
    [
        WITHDRAWN,
        ["approve", "EX-0003", "--trial", "--pieces", "2", "--by", "keeper", "--reference", "T", "--scope", "B2:22:bogie",
         "--until", "2026-12-31", "--evidence", "documents/trial-note.txt"],
        ["new", "EX-0009", "Peg", "--mesh", "catalogue/parts/EX-0001-lid-knob/model.stl"],
        ["request", "add", "asked.yml"],
    ],
    ids=lambda command: command[0],
)  # fmt: skip
def test_while_another_command_writes_nothing_is_written(holder, impatient, spares, depot, command):
    (depot / "asked.yml").write_text((ROOT / "requests/coat-hook.yml").read_text().replace("Coat", "Lamp"))
    before = bytes_of(ROOT)
    code, _, err = spares(*command)
    waiting, refused, mend = err.splitlines()
    assert code == 1
    assert waiting.startswith("Waiting for another command: spares record EX-0001, process ")
    assert refused.startswith("spares: catalogue is still held by another command: spares record EX-0001")
    assert f"process {holder.pid}, since " in refused
    assert refused.endswith("; nothing was written")
    assert mend.startswith("  mend: run it again")
    assert bytes_of(ROOT) == before


def test_a_dry_run_and_what_only_reads_need_no_lock(holder, impatient, spares):
    assert spares(*WITHDRAWN, "--dry-run")[0] == 0
    assert spares("check", "--strict")[0] == 0
    assert spares("explain", "EX-0001")[0] == 0


def test_a_killed_holder_holds_nothing(holder, impatient, spares):
    holder.kill()
    holder.wait()
    assert (ROOT / LOCK).exists()
    assert spares(*WITHDRAWN)[0] == 0


def test_nothing_of_the_lock_stays(spares, depot):
    before = names_in(ROOT)
    assert spares(*WITHDRAWN)[0] == 0
    assert names_in(ROOT) == before


def test_it_goes_with_an_error_too(depot):
    def failing():
        with held(ROOT, "x", Terminal().note):
            assert json.loads((ROOT / HOLDER).read_text())["command"] == "spares x"
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        failing()
    assert not (ROOT / LOCK).exists()
    assert not (ROOT / HOLDER).exists()


def test_without_a_word_of_the_holder_it_is_another_command(holder, impatient):
    (ROOT / HOLDER).write_text("not JSON")
    with pytest.raises(Refusal, match="held by another command of spares"), held(ROOT, "x", Terminal().note):
        pass


def test_where_nothing_can_be_written_there_is_one_message(depot):
    Path("letter").touch()
    with pytest.raises(Refusal, match="writing into letter failed"), held(Path("letter"), "x", Terminal().note):
        pass


def test_who_waited_reads_what_was_written_meanwhile(holder, spares, monkeypatch):
    """The first look is before the lock: the second one, inside it, sees the event of the one who held it."""
    monkeypatch.setattr(writing_lock, "SAID_AFTER_S", 0.0)
    file = ROOT / "parts/EX-0001-lid-knob/approval.yml"

    def note(_terminal, text, _style=None):  # called while it waits
        if text.startswith("Waiting"):
            event = "  - on: 2026-11-24\n    what: condition added\n    by: keeper\n    condition: by hand\n"
            file.write_text(file.read_text() + event)
            holder.stdin.close()

    monkeypatch.setattr(Terminal, "note", note)
    assert spares(*WITHDRAWN)[0] == 0
    assert "condition: by hand" in file.read_text()
    assert "reason: cracks" in file.read_text()
