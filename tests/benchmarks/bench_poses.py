"""How long all poses of a part take, on plain and on unkind meshes; prints a table.

Run with `python -m tests.benchmarks.bench_poses`. Processor time of this process, best of three; aims: 0.5 s at 20 k faces and 2 s
at 200 k for all candidates. The work is bounded: a larger mesh is tried on fewer sides (WORK), a grid is made coarser (MOST_MET).
"""

from generator.geometry.printing.poses import poses_of
from generator.geometry.printing.score import reason
from tests.benchmarks.bench_pictures import best_ms, grip
from tests.geometry.solids import box, sphere
from tests.geometry.test_walls import hollow, needles

MESHES = {
    "box": lambda: box(10, 10, 100),
    "shelled box": lambda: hollow(1.2),
    "ball of 37 k": lambda: sphere(10, 192, 96),
    "grip of 2 k": lambda: grip(2_000),
    "grip of 20 k": lambda: grip(20_000),
    "grip of 200 k": lambda: grip(200_000),
    "grip of 1 M": lambda: grip(1_000_000),
    "3,000 needles": lambda: needles(3_000),
}


def main() -> None:
    print(f"{'mesh':>14} {'faces':>8} {'ms':>7} {'poses':>6}   best, and why")
    for name, made in MESHES.items():
        mesh = made()
        found = poses_of(mesh)
        took = best_ms(lambda mesh=mesh: poses_of(mesh), runs=3)
        best = found.candidates[0]
        print(f"{name:>14} {len(mesh.faces):>8} {took:>7.0f} {len(found.candidates):>6}   {best.axis or 'askew'}, {reason(found)}")


if __name__ == "__main__":
    main()
