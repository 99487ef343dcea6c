"""How long walls take, and how much work they are, on plain and on unkind meshes; prints a table.

Run with `python -m tests.benchmarks.bench_walls`. Processor time of this process, best of three. Work is counted in boxes tried
(see geometry/rays.py) and is the same on every machine.
"""

from generator.geometry import walls
from generator.geometry.rays import RayTree
from tests.benchmarks.bench_pictures import best_ms, grip
from tests.geometry.solids import box, sphere
from tests.geometry.test_walls import hollow, needles

MESHES = {
    "shelled box": hollow(1.2),
    "bar": box(10, 10, 100),
    "ball of 37 k": sphere(10, 192, 96),
    "grip of 2 k": grip(2_000),
    "grip of 20 k": grip(20_000),
    "grip of 200 k": grip(200_000),
    "60 needles": needles(60),
    "3,000 needles": needles(3_000),
}


def main() -> None:
    print(f"{'mesh':>14} {'faces':>8} {'ms':>7} {'work, millions':>15}   thinnest, nominal, thickest (mm)")
    for name, mesh in MESHES.items():
        trees: list[RayTree] = []

        class Watched(RayTree):
            def __init__(self, *given, trees=trees, **more) -> None:
                super().__init__(*given, **more)
                trees.append(self)

        walls.RayTree = Watched
        found = walls.measured_walls(mesh)
        walls.RayTree = RayTree
        told = f"{found.thinnest_mm:.2f} {found.nominal_mm:.2f} {found.thickest_mm:.2f}" if found else "not measured"
        took = best_ms(lambda mesh=mesh: walls.measured_walls(mesh), runs=3)
        print(f"{name:>14} {len(mesh.faces):>8} {took:>7.0f} {trees[0].work / 1e6:>15.1f}   {told}")


if __name__ == "__main__":
    main()
