"""How long pictures and measures take, at 2,000, 20,000 and 200,000 faces; prints a table.

Run with `python tests/benchmarks/bench_pictures.py`. Processor time of this process, best of
five; it counts all threads, so it is an upper bound for one core.
"""

import time
from collections.abc import Callable

import numpy as np

from generator.geometry.boxes import oriented_box
from generator.geometry.measure import mesh_facts
from generator.geometry.mesh import Mesh
from generator.geometry.render.camera import View
from generator.geometry.render.encoded import encoded
from generator.geometry.render.picture import picture
from generator.geometry.render.surface import surface_of
from generator.geometry.weld import welded


def grip(faces: int) -> Mesh:
    """A knurled ring: rounded, with grooves, creases at its rims and a bore."""
    across = 40
    around = faces // (2 * across)
    turn = np.arange(around) * 2 * np.pi / around
    step = np.arange(across) * 2 * np.pi / across
    r = 22 + 9 * np.sign(np.cos(step)) * np.abs(np.cos(step)) ** 0.4
    z = 8 * np.sign(np.sin(step)) * np.abs(np.sin(step)) ** 0.4
    wave = 1 + 0.035 * np.cos(18 * turn)[:, None] * (np.cos(step) > 0.2)
    points = np.stack(
        [r * wave * np.cos(turn)[:, None], r * wave * np.sin(turn)[:, None], np.broadcast_to(z, wave.shape)],
        axis=2,
    ).reshape(-1, 3)
    i, j = np.meshgrid(np.arange(around), np.arange(across), indexing="ij")
    a, b = i * across + j, i * across + (j + 1) % across
    d, c = (i + 1) % around * across + j, (i + 1) % around * across + (j + 1) % across
    quads = np.stack([a, d, c, a, c, b], axis=2).reshape(-1, 3)
    soup = points[quads].astype(np.float32).astype(np.float64).reshape(-1, 3)
    return Mesh(vertices_mm=soup, faces=np.arange(len(soup)).reshape(-1, 3))


def best_ms(action: Callable[[], object], runs: int = 5) -> float:
    times = []
    for _ in range(runs):
        start = time.process_time()
        action()
        times.append(time.process_time() - start)
    return min(times) * 1000


def main() -> None:
    columns = ("faces", "surface", "front", "behind", "thumbnail", "mesh to picture", "webp", "measure", "box")
    print(" ".join(f"{name:>{max(len(name), 8)}}" for name in columns) + "   (ms)")
    for count in (2_000, 20_000, 200_000):
        mesh = grip(count)
        surface = surface_of(mesh)
        drawn = picture(surface)
        points = welded(mesh).mesh.vertices_mm
        figures = (
            len(mesh.faces),
            best_ms(lambda mesh=mesh: surface_of(mesh)),
            best_ms(lambda surface=surface: picture(surface, view=View.FRONT)),
            best_ms(lambda surface=surface: picture(surface, view=View.BEHIND)),
            best_ms(lambda surface=surface: picture(surface, size_px=(160, 120), supersample=3)),
            best_ms(lambda mesh=mesh: picture(mesh)),
            best_ms(lambda drawn=drawn: encoded(drawn)),
            best_ms(lambda mesh=mesh: mesh_facts(mesh)),
            best_ms(lambda points=points: oriented_box(points)),
        )
        print(
            " ".join(f"{figure:>{max(len(name), 8)}.0f}" for name, figure in zip(columns, figures, strict=True))
        )


if __name__ == "__main__":
    main()
