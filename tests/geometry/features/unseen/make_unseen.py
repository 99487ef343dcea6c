"""Mesh the unseen solids and hold what is told of them against the kernel's faces: `python -m tests.geometry.features.unseen.make_unseen`.

Writes meshes.npz (32-bit corners, faces) and truth.json beside itself. By hand only: the kernel takes a minute.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from math import degrees
from pathlib import Path
from typing import Any

import fast_simplification  # of the extra `by-hand`: no test needs it
import numpy as np
from build123d import Face, GeomType
from OCP.BRepAdaptor import BRepAdaptor_Surface

from generator.geometry.mesh import Mesh
from tests.geometry.features.unseen.decoys import DECOYS, HAND_MADE
from tests.geometry.features.unseen.holes import HOLES
from tests.geometry.features.unseen.others import OTHERS
from tests.geometry.features.unseen.solid import Solid
from tests.geometry.solids import refined
from tests.models.writing import triangles

HERE = Path(__file__).parent
LEAST_MM = 2.0
LEAST_ARC = 170.0
REDUCED = ("clip-300", "keyway", "stepped-bore")


def cylinders(solid: Solid) -> list[dict[str, Any]]:
    """The kernel's round faces, those of one axis, size and side united: their arcs as told by the kernel."""
    united: list[dict[str, Any]] = []
    for face in solid.body.faces():
        if face.geom_type != GeomType.CYLINDER:
            continue
        one = cylinder_of(face)
        for known in united:
            if (
                known["inner"] == one["inner"]
                and abs(known["size"] - one["size"]) < 1e-4
                and same_line(known, one)
            ):
                known["spans"] += one["spans"]
                known["area"] += one["area"]
                known["pieces"] += one["pieces"]
                break
        else:
            united.append(one)
    return united


def cylinder_of(face: Face) -> dict[str, Any]:
    """Its radius, axis, side, and from where to where it reaches along the axis."""
    surface = BRepAdaptor_Surface(face.wrapped)
    place, along = surface.Cylinder().Axis().Location(), surface.Cylinder().Axis().Direction()
    at, axis = np.array([place.X(), place.Y(), place.Z()]), np.array([along.X(), along.Y(), along.Z()])
    middle = face.position_at(0.5, 0.5)
    out = np.array(tuple(middle)) - at
    out -= (out @ axis) * axis
    low, high = surface.FirstVParameter(), surface.LastVParameter()
    return {
        "size": 2 * surface.Cylinder().Radius(),
        "at": at,
        "axis": axis,
        "inner": bool(np.array(tuple(face.normal_at(middle))) @ out < 0),
        "area": face.area,
        "spans": [degrees(surface.LastUParameter() - surface.FirstUParameter())],
        "pieces": [(at + low * axis, at + high * axis)],
    }


def same_line(one: dict[str, Any], other: dict[str, Any]) -> bool:
    off = other["at"] - one["at"]
    return bool(
        abs(abs(one["axis"] @ other["axis"]) - 1) < 1e-6 and np.linalg.norm(np.cross(off, one["axis"])) < 1e-4
    )


def held_against_kernel(name: str, solid: Solid) -> list[str]:
    """What is told but not in the kernel's solid, and what is in it but told by nobody."""
    wrong = []
    faces = cylinders(solid)
    for told in solid.told:
        if told["kind"] not in {"hole", "boss"}:
            continue
        if not any(matches(told, face) for face in faces) and told["asked"]:
            wrong.append(f"{name}: {told['kind']} {told['size']} is not in the solid")
    for face in faces:
        if face["size"] < LEAST_MM or max(face["spans"]) < LEAST_ARC:
            continue
        if not any(matches(told, face) for told in solid.told if told["kind"] in {"hole", "boss"}):
            wrong.append(
                f"{name}: nobody tells {'hole' if face['inner'] else 'boss'} {face['size']:.3f} {face['spans']}"
            )
    return wrong


def matches(told: dict[str, Any], face: dict[str, Any]) -> bool:
    """The same side, size and axis; the same extent and arc where the ends are plane."""
    if (told["kind"] == "hole") != face["inner"] or abs(told["size"] - face["size"]) > 1e-4:
        return False
    a, b = np.array(told["a"]), np.array(told["b"])
    depth = float(np.linalg.norm(a - b))
    axis = (a - b) / depth
    if not same_line(face, {"at": a, "axis": axis}):
        return False
    if not told["asked"]:
        return True
    reach = [sorted((float((low - b) @ axis), float((high - b) @ axis))) for low, high in face["pieces"]]
    lowest, highest = min(low for low, _ in reach), max(high for _, high in reach)
    if told["ends"]:
        alone = any(abs(low) < 1e-3 and abs(high - depth) < 1e-3 for low, high in reach)
        if not alone and (abs(lowest) > 1e-3 or abs(highest - depth) > 1e-3):
            return False
    # Where one face reaches from end to end, its area tells the arc, but not where other holes or grooves cut it.
    if told["ends"] and told["pieces"] == 1 and told["arc"] < 359:
        return abs(360 * face["area"] / (np.pi * face["size"] * depth) - told["arc"]) < 1.0
    return lowest < depth and highest > 0


def meshed(name: str, solid: Solid) -> tuple[np.ndarray, np.ndarray]:
    """The facets; a mesh that is open or far from the kernel's volume is refused."""
    vertices, faces = triangles(solid.body, solid.chord_mm, solid.angle_rad)
    a, b, c = vertices[faces].transpose(1, 0, 2)
    volume = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)
    off = abs(volume / solid.body.volume - 1)
    if off > (0.02 if solid.chord_mm < 1 else 0.1):
        raise ValueError(f"{name}: the mesh has {volume:.1f} mm³, the solid {solid.body.volume:.1f}")
    pairs = np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1)
    counts = np.unique(pairs, axis=0, return_counts=True)[1]
    if (counts != 2).any():
        raise ValueError(f"{name}: {(counts != 2).sum()} edges are open or doubled")
    return vertices, faces


def reduced(
    name: str, solid: Solid, vertices: np.ndarray, faces: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Each facet cut in four, then four in ten taken away, so that corners lie at random; what left the told cylinders is refused."""
    finer = refined(Mesh(vertices_mm=vertices, faces=faces))
    fewer, left = fast_simplification.simplify(
        finer.vertices_mm.astype(np.float32), finer.faces.astype(np.int32), 0.4
    )
    for told in solid.told:
        if told["kind"] in {"hole", "boss"} and told["asked"]:
            a, b = np.array(told["a"]), np.array(told["b"])
            axis = (a - b) / np.linalg.norm(a - b)
            along = (fewer - b) @ axis
            radius = np.linalg.norm(fewer - b - along[:, None] * axis, axis=1)
            on = (
                (abs(radius - told["size"] / 2) < 0.1)
                & (along > -0.01)
                & (along < np.linalg.norm(a - b) + 0.01)
            )
            if on.sum() < 12 or abs(radius[on] - told["size"] / 2).max() > 0.03:
                raise ValueError(
                    f"{name}: {on.sum()} corners of {told['size']} lie within 0.1 mm, not all within 0.03"
                )
    return fewer.astype(np.float64), left.astype(np.int64)


def solids(names: list[str]) -> Iterator[tuple[str, Solid]]:
    for name, build in {**HOLES, **OTHERS, **DECOYS}.items():
        if not names or name in names:
            yield name, build()


def main(names: list[str]) -> int:
    arrays: dict[str, np.ndarray] = {}
    truth: dict[str, Any] = {}
    wrong: list[str] = []
    for name, solid in solids(names):
        if len(solid.body.solids()) != 1 or not solid.body.is_valid:
            wrong.append(f"{name}: {len(solid.body.solids())} solids, valid {solid.body.is_valid}")
        wrong += held_against_kernel(name, solid)
        vertices, faces = meshed(name, solid)
        print(f"{name}: {len(faces)} faces, {len(solid.told)} told", flush=True)
        keep(arrays, name, vertices, faces)
        truth[name] = {"soup": solid.soup, "decoy": solid.is_decoy, "told": solid.told}
        if name in REDUCED:
            keep(arrays, name + "-reduced", *reduced(name, solid, vertices, faces))
            truth[name + "-reduced"] = truth[name]
    for name, mesh in HAND_MADE.items():
        keep(arrays, name, *mesh())
        truth[name] = {"soup": False, "decoy": True, "told": []}
    if wrong:
        print("\n".join(wrong))
    elif not names:
        np.savez_compressed(HERE / "meshes.npz", **arrays)
        rows = [f"{json.dumps(name)}: {json.dumps(told, default=float)}" for name, told in truth.items()]
        (HERE / "truth.json").write_text("{\n" + ",\n".join(rows) + "\n}\n")
        print(len(truth), "meshes,", sum(len(a) for key, a in arrays.items() if key.endswith(".f")), "faces")
    return min(len(wrong), 1)


def keep(arrays: dict[str, np.ndarray], name: str, vertices: np.ndarray, faces: np.ndarray) -> None:
    arrays[name + ".v"] = vertices.astype(np.float32)
    arrays[name + ".f"] = faces.astype(np.uint16)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
