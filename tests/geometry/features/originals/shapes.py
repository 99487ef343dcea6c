"""Parts as a workshop draws them, made for the test of STEP originals alone: each with what its script says that no face tells.

`said` has figures as `Feature` has them; round faces are not said, for the kernel tells those of the finished solid.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from math import asin, cos, pi, radians, sin, sqrt, tan
from typing import Any

from build123d import (
    Box,
    Circle,
    Cone,
    Helix,
    Part,
    Plane,
    Pos,
    Rectangle,
    RegularPolygon,
    Rot,
    Sketch,
    SlotOverall,
    Solid,
    Sphere,
    Torus,
    chamfer,
    extrude,
    loft,
)
from OCP.BRepBuilderAPI import BRepBuilderAPI_NurbsConvert

from tests.models.features import (
    HANGING,
    along_y,
    around,
    at,
    counterbore,
    countersink,
    drill,
    level,
    outline,
    peg,
    rounded,
    slab,
    turned,
    upward,
)

Z = [0.0, 0.0, 1.0]


@dataclass
class Original:
    """A solid, or several in one file, and what its script says of it."""

    body: Part
    said: list[dict[str, Any]] = field(default_factory=list)
    is_in_inches: bool = False
    rounds_of: Part | None = None  # the solid before its surfaces were written as splines: their round faces are its own

    def says(self, kind: str, size: float, **more: Any) -> Original:
        self.said.append({"kind": kind, "size": size, **more})
        return self


def flange() -> Original:
    """A neck flange with eight holes, a raised face and a fillet at the neck."""
    body = turned([(25, 0), (80, 0), (80, 18), (35, 18, 5), (35, 42), (25, 42)]) + turned([(25, -2), (51, -2), (51, 0.5), (25, 0.5)])
    body -= [Rot(0, 0, 22.5 + 45 * i) * Pos(62.5, 0, 18) * drill(14, 18) for i in range(8)]
    return Original(body).says("turned", 160, axis=Z, length=44)


def angle_bracket() -> Original:
    """Two slots in the foot, two holes in the back, a gusset, fillets in the bend."""
    body = Part() + along_y([(0, 0), (70, 0), (70, 8), (8, 8, 5), (8, 60), (0, 60)], 80)
    body = rounded(body, 10, lambda e: abs(e.center().X - 70) < 0.01 and abs(e.length - 8) < 0.01)
    body += Pos(0, 0, 0) * along_y([(4, 4), (44, 4), (44, 8.1), (8.1, 40), (4, 40)], 6)
    for y in (-24, 24):
        body -= Pos(42, y, -1) * extrude(SlotOverall(26, 9), 10)
        body -= Pos(-1, y, 40) * Rot(0, 90, 0) * Pos(0, 0, 12) * drill(6.6, 14)
    one = Original(body)
    for y in (-24, 24):
        one.says("slot", 9, at=[42, y, 0], axis=Z, second=26, length=8, inner=True, through=True)
    return one


def stepped_shaft() -> Original:
    """Steps, a closed keyway, a square end, a centre hole, a groove for a ring."""
    body = turned([(0, 0), (10, 0), (10, 30), (15, 30), (15, 90), (12.5, 90), (12.5, 130), (8.5, 130), (8.5, 150), (0, 150)])
    body = body - (Pos(0, 0, 133) * (peg(40, 30) - Pos(0, 0, 15) * Box(12, 12, 32)))
    body -= Pos(15 - 4, 0, 60) * Rot(0, 90, 0) * extrude(SlotOverall(32, 8), 8)
    body -= turned([(11.2, 118), (14, 118), (14, 119.6), (11.2, 119.6)])
    body -= Rot(180, 0, 0) * (drill(3.15, 7) + Cone(1.5, 3.3, 3.12, align=HANGING))
    body = chamfer(body.edges().filter_by(level(0)).filter_by(lambda e: e.length > 40), 1)
    return Original(Part() + body).says("square", 12, at=[0, 0, 150], axis=Z, inner=False).says(
        "slot", 8, at=[15, 0, 60], axis=[1.0, 0.0, 0.0], second=32, inner=True, through=False
    )


def nut() -> Original:
    """A hexagon 30 over flats with both chamfers and a plain bore with its edges broken."""
    body = Part() + extrude(RegularPolygon(15, 6, major_radius=False), 16)
    body &= turned([(0, 0), (14.2, 0), (18, 2.2), (18, 13.8), (14.2, 16), (0, 16)])
    body -= turned([(0, -1), (9.75, -1), (9.75, 0), (8.75, 1), (8.75, 15), (9.75, 16), (9.75, 17), (0, 17)])
    return Original(body).says("hexagon", 30, at=[0, 0, 16], axis=Z, inner=False)


def counterbored_plate() -> Original:
    """Counterbores for cap screws, countersinks, two blind dowel holes with a drill's tip, one from below."""
    body = slab(120, 80, 22, 8)
    body -= at([(x, y, 22) for x in (-48, 48) for y in (-28, 28)], counterbore(9, 15, 9, 22))
    body -= at([(0, y, 22) for y in (-28, 28)], countersink(6.6, 13.2, 22))
    tip = Pos(0, 0, -12) * Cone(0, 4, 4 / tan(radians(59)), align=HANGING)
    body -= at([(x, 0, 22) for x in (-30, 30)], drill(8, 12) + tip)
    body -= Rot(180, 0, 0) * (Pos(0, 0, 0) * drill(10, 14))
    return Original(body)


def casting() -> Original:
    """A pot with ears: fillets everywhere, bearing seats, bosses with screw holes."""
    body = rounded(Part() + Pos(0, 0, 30) * Box(110, 70, 60), 8, lambda e: e.bounding_box().size.Z > 50)
    body = rounded(body, 4, level(60))
    ears = [Pos(x, y, 0) * slab(26, 26, 9, 6) for x in (-60, 60) for y in (-24, 24)]
    body += ears
    body += Pos(0, 0, 60) * turned([(0, -2), (24, -2), (24, 6, 1.5), (0, 6)])
    body -= Pos(0, 0, 8) * rounded(Part() + Pos(0, 0, 22) * Box(96, 56, 44), 4, lambda _: True)
    body -= at([(0, 0, 66)], drill(32, 20) + drill(40, 5))
    body -= at([(x, y, 9) for x in (-64, 64) for y in (-26, 26)], drill(9, 9) + drill(18, 1))
    return Original(body)


def spur_gear() -> Original:
    """22 teeth of module 3, 20 mm wide, bore 20 with a keyway, six holes in the web."""
    gear = Part() + extrude(toothed(22, 3), 20)
    gear -= [Pos(0, 0, z) * (peg(54, 6) - peg(34, 6)) for z in (-1, 15)]
    gear -= Pos(0, 0, 20) * drill(20, 20)
    gear -= Pos(10, 0, 10) * Box(5.6, 6, 22)
    gear -= around(6, Pos(22, 0, 20) * drill(7, 20))
    return Original(gear).says("teeth", 72, at=[0, 0, 20], axis=Z, count=22, second=58.5, length=20)


def toothed(count: int, module: float) -> Sketch:
    """An involute profile, ISO 53: 20°, addendum m, dedendum 1.25 m, no backlash; points on the involute joined by lines."""
    pitch, tip, foot = module * count / 2, module * (count / 2 + 1), module * (count / 2 - 1.25)
    base = pitch * cos(radians(20))
    half = pi / (2 * count) + tan(radians(20)) - radians(20)
    corners = []
    for tooth in range(count):
        middle = 2 * pi * tooth / count
        side = []
        for step in range(5):
            reach = max(base, foot) + (tip - max(base, foot)) * step / 4
            turn = sqrt(max((reach / base) ** 2 - 1, 0))
            angle = half - (turn - (pi / 2 - asin(min(base / reach, 1.0))))
            side.append((reach, angle))
        rising = [(foot, side[0][1]), *side] if base > foot else side
        corners += [(r * cos(middle - a), r * sin(middle - a)) for r, a in rising]
        corners += [(r * cos(middle + a), r * sin(middle + a)) for r, a in reversed(rising)]
    return outline(corners)


def screwed(minor: float, major: float, pitch: float, length: float, *, crest: float, foot: float, is_left: bool = False) -> Part:
    """A threaded rod on z = 0; the ridge's flanks go on below the core, or the kernel's fusion loses it."""
    sunk = pitch * 0.1
    widening = (foot - crest) * pitch / 2 / (major - minor) * sunk
    low, high = foot * pitch / 2 + widening, crest * pitch / 2
    profile = Plane.XZ * outline([(minor - sunk, -low), (major, -high), (major, high), (minor - sunk, low)])
    ridge = Part() + Solid.sweep(profile.face(), Helix(pitch, length + 2 * pitch, minor, lefthand=is_left), is_frenet=True)
    rod = Pos(0, 0, -2 * pitch) * peg(2 * minor, length + 4 * pitch) + Pos(0, 0, -pitch) * ridge
    return rod & peg(2 * major + 10, length)


def stud() -> Original:
    """M12 × 1.75 on one end, a plain shank, a flat across."""
    depth = 0.5413 * 1.75
    body = screwed(6 - depth, 6, 1.75, 12, crest=1 / 8, foot=3 / 4) & turned([(0, 0), (4.8, 0), (6.4, 1.6), (6.4, 12), (0, 12)])
    body += Pos(0, 0, 11) * peg(12.6, 40)
    return Original(body).says("thread", 12, at=[0, 0, 0], axis=[0.0, 0.0, -1.0], second=1.75, hand="right", inner=False)


def bolt() -> Original:
    """A hexagon head 24 over flats, shank 16, a left-hand coarse thread M16 × 2."""
    depth = 0.5413 * 2
    body = screwed(8 - depth, 8, 2, 15, crest=1 / 8, foot=3 / 4, is_left=True) & turned([(0, 0), (6.6, 0), (8.4, 1.8), (8.4, 15), (0, 15)])
    body += Pos(0, 0, 14) * peg(16.6, 21)
    head = Part() + extrude(RegularPolygon(12, 6, major_radius=False), 10)
    head &= turned([(0, 0), (14, 0), (14, 8.5), (11.4, 10), (0, 10)])
    body += Pos(0, 0, 34.9) * head
    one = Original(body).says("hexagon", 24, at=[0, 0, 44.9], axis=Z, inner=False)
    return one.says("thread", 16, at=[0, 0, 0], axis=[0.0, 0.0, -1.0], second=2.0, hand="left", inner=False)


def threaded_block() -> Original:
    """A block with an inside thread M20 × 2.5 through, and one left-hand M12 × 1.75 blind."""
    body = Part() + Pos(0, 0, 7) * Box(60, 32, 14)
    body -= Pos(-14, 0, -1) * screwed(10 - 0.5413 * 2.5, 10, 2.5, 16, crest=1 / 4, foot=7 / 8)
    body -= Pos(16, 0, 4) * screwed(6 - 0.5413 * 1.75, 6, 1.75, 12, crest=1 / 4, foot=7 / 8, is_left=True)
    one = Original(body).says("thread", 20, at=[-14, 0, 14], axis=Z, second=2.5, hand="right", inner=True)
    return one.says("thread", 12, at=[16, 0, 14], axis=Z, second=1.75, hand="left", inner=True)


def worm() -> Original:
    """A conveyor's screw: one flight of lead 30 on a shaft of 16, over it 44, a cross hole at either end."""
    body = Part() + peg(16, 120)
    profile = Plane.XZ * outline([(7, -2.5), (22, -1.6), (22, 1.6), (7, 2.5)])
    flight = Part() + Solid.sweep(profile.face(), Helix(30, 80, 7), is_frenet=True)
    body += Pos(0, 0, 20) * flight
    for z in (7, 113):
        body -= Pos(0, 0, z) * Rot(90, 0, 0) * Pos(0, 0, 15) * drill(5, 30)
    return Original(body).says("thread", 44, at=[0, 0, 60], axis=Z, second=30, hand="right", inner=False)


def clevis() -> Original:
    """A fork: two round lugs with a hole of 12, a shank with a blind hole and a cross hole."""
    fork = Part() + Pos(0, 0, 10) * Box(30, 34, 40) + Pos(0, 0, 30) * Rot(90, 0, 0) * Pos(0, 0, -17) * peg(30, 34)
    fork -= Pos(0, 0, 26) * Box(40, 16, 48)
    fork += Pos(0, 0, -40) * peg(24, 32)
    fork -= Pos(0, 17, 30) * Rot(-90, 0, 0) * drill(12, 34)
    fork -= Pos(0, 0, -40) * Rot(180, 0, 0) * drill(10.2, 22)
    fork -= Pos(0, 0, -26) * Rot(0, 90, 0) * Pos(0, 0, 12) * drill(5, 24)
    return Original(fork).says("faces", 16, axis=[0.0, 1.0, 0.0], inner=True)


def pulley() -> Original:
    """Two V grooves, a web with five holes, a hub with bore, keyway and a set screw's hole."""
    rim = [(0, 0), (60, 0), (60, 3), (50, 6.5), (50, 9.5), (60, 13), (60, 16), (50, 19.5), (50, 22.5), (60, 26), (60, 29), (0, 29)]
    body = turned(rim) - [Pos(0, 0, z) * (peg(88, 12) - peg(44, 12)) for z in (-1, 18)]
    body += Pos(0, 0, 28) * peg(44, 12)
    body -= Pos(0, 0, 40) * drill(24, 40)
    body -= Pos(12, 0, 20) * Box(6.6, 8, 44)
    body -= around(5, Pos(33, 0, 20) * drill(16, 14))
    body -= Pos(0, 0, 34) * Rot(-90, 0, 0) * Pos(0, 0, 22) * drill(5, 16)
    return Original(body).says("turned", 120, axis=Z, length=40)


def tee() -> Original:
    """A pipe 40 / 30 with a branch 30 / 22 at right angles and one at 45°."""
    body = Rot(0, 90, 0) * Pos(0, 0, -60) * peg(40, 120) + peg(30, 50) + Rot(0, 135, 0) * peg(24, 60)
    body -= Rot(0, 90, 0) * Pos(0, 0, 60) * drill(30, 120)
    body -= Pos(0, 0, 50) * drill(22, 50)
    body -= Rot(0, 135, 0) * Pos(0, 0, 60) * drill(16, 60)
    return Original(Part() + body)


def manifold() -> Original:
    """Ports that meet: blind long ones, cross ones, with seats, from four sides."""
    body = Part() + Box(90, 60, 40)
    body -= Pos(45, 0, 0) * Rot(0, 90, 0) * (drill(10, 76) + drill(18, 3) + drill(14.5, 14))
    body -= at([(x, 0, 20) for x in (-30, 0, 28)], drill(6, 20) + drill(16, 2.5))
    body -= Pos(-10, 30, 0) * Rot(-90, 0, 0) * (drill(8, 26) + drill(13, 10))
    body -= at([(x, y, 20) for x in (-38, 38) for y in (-22, 22)], drill(6.6, 40))
    return Original(body)


def windows() -> Original:
    """A plate with a square through, a hexagon pocket, slots at angles, one of them blind."""
    body = slab(130, 70, 12, 5)
    body -= Pos(-45, 15, -1) * upward([(-6, -6), (6, -6), (6, 6), (-6, 6)], 14)
    body -= Pos(-15, 15, 6) * Rot(0, 0, 11) * extrude(RegularPolygon(6.5, 6, major_radius=False), 8)
    body -= Pos(20, 12, -1) * Rot(0, 0, 30) * extrude(SlotOverall(34, 8), 14)
    body -= Pos(48, -5, 7) * Rot(0, 0, 90) * extrude(SlotOverall(40, 12), 8)
    body -= Pos(-30, -18, 12) * drill(11, 12)
    one = Original(body).says("square", 12, at=[-45, 15, 12], axis=Z, inner=True)
    one.says("hexagon", 13, at=[-15, 15, 12], axis=Z, inner=True)
    one.says("slot", 8, at=[20, 12, 12], axis=Z, second=34, length=12, inner=True, through=True)
    return one.says("slot", 12, at=[48, -5, 12], axis=Z, second=40, length=5, inner=True, through=False)


def leaning_boss() -> Original:
    """A boss that leans by 25° on a plate, with a stepped bore along it."""
    body = slab(80, 60, 10, 6)
    body += Pos(0, 0, 4) * Rot(0, 25, 0) * peg(26, 36)
    body &= Pos(0, 0, 50) * Box(200, 200, 100)
    body -= Pos(0, 0, 4) * Rot(0, 25, 0) * Pos(0, 0, 36) * (drill(12, 60) + drill(18, 10))
    body -= at([(x, y, 10) for x in (-32, 32) for y in (-22, 22)], drill(5.5, 10))
    return Original(body)


def spider() -> Original:
    """Three arms with a pad each, rounded where they leave the hub."""
    arms = [Rot(0, 0, 120 * i) * (Pos(24, 0, 5) * Box(48, 12, 10) + Pos(48, 0, 0) * peg(24, 16)) for i in range(3)]
    body = Part() + peg(34, 24) + arms
    body = rounded(body, 2, lambda e: e.bounding_box().size.Z > 9.9 and abs(e.bounding_box().size.Z - 10) < 0.1 and e.bounding_box().size.X < 0.1 and e.bounding_box().size.Y < 0.1)
    body -= Pos(0, 0, 24) * drill(16.2, 24)
    body -= around(3, Pos(48, 0, 16) * counterbore(8.4, 14, 5, 16))
    return Original(body)


def ratchet() -> Original:
    """Sixteen slanting teeth and a square hole of 10."""
    corners = []
    for i in range(16):
        start = 2 * pi * i / 16
        corners += [(30 * cos(start), 30 * sin(start)), (24 * cos(start + 0.03), 24 * sin(start + 0.03))]
    body = upward(corners, 8) + peg(26, 14)
    body -= Pos(0, 0, -1) * upward([(-5, -5), (5, -5), (5, 5), (-5, 5)], 16)
    one = Original(body).says("square", 10, at=[0, 0, 14], axis=Z, inner=True)
    return one.says("teeth", 60, at=[0, 0, 8], axis=Z, count=16, second=48)


def split_clamp() -> Original:
    """A bore of 30 that a slit opens, a screw across it with a counterbore and a hexagon pocket for the nut."""
    body = peg(50, 30) + Pos(30, 0, 15) * Box(36, 26, 30)
    body -= Pos(0, 0, 30) * drill(30, 30)
    body -= Pos(30, 0, 15) * Box(50, 3, 40)
    body -= Pos(38, 13, 15) * Rot(-90, 0, 0) * counterbore(6.6, 12, 4, 26)
    body -= Pos(38, -13.01, 15) * Rot(90, 0, 0) * Pos(0, 0, -5) * extrude(RegularPolygon(5, 6, major_radius=False), 6)
    return Original(body).says("hexagon", 10, at=[38, -13, 15], axis=[0.0, -1.0, 0.0], inner=True)


def knob() -> Original:
    """A star grip of seven lobes with a blind D bore from below."""
    body = peg(52, 18) - around(7, Pos(31, 0, -1) * peg(18, 20))
    body = rounded(Part() + body, 2, level(18))
    body += Pos(0, 0, -12) * peg(24, 14)
    bore = Pos(0, 0, -12) * Rot(180, 0, 0) * drill(8, 22)
    body -= bore - Pos(0, 6 + 2.9, 0) * Box(20, 12, 60)
    return Original(body).says("flats", 6.9, axis=[0.0, 1.0, 0.0], inner=True).says("teeth", 52, at=[0, 0, 0], axis=Z, count=7)


def ringed_cap() -> Original:
    """A thin cap with a ring groove outside, rounded inside, a hole in its middle."""
    body = turned([(0, 0), (36, 0, 3), (36, 40), (33.5, 40), (33.5, 2.5, 2), (0, 2.5)])
    body -= turned([(34.6, 12), (37, 12), (37, 15), (34.6, 15)])
    body -= Pos(0, 0, 2.5) * drill(7, 3)
    return Original(body).says("turned", 72, axis=Z, length=40)


def with_pins() -> Original:
    """Two bodies in one file: a plate with two bores, and two pins of the bores' own size beside it."""
    plate = slab(60, 30, 8, 3) - at([(x, 0, 8) for x in (-18, 18)], drill(10, 8))
    pins = [Pos(x, 40, 0) * rounded(peg(9.9, 24), 0.8, level(24)) for x in (-18, 18)]
    return Original(Part(children=[plate, *pins]))


def float_body() -> Original:
    """A closed float with a round void and a flat one inside: both are voids, no holes."""
    body = turned([(0, 0), (30, 0, 6), (30, 70, 6), (0, 70)])
    body -= Pos(0, 0, 70) * drill(5, 6)
    hollow = body - Pos(0, 0, 24) * Sphere(14) - Pos(0, 0, 46) * peg(40, 14)
    one = Original(hollow, rounds_of=body).says("turned", 60, axis=Z, length=70)
    return one.says("void", 28, at=[0, 0, 24]).says("void", 40, at=[0, 0, 53])


def in_inches() -> Original:
    """A plate drawn in inches: holes of a quarter and of three eighths, a slot of half an inch."""
    inch = 25.4
    body = slab(4 * inch, 2 * inch, 0.375 * inch, 0.25 * inch)
    body -= at([(x * inch, y * inch, 0.375 * inch) for x in (-1.5, 1.5) for y in (-0.6, 0.6)], drill(0.25 * inch, 10))
    body -= Pos(0, 0, 0.375 * inch) * drill(0.375 * inch, 0.2 * inch)
    body -= Pos(0, 0.6 * inch, -1) * extrude(SlotOverall(1.5 * inch, 0.5 * inch), 12)
    one = Original(body, is_in_inches=True)
    return one.says("slot", 12.7, at=[0, 15.24, 9.525], axis=Z, second=38.1, length=9.525, inner=True, through=True)


def small_pins() -> Original:
    """Twelve pins of 2 to 3.1 mm and as many holes, on a plate of 60 mm."""
    body = slab(64, 40, 4, 2)
    for i in range(12):
        x, size = -27.5 + 5 * i, 2 + 0.1 * i
        body += Pos(x, 10, 3.5) * peg(size, 6)
        body -= Pos(x, -10, 4) * drill(size, 4)
    return Original(body)


def large_frame() -> Original:
    """A frame of 900 mm with holes from 3 to 60."""
    body = slab(900, 500, 25, 40) - Pos(0, 0, -1) * slab(700, 300, 27, 30)
    for i, size in enumerate((3, 5, 8.5, 13, 22, 30, 45, 60)):
        body -= Pos(-390 + 110 * i, 200, 25) * drill(size, 25)
        body -= Pos(-390 + 110 * i, -200, 25) * drill(size, 12)
    return Original(body).says("slot", 300, at=[0, 0, 25], axis=Z, second=700, length=25, inner=True, through=True)


def handwheel() -> Original:
    """A round rim on three spokes, a hub with a square of 8 and a blind hole beside it."""
    body = Pos(0, 0, 8) * Torus(34, 4.5) + peg(22, 16)
    body += [Rot(0, 0, 120 * i) * Pos(9, 0, 8) * Rot(0, 90, 0) * peg(6, 25) for i in range(3)]
    body -= Pos(0, 0, -1) * upward([(-4, -4), (4, -4), (4, 4), (-4, 4)], 18)
    body -= Rot(0, 0, 60) * Pos(8.2, 0, 16) * drill(2.5, 6)
    return Original(Part() + body).says("square", 8, at=[0, 0, 16], axis=Z, inner=True)


def lofted() -> Original:
    """A free form from a square to a circle: nothing round in it but two holes across."""
    body = Part() + loft([Rectangle(60, 40), Pos(0, 0, 50) * Circle(14)])
    for z, size in ((12, 6), (30, 9)):
        body -= Pos(0, 40, z) * Rot(-90, 0, 0) * drill(size, 90)
    return Original(body)


def bent_sheet() -> Original:
    """A U of sheet 2 mm with bends of 3 inside, holes in all three sides, one oblong."""
    body = Part() + along_y([(-30, 0, 5), (30, 0, 5), (30, 40), (28, 40), (28, 2, 3), (-28, 2, 3), (-28, 40), (-30, 40)], 50)
    body -= Pos(0, 0, 2) * drill(16, 3)
    body -= Pos(30, 0, 26) * Rot(0, 90, 0) * drill(8, 62)
    body -= Pos(30, 15, 30) * Rot(0, 90, 0) * drill(3.2, 3)
    body -= Pos(-14, -14, -1) * extrude(SlotOverall(16, 5), 5)
    one = Original(body).says("slot", 5, at=[-14, -14, 2], axis=Z, second=16, length=2, inner=True, through=True)
    return one.says("faces", 56, axis=[1.0, 0.0, 0.0], inner=True)


def as_splines() -> Original:
    """The hinge plate of a program that writes every surface as a spline: its holes are no cylinders in the file."""
    body = slab(70, 36, 10, 5)
    body += Pos(0, 18, 10) * Rot(0, 90, 0) * Pos(0, 0, -35) * peg(20, 70)
    body -= Pos(0, 18, 10) * Rot(0, 90, 0) * Pos(0, 0, 35) * drill(8.2, 70)
    body -= at([(x, -8, 10) for x in (-25, 0, 25)], counterbore(5.5, 10, 4, 10))
    return Original(Part(BRepBuilderAPI_NurbsConvert(body.wrapped, True).Shape()), rounds_of=body)


def drafted_cup() -> Original:
    """A cup of cast iron, all walls drafted by 3°: nothing round that is a cylinder but one drilled hole."""
    body = turned([(0, 0), (25, 0, 2), (27.6, 50), (24.6, 50), (22.2, 4, 2), (0, 4)])
    body -= Pos(10, 0, 4) * drill(6, 4)
    return Original(body)


ORIGINALS: dict[str, Callable[[], Original]] = {
    each.__name__.replace("_", "-"): each
    for each in (
        flange, angle_bracket, stepped_shaft, nut, counterbored_plate, casting, spur_gear, stud, bolt, threaded_block, worm, clevis,
        pulley, tee, manifold, windows, leaning_boss, spider, ratchet, split_clamp, knob, ringed_cap, with_pins, float_body, in_inches,
        small_pins, large_frame, handwheel, lofted, bent_sheet, as_splines, drafted_cup,
    )
}  # fmt: skip
