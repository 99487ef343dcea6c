"""How long do the questions about fire evidence take for 1,000 parts? A depot in memory, nothing read and nothing drawn.

    .venv/bin/python -m tests.benchmarks.bench_fire_plan
"""

import random
import sys
import time
from collections.abc import Callable

from generator.planning.fire_plan import fire_plan
from generator.planning.rests import rests_on_papers
from generator.planning.swaps import unanswered
from generator.records.catalogue import Catalogue
from generator.records.makers import Process
from tests.planning.fire_scene import (
    AT_HL1,
    AT_HL2,
    COPY,
    certificate,
    depot,
    fire,
    full,
    judged,
    maker,
    material,
    part,
    report,
    result,
)

MATERIALS = 12
SINTERED = Process.POWDER_BED_FUSION


def large(parts: int) -> Catalogue:
    """Parts with walls and sections of their own, of materials of which a third is tested fully, a third a little and a third not."""
    chance = random.Random(417)
    names = [f"material-{i}" for i in range(MATERIALS)]
    tested = [(full(f"F-{i}", thin=1.2, thick=6.0),) if i % 3 == 0 else (report(f"F-{i}", result("T01", 31.2, 1.6)),) if i % 3 == 1 else () for i in range(MATERIALS)]
    materials = {name: material(*tested[i], certificates=(certificate(f"C-{i}"),)) for i, name in enumerate(names)}
    folders = []
    for i in range(parts):
        thin = round(chance.uniform(0.6, 3.5), 2)
        need = fire(thin, round(thin + chance.uniform(0, 9), 2), edition=chance.choice([None, "2020"]))
        both = {"further_materials": (chance.choice(names),)} if chance.random() < 0.1 else {}
        made_of = chance.choice(names)
        both = {} if both.get("further_materials") == (made_of,) else both
        makers = ("bench", "bureau") if chance.random() < 0.3 else ("bench",)
        places = chance.choice([(AT_HL2,), (AT_HL1,), (AT_HL1, AT_HL2)])
        folders.append(part(f"P-{i:04}", made_of, places, need, makers=makers, **both))
    return depot(folders, materials, (maker("bench", names), maker("bureau", names, SINTERED)))


def timed(what: str, ask: Callable[[], object]) -> None:
    before = time.perf_counter()
    said = ask()
    sys.stdout.write(f"{what:<28}{time.perf_counter() - before:8.2f} s   {said}\n")


def main(parts: int = 1000) -> None:
    catalogue = large(parts)
    sheets = judged(catalogue)

    def planned() -> str:
        plan = fire_plan(sheets, catalogue, COPY)
        cut = sum(not best.is_exact for best in plan.best)
        most = plan.best[-1] if plan.best else None
        freed = f"{len(most.frees)} freed by {len(most.orders)}" if most else "none freed"
        return f"{plan.open_parts} open, {len(plan.orders)} tests, {freed}, {cut} cut short"

    timed(f"what to test next, {parts}", planned)
    timed("alternatives", lambda: sum(len(each.swaps) for each in unanswered(sheets, catalogue, COPY)))
    timed("what rests on each paper", lambda: sum(map(len, rests_on_papers(sheets, catalogue, COPY).values())))


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
