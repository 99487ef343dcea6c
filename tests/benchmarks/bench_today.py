"""How long do `spares today` and `spares submission` take once all is judged: in the demo, and with 300 copies of a part?

Run as `.venv/bin/python -m tests.benchmarks.bench_today [--copies 300]`; it prints figures and asserts none. The demo's meshes are
measured first, or read from its store; the copies share one mesh and are judged without a workshop, as in bench_scale.
"""

import argparse
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import TypeVar

from generator.assemble.whole_way import examined
from generator.edge.commands.terminal import Terminal
from generator.pages.gathered import around_of
from generator.pages.submissions.family import shared_blocks
from generator.pages.submissions.whole import submission_of
from generator.pages.today.page import today_page
from generator.pages.today.told import today_told
from generator.papers.submission.paper import submission_paper
from generator.planning.fire_plan import fire_plan
from generator.planning.today.drawn import todays
from generator.reading.catalogue import read_catalogue
from generator.records.catalogue import Catalogue
from generator.rules.facts.case import Copy
from generator.rules.sheet import Sheet, sheet
from generator.systems.store import Store
from tests.benchmarks.bench_scale import laid_out
from tests.fixtures.tiny import DAY
from tests.pages.sample import WORKED

_TOP = Path(__file__).parents[2]
_AGE_DAYS = 30
_FAMILY = 5
R = TypeVar("R")
Row = tuple[str, str]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--copies", type=int, default=300)
    copies = parser.parse_args().copies
    terminal, today = Terminal(), date.today()  # noqa: DTZ011  the demo lives in the present
    demo = examined(_TOP / "catalogue", today, Store(_TOP / ".store"), lambda *_: None, workers=None)
    terminal.table((f"demo, {len(demo.sheets)} parts", "s"), _rows(demo.catalogue, demo.sheets, today))
    with tempfile.TemporaryDirectory() as made:
        catalogue = read_catalogue(laid_out(Path(made) / "catalogue", copies))
        sheets = [sheet(each, WORKED if each.mesh else None, catalogue, Copy(DAY, _AGE_DAYS)) for each in catalogue.parts]
        terminal.say()
        terminal.table((f"{copies} copies of a part", "s"), _rows(catalogue, sheets, DAY))


def _rows(catalogue: Catalogue, sheets: Sequence[Sheet], day: date) -> list[Row]:
    plan, planned = _timed("fire tests to order", lambda: fire_plan(sheets, catalogue, Copy(day, _AGE_DAYS)))
    around = around_of(catalogue, sheets, day)
    tasks, drawn = _timed("tasks drawn and ordered", lambda: todays(sheets, catalogue, day, plan))
    _, told = _timed(f"{len(tasks)} tasks in words", lambda: today_told(tasks, catalogue, day, around.w))
    _, page = _timed("the page, all of these", lambda: today_page(around, sheets, day))
    one = [each for each in sheets if each.part][-1:]
    value, words = _timed("a submission in words", lambda: submission_of(one, around, day))
    _, paper = _timed("its PDF", lambda: submission_paper(value, around.w))
    some = [each for each in sheets if each.part][-_FAMILY:]
    family, shared = _timed(f"{_FAMILY} parts as one, in words", lambda: submission_of(some, around, day, shared=shared_blocks(some, around)))
    _, whole = _timed("its PDF", lambda: submission_paper(family, around.w))
    return [planned, drawn, told, page, words, paper, shared, whole]


def _timed(name: str, job: Callable[[], R]) -> tuple[R, Row]:
    began = time.perf_counter()
    found = job()
    return found, (name, f"{time.perf_counter() - began:.2f}")


if __name__ == "__main__":
    main()
