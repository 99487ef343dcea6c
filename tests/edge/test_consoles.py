"""A console of another encoding shows what it can, and the rest so that it can be read; JSON loses nothing."""

import io
import json
import sys

import pytest

from generator.edge.cli import main
from generator.edge.commands.terminal import tell_json
from generator.edge.disk.outputs import watched

SAID = "Værksted – 4 × 20 → 80 … Ω 🔧"


def shown(monkeypatch, encoding, say):
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding, newline=""))
    with watched() as outputs:
        say()
        outputs.flush()
        assert not outputs.out.lost
    return raw.getvalue().decode(encoding).rstrip("\n")


@pytest.mark.parametrize(
    ("encoding", "seen"),
    [
        ("utf-8", SAID),
        ("cp1252", "Værksted – 4 × 20 -> 80 … \\u03a9 \\U0001f527"),
        ("cp850", "Værksted - 4 × 20 -> 80 ... \\u03a9 \\U0001f527"),
        ("ascii", "V\\xe6rksted - 4 x 20 -> 80 ... \\u03a9 \\U0001f527"),
    ],
)
def test_what_a_console_lacks_is_written_plainly(monkeypatch, encoding, seen):
    assert shown(monkeypatch, encoding, lambda: print(SAID)) == seen
    assert json.loads(shown(monkeypatch, encoding, lambda: tell_json([SAID]))) == [SAID]


def test_help_of_every_kind_is_shown_on_an_old_console(monkeypatch):
    assert "usage" in shown(monkeypatch, "cp850", lambda: main(["find", "--help"]))
