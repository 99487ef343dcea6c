"""How reading, judging and writing grow with the catalogue: `python -m tests.benchmarks.bench_scale [--parts 1000 2000 4000]`.

Prints processor seconds of each step and how they grow from one size to the next: what takes more than the ratio of
the sizes, by far, looks at all parts for each. Meshes are not measured: what one measures is the same for all.
`--profile` shows what the largest catalogue spends its time on.
"""

import argparse
import cProfile
import itertools
import pstats
import shutil
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from generator.edge.commands.terminal import Terminal
from generator.pages.site import site
from generator.reading.catalogue import read_catalogue
from generator.records.catalogue import Catalogue
from generator.rules.between import between_parts
from generator.rules.canonical import fingerprint
from generator.rules.facts.case import Copy
from generator.rules.sheet import Sheet, sheet
from tests.fixtures.tiny import DAY, DEPOT, KNOB
from tests.pages.sample import WORKED

SIZES = (1000, 2000, 4000)
STOCK = "stock: {{place: drawer {drawer}, on_shelf: 3}}\n"
A_DRAWER = 5


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--parts", type=int, nargs="+", default=list(SIZES), help="how many (default: 1000 2000 4000)")
    parser.add_argument("--rounds", type=int, default=3, help="the least of so many counts (default: 3)")
    parser.add_argument("--profile", action="store_true", help="show what the last size spends its time on")
    options = parser.parse_args()
    taken = {}
    for parts in options.parts:
        with tempfile.TemporaryDirectory() as folder:
            root = laid_out(Path(folder) / "catalogue", parts)
            taken[parts] = min((steps(root) for _ in range(options.rounds)), key=lambda each: sum(each.values()))
            if options.profile and parts == options.parts[-1]:
                profiled(root)
    sizes = list(taken)
    heads = ["step", *(f"{size:,} parts" for size in sizes), *(f"×{b / a:g} parts" for a, b in itertools.pairwise(sizes))]
    Terminal().table(heads, [row(step, [taken[size][step] for size in sizes]) for step in taken[sizes[0]]])


def row(step: str, seconds: list[float]) -> list[str]:
    grown = [f"×{b / a:.1f}" for a, b in itertools.pairwise(seconds)]
    return [step, *(f"{each:.2f} s" for each in seconds), *grown]


def laid_out(root: Path, parts: int) -> Path:
    """The tiny depot with its knob so many times under other numbers, each approved, five to a drawer."""
    shutil.copytree(DEPOT, root)
    knob = next((root / "parts").glob(f"{KNOB}-*"))
    texts = {name: (knob / name).read_text(encoding="utf-8") for name in ("part.yml", "approval.yml")}
    for i in range(parts):
        number = f"EX-{i + 5000}"
        copy = shutil.copytree(knob, root / "parts" / f"{number}-knob")
        drawer = STOCK.format(drawer=i // A_DRAWER)
        (copy / "part.yml").write_text(texts["part.yml"].replace(KNOB, number) + drawer, encoding="utf-8")
        (copy / "approval.yml").write_text(bound(texts["approval.yml"].replace(KNOB, number)), encoding="utf-8")
    return root


def bound(approval: str) -> str:
    """The record with the fingerprint of its own text."""
    before, text = approval.split("    approved_as: |\n")
    lines = [line[6:] for line in text.splitlines() if line.startswith("      ")]
    *_, last = text.splitlines()
    own = f'    fingerprint: "{fingerprint(chr(10).join(lines) + chr(10))}"'
    return f"{before}    approved_as: |\n{text.replace(last, own)}"


def steps(root: Path) -> dict[str, float]:
    taken: dict[str, float] = {}

    def timed(step: str, work: Callable[[], Any]) -> Any:
        began = time.process_time()
        result = work()
        taken[step] = time.process_time() - began
        return result

    catalogue = timed("read", lambda: read_catalogue(root))
    sheets = timed("judge", lambda: judged(catalogue))
    timed("pages", lambda: site(catalogue, sheets, catalogue.problems, DAY, lambda _front, _wanted: {}))
    return taken


def judged(catalogue: Catalogue) -> tuple[Sheet, ...]:
    assert WORKED.facts
    worked = {
        each.folder: replace(WORKED, facts=replace(WORKED.facts, shape_sha256=each.number)) for each in catalogue.parts
    }
    same, copy = between_parts(catalogue.parts, worked).same_model, Copy(DAY, 7)
    return tuple(
        sheet(each, worked[each.folder], catalogue, copy, same.get(each.folder, ())) for each in catalogue.parts
    )


def profiled(root: Path) -> None:
    with cProfile.Profile(time.process_time) as profile:
        steps(root)
    pstats.Stats(profile).sort_stats("tottime").print_stats(25)


if __name__ == "__main__":
    main()
