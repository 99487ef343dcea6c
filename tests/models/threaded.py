"""What do the two parts with real threads look like: the cable-gland reducer and the sand-box filler cap?"""

from __future__ import annotations

from math import cos, radians, sin

from build123d import Box, Helix, Part, Plane, Pos, Rot, Solid

from tests.models.features import around, level, outline, peg, rounded, turned, upward


def thread(minor: float, major: float, pitch: float, length: float, *, crest: float, foot: float) -> Part:
    """A right-hand threaded rod on z = 0: radii, pitch and length in mm; crest and foot width as shares of the pitch.

    The ridge is swept with its flanks continued below the core's surface and beyond both ends, and only then cut to
    length: a ridge that starts on the core's surface or ends inside the core is lost by the kernel's fusion.
    """
    sunk = pitch * 0.1
    widening = (foot - crest) * pitch / 2 / (major - minor) * sunk
    low, high = foot * pitch / 2 + widening, crest * pitch / 2
    profile = Plane.XZ * outline([(minor - sunk, -low), (major, -high), (major, high), (minor - sunk, low)])
    ridge = Part() + Solid.sweep(profile.face(), Helix(pitch, length + 2 * pitch, minor), is_frenet=True)
    rod = Pos(0, 0, -2 * pitch) * peg(2 * minor, length + 4 * pitch) + Pos(0, 0, -pitch) * ridge
    return rod & peg(2 * major + 10, length)


def cable_gland_reducer() -> Part:
    """TV-0231: M32 x 1.5 outside to M20 x 1.5 inside, hexagon 38 across flats, seal groove, thread 15 mm long."""
    # ISO 68-1 basic profile: height 5/8 H with H = P sqrt(3)/2, so minor radius = major radius - 0.5413 P;
    # crest P/8 and foot 7P/8 wide. The outside thread is made 0.1 mm smaller all round for a printed fit.
    depth = 0.5413 * 1.5
    shank = thread(15.9 - depth, 15.9, 1.5, 18, crest=1 / 8, foot=3 / 4)
    shank &= turned([(0, 0), (14.6, 0), (16.3, 1.7), (16.3, 18), (0, 18)])
    neck = turned([(0, 14), (14.6, 14), (14.6, 16.6), (19, 17.2), (19, 19), (0, 19)])
    hexagon = upward([(22 * cos(radians(60 * i + 15)), 22 * sin(radians(60 * i + 15))) for i in range(6)], 12)
    hexagon &= turned([(0, 0), (20.2, 0), (22, 1.0), (22, 11), (20.2, 12), (0, 12)])
    body = shank + neck + Pos(0, 0, 17) * hexagon
    body += Pos(0, 0, 28) * turned([(0, 0), (16.5, 0), (16.5, 4.4, 1), (0, 4.4)])
    bore = thread(10.1 - depth, 10.1, 1.5, 20, crest=1 / 4, foot=7 / 8)
    body -= Pos(0, 0, 14.4) * bore
    body -= Pos(0, 0, -1) * peg(18.2, 17)
    body -= turned([(0, 32.5), (11.4, 32.5), (8.8, 29.9), (0, 29.9)])
    return body - turned([(0, -0.1), (10.6, -0.1), (9.0, 1.5), (0, 1.5)])


def sand_box_filler_cap() -> Part:
    """TV-0276: screw cap Ø92 with ten grips and a cross bar, coarse thread 66 x 8 over 26 mm, seal groove, hollow."""
    plug = thread(29.4, 33, 8, 27, crest=0.2, foot=0.6)
    plug &= turned([(0, 0), (29.0, 0), (33.4, 4.5), (33.4, 27), (0, 27)])
    head = turned([(0, 26), (41, 26, 0.8), (41, 40, 3), (30, 42, 3), (27, 38.5, 2), (0, 37.5)])
    grips = around(10, Pos(40, 0, 26) * rounded(peg(13, 13.5), 1.6, level(13.5)))
    body = plug + head + grips
    bar = upward([(-29, 5, 3), (0, 4.2, 30), (29, 5, 3), (29, -5, 3), (0, -4.2, 30), (-29, -5, 3)], 14)
    body += Pos(0, 0, 34) * Rot(0, 0, 25) * rounded(bar, 2.2, level(14))
    body -= turned([(34.6, 25), (38.2, 25), (38.2, 28.4), (34.6, 28.4)])
    body -= turned([(0, -1), (25.6, -1), (25.6, 31, 4), (0, 33)])
    rib = Pos(0, 0, 17) * Box(52.5, 2.6, 30)
    body += [rib, Rot(0, 0, 90) * rib]
    return body - Pos(0, 0, 43) * Rot(90, 0, 25) * Pos(0, 0, -10) * peg(5.5, 20)
