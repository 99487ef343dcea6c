"""Of the exact solid's round faces which were found, and what was told that it has not?"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from generator.geometry.features.kinds import Features, Kind
from tests.models.rounds import ROUNDS

CATALOGUE = Path(__file__).parents[3] / "catalogue"
LEAST_MM = 2.0
LEAST_DEG = 195  # what turns by less may be a fillet, or the end of a lever


@dataclass(slots=True)
class Score:
    """found and missed: of the exact faces of Ø 2 and more that turn by more than half; extra: told, and no face of the solid."""

    found: int = 0
    missed: list[str] = field(default_factory=list)
    extra: list[str] = field(default_factory=list)
    worst_mm: float = 0.0
    told: int = 0


def exact_rounds() -> dict[str, list[dict[str, Any]]]:
    """By part number: what `python -m tests.models.rounds` wrote."""
    return json.loads(ROUNDS.read_text())


def judge(number: str, told: Features, exact: list[dict[str, Any]], score: Score) -> None:
    """Add one part. A countersink is a cone, which the exact list does not have."""
    rounds = [each for each in told.found if each.kind in {Kind.HOLE, Kind.BOSS} and each.second_mm is None]
    used: set[int] = set()
    for face in exact:
        same = [n for n, each in enumerate(rounds) if is_same(each, face)]
        used.update(same)
        if face["diameter_mm"] >= LEAST_MM and face["arc_deg"] >= LEAST_DEG:
            if same:
                score.found += 1
                score.worst_mm = max(score.worst_mm, *(abs(rounds[n].size_mm - face["diameter_mm"]) for n in same))
            else:
                score.missed.append(f"{number}: {face}")
    score.told += len(used)
    score.extra += [f"{number}: {each}" for n, each in enumerate(rounds) if n not in used]


def is_same(found: Any, face: dict[str, Any]) -> bool:
    """The same side, diameter within ± 0.05 mm or 0.5 %, and line within 0.1 mm."""
    size, axis = face["diameter_mm"], np.array(face["axis"])
    if found.is_inner is not face["inner"] or abs(found.size_mm - size) > max(0.05, 0.005 * size):
        return False
    off = np.array(found.at) - np.array(face["foot_mm"])
    return bool(abs(axis @ np.array(found.axis)) > 0.9998 and np.linalg.norm(off - axis * (axis @ off)) <= 0.1)
