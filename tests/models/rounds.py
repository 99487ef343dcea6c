"""Which round faces has the exact solid of each demo part? `python -m tests.models.rounds [NUMBER ...]` writes rounds.json.

Source: the exact kernel's own cylinders. Faces of one axis, radius and side are one entry; each keeps its spans along the
axis, how much of the turn its faces cover together, and whether its sides run smoothly into their neighbours, as a fillet's do.
"""

from __future__ import annotations

import json
import math
import sys
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

ROUNDS = Path(__file__).with_name("rounds.json")
_ANGLES = 720  # of half a degree each
_LEAST = 200  # a fillet's quarter is nobody's hole
_FINER = 400  # steps a radian: three within each


@dataclass(kw_only=True)
class _Round:
    radius: float
    foot: tuple[float, float, float]
    axis: tuple[float, float, float]
    inner: bool
    covered: list[bool] = field(default_factory=lambda: [False] * _ANGLES)
    spans: list[tuple[float, float]] = field(default_factory=list)
    area: float = 0.0

    def is_same(self, other: _Round) -> bool:
        near = math.dist(self.foot, other.foot) < 1e-3 and math.dist(self.axis, other.axis) < 1e-4
        return near and abs(self.radius - other.radius) < 1e-3 and self.inner == other.inner

    def told(self) -> dict[str, Any]:
        return {
            "diameter_mm": round(2 * self.radius, 4),
            "foot_mm": [round(each, 3) + 0.0 for each in self.foot],
            "axis": [round(each, 5) + 0.0 for each in self.axis],
            "inner": self.inner,
            "arc_deg": round(sum(self.covered) * 360 / _ANGLES),
            "spans_mm": [[round(low, 3) + 0.0, round(high, 3) + 0.0] for low, high in _united(self.spans)],
            "area_mm2": round(self.area, 2),
        }


def _united(spans: list[tuple[float, float]]) -> list[list[float]]:
    united: list[list[float]] = []
    for low, high in sorted(spans):
        if united and low <= united[-1][1] + 1e-3:
            united[-1][1] = max(united[-1][1], high)
        else:
            united.append([low, high])
    return united


def round_faces(solid: Any) -> list[dict[str, Any]]:
    """The solid's cylinders in its own coordinates, the largest area first; `foot_mm` is the axis's point nearest to the origin."""
    rounds: list[_Round] = []
    for face in solid.faces():
        found = _cylinder(face)
        if found is None:
            continue
        same = next((each for each in rounds if each.is_same(found)), None)
        if same is None:
            rounds.append(found)
        else:
            same.covered = [one or other for one, other in zip(same.covered, found.covered, strict=True)]
            same.spans += found.spans
            same.area += found.area
    told = [each for each in rounds if sum(each.covered) >= _LEAST]
    return [each.told() for each in sorted(told, key=lambda each: -each.area)]


def _cylinder(face: Any) -> _Round | None:
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepTools import BRepTools
    from OCP.GeomAbs import GeomAbs_SurfaceType
    from OCP.TopAbs import TopAbs_Orientation

    surface = BRepAdaptor_Surface(face.wrapped)
    if surface.GetType() != GeomAbs_SurfaceType.GeomAbs_Cylinder:
        return None
    cylinder = surface.Cylinder()
    position = cylinder.Position()
    place, towards = position.Location(), position.Direction()
    at, axis = (place.X(), place.Y(), place.Z()), (towards.X(), towards.Y(), towards.Z())
    first, last, low, high = BRepTools.UVBounds_s(face.wrapped)
    # From x and y of the surface's own frame to an angle that is the same for every face of the axis.
    lead = next(each for each in axis if abs(each) > 1e-6)
    sign = 1.0 if lead > 0 else -1.0
    along = sum(a * b for a, b in zip(at, axis, strict=True))
    foot = tuple(a - along * b for a, b in zip(at, axis, strict=True))
    reversed_ = face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
    inner = reversed_ == position.Direct()
    x_axis, y_axis = position.XDirection(), position.YDirection()
    start = _turn((x_axis.X(), x_axis.Y(), x_axis.Z()), (y_axis.X(), y_axis.Y(), y_axis.Z()), axis, sign)
    found = _Round(
        radius=cylinder.Radius(),
        foot=foot,  # type: ignore[arg-type]
        axis=tuple(sign * each for each in axis),  # type: ignore[arg-type]
        inner=inner,
        spans=[tuple(sorted((sign * (low + along), sign * (high + along))))],  # type: ignore[list-item]
        area=face.area,
    )
    for step in range(math.ceil((last - first) * _FINER)):
        turned = start(min(first + (step + 0.5) / _FINER, last))
        found.covered[math.floor(turned * _ANGLES / math.tau) % _ANGLES] = True
    return found


def _turn(x_axis: Any, y_axis: Any, axis: Any, sign: float) -> Any:
    least = min(range(3), key=lambda i: (abs(axis[i]) > 0.5, i))
    aside = [1.0 if i == least else 0.0 for i in range(3)]
    up = [sign * each for each in axis]
    right = [up[1] * aside[2] - up[2] * aside[1], up[2] * aside[0] - up[0] * aside[2], up[0] * aside[1] - up[1] * aside[0]]
    length = math.hypot(*right)
    right = [each / length for each in right]
    ahead = [up[1] * right[2] - up[2] * right[1], up[2] * right[0] - up[0] * right[2], up[0] * right[1] - up[1] * right[0]]

    def angle(turned: float) -> float:
        towards = [math.cos(turned) * a + math.sin(turned) * b for a, b in zip(x_axis, y_axis, strict=True)]
        return math.atan2(sum(a * b for a, b in zip(towards, ahead, strict=True)), sum(a * b for a, b in zip(towards, right, strict=True)))

    return angle


def main(numbers: list[str]) -> int:
    # The kernel, which who only reads the file need not load.
    from tests.models.catalogue_models import MODELS
    from tests.models.features import standing

    told = json.loads(ROUNDS.read_text()) if ROUNDS.exists() else {}
    for model in MODELS:
        if not numbers or model.number in numbers:
            told[model.number] = round_faces(standing(model.build()))
            print(model.number, len(told[model.number]), flush=True)
    lines = [f' "{number}": [\n' + ",\n".join("  " + json.dumps(each) for each in told[number]) + "\n ]" for number in sorted(told)]
    ROUNDS.write_text("{\n" + ",\n".join(lines) + "\n}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
