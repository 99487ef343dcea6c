"""What do the shrouds of the mirror arm look like, left and right?"""

from __future__ import annotations

from build123d import Box, Part, Plane, Pos, RectangleRounded, Rot, Sketch, loft, mirror

from tests.models.features import (
    FROM_FLOOR,
    at,
    countersink,
    level,
    rounded,
    slab,
)

STATIONS = [
    # height, x, y, width, depth, corner
    (6.0, 0.0, 0.0, 62.0, 46.0, 15.0),
    (26.0, -2.0, 0.0, 54.0, 41.0, 14.0),
    (52.0, -9.0, -2.0, 43.0, 35.0, 13.0),
    (82.0, -24.0, -5.0, 34.0, 30.0, 12.0),
    (112.0, -46.0, -8.0, 29.0, 27.0, 11.5),
]


def lofted(shrink: float, tilt_deg: float = 9.0) -> Part:
    """The leaning body of the shroud, each section made smaller all round by `shrink` mm."""
    sections = []
    for i, (z, x, y, width, depth, corner) in enumerate(STATIONS):
        plane = Plane((x, y, z)).rotated((0, -tilt_deg * i, 0))
        sections.append(
            Sketch() + plane * RectangleRounded(width - 2 * shrink, depth - 2 * shrink, corner - shrink)
        )
    return Part() + loft(sections)


def mirror_arm_shroud_left() -> Part:
    """TV-0248: leaning hollow shroud 2.8 mm thick, foot 84 x 60 with three M5 holes, cable window, drain holes."""
    foot = rounded(slab(86, 60, 6.5, 16), 2.0, level(6.5))
    body = foot + lofted(0)
    collar = [
        Sketch() + Pos(0, 0, 6.4) * RectangleRounded(70, 53, 18),
        Sketch() + Pos(0, 0, 14) * RectangleRounded(62, 47, 15.5),
    ]
    body += Part() + loft(collar)
    z, x, y, width, depth, corner = STATIONS[-1]
    tip = Plane((x, y, z)).rotated((0, -36, 0))
    rim = [
        Sketch() + tip * Pos(0, 0, h) * RectangleRounded(width + 5, depth + 5, corner + 2) for h in (-1, 5.5)
    ]
    body += Part() + loft(rim)
    body -= lofted(2.8)
    mouth = [
        Sketch() + tip * Pos(0, 0, h) * RectangleRounded(width - 6.6, depth - 6.6, corner - 3)
        for h in (-4, 9)
    ]
    body -= Part() + loft(mouth)
    body -= Pos(0, 0, -1) * slab(56.4, 40.4, 7.6, 12.2)
    window = Pos(-4, 0, 36) * Rot(90, 0, 0) * slab(13, 20, 40, 6)
    body -= window
    body -= at([(x, y, 6.5) for x, y in ((-36.5, -19), (-36.5, 19), (37, 0))], countersink(5.3, 10.4, 8))
    return body - [Pos(x, -40, -0.1) * Box(6, 30, 2.6, align=FROM_FLOOR) for x in (-14, 14)]


def mirror_arm_shroud_right() -> Part:
    """TV-0249: the mirror image of TV-0248."""
    return Part() + mirror(mirror_arm_shroud_left(), about=Plane.YZ)
