"""How is what stays the same of a shape written down?"""

from __future__ import annotations

import base64
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

__all__ = ["Descriptor"]

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Descriptor:
    """What is compared of a shape.

    size_mm: radius of gyration of the surface; all else but `ladder` has no unit.
    outline: sorted principal radii, hull against surface (volume, area).
    d2: quantiles of the distance of two points of the surface (Osada et al., ACM TOG 21(4), 2002).
    shells: quantiles of their distance from the middle.
    around: how the surface lies about its points, (radii, bins), each row adds up to 1.
    twist: signed, of the other sign for the other hand.
    ladder: the same as `around` at fixed radii in mm, as square millimetres of surface; empty rows where a radius says nothing.
    """

    size_mm: float
    area_mm2: float
    outline: Floats
    d2: Floats
    shells: Floats
    around: Floats
    twist: Floats
    ladder: Floats

    def to_json(self) -> dict[str, Any]:
        """Plain values for the store."""
        return {
            "size_mm": self.size_mm,
            "area_mm2": self.area_mm2,
            **{name: [round(float(each), 6) for each in getattr(self, name)] for name in ("outline", "d2", "shells", "twist")},
            "around": _packed(self.around),
            "ladder": _packed(self.ladder / self.area_mm2),
        }

    @classmethod
    def from_json(cls, told: Mapping[str, Any]) -> Descriptor:
        """Read back what `to_json` gave; KeyError, TypeError or ValueError for anything else."""
        area = float(told["area_mm2"])
        return cls(
            size_mm=float(told["size_mm"]),
            area_mm2=area,
            outline=np.array(told["outline"], dtype=np.float64),
            d2=np.array(told["d2"], dtype=np.float64),
            shells=np.array(told["shells"], dtype=np.float64),
            twist=np.array(told["twist"], dtype=np.float64),
            around=_unpacked(told["around"]),
            ladder=_unpacked(told["ladder"]) * area,
        )


def _packed(shares: Floats) -> list[str]:
    """Each row in 65,535ths of 1, as base64."""
    return [base64.b64encode(np.rint(row * 65_535).astype("<u2").tobytes()).decode("ascii") for row in shares]


def _unpacked(rows: list[str]) -> Floats:
    return np.stack([np.frombuffer(base64.b64decode(row), "<u2") for row in rows]) / 65_535.0
