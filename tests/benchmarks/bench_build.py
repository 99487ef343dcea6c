"""How long a build takes: cold, warm, and MkDocs alone on the same Markdown. `python -m tests.benchmarks.bench_build`.

`--lines N` adds lines of what was fitted. `--times N` copies the demo's parts N times under other numbers, to see how it grows. Every build runs in a process
of its own; of three warm rounds, taken in turn, the least processor time counts, which other programs on the
machine disturb less than the clock on the wall; memory is the largest resident set.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import yaml

from generator.records.fitted import COLUMNS

ROOT = Path(__file__).parents[2]
BIN = Path(sys.executable).parent
ROUNDS = 3


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument(
        "--times", type=int, default=1, help="how often the demo's parts are there (default: 1)"
    )
    parser.add_argument("--lines", type=int, default=0, help="lines of what was fitted beside the demo's, of 55 batches in three years")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        measured(Path(folder), options.times, options.lines)


def measured(place: Path, times: int, lines: int = 0) -> None:
    """Lay out the depot in `place`, build it in each way and print what it took."""
    lay_out(place, times)
    if lines:
        fit(place / "catalogue", lines)
    cold = run([BIN / "spares", "build"], place)
    run([BIN / "spares", "build", "--markdown", "plain"], place)
    plain_config(place)
    rounds = [
        (
            run([BIN / "spares", "build"], place),
            run([BIN / "mkdocs", "build", "-q", "-f", "plain.yml"], place),
        )
        for _ in range(ROUNDS)
    ]
    warm = min((ours for ours, _ in rounds), key=lambda each: each.processor_s)
    plain = min((bare for _, bare in rounds), key=lambda each: each.processor_s)
    pages = len(list((place / "site").rglob("*.html")))
    parts = len(list((place / "catalogue" / "parts").iterdir()))
    print(f"{parts} parts, {pages} pages")
    for name, took in (("cold build", cold), ("warm build", warm), ("MkDocs alone", plain)):
        print(
            f"{name:<14}{took.wall_s:7.2f} s  {took.processor_s:7.2f} s of processor  {took.memory_mb:5.0f} MB"
        )
    print(
        f"warm ÷ MkDocs alone: {warm.processor_s / plain.processor_s:.2f} of processor time (aim: at most 1.3)"
    )


def lay_out(place: Path, times: int) -> None:
    shutil.copy(ROOT / "mkdocs.yml", place)
    shutil.copytree(ROOT / "site_src", place / "site_src")
    shutil.copytree(ROOT / "catalogue", place / "catalogue")
    for part in sorted((place / "catalogue" / "parts").iterdir()):
        number = "-".join(part.name.split("-")[:2])
        for i in range(1, times):
            copy = shutil.copytree(part, part.with_name(part.name.replace(number, f"{number}.{i}", 1)))
            for name in ("part.yml", "approval.yml"):
                file = copy / name
                if file.exists():
                    file.write_text(
                        file.read_text().replace(f"number: {number}\n", f"number: {number}.{i}\n")
                    )


def fit(catalogue: Path, lines: int) -> None:
    """So many lines on ten vehicles, day after day of 2024 to 2026; each takes off what the last one at its place put on."""
    batches = [f"B-9{at:03}" for at in range(55)]
    source = (catalogue / "batches" / "B-0147.yml").read_text().replace("2026-08", "2024-07")
    for name in batches:
        (catalogue / "batches" / f"{name}.yml").write_text(source.replace("\ncount: 8\n", f"\ncount: {lines}\n"))
    first = date(2024, 8, 1)
    on: dict[str, str] = {}
    written: dict[Path, list[str]] = {}
    for at in range(lines):
        day = first + timedelta(days=at * 840 // lines)
        where = f"TR4,{401 + at % 10},saloon-door,door {at // 10 % 4}"
        name = batches[at * len(batches) // lines]
        file = catalogue / "fitted" / f"{day.year}.csv"
        row = f"{day},{where},{name},1,{on.get(where, '')},1,worn,fitter-electrical,{day.year}-{900000 + at}\n"
        on[where] = name
        written.setdefault(file, []).append(row)
    for file, rows in written.items():
        text = file.read_text() if file.exists() else ",".join(COLUMNS) + "\n"
        file.write_text(text + "".join(rows))


def plain_config(place: Path) -> None:
    """The same site without our plugin: its Markdown lies on the disk, its words for the theme in the file."""
    config = yaml.safe_load((place / "mkdocs.yml").read_text())
    for script in ("assets/css", "assets/js"):
        if (place / "site_src" / script).exists():
            shutil.copytree(place / "site_src" / script, place / "plain" / script, dirs_exist_ok=True)
    words = subprocess.run(
        [sys.executable, "-c", WORDS], cwd=place, capture_output=True, text=True, check=True
    ).stdout
    config |= {"docs_dir": "plain", "site_dir": "plain_site", "plugins": []}
    config["extra"] |= {"spares": yaml.safe_load(words)}
    (place / "plain.yml").write_text(yaml.safe_dump(config, allow_unicode=True))


WORDS = """
import yaml
from datetime import date
from pathlib import Path
from generator.assemble.whole_way import assembled
from generator.systems.store import Store
site = assembled(Path("catalogue"), date.today(), Store(Path(".store")), lambda *_: None).site
print(yaml.safe_dump(dict(site.theme)))
"""


@dataclass(frozen=True, slots=True)
class Took:
    """What one process used, with those it waited for."""

    wall_s: float
    processor_s: float
    memory_mb: float


def run(command: list[str | Path], place: Path) -> Took:
    began = time.monotonic()
    with (place / "said.txt").open("w+b") as said:
        process = subprocess.Popen(command, cwd=place, stdout=subprocess.DEVNULL, stderr=said)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            said.seek(0)
            raise SystemExit(said.read().decode())
    return Took(time.monotonic() - began, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


if __name__ == "__main__":
    main()
