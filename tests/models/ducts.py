"""What do the parts look like that lead air, cables and paper?"""

from __future__ import annotations

from build123d import (
    Axis,
    Box,
    CenterArc,
    Line,
    Part,
    Plane,
    Pos,
    Rot,
    Sphere,
    Spline,
    extrude,
    make_face,
    mirror,
    revolve,
)

from tests.models.features import (
    along_x,
    at,
    countersink,
    level,
    outline,
    peg,
    rounded,
    slab,
    turned,
)


def bent_channel(section: list[tuple[float, float]], bend: float, arms: float) -> Part:
    """An outline of (offset, z) corners led along two arms and a quarter bend round z, mm."""
    turn = revolve(Plane.XZ * Pos(bend, 0) * outline(section), Axis.Z, 90)
    first = Rot(0, 0, 0) * extrude(Plane.XZ * Pos(bend, 0) * outline(section), arms)
    second = extrude(Plane.YZ * Pos(bend, 0) * outline(section), -arms)
    return Part() + turn + first + second


def cable_duct_corner() -> Part:
    """TV-0118: open quarter bend 50 x 36, walls 2.2 mm, cover lips, spigots, two cable-tie bridges, two screw eyes."""
    trough = [(-25, 0), (25, 0), (25, 36), (21.4, 36), (21.4, 34), (22.8, 34), (22.8, 2.2), (-22.8, 2.2)]
    trough += [(-22.8, 34), (-21.4, 34), (-21.4, 36), (-25, 36)]
    body = bent_channel(trough, 46, 26)
    bead = [(24.8, 3), (27, 3), (27, 7), (24.8, 7)]
    body += bent_channel(bead, 46, 26) + bent_channel([(x, z + 26) for x, z in bead], 46, 26)
    body += bent_channel([(-27, 3), (-24.8, 3), (-24.8, 7), (-27, 7)], 46, 26)
    spigot = [(-22.9, 2.1), (22.9, 2.1), (22.9, 30), (21, 30), (21, 4), (-21, 4), (-21, 30), (-22.9, 30)]
    tongue = extrude(Plane.XZ * Pos(46, 0) * outline(spigot), 9)
    body += Pos(0, -22, 0) * tongue
    body += Part() + mirror(Pos(0, -22, 0) * tongue, about=Plane(origin=(0, 0, 0), z_dir=(1, -1, 0)))
    bridge = along_x([(-4, 1), (4, 1), (4, 6, 1), (-4, 6, 1)], 18) - along_x(
        [(-5, 2.2), (5, 2.2), (5, 4), (-5, 4)], 12
    )
    body += [Pos(46, -14, 0) * bridge, Pos(-14, 46, 0) * Rot(0, 0, 90) * bridge]
    eye = turned([(0, 0), (8, 0), (8, 3.4), (5.6, 4.2, 0.6), (0, 4.2)])
    places = [(46 * 0.7071, 46 * 0.7071, 0)]
    body += at(places, eye)
    ears = [Pos(76, -12, 0) * Rot(0, 0, 0) * slab(20, 15, 4, 6), Pos(-12, 76, 0) * slab(15, 20, 4, 6)]
    body += ears
    body -= at([(79, -12, 4), (-12, 79, 4)], countersink(4.3, 8.4, 5))
    return Rot(0, 0, 20) * (body - at([(x, y, 4.2) for x, y, _ in places], countersink(4.3, 8.4, 6)))


def louvre_vane() -> Part:
    """TV-0123: lens-shaped vane 124 x 36, pivot pins Ø5 x 7, three gussets and a crank lug with a Ø3.2 hole."""
    upper = Spline((-18, 0), (-7, 3.6), (6, 3.2), (18, 0.6))
    lower = Spline((18, -0.6), (5, -1.2), (-7, -1.4), (-18, 0))
    section = make_face([upper, Line((18, 0.6), (18, -0.6)), lower])
    blade = Part() + extrude((Plane.YZ * section).face(), 62, both=True)
    blade += along_x([(-18.6, 0, 0.9), (-17, 2.6, 0.9), (-13, 2.6), (-13, -1.2), (-17, -1.6, 0.9)], 124)
    hub = Rot(0, 90, 0) * turned([(0, 0), (5.4, 0, 1.4), (5.4, 9), (3.4, 16, 1), (0, 16)])
    pin = Rot(0, 90, 0) * turned([(0, -1), (2.5, -1), (2.5, 6.2), (1.7, 7), (0, 7)])
    for x, turn in ((-62, 0), (62, 180)):
        blade += Pos(x, 0, 1) * Rot(0, 0, turn) * hub
        blade += Pos(x, 0, 1) * Rot(0, 0, turn + 180) * pin
    lug = along_x([(-6, 0.5), (7, 0.5), (12, 10), (12, 17.5, 3.9), (4, 17.5, 3.9), (4, 10, 3)], 3.6)
    blade += Pos(40, 0, 0) * lug
    blade -= Pos(30, 8, 13.5) * Rot(0, 90, 0) * peg(3.2, 30)
    rib = along_x([(-11, 1), (9, 1), (4, 5.2, 1.5), (-5, 5.2, 1.5)], 2.4)
    return Rot(32, 0, 0) * (blade + [Pos(x, 1, 0) * rib for x in (-31, 0, 26)])


def paper_chute() -> Part:
    """TV-0244: curved slide 96 wide and 74 high, walls 2.2 mm, flared mouth, runner ribs, two M4 ears."""
    back = (Plane.YZ * make_face(curved_strip(64, 2.4))).face()
    slide = Part() + extrude(back, 46, both=True)
    cheek = Part() + extrude((Plane.YZ * make_face(curved_strip(64, 20))).face(), 1.2, both=True)
    body = slide + [Pos(x, 0, 0) * cheek for x in (-45.2, 45.2)]
    runner = Part() + extrude((Plane.YZ * make_face(curved_strip(64, 3.8))).face(), 0.8, both=True)
    body += [Pos(x, 0, 0) * runner for x in (-30, -15, 0, 15, 30)]
    lip = along_x([(0, 0), (2.4, 0), (-4, 13, 0), (-6.2, 12.2, 0.8)], 92)
    body += Pos(0, 61.6, 64) * lip
    ears = [
        Pos(x, 62.8, 46) * Rot(90, 0, 0) * rounded(slab(18, 20, 3.4, 6), 0.8, level(3.4)) for x in (-52, 52)
    ]
    body += [Pos(0, 1.2, 0) * ear for ear in ears]
    body -= [Pos(x, 60.6, 46) * Rot(90, 0, 0) * countersink(4.3, 8.4, 6) for x in (-54.5, 54.5)]
    return body


def curved_strip(radius: float, thickness: float) -> list[CenterArc | Line]:
    """The closed outline, in (y, z), of a quarter-round strip whose outside has this radius, with a straight run-out."""
    inside = radius - thickness
    return [
        CenterArc((0, radius), radius, 270, 90),
        Line((radius, radius), (inside, radius)),
        CenterArc((0, radius), inside, 360, -90),
        Line((0, thickness), (-14, thickness - 1.5)),
        Line((-14, thickness - 1.5), (-14, -1.5)),
        Line((-14, -1.5), (0, 0)),
    ]


def air_nozzle() -> Part:
    """TV-0280: bezel Ø74, ball seat with five vanes and a grip bar, skirt Ø60 with three snap tongues."""
    bezel = turned([(30, 0), (37, 0, 0.8), (37, 3, 1.4), (31, 8, 2), (28.6, 8.4), (27.2, 7.4), (26, 4), (27.6, 0)])
    skirt = turned([(27.6, -16), (30, -16), (30, 1), (27.6, 1)])
    skirt -= [Rot(0, 0, t) * Pos(s, -29, -10) * Box(1.6, 8, 14) for t in (0, 120, 240) for s in (-6.3, 6.3)]
    skirt += [
        Rot(0, 0, t)
        * Pos(0, -29, -13)
        * along_x([(0, 2, 0.4), (-2.6, 3.4, 0.4), (-2.6, 4.4, 0.3), (0, 7.5)], 10)
        for t in (0, 120, 240)
    ]
    ball = (Part() + Sphere(27.2) - Sphere(24.6)) & Pos(0, 0, -3) * Box(80, 80, 16)
    vanes = [Pos(x, 0, -1.5) * Box(1.8, 60, 12) for x in (-15, -7.5, 7.5, 15)] + [
        Pos(0, 0, -1.5) * Box(60, 1.8, 10)
    ]
    ball += (Part() + vanes) & (Part() + Sphere(26))
    hub = turned([(0, -8), (6.5, -8, 1), (6.5, 6), (5.5, 9.5, 1.4), (0, 10)]) + Pos(0, 0, -1.5) * Box(
        1.8, 51, 12
    )
    tab = rounded(Pos(0, 0, 8) * Box(3.4, 9, 12), 1.3, lambda e: e.center().Z > 13)
    tilted = Rot(12, 0, -18) * (ball + hub + tab)
    body = bezel + skirt + tilted + turned([(26.5, -4), (28, -4), (28, 3), (26.5, 3)])
    return Rot(62, 0, 0) * body
