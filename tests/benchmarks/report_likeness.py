"""How often is a part found again by its shape, and by which word is it called? Over 216 parts made by the exact kernel.

`python -m tests.benchmarks.report_likeness [PARTS] [--every 18] [--strangers FOLDER]` prints a table and writes `likeness.json` beside this file.
It takes some minutes. Strangers: a folder of STL, OBJ and PLY files of anything, such as the test data of installed packages;
they are put among the parts that are known, and nothing of them is kept. "first" and "three" are by the descriptor alone, as
`nearest` ranks; "laid" is the first once the sixteen nearest are laid onto it, as `spares match` ranks, of each --every'th part alone, for it is dear.
"""

import argparse
import json
import time
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
from scipy.spatial.transform import Rotation

from generator.geometry.likeness.aligned import surfaces_compared
from generator.geometry.likeness.descriptor import described
from generator.geometry.likeness.nearest import nearest
from generator.geometry.likeness.surface import Surface, surface_of
from generator.geometry.mesh import Mesh
from generator.geometry.weld import welded
from generator.measuring.matching import LAID
from generator.reading.meshes.errors import MeshError
from generator.reading.meshes.load import mesh_from_bytes
from tests.benchmarks.alike_parts import COARSE, FAMILIES, FINE, broken, meshed

KEPT = Path(__file__).with_name("likeness.json")
NOISE = 0.001  # of the diagonal: one standard deviation of each coordinate of each corner


def turned(mesh: Mesh, random: np.random.Generator, times: float = 1.0) -> Mesh:
    turn = Rotation.random(random_state=random).as_matrix()
    return Mesh(vertices_mm=times * mesh.vertices_mm @ turn.T + random.uniform(-50, 50, 3), faces=mesh.faces)


def mirrored(mesh: Mesh) -> Mesh:
    return Mesh(vertices_mm=mesh.vertices_mm * [-1.0, 1.0, 1.0], faces=mesh.faces[:, ::-1])


def diagonal(mesh: Mesh) -> float:
    return float(np.linalg.norm(np.ptp(mesh.vertices_mm, axis=0)))


def finer(mesh: Mesh, longest_mm: float) -> Mesh:
    """Each face halved across its longest edge until none is longer; the surface stays where it is."""
    vertices, faces = mesh.vertices_mm, mesh.faces
    while len(faces) < 30_000:
        corners = vertices[faces]
        length = np.linalg.norm(corners - np.roll(corners, -1, axis=1), axis=2)
        big = length.max(axis=1) > longest_mm
        if not big.any():
            break
        rows, at = faces[big], length[big].argmax(axis=1)
        a, b, c = (rows[np.arange(len(rows)), (at + i) % 3] for i in range(3))
        key, which = np.unique(np.minimum(a, b) * len(vertices) + np.maximum(a, b), return_inverse=True)
        middle = (vertices[key // len(vertices)] + vertices[key % len(vertices)]) / 2
        new = len(vertices) + which
        vertices = np.vstack([vertices, middle])
        faces = np.vstack([faces[~big], np.column_stack([a, new, c]), np.column_stack([new, b, c])])
    return Mesh(vertices_mm=vertices, faces=faces)


def noisy(mesh: Mesh, random: np.random.Generator) -> Mesh:
    whole = welded(finer(welded(mesh).mesh, diagonal(mesh) / 25)).mesh
    moved = whole.vertices_mm + random.normal(0, NOISE * diagonal(mesh), whole.vertices_mm.shape)
    return Mesh(vertices_mm=moved, faces=whole.faces)


def scanned(mesh: Mesh, random: np.random.Generator) -> Mesh:
    """From above only: what lies on the table is missing, a tenth to three tenths of the surface."""
    whole = finer(mesh, diagonal(mesh) / 25)
    corners = whole.vertices_mm[whole.faces]
    area = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1)
    order = np.argsort(-corners.mean(axis=1) @ random.normal(size=3))
    kept = order[np.cumsum(area[order]) < random.uniform(0.7, 0.9) * area.sum()]
    return Mesh(vertices_mm=whole.vertices_mm, faces=whole.faces[kept])


Made = tuple[Mesh, Mesh, Mesh]  # fine, coarse, broken
COPIES: dict[str, Callable[[Made, np.random.Generator], Mesh]] = {
    "rotated": lambda made, random: turned(made[0], random),
    "remeshed": lambda made, random: turned(made[1], random),
    "noisy": lambda made, random: turned(noisy(made[0], random), random),
    "mirrored": lambda made, random: turned(mirrored(made[1]), random),
    "in inches": lambda made, random: turned(made[1], random, 1 / 25.4),
    "cut open": lambda made, random: turned(scanned(made[0], random), random),
    "broken": lambda made, random: turned(made[2], random),
}


def parts(count: int) -> Iterator[tuple[str, Made]]:
    """The coarse mesh first: the kernel keeps a finer one."""
    import build123d as b  # dear to load

    for number in range(count):
        random, family = Random(1000 + number), FAMILIES[number % len(FAMILIES)]
        solid = family(b, random)
        coarse, fine = meshed(solid, *COARSE), meshed(solid, *FINE)
        yield f"{family.__name__}-{number:03}", (fine, coarse, meshed(broken(b, random, solid, random.uniform(0.1, 0.3)), *FINE))


def strangers(folder: Path | None) -> Iterator[tuple[str, Mesh]]:
    for file in sorted(folder.rglob("*")) if folder else ():
        if file.suffix.lower() in (".stl", ".obj", ".ply") and file.stat().st_size < 20e6:
            try:
                yield f"stranger {file.name}", mesh_from_bytes(file.read_bytes(), file.suffix, None).mesh
            except MeshError:
                continue


def main() -> None:
    asked = argparse.ArgumentParser()
    asked.add_argument("parts", nargs="?", type=int, default=216)
    asked.add_argument("--every", type=int, default=18)
    asked.add_argument("--strangers", type=Path)
    options = asked.parse_args()
    made = dict(parts(options.parts))
    surfaces: dict[str, Surface] = {name: found for name, each in made.items() if (found := surface_of(each[0]))}
    odd = {name: found for name, mesh in strangers(options.strangers) if (found := surface_of(mesh))}
    known = {name: found for name, each in (surfaces | odd).items() if (found := described(each))}
    print(f"{len(made)} parts, {len(odd)} strangers among them\n{'copy':10}{'first':>8}{'three':>8}{'laid':>8}  words of the right one")
    told: dict[str, Any] = {"parts": len(made), "strangers": len(odd)}
    for kind, copied in COPIES.items():
        told[kind] = one_kind(kind, copied, made, surfaces | odd, known, options.every)
        first, three, laid, words = told[kind].values()
        print(f"{kind:10}{first:8.3f}{three:8.3f}{laid:8.3f}  {words}", flush=True)
    KEPT.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")


def one_kind(kind: str, copied: Callable[[Made, np.random.Generator], Mesh], made: dict[str, Made], surfaces: dict[str, Surface], known: dict[str, Any], every: int) -> dict[str, Any]:
    first, three, laid = [], [], []
    words: Counter[str] = Counter()
    began = time.process_time()
    for at, (name, each) in enumerate(made.items()):
        surface = surface_of(copied(each, np.random.default_rng(10 * at + len(kind))))
        descriptor = described(surface) if surface else None
        if surface is None or descriptor is None:
            first, three = [*first, False], [*three, False]
            continue
        ranked = nearest(descriptor, known)
        near = [one.name for one in ranked]
        first.append(near[0] == name)
        three.append(name in near[:3])
        if at % every:
            continue
        distance = {one.name: one.distance for one in ranked[:LAID]}
        told = {one: surfaces_compared(surface, surfaces[one]) for one in near[:LAID]}
        sure = {"same": 0, "other_hand": 1, "scaled": 1, "similar": 2, "other": 3}
        best = min(told, key=lambda one: (sure[told[one].kind.value], distance[one] * (1.2 - told[one].explained)))
        laid.append(best == name)
        words[told[name].kind.value if name in told else "not laid"] += 1
    print(f"  {kind}: {time.process_time() - began:.0f} s of processor", flush=True)
    return {"first": round(float(np.mean(first)), 4), "three": round(float(np.mean(three)), 4), "laid": round(float(np.mean(laid)), 4), "words": dict(words.most_common())}


if __name__ == "__main__":
    main()
