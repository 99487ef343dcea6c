"""How large the model for the tablet is and how long it takes, for each demo part and for many faces; prints a table.

Run with `python -m tests.benchmarks.bench_model`. Processor time of this process, best of three for what is small; bytes as the
script holds them, in base64.
"""

from base64 import b64encode

from generator.geometry.mesh import Mesh
from generator.geometry.model.made import model_of
from generator.geometry.model.packed import packed
from generator.reading.meshes.load import mesh_from_bytes
from tests.benchmarks.bench_pictures import best_ms, grip
from tests.geometry.solids import sphere
from tests.pages.conftest import DEMO

MADE = {"grip of 20 k": grip(20_000), "grip of 200 k": grip(200_000), "ball of 200 k": sphere(20, 500, 200)}


def main() -> None:
    print(f"{'mesh':>14} {'faces':>8} {'kept':>7} {'corners':>8} {'within mm':>10} {'ms':>7} {'kB':>6}")
    for name, mesh in [*of_the_demo(), *MADE.items()]:
        model = model_of(mesh)
        assert model, name
        size = len(b64encode(packed(model))) / 1000
        took = best_ms(lambda mesh=mesh: packed(model_of(mesh)), runs=3 if len(mesh.faces) < 50_000 else 1)
        print(f"{name:>14} {len(mesh.faces):>8} {len(model.faces):>7} {len(model.corners):>8} {model.within_mm:>10.4f} {took:>7.0f} {size:>6.0f}")


def of_the_demo() -> list[tuple[str, Mesh]]:
    files = sorted(DEMO.glob("parts/*/model.*"))
    return [(file.parent.name[:7], mesh_from_bytes(file.read_bytes(), file.suffix, None).mesh) for file in files]


if __name__ == "__main__":
    main()
