"""Writes the demo's scan of an old part: python -m tests.models.scans.

It was never scanned: the CAD model of a knob that the depot does not have, as a hand scanner would see it from above. Its foot
is open, its faces are off by some hundredths of a millimetre, and it lies as it lay on the table.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from build123d import Box, Part, Pos

from tests.models import knobs
from tests.models.features import FROM_FLOOR, peg
from tests.models.writing import MESH_WRITERS, triangles

CATALOGUE = Path(__file__).parents[2] / "catalogue"
SCAN = CATALOGUE / "requests/models/R-0031.ply"
_FACETS = (0.15, 0.5)  # mm and radians: a scanner's program thins what it saw
_OFF_MM = 0.04
_OPEN_MM = 0.4  # so much above the table nothing was seen


def cab_window_knob() -> Part:
    """Like TV-0417, with a square of 8 mm and a longer screw in a higher foot."""
    body = Pos(0, 0, 6) * knobs.window_latch_knob() + peg(18, 7)
    return body - Box(8.1, 8.1, 7, align=FROM_FLOOR) - peg(4.3, 20)


def scanned() -> tuple[np.ndarray, np.ndarray]:
    """Corners in mm and faces of what was seen."""
    corners, faces = triangles(cab_window_knob(), *_FACETS)
    seen = corners[faces].mean(axis=1)[:, 2] > corners[:, 2].min() + _OPEN_MM
    used, at = np.unique(faces[seen], return_inverse=True)
    random = np.random.default_rng(31)
    left = corners[used] + random.normal(0, _OFF_MM, (len(used), 3))
    turn, lean = np.radians(37.0), np.radians(-64.0)
    about_z = np.array([[np.cos(turn), -np.sin(turn), 0], [np.sin(turn), np.cos(turn), 0], [0, 0, 1]])
    about_x = np.array([[1, 0, 0], [0, np.cos(lean), -np.sin(lean)], [0, np.sin(lean), np.cos(lean)]])
    return left @ (about_x @ about_z).T + [120.0, -40.0, 15.0], at.reshape(-1, 3)


def main() -> None:
    SCAN.parent.mkdir(exist_ok=True)
    SCAN.write_bytes(MESH_WRITERS["ply"](*scanned()))


if __name__ == "__main__":
    main()
