"""How long a mesh takes, and how much memory: `python -m tests.benchmarks.bench_meshes [--faces 20000 200000 1000000]`.

Prints processor seconds, and the most memory that the process held meanwhile, of loading, of the facts and of each product
that is made of the mesh alone (`measuring/makers.py`), then their sum; `--pictures` adds what is drawn. `--shapes` says of
what: `grip`, a knurled ring as a part may be; `ball`, lumpy; `scan`, that ball with the noise of a scanner; `noise`, a
closed surface whose every corner is shaken by more than an edge is long, which no part is. Each has a process of its own, with one thread, as a
build gives it.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from generator.edge.commands.terminal import Terminal
from tests.benchmarks.bench_pictures import grip

SIZES = (20_000, 200_000, 1_000_000)
SHAPES = ("grip", "scan", "noise")
SHAKEN = {"ball": 0.0, "scan": 0.002, "noise": 0.05}
"""By how much of its distance from the middle each corner is off (standard deviation)."""
RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
ONE_THREAD = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MALLOC_ARENA_MAX": "2"}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--faces", type=int, nargs="+", default=list(SIZES), help="how many (default: 20000 200000 1000000)")
    parser.add_argument("--shapes", nargs="+", default=list(SHAPES), choices=["grip", *SHAKEN], help="of what")
    parser.add_argument("--pictures", action="store_true", help="draw it too")
    parser.add_argument("--of", type=Path, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.of:
        print(json.dumps(steps(options.of, with_pictures=options.pictures)))
        return
    for shape in options.shapes:
        taken = {faces: measured_apart(shape, faces, with_pictures=options.pictures) for faces in options.faces}
        names = list(next(iter(taken.values())))
        rows = [[name, *(f"{seconds:,.2f} s {mb:6,.0f} MB" for seconds, mb in (each[name] for each in taken.values()))] for name in names]
        Terminal().table([shape, *(f"{faces:,} faces" for faces in taken)], rows)


def measured_apart(shape: str, faces: int, *, with_pictures: bool) -> dict[str, tuple[float, float]]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "model.stl"
        path.write_bytes(knurled_ring(faces) if shape == "grip" else lumpy_ball(faces, SHAKEN[shape]))
        command = [sys.executable, "-m", "tests.benchmarks.bench_meshes", "--of", str(path)]
        command += ["--pictures"] if with_pictures else []
        done = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True, env={**os.environ, **ONE_THREAD})
    told: dict[str, tuple[float, float]] = json.loads(done.stdout)
    return told


def knurled_ring(faces: int) -> bytes:
    """See `grip`."""
    mesh = grip(faces)
    return binary_stl(mesh.vertices_mm[mesh.faces])


def lumpy_ball(faces: int, shaken: float) -> bytes:
    """A closed surface of nearly so many triangles."""
    rows = int((faces / 4) ** 0.5)
    height, turn = np.linspace(-np.pi / 2, np.pi / 2, rows + 1), np.arange(2 * rows) * np.pi / rows
    reach = 40 * (1 + 0.1 * np.sin(5 * turn)[:, None] * np.cos(3 * height))
    flat = reach * np.cos(height)
    points = np.stack([flat * np.cos(turn)[:, None], flat * np.sin(turn)[:, None], reach * np.sin(height)], axis=-1)
    points *= 1 + np.random.default_rng(1).normal(0, shaken, points.shape[:2])[..., None]
    points[:, 0], points[:, -1] = (0, 0, -40), (0, 0, 40)
    beside = np.roll(points, -1, axis=0)
    lower = np.stack([points[:, :-1], beside[:, :-1], beside[:, 1:]], axis=2).reshape(-1, 3, 3)
    upper = np.stack([points[:, :-1], beside[:, 1:], points[:, 1:]], axis=2).reshape(-1, 3, 3)
    return binary_stl(np.concatenate([lower, upper]))


def binary_stl(corners: NDArray[np.float64]) -> bytes:
    """Of (m, 3, 3)."""
    records = np.zeros(len(corners), dtype=RECORD)
    records["corners"] = corners
    return b" " * 80 + len(corners).to_bytes(4, "little") + records.tobytes()


def steps(path: Path, *, with_pictures: bool) -> dict[str, tuple[float, float]]:
    from generator.measuring.facts_of import facts_of
    from generator.measuring.makers import MAKERS
    from generator.measuring.opened import Opened
    from generator.measuring.pictures_of import SIGHTS, pictures_of

    taken: dict[str, tuple[float, float]] = {}

    def timed(step: str, work: Callable[[], Any]) -> None:
        forget_peak()
        began = time.process_time()
        work()
        taken[step] = time.process_time() - began, peak_mb()

    opened = Opened(path.read_bytes(), path.suffix, None)
    timed("load", lambda: opened.loaded)
    timed("facts", lambda: facts_of(opened))
    for name, maker in MAKERS.items():
        timed(name, lambda maker=maker: maker(opened))  # type: ignore[misc]
    if with_pictures:
        timed("pictures", lambda: list(pictures_of(opened, SIGHTS, "#9eadbd")))
    seconds, peaks = zip(*taken.values(), strict=True)
    return {**taken, "all": (sum(seconds), max(peaks))}


def forget_peak() -> None:
    """From here on `peak_mb` tells of what follows, where the system can do that."""
    with suppress(OSError):
        Path("/proc/self/clear_refs").write_text("5", encoding="ascii")


def peak_mb() -> float:
    """The most memory that this process held; not a number where the system does not tell."""
    with suppress(OSError):
        told = Path("/proc/self/status").read_text(encoding="ascii")
        return int(told.partition("VmHWM:")[2].split()[0]) / 1024
    try:
        import resource
    except ImportError:
        return float("nan")
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform == "linux" else 1024**2)


if __name__ == "__main__":
    main()
