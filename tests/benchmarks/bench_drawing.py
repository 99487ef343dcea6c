"""How long the views of a mesh take, and how much work they are, on the demo's parts, large ones and a scan; prints a table.

Run with `python -m tests.benchmarks.bench_drawing`. Processor time of this process, best of three. Work is counted in pairs of line
and face (see geometry/drawing/pairs.py) and is the same on every machine.
"""

from pathlib import Path

import numpy as np

from generator.geometry.drawing import hidden
from generator.geometry.drawing.pairs import Grids
from generator.geometry.drawing.views import views_of
from generator.geometry.mesh import Mesh
from generator.reading.meshes.load import load_mesh
from tests.benchmarks.bench_pictures import best_ms, grip
from tests.geometry.solids import sphere

PARTS = Path(__file__).parents[2] / "catalogue" / "parts"


def lumpy(around: int, noise: float) -> Mesh:
    """A free shape with the noise of a scan."""
    ball = sphere(40, around, around // 2)
    x, y, z = (ball.vertices_mm / np.linalg.norm(ball.vertices_mm, axis=1)[:, None]).T
    swell = 1 + 0.15 * np.sin(5 * x + 2) * np.cos(4 * y) + 0.08 * np.sin(9 * z + 7 * x)
    swell *= 1 + np.random.default_rng(1).normal(0, noise, len(x))
    return Mesh(vertices_mm=ball.vertices_mm * swell[:, None], faces=ball.faces)


def main() -> None:
    """Print the table."""
    meshes = {file.parent.name[:24]: load_mesh(file, None).mesh for file in sorted(PARTS.glob("*/model.*"))}
    meshes |= {"grip of 20 k": grip(20_000), "grip of 200 k": grip(200_000)}
    meshes |= {"free shape of 25 k": lumpy(160, 0), "scan of 25 k": lumpy(160, 0.002), "free shape of 200 k": lumpy(450, 0)}
    print(f"{'mesh':>24} {'faces':>8} {'ms':>7} {'work, millions':>15} {'lines':>6}")
    for name, mesh in meshes.items():
        grids: list[Grids] = []

        class Watched(Grids):
            def __init__(self, *given, grids=grids) -> None:
                super().__init__(*given)
                grids.append(self)

        hidden.Grids = Watched
        found = views_of(mesh)
        hidden.Grids = Grids
        lines = sum(len(view.visible) for view in found.views.values())
        told = f"{lines:>6}" + ("" if found.is_whole else " not whole")
        took = best_ms(lambda mesh=mesh: views_of(mesh), runs=3)
        print(f"{name:>24} {len(mesh.faces):>8} {took:>7.0f} {sum(each.looked for each in grids) / 1e6:>15.1f} {told}")


if __name__ == "__main__":
    main()
