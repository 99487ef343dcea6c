"""How long do 50,000 lines of what was fitted take: to read, to check, to find every piece, to remember, and to tell by month?

    python -m tests.benchmarks.bench_fitted
"""

import sys
import tempfile
import time
from dataclasses import replace
from datetime import date
from pathlib import Path

from generator.planning.month import month_report, months
from generator.provenance.remembering.compared import Memory
from generator.provenance.remembering.produced import produced_compared
from generator.reading.disk import Disk
from generator.reading.fitted import read_fitted
from generator.records.fitted import COLUMNS
from generator.records.production import Production
from generator.rules.production.balances import balance_problems
from generator.rules.production.ledger import ledger
from generator.rules.production.on_vehicles import row_problems
from tests.fixtures.production import batch, depot

NOTHING, LAST = Memory(committed=None, stored={}, published={}, notes=()), date(2031, 12, 31)
ROWS, BATCHES, YEARS = 50_000, 500, 5


def main() -> None:
    """Print the seconds of each step, and of all; each line changes two knobs for two of the next batch."""
    with tempfile.TemporaryDirectory() as folder:
        _write(Path(folder))
        steps = {}
        started = time.perf_counter()
        files = read_fitted(Disk(Path(folder)))
        steps["read"] = time.perf_counter() - started
        rows = tuple(row for file in files for row in file.rows)
        assert len(rows) == ROWS
        batches = {f"B-{each:04}": batch(1000) for each in range(BATCHES)}
        catalogue = replace(depot(), production=Production(batches=batches, fitted=rows))
        first = produced_compared(catalogue, NOTHING, Path(folder))[1].now
        for name, work in {
            "remember": lambda: produced_compared(catalogue, NOTHING, Path(folder)),
            "unchanged": lambda: produced_compared(catalogue, replace(NOTHING, stored=first, published=first), Path(folder)),
            "months": lambda: [month_report(month, (), catalogue, LAST) for month in months(catalogue, LAST)],
            "check": lambda: row_problems(catalogue),
            "ledger": lambda: ledger(catalogue.production),
            "balances": lambda: list(balance_problems(catalogue.production)),
        }.items():
            started = time.perf_counter()
            found = work()
            steps[name] = time.perf_counter() - started
            if name == "check":
                print(f"{len(found)} problems", found[:1])
    for name, seconds in steps.items():
        print(f"{name:10} {seconds:6.2f} s")
    print(f"{'all':10} {sum(steps.values()):6.2f} s; numpy is {'loaded' if 'numpy' in sys.modules else 'not loaded'}")


def _write(folder: Path) -> None:
    """Lines as they come in: vehicle after vehicle, each change takes off what the last one put on."""
    (folder / "fitted").mkdir()
    on: dict[str, str] = {}
    for year in range(YEARS):
        lines = [",".join(COLUMNS)]
        for at in range(ROWS // YEARS):
            number = year * (ROWS // YEARS) + at
            vehicle, name = f"{11 + number % 4}", f"B-{number % BATCHES:04}"
            before = on.get(vehicle, "")
            on[vehicle] = name
            day = f"{2027 + year}-{1 + at * 12 // (ROWS // YEARS):02}-15"
            off = f"{before},2,worn" if before else ",,"
            lines.append(f'{day},A1,{vehicle},cab,"left, third",{name},2,{off},fitter,r-{number:06}')
        (folder / "fitted" / f"{2027 + year}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
