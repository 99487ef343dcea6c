"""How long does `spares import` take for a long list, as text and as a spreadsheet, and what does a list made to harm cost?

Run as `.venv/bin/python -m tests.benchmarks.bench_import [--rows 2000]`; it prints figures and asserts none.
"""

import argparse
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import openpyxl

from generator.edge.commands.terminal import Terminal
from tests.importing.lists import written_to
from tests.importing.test_lists import k_depot

SPARES = Path(sys.executable).with_name("spares")
HEADINGS = ["Teilenummer", "Benennung", "Flotte", "Wagen", "Werkstoff", "Länge mm", "Zeichnungsnummer", "Bemerkung"]
HOSTILE = ("43_zip_bomb_sheet.xlsx", "43_zip_bomb_one_cell.xlsx", "43_many_members.xlsx", "52_billion_laughs.xlsx", "67_dimension_lies.xlsx")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rows", type=int, default=2000)
    count = parser.parse_args().rows
    terminal = Terminal()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows = [HEADINGS, *([f"K-{i:05d}", f"Türknopf {i}", "K1", "401-412", "petg-fr", f"{i % 900 + 1},5", f"12.{i}-6", ""] for i in range(count))]
        (folder / "long.csv").write_bytes("\r\n".join(";".join(row) for row in rows).encode("cp1252"))
        book = openpyxl.Workbook()
        for row in rows:
            book.active.append(row)
        book.save(folder / "long.xlsx")
        terminal.table(("list", "command", "seconds", "says"), [row for ending in ("csv", "xlsx") for row in long_list(folder, ending)])
        terminal.say()
        terminal.table(("list made to harm", "command", "seconds", "says"), hostile(folder))
    terminal.say(f"largest child: {resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1000:.0f} MB")


def long_list(folder: Path, ending: str) -> list[tuple[str, str, str, str]]:
    """The four commands that a person types, each with its time."""
    root, file, mapped = k_depot(folder / ending), folder / f"long.{ending}", folder / f"{ending}.map.yml"
    words = [file, "--map", mapped, "--catalogue", root]
    named = (("first run", words), ("dry run", [*words, "--dry-run"]), ("written", words), ("again", words))
    return [(file.name, name, *timed(each, folder)) for name, each in named]


def hostile(folder: Path) -> list[tuple[str, str, str, str]]:
    written_to(folder)
    root = k_depot(folder / "harm")
    return [(name, "first run", *timed([folder / name, "--catalogue", root], folder)) for name in HOSTILE]


def timed(words: list[object], folder: Path) -> tuple[str, str]:
    began = time.monotonic()
    ran = subprocess.run([SPARES, "import", *map(str, words)], capture_output=True, text=True, check=False, cwd=folder)
    told = (ran.stdout.splitlines() or ran.stderr.splitlines() or [""])[-1 if "Rows:" in ran.stdout else 0]
    return f"{time.monotonic() - began:.1f}", told[-90:]


if __name__ == "__main__":
    main()
