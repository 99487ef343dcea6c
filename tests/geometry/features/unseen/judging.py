"""What of the truth was found, and what was told that is not there?"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from scipy.spatial.transform import Rotation

from generator.geometry.mesh import Mesh
from tests.geometry.solids import moved, refined, soup

HERE = Path(__file__).parent
LEAST_MM = 2.0
ROUND = {"hole": "hole", "boss": "boss"}
TURNED_OUT_OF_PLACE = (
    "plate", "countersunk", "tube-cross", "half-holes", "clip-270", "d-bore", "stepped-shaft", "concentric", "metre",
    "blob-a", "ball", "prism-7", "slanted", "opposed", "slots", "cornered-slot", "square-drive", "square-head", "nut",
    "hexagon-pocket", "bush-flats", "d-shaft", "channel", "gear-17", "gear-32", "gear-11", "thread-right", "thread-left",
    "nut-right", "nut-left", "turned-handle", "coarse-10",
)  # fmt: skip
CUT_FINER = (
    "plate",
    "keyway",
    "counterbored",
    "pinned-shaft",
    "near-row",
    "slots",
    "nut",
    "prism-5",
    "square-drive",
)
SOUPS = ("bosses", "wheel", "gear-17", "nut-left", "stepped-bore", "ring")


@dataclass(frozen=True, slots=True)
class Case:
    name: str
    mesh: Mesh
    told: tuple[dict[str, Any], ...]
    is_decoy: bool


@cache
def kept() -> tuple[dict[str, Mesh], dict[str, Any]]:
    with np.load(HERE / "meshes.npz") as arrays:
        truth = json.loads((HERE / "truth.json").read_text())
        meshes = {name: Mesh(vertices_mm=arrays[name + ".v"], faces=arrays[name + ".f"]) for name in truth}
    return meshes, truth


def case(name: str) -> Case:
    meshes, truth = kept()
    mesh = soup(meshes[name]) if truth[name]["soup"] else meshes[name]
    return Case(name, mesh, tuple(truth[name]["told"]), truth[name]["decoy"])


def turn_of(name: str) -> tuple[np.ndarray, np.ndarray]:
    """A turn and a shift by chance, the same for each name on each run."""
    chance = np.random.default_rng(list(name.encode()))
    return Rotation.random(rng=chance).as_matrix(), chance.uniform(-200, 200, 3)


def turned_case(name: str) -> Case:
    one = case(name)
    matrix, shift = turn_of(name)
    told = []
    for each in one.told:
        there = dict(each)
        for key in ("a", "b", "at"):
            if key in there:
                there[key] = list(matrix @ np.array(there[key]) + shift)
        if "axis" in there:
            there["axis"] = list(matrix @ np.array(there["axis"]))
        told.append(there)
    return Case(name + " turned", moved(one.mesh, matrix, shift), tuple(told), one.is_decoy)


def cases() -> list[Case]:
    names = list(kept()[1])
    made = [case(name) for name in names]
    made += [turned_case(name) for name in TURNED_OUT_OF_PLACE]
    for name in CUT_FINER:
        one = case(name)
        made.append(Case(name + " cut finer", refined(one.mesh), one.told, one.is_decoy))
    for name in SOUPS:
        one = case(name)
        made.append(Case(name + " soup", soup(one.mesh), one.told, one.is_decoy))
    return made


@dataclass(slots=True)
class Judged:
    """Of one case: which told features were found as which, which were not, and what was told for nothing."""

    case: Case
    hits: list[tuple[dict[str, Any], Any]] = field(default_factory=list)
    missed: list[dict[str, Any]] = field(default_factory=list)
    invented: list[Any] = field(default_factory=list)
    right: int = 0


def judged(one: Case, found: Any) -> Judged:
    result = Judged(one)
    round_ones = [each for each in found if each.kind in ROUND and each.size_mm >= LEAST_MM]
    turned = [each for each in found if each.kind == "turned"]
    used: set[int] = set()
    for told in one.told:
        if told["kind"] not in ROUND:
            continue
        these = [n for n, each in enumerate(round_ones) if n not in used and is_same_round(each, told)]
        these.sort(key=lambda n: abs(round_ones[n].size_mm - told["size"]))
        used.update(these[: max(told["pieces"], 1) if told["asked"] else None])
        outer = [
            each for each in turned if told["kind"] == "boss" and is_same_round(each, told, of_whole=True)
        ]
        if not told["asked"] or told["size"] < LEAST_MM:
            continue
        if these:
            result.hits.append((told, round_ones[these[0]]))
        elif outer:
            result.hits.append((told, None))
        else:
            result.missed.append(told)
    result.right = len(used)
    result.invented = [each for n, each in enumerate(round_ones) if n not in used]
    return result


def is_same_round(found: Any, told: dict[str, Any], *, of_whole: bool = False) -> bool:
    """The same kind, size, line and stretch; of the whole part's turned shape kind and stretch do not matter."""
    if not of_whole and found.kind != told["kind"]:
        return False
    if abs(found.size_mm - told["size"]) > max(0.05, 0.005 * told["size"]):
        return False
    a, b = np.array(told["a"]), np.array(told["b"])
    depth = float(np.linalg.norm(a - b))
    if not is_along(found.axis, (a - b) / depth) or line_off(found, a, (a - b) / depth) > max(
        0.1, 0.002 * told["size"]
    ):
        return False
    return of_whole or overlap(found, b, (a - b) / depth, depth) > 0.3


def is_along(axis: Any, other: Any, within_deg: float = 1.0) -> bool:
    one, two = np.array(axis, dtype=float), np.array(other, dtype=float)
    apart = np.linalg.norm(np.cross(one, two)) / (np.linalg.norm(one) * np.linalg.norm(two))
    return bool(apart <= np.sin(np.radians(within_deg)))


def line_off(found: Any, at: np.ndarray, axis: np.ndarray) -> float:
    """How far the found point lies from the told line, in mm."""
    off = np.array(found.at, dtype=float) - at
    return float(np.linalg.norm(off - (off @ axis) * axis))


def overlap(found: Any, foot: np.ndarray, axis: np.ndarray, depth: float) -> float:
    """The share of the shorter one that both have; 1 where no length is told."""
    if found.length_mm is None:
        return 1.0
    start = np.array(found.at, dtype=float)
    end = start - np.array(found.axis, dtype=float) * found.length_mm
    low, high = sorted(((start - foot) @ axis, (end - foot) @ axis))
    both = min(high, depth) - max(low, 0.0)
    return float(both / max(min(high - low, depth), 1e-9))
