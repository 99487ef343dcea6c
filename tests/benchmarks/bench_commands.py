"""Pairs of writing commands at once, and inputs made to be slow: how many events are lost, how long each takes.

Run as `.venv/bin/python -m tests.benchmarks.bench_commands [--pairs 200]`; it prints figures and asserts none.
"""

import argparse
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from generator.edge.commands.terminal import Terminal
from generator.pages.part.notes import cleaned
from generator.reading.notes_bounds import too_much
from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
from generator.records.fitting import FittingNotes
from generator.records.parts import Part
from tests.fixtures.told import says

SPARES = Path(sys.executable).with_name("spares")
FIXTURE = Path(__file__).parents[1] / "fixtures" / "depot"
PART = (FIXTURE / "parts/EX-0001-lid-knob/part.yml").read_text(encoding="utf-8")
RECORDS = {
    "150,000 keys": "".join(f"k{i}: 1\n" for i in range(150_000)),
    "90,000 keys": "".join(f"k{i}: 1\n" for i in range(90_000)),
    "4,900 keys": "".join(f"k{i}: 1\n" for i in range(4_900)),
    "20,000 [": "x: " + "[" * 20_000,
    "20,000 dashes": "x:\n  " + "- " * 20_000,
    "500,000 letters, unclosed": 'x: "' + "a\n" * 250_000,
    "90,000 letters, unclosed": 'x: "' + "a\n" * 45_000,
}
UNITS = ("[", "![", "[a](", "`", "*a ", "<a ", "- a\n", "[$", "---\n", "> ", "# a\n", "|a|\n|-|\n")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pairs", type=int, default=200)
    pairs = parser.parse_args().pairs
    terminal = Terminal()
    with tempfile.TemporaryDirectory() as folder:
        terminal.table(("pairs of commands", "count"), pairs_at_once(Path(folder), pairs))
    terminal.say()
    terminal.table(("input", "read or refused in", "says"), [*slow_records(), *slow_notes()])


def pairs_at_once(folder: Path, pairs: int) -> list[tuple[str, str]]:
    """`record` twice on one part, or on two, of one catalogue that grows: what was said, and what it then holds."""
    root, store = shutil.copytree(FIXTURE, folder / "catalogue"), folder / "store"
    subprocess.run([SPARES, "check", "--catalogue", root, "--store", store], check=True, capture_output=True)
    began, told, refused, odd = time.monotonic(), set(), 0, 0
    for number in range(pairs):
        second = "EX-0001" if number % 3 else "EX-0002"
        marks = [("EX-0001", f"mark-{number}-a"), (second, f"mark-{number}-b")]
        running = [(mark, started(root, store, part, mark)) for part, mark in marks]
        for mark, process in running:
            process.communicate()
            told |= {mark} if process.returncode == 0 else set()
            refused += process.returncode == 1
            odd += process.returncode not in (0, 1)
    text = "".join(file.read_text(encoding="utf-8") for file in root.rglob("approval.yml"))
    there = {line.split()[-1] for line in text.splitlines() if "condition: mark-" in line}
    return [
        ("pairs", f"{pairs}"),
        ("refused", f"{refused}"),
        ("ended otherwise", f"{odd}"),
        ("events written", f"{len(there)}"),
        ("events lost (said, and not there)", f"{len(told - there)}"),
        ("events denied (there, and not said)", f"{len(there - told)}"),
        ("seconds for a pair", f"{(time.monotonic() - began) / max(pairs, 1):.2f}"),
    ]


def started(root: Path, store: Path, part: str, mark: str) -> "subprocess.Popen[bytes]":
    words = ["record", part, "condition added", "--by", "reviewer", "--condition", mark]
    command = [SPARES, *words, "--catalogue", root, "--store", store]
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def slow_records() -> list[tuple[str, str, str]]:
    def read(text: str) -> str:
        source = read_yaml("part.yml", (PART + text + "\n").encode())
        record(Part, source)
        return says(source.problems[-1]) if source.problems else "read"

    return [timed(f"YAML, {name}", read, text) for name, text in RECORDS.items()]


def slow_notes() -> list[tuple[str, str, str]]:
    """Beyond the bounds, and as much of each as they let through."""

    def read(text: str) -> str:
        beyond = too_much(text)
        if beyond:
            return says(beyond)
        notes = FittingNotes.from_markdown(text)
        for each in (notes.tools, notes.steps, notes.cautions, notes.check_after_fitting, notes.more):
            cleaned(each, {})
        return "read"

    rows = [timed(f"notes, 20,000 {unit!r}", read, unit * 20_000) for unit in UNITS]
    return rows + [timed(f"notes, the most of {unit!r}", read, most_of(unit)) for unit in UNITS]


def most_of(unit: str) -> str:
    """Paragraphs of it, each as long as the bounds allow, and as many as they allow."""
    piece = unit
    while too_much(piece + unit * 10) is None:
        piece += unit * 10
    whole = piece
    while too_much(f"{whole}\n\n{piece}") is None:
        whole = f"{whole}\n\n{piece}"
    return whole


def timed(name: str, read: Callable[[str], str], text: str) -> tuple[str, str, str]:
    began = time.perf_counter()
    says = read(text)
    return name, f"{(time.perf_counter() - began) * 1000:,.0f} ms", says


if __name__ == "__main__":
    main()
