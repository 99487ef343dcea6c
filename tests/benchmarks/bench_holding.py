"""How long do the figures of 50,000 pieces take, and those of all parts from 50,000 lines? Made up, in memory.

    .venv/bin/python -m tests.benchmarks.bench_holding
"""

import random
import sys
import time
from collections.abc import Callable
from datetime import timedelta

from generator.planning.holding.comparison import compared
from generator.planning.holding.curve import Observation, holding_curve
from generator.planning.holding.log_rank import log_rank
from generator.planning.holding.parts import holding_parts
from generator.planning.holding.pieces import fitted_pieces
from generator.planning.holding.rate import failures_a_year
from generator.records.production import Production
from tests.planning.holding.histories import DAY, batch, line, produced

PIECES = 50_000


def pieces(count: int, *, whole_days: bool) -> list[Observation]:
    chance = random.Random(417)
    days = (chance.expovariate(1 / 900) for _ in range(count))
    return [Observation(days=float(int(each)) if whole_days else each, failed=chance.random() < 0.4) for each in days]


def history(lines: int) -> Production:
    """200 batches of 20 parts on 40 vehicles, in four years."""
    chance = random.Random(417)
    made = []
    for _ in range(lines):
        name, day = f"B-{chance.randrange(200)}", DAY - timedelta(days=chance.randrange(1500))
        off = name if chance.random() < 0.4 else ""
        where = {"vehicle": str(400 + chance.randrange(40)), "position": f"bin {chance.randrange(30)}"}
        made.append(line(day, on=name, off=off, why=chance.choice(("worn", "broken", "campaign")) if off else None, **where))
    return produced(*made, **{f"B_{at}": batch(part=f"TV-{at % 20:04}") for at in range(200)})


def timed(what: str, ask: Callable[[], object]) -> None:
    before = time.perf_counter()
    ask()
    sys.stdout.write(f"{what:<46}{time.perf_counter() - before:8.3f} s\n")


if __name__ == "__main__":
    for whole_days in (True, False):
        made = pieces(PIECES, whole_days=whole_days)
        kind = "in whole days" if whole_days else "no two alike"
        timed(f"curve, {kind}", lambda made=made: holding_curve(made))
        timed(f"log-rank of two, {kind}", lambda made=made: log_rank((made[::2], made[1::2])))
        timed(f"comparison, {kind}", lambda made=made: compared(made[::2], made[1::2]))
    timed("failures a year, 20,000 failures", lambda: failures_a_year(20_000, 45e6))
    lines = history(PIECES)
    timed("pieces of 50,000 lines", lambda: fitted_pieces(lines, DAY))
    timed("all parts of them, every batch compared", lambda: holding_parts(lines, DAY))
