"""Of the STEP originals: what was found, missed, and told that is not there?"""

from __future__ import annotations

import json
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from generator.geometry.features.kinds import Features
from generator.geometry.mesh import Mesh
from generator.reading.meshes.load import mesh_from_bytes
from tests.geometry.features.judged import Score, judge

HERE = Path(__file__).parent
SAID = {"slot", "square", "hexagon", "flats", "teeth", "thread"}
"""Kinds of which the scripts say all that there are."""


@dataclass(slots=True)
class Verdict:
    """rounds: of round holes and bosses. said, wrong: of what the scripts say besides, how much there is and what was not told so."""

    rounds: Score = field(default_factory=Score)
    said: int = 0
    wrong: list[str] = field(default_factory=list)

    @property
    def recall(self) -> float:
        return self.rounds.found / max(self.rounds.found + len(self.rounds.missed), 1)

    @property
    def precision(self) -> float:
        return self.rounds.told / max(self.rounds.told + len(self.rounds.extra), 1)


def truths() -> dict[str, Any]:
    """What the exact kernel and the scripts say, by name."""
    told: dict[str, Any] = json.loads((HERE / "truth.json").read_text())
    return told


def originals(names: Sequence[str] = ()) -> Iterator[tuple[str, Mesh]]:
    """As the tool itself reads the STEP files; all without names."""
    with zipfile.ZipFile(HERE / "originals.zip") as packed:
        for file in packed.namelist():
            name = file.removesuffix(".step")
            if not names or name in names:
                yield name, mesh_from_bytes(packed.read(file), ".step", None).mesh


def add(verdict: Verdict, name: str, told: Features, truth: dict[str, Any]) -> None:
    judge(name, told, truth["rounds"], verdict.rounds)
    for each in truth["said"]:
        verdict.said += 1
        if not (_has_void(told, each) if each["kind"] == "void" else any(_is_said(found, each) for found in told.found)):
            alike = [(round(found.size_mm, 2), found.second_mm, found.count) for found in told.found if found.kind == each["kind"]]
            verdict.wrong.append(f"{name}: {each}; of this kind was told {alike}")
    for found in told.found:
        if found.kind in SAID and not any(found.kind == each["kind"] for each in truth["said"]):
            verdict.wrong.append(f"{name}: {found.kind} {found.size_mm:.2f} is told, and nobody said one")


def _has_void(told: Features, said: dict[str, Any]) -> bool:
    return any(_is_near(each.size_mm[0], said["size"], 0.005) and np.allclose(each.at, said["at"], atol=0.1) for each in told.voids)


def _is_said(found: Any, said: dict[str, Any]) -> bool:
    """A round about the same line is not asked to open at the same end."""
    if found.kind != said["kind"] or not _is_near(found.size_mm, said["size"], 0.005):
        return False
    if np.linalg.norm(np.cross(found.axis, said["axis"])) > 0.01 and found.kind != "flats":
        return False
    if "at" in said:
        off = np.subtract(found.at, said["at"])
        if np.linalg.norm(np.cross(off, found.axis)) > max(0.1, 0.002 * said["size"]):
            return False
    for key, value, share in (("length", found.length_mm, 0.01), ("second", found.second_mm, 0.01)):
        if key in said and (value is None or not _is_near(value, said[key], share)):
            return False
    same = (("inner", found.is_inner), ("through", found.is_through), ("count", found.count), ("hand", found.hand))
    return all(said[key] == value for key, value in same if key in said)


def _is_near(value: float, other: float, share: float) -> bool:
    return bool(abs(value - other) <= max(0.05, share * other))
