"""What becomes of meshes that were made to cost much: `python -m tests.benchmarks.bench_hostile [--only menger soup ...]`.

Each goes through the guarded job of a build, all its products with it. Prints its faces, the processor seconds and the most
memory of the child that did it, and how it ended: what was made, or the problem that a reader is told.
"""

import argparse
import json
import struct
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from generator.edge.commands.terminal import Terminal
from generator.measuring.guarded import Crashed, Done, Guard, Limits, TooBig, TooLong
from generator.measuring.one_mesh import Job, Order, made_of
from generator.measuring.products import PRODUCTS
from generator.records.mesh_units import MeshUnits
from generator.records.problems import Problem
from tests.benchmarks import hostile_shapes
from tests.benchmarks.bench_meshes import binary_stl, lumpy_ball
from tests.benchmarks.bench_pictures import grip

Corners = NDArray[np.float64]
LIMITS: Final = Limits()


def menger() -> bytes:
    """The fourth step of Menger's sponge, 673 thousand faces: no hole of it is deeper than another is wide."""
    full = np.ones((1, 1, 1), dtype=bool)
    once = np.ones((3, 3, 3), dtype=bool)
    once[1, 1, :] = once[1, :, 1] = once[:, 1, 1] = False
    for _ in range(4):
        full = np.kron(full, once)
    return binary_stl(skin(full))


def checkerboard() -> bytes:
    """Cubes that touch along their edges and nowhere else."""
    return binary_stl(skin(np.indices((28, 28, 28)).sum(axis=0) % 2 == 0))


def skin(full: NDArray[np.bool_]) -> Corners:
    """The squares between full and empty cells, each as two triangles."""
    padded = np.pad(full, 1)
    found = []
    for axis in range(3):
        for sense in (1, -1):
            cells = np.argwhere(padded & ~np.roll(padded, -sense, axis=axis))
            u, v = np.eye(3)[(axis + 1) % 3], np.eye(3)[(axis + 2) % 3]
            low = cells + (np.eye(3)[axis] if sense == 1 else 0)
            square = np.stack([low, low + u, low + u + v, low + v], axis=1)[:, :: sense]
            found += [square[:, [0, 1, 2]], square[:, [0, 2, 3]]]
    return np.concatenate(found).astype(np.float64)


def shells() -> bytes:
    """60,000 closed shells, each in the one before."""
    corners = np.array([[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]], dtype=np.float64)
    one = corners[[[0, 1, 2], [0, 3, 1], [0, 2, 3], [1, 3, 2]]]
    return binary_stl((one[None] * np.linspace(5, 100, 60_000)[:, None, None, None]).reshape(-1, 3, 3))


def soup() -> bytes:
    """Triangles of all sizes anywhere."""
    return binary_stl(np.random.default_rng(1).uniform(-50, 50, (200_000, 3, 3)))


def cubes() -> bytes:
    """30,000 small bodies."""
    one = skin(np.ones((1, 1, 1), dtype=bool))
    places = np.stack(np.unravel_index(np.arange(30_000), (32, 32, 32)), axis=1) * 2.0
    return binary_stl((one[None] + places[:, None, None]).reshape(-1, 3, 3))


def doubled() -> bytes:
    """Each face a hundred times."""
    mesh = grip(2_000)
    return binary_stl(np.repeat(mesh.vertices_mm[mesh.faces], 100, axis=0))


def text() -> bytes:
    """900,000 facets in words."""
    lines = ["solid grip"]
    mesh = grip(900_000)
    for corners in mesh.vertices_mm[mesh.faces].tolist():
        told = "".join(f"vertex {x:.6e} {y:.6e} {z:.6e}\n" for x, y, z in corners)
        lines.append(f"facet normal 0 0 0\nouter loop\n{told}endloop\nendfacet")
    return "\n".join([*lines, "endsolid grip\n"]).encode()


def large() -> bytes:
    """A million faces, with a scanner's noise."""
    return lumpy_ball(1_000_000, 0.002)


def chain() -> bytes:
    """A GLB whose nodes hang on each other, 20,000 of them."""
    corners = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype="<f4")
    faces = np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]], dtype="<u4")
    data = corners.tobytes() + faces.tobytes()
    nodes: list[dict[str, Any]] = [{"children": [number + 1]} for number in range(20_000)]
    told = {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": [*nodes, {"mesh": 0}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "buffers": [{"byteLength": len(data)}],
        "bufferViews": [{"buffer": 0, "byteOffset": 0, "byteLength": 48}, {"buffer": 0, "byteOffset": 48, "byteLength": 48}],
        "accessors": [
            {"bufferView": 0, "componentType": 5126, "count": 4, "type": "VEC3", "min": [0, 0, 0], "max": [1, 1, 1]},
            {"bufferView": 1, "componentType": 5125, "count": 12, "type": "SCALAR"},
        ],
    }
    words = json.dumps(told).encode()
    words += b" " * (-len(words) % 4)
    chunks = struct.pack("<II", len(words), 0x4E4F534A) + words + struct.pack("<II", len(data), 0x004E4942) + data
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


def _as_stl(shape: Callable[[], Corners]) -> bytes:
    return binary_stl(shape())


MESHES: Final[dict[str, tuple[str, Callable[[], bytes]]]] = {
    "menger": (".stl", menger),
    "shells": (".stl", shells),
    "soup": (".stl", soup),
    "checkerboard": (".stl", checkerboard),
    "cubes": (".stl", cubes),
    "doubled": (".stl", doubled),
    "text": (".stl", text),
    "chain": (".glb", chain),
    "large": (".stl", large),
    **{shape.__name__: (".stl", partial(_as_stl, shape)) for shape in hostile_shapes.ALL},
}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", nargs="+", choices=list(MESHES), default=list(MESHES), help="which")
    parser.add_argument("--one", choices=list(MESHES), help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.one:
        print(json.dumps(ended(options.one)))
        return
    rows = []
    for name in options.only:  # each in a process of its own, so that its children's figures are its own
        command = [sys.executable, "-m", "tests.benchmarks.bench_hostile", "--one", name]
        rows.append([name, *json.loads(subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True).stdout)])
    Terminal().table(["mesh", "MB of file", "seconds", "memory, MB", "it ended"], rows)


def ended(name: str) -> list[str]:
    import resource

    suffix, made = MESHES[name]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"model{suffix}"
        content = made()
        path.write_bytes(content)
        units = None if suffix == ".stl" else MeshUnits.METRE
        order = Order(path=path, sha256=sha256(content).hexdigest(), units=units, tint="#9eadbd")
        with Guard(workers=1, limits=LIMITS) as guard:
            (outcome,) = guard.run_all(made_of, [Job(order=order, wanted=PRODUCTS)])
        used = resource.getrusage(resource.RUSAGE_CHILDREN)
    seconds = used.ru_utime + used.ru_stime
    return [f"{len(content) / 1e6:.1f}", f"{seconds:.1f}", f"{used.ru_maxrss / 1024:.0f}", said(outcome)]


def said(outcome: object) -> str:
    match outcome:
        case Done(value=Problem() as problem):
            return f"problem: {problem.code}"
        case Done(value=made):
            left = [name for name, each in made.items() if isinstance(each, Problem)]
            blobs = {file: blob for each in made.values() if not isinstance(each, Problem) for file, blob in each.items()}
            if "error.json" in blobs:
                return f"problem: {json.dumps(json.loads(blobs['error.json']))[:160]}"
            parts = [file for file in ("views.json", "features.json") if b'"is_whole":false' in blobs.get(file, b"").replace(b" ", b"")]
            return f"{len(made) - len(left)} products, left out: {', '.join(left) or 'none'}; not whole: {', '.join(parts) or 'none'}"
        case TooLong(given=given) | TooBig(given=given) | Crashed(given=given):
            return f"{type(outcome).__name__}; before it: {', '.join(name for each in given for name in each) or 'nothing'}"
    return repr(outcome)[:160]


if __name__ == "__main__":
    main()
