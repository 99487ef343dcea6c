"""From where a part is looked at, and where on the picture each point falls."""

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

__all__ = ["Camera", "View", "camera_for", "in_scene"]

MARGIN = 0.07  # of the picture, left free on each side


class View(Enum):
    """Two looks that together show every outer side.

    FRONT looks from the front left and above. BEHIND shows what FRONT hides, the back and the
    underside: the part is turned over, as in the hand, and lies on the ground again.
    """

    FRONT = "front"
    BEHIND = "behind"


_AZIMUTH = {View.FRONT: -35.0, View.BEHIND: 35.0}
_ELEVATION = 28.0
_TURNED_OVER = np.array([1.0, -1.0, -1.0])


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """A parallel projection.

    axes: (3, 3) rows right, up, towards the eye, in the scene; scale: px per unit;
    shift: where the scene's origin falls, in px from the top left; size_px: width, height.
    """

    axes: NDArray[np.float64]
    scale: float
    shift: tuple[float, float]
    size_px: tuple[int, int]

    def seen_along(self, directions: NDArray[np.float64]) -> NDArray[np.float64]:
        """Directions of the scene as right, up and towards the eye: (n, 3)."""
        return np.column_stack([_along(directions, axis) for axis in self.axes])

    def project(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Points of the scene as x, y in px and depth in px towards the eye: (n, 3)."""
        right, up, near = (_along(points, axis) for axis in self.axes)
        return np.column_stack(
            [
                right * self.scale + self.shift[0],
                self.shift[1] - up * self.scale,
                near * self.scale,
            ]
        )


def in_scene(points: NDArray[np.float64], view: View) -> NDArray[np.float64]:
    """Points or directions of the part as it lies for the view."""
    return points * _TURNED_OVER if view is View.BEHIND else points


def camera_for(scene: NDArray[np.float64], view: View, size_px: tuple[int, int]) -> Camera:
    """The camera that fits all points well into a picture of the given width and height."""
    azimuth, elevation = np.radians(_AZIMUTH[view]), np.radians(_ELEVATION)
    near = np.array(
        [
            np.sin(azimuth) * np.cos(elevation),
            -np.cos(azimuth) * np.cos(elevation),
            np.sin(elevation),
        ]
    )
    right = np.array([np.cos(azimuth), np.sin(azimuth), 0.0])
    axes = np.stack([right, np.cross(near, right), near])
    x, y = _along(scene, axes[0]), _along(scene, axes[1])
    width, height = size_px
    room = 1 - 2 * MARGIN
    scale = min(room * width / max(float(np.ptp(x)), 1e-9), room * height / max(float(np.ptp(y)), 1e-9))
    return Camera(
        size_px=size_px,
        axes=axes,
        scale=scale,
        shift=(
            width / 2 - scale * float(x.min() + x.max()) / 2,
            height / 2 + scale * float(y.min() + y.max()) / 2,
        ),
    )


def _along(points: NDArray[np.float64], axis: NDArray[np.float64]) -> NDArray[np.float64]:
    """Dot product written out: the same bits whatever a matrix library does."""
    along: NDArray[np.float64] = points[:, 0] * axis[0] + points[:, 1] * axis[1] + points[:, 2] * axis[2]
    return along
