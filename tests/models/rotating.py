"""What do the turning parts of drives look like: gear, belt pulley, cam and bush."""

from __future__ import annotations

from math import acos, cos, pi, radians, sin, sqrt, tan

from build123d import (
    Box,
    Curve,
    Cylinder,
    Line,
    Part,
    Pos,
    Rot,
    Sketch,
    Spline,
    ThreePointArc,
    extrude,
    make_face,
)

from tests.models.features import (
    FROM_FLOOR,
    around,
    broken,
    drill,
    level,
    outline,
    peg,
    rounded,
    turned,
)


def involute_gear(module: float, teeth: int, root_radius_share: float = 1.25) -> Sketch:
    """The outline of a spur gear, 20° pressure angle, ISO 53 basic rack: addendum 1 m, dedendum 1.25 m."""
    pitch, pressure = module * teeth / 2, radians(20)
    base, tip, root = pitch * cos(pressure), pitch + module, pitch - root_radius_share * module
    half = pi / (2 * teeth) + tan(pressure) - pressure

    def flank(radius: float, side: int, turn: float) -> tuple[float, float]:
        roll = sqrt(max((radius / base) ** 2 - 1, 0))
        angle = turn + side * (half - (roll - acos(min(base / radius, 1))))
        return radius * cos(angle), radius * sin(angle)

    def on(radius: float, angle: float) -> tuple[float, float]:
        return radius * cos(angle), radius * sin(angle)

    start = max(base, root)
    radii = [start + (tip - start) * (i / 5) ** 1.5 for i in range(6)]
    edges = []
    for tooth in range(teeth):
        turn, step = 2 * pi * tooth / teeth, 2 * pi / teeth
        right, left = [flank(r, -1, turn) for r in radii], [flank(r, 1, turn) for r in radii]
        foot = half * 1.02
        edges += [
            Line(on(root, turn - foot), right[0]),
            Spline(*right),
            ThreePointArc(right[-1], on(tip, turn), left[-1]),
            Spline(*reversed(left)),
            Line(left[0], on(root, turn + foot)),
            ThreePointArc(on(root, turn + foot), on(root, turn + step / 2), on(root, turn + step - foot)),
        ]
    return Sketch() + make_face(Curve() + edges)


def mixing_damper_drive_gear() -> Part:
    """TV-0292: spur gear module 2, 26 teeth, hub Ø22 with an 11 mm D bore and a cross hole for a set screw."""
    rim = Part() + extrude(involute_gear(2, 26), 12)
    rim &= turned([(0, 0), (26.6, 0), (28.1, 1.4), (28.1, 10.6), (26.6, 12), (0, 12)])
    web = turned([(10, 3.8), (19.4, 3.8), (20.8, -1), (10, -1)]) + turned([(10, 8.2), (19.4, 8.2), (20.8, 13), (10, 13)])
    body = rim - web
    body += turned([(0, 0), (11, 0, 0.6), (11, 18, 1.2), (0, 18)])
    body += around(5, Pos(15.5, 0, 6) * Box(10, 2.8, 9), start_deg=36)
    body -= around(5, Pos(15.6, 0, 0) * peg(6.8, 12))
    bore = Cylinder(5.55, 20, align=FROM_FLOOR) & Pos(-1.15, 0, 0) * Box(11.1, 12, 20, align=FROM_FLOOR)
    body -= Part() + bore
    body -= turned([(0, 18.1), (6.2, 18.1), (5.5, 17.4), (0, 17.4)])
    return body - Pos(0, 0, 15) * Rot(0, 90, 0) * peg(4.2, 14)


def door_drive_idler_pulley() -> Part:
    """TV-0211: toothed idler, 20 teeth at 10 mm pitch, two flanges Ø70, bearing seat Ø32 x 10 with a snap groove."""
    pitch_radius = 10 * 20 / (2 * pi)
    tip = pitch_radius - 1.0
    groove = outline([(3.4, 3), (2.9, -0.2), (1.75, -2.6), (-1.75, -2.6), (-2.9, -0.2), (-3.4, 3)])
    tooth = Part() + extrude(Pos(tip, 0) * Rot(0, 0, -90) * groove, 26)
    drum = peg(2 * tip, 26) - around(20, tooth)
    flange = turned([(20, 0), (34.2, 0), (35, 0.8), (35, 2), (tip - 1, 3.4), (20, 3.4)])
    body = drum + flange + Pos(0, 0, 26) * Rot(180, 0, 0) * flange
    cut = turned([(20.5, -1), (26.4, -1), (25.4, 10), (20.5, 10)])
    body -= [cut, Pos(0, 0, 26) * Rot(180, 0, 0) * cut]
    body -= around(6, Pos(23, 0, 0) * peg(4, 26))
    body += around(6, Pos(23, 0, 1) * Box(6.4, 2.4, 24, align=FROM_FLOOR), start_deg=30)
    body -= peg(27, 26) + Pos(0, 0, 4) * peg(32, 30)
    body -= Pos(0, 0, 14) * peg(33.6, 1.4)
    return broken(body, 0.8, lambda e: level(26)(e) and abs(e.length - 32 * pi) < 0.01)


def limit_switch_cam() -> Part:
    """TV-0219: disc cam Ø58 with two lobes of 4 mm lift, hub bore 12 mm with a 4 mm keyway and two set screws."""
    track = Sketch() + make_face(Curve() + cam_track(29.0, 4.0, (100.0, 215.0), (34.0, 24.0), 16.0))
    disc = Part() + extrude(track, 9)
    disc = broken(disc, 0.6, lambda e: level(0)(e) or level(9)(e))
    pocket = turned([(13, 6.4), (23.4, 6.4), (24, 7), (24.6, 10), (13, 10)])
    body = disc - pocket
    body += around(5, Pos(18.5, 0, 3) * Box(13, 2.6, 5.6, align=FROM_FLOOR), start_deg=18)
    body += turned([(0, 0), (13, 0), (13, 24, 1.2), (0, 24)])
    body += around(2, Pos(0, 0, 17.5) * Rot(0, 90, 0) * peg(9, 14.5), start_deg=90)
    body -= peg(12.05, 24) + Pos(6, 0, 0) * Box(3.8, 4, 24, align=FROM_FLOOR)
    body -= around(2, Pos(0, 0, 17.5) * Rot(0, 90, 0) * peg(4.2, 20), start_deg=90)
    body -= around(3, Pos(18.6, 0, 0) * peg(4.3, 9), start_deg=54)
    return body


def cam_track(
    radius: float, lift: float, lobes_deg: tuple[float, ...], dwells_deg: tuple[float, ...], ramp_deg: float
) -> list[Line | Spline | ThreePointArc]:
    """The closed track of a disc cam: base arcs, lobes at `lobes_deg` with their dwell, cosine ramps between."""

    def on(r: float, deg: float) -> tuple[float, float]:
        return r * cos(radians(deg)), r * sin(radians(deg))

    edges: list[Line | Spline | ThreePointArc] = []
    ends = []
    for centre, dwell in zip(lobes_deg, dwells_deg, strict=True):
        rise = [centre - dwell / 2 - ramp_deg * (1 - i / 8) for i in range(9)]
        up = [on(radius + lift * (1 - cos(pi * i / 8)) / 2, deg) for i, deg in enumerate(rise)]
        fall = [centre + dwell / 2 + ramp_deg * i / 8 for i in range(9)]
        down = [on(radius + lift * (1 + cos(pi * i / 8)) / 2, deg) for i, deg in enumerate(fall)]
        edges += [Spline(*up), ThreePointArc(up[-1], on(radius + lift, centre), down[0]), Spline(*down)]
        ends.append((rise[0], fall[-1]))
    for (_, leave), (meet, _) in zip(ends, [*ends[1:], (ends[0][0] + 360, 0)], strict=True):
        edges.append(ThreePointArc(on(radius, leave), on(radius, (leave + meet) / 2), on(radius, meet)))
    return edges


def wiper_linkage_bush() -> Part:
    """TV-0207: flanged bush, bore 12 mm, shank Ø20 x 22, flange Ø30 x 4 with two flats, six grease grooves."""
    body = turned([(6, 0), (9.4, 0), (10, 0.8), (10, 20), (15, 20, 0.8), (15, 24.5, 1.4), (6, 24.5)])
    body = rounded(body, 1.0, lambda e: level(20)(e) and e.radius < 10.5)
    body &= Box(25.4, 40, 60)
    body -= around(6, Pos(6, 0, 0) * peg(2.6, 25))
    body -= [
        Pos(0, 0, z) * turned([(5, -1.1), (6.9, -0.7, 0.3), (6.9, 0.7, 0.3), (5, 1.1)]) for z in (8.0, 16.0)
    ]
    body -= turned([(5, -0.1), (7.2, -0.1), (6, 1), (5, 1)]) + turned(
        [(5, 24.6), (7.6, 24.6), (6, 23), (5, 23)]
    )
    body -= around(4, Pos(0, 0, 24.5) * Rot(0, 90, 0) * peg(2.2, 20), start_deg=45)
    return body - around(2, Pos(0, 12.5, 24.5) * drill(2.4, 3))
