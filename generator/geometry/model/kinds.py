"""What is a model for the tablet: triangles in whole steps, with the edges and corners that matter?"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["STEPS", "Model"]

STEPS = 65_535  # 16 bits: of the longest side of the box


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Model:
    """A mesh as a tablet draws and measures it; a place in mm is `low_mm` + `step_mm` · steps.

    points: (n, 3) whole steps from 0 to `STEPS`. faces: (m, 3) of them, anticlockwise seen from outside.
    lines: (m, 3) whether the edge from that corner to the next is a line of the part: a crease, or open.
    corners: (c, 3) where lines meet, in whole steps, as the file has them even where faces were taken away.
    within_mm: no point of the surface is farther from the file's, nor one of the file's from it. A corner is within
        half a step in each direction.
    made_of: how many faces the file has.
    """

    low_mm: tuple[float, float, float]
    step_mm: float
    points: NDArray[np.uint16]
    faces: NDArray[np.int64]
    lines: NDArray[np.bool_]
    corners: NDArray[np.uint16]
    is_closed: bool
    within_mm: float
    made_of: int

    @property
    def points_mm(self) -> NDArray[np.float64]:
        """(n, 3)"""
        return np.array(self.low_mm) + self.step_mm * self.points.astype(np.float64)

    @property
    def corners_mm(self) -> NDArray[np.float64]:
        """(c, 3)"""
        return np.array(self.low_mm) + self.step_mm * self.corners.astype(np.float64)
