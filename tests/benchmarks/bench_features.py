"""How long features take, and how right they are on the demo's parts; prints a table.

Run with `python -m tests.benchmarks.bench_features`. Processor time of this process, best of three. Found, missed and extra are round
faces of the exact solids, see tests/geometry/features/judged.py. After the demo's parts free forms of 50,000 faces, of
which nothing may be told, and the STEP originals of tests/geometry/features/originals.
"""

import resource
import time

from generator.geometry.features.found import features_of
from generator.reading.meshes.load import load_mesh
from tests.benchmarks.bench_pictures import best_ms, grip
from tests.geometry.features.judged import CATALOGUE, Score, exact_rounds, judge
from tests.geometry.features.noise import SHAPES
from tests.geometry.features.originals.judging import Verdict, add, originals, truths
from tests.geometry.solids import refined, sphere


def main() -> None:
    score, exact = Score(), exact_rounds()
    print(f"{'mesh':>28} {'faces':>8} {'ms':>7} {'told':>5} whole")
    largest = None
    for file in sorted(CATALOGUE.glob("parts/*/model.*")):
        mesh, number = load_mesh(file, None).mesh, file.parent.name[:7]
        row(number, mesh)
        judge(number, features_of(mesh), exact.get(number, []), score)
        largest = mesh if largest is None or len(mesh.faces) > len(largest.faces) else largest
    meshes = {"grip of 20 k": grip(20_000), "grip of 200 k": grip(200_000), "ball of 37 k": sphere(10, 192, 96)}
    if largest is not None:
        meshes["largest, finer"] = refined(refined(largest))
    for name, mesh in meshes.items():
        row(name, mesh)
    for name, make in SHAPES.items():
        row(name, make(158))
    recall = score.found / (score.found + len(score.missed))
    precision = score.told / (score.told + len(score.extra))
    print(f"found {score.found}, missed {len(score.missed)}, extra {len(score.extra)}: recall {recall:.3f}, precision {precision:.3f}")
    print(f"diameters at worst {score.worst_mm:.4f} mm off; memory at most {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")
    print(*score.missed, *score.extra, sep="\n")
    of_originals()


def of_originals() -> None:
    truth, verdict, took = truths(), Verdict(), 0.0
    for name, mesh in originals():
        start = time.process_time()
        told = features_of(mesh)
        took += time.process_time() - start
        add(verdict, name, told, truth[name])
    print(f"{len(truth)} STEP originals: recall {verdict.recall:.3f}, precision {verdict.precision:.3f}; of {verdict.said} other features {len(verdict.wrong)} wrong")
    print(f"diameters at worst {verdict.rounds.worst_mm:.4f} mm off; {took:.1f} s in all")
    print(*verdict.rounds.missed, *verdict.rounds.extra, *verdict.wrong, sep="\n")


def row(name, mesh) -> None:
    told = features_of(mesh)
    took = best_ms(lambda: features_of(mesh), runs=3)
    print(f"{name:>28} {len(mesh.faces):>8} {took:>7.0f} {len(told.found):>5} {told.is_whole}")


if __name__ == "__main__":
    main()
