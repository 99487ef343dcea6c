"""Solids with bosses, slots, drives, flats, spacings, turned shapes, teeth and threads, and their truths."""

from __future__ import annotations

from math import acos, cos, degrees, pi, radians, sin

from build123d import (
    Box,
    Circle,
    Edge,
    Part,
    Plane,
    Pos,
    RegularPolygon,
    Rot,
    SlotOverall,
    Wire,
    extrude,
    fillet,
    mirror,
    sweep,
)

from tests.geometry.features.unseen.holes import slab
from tests.geometry.features.unseen.solid import Solid, rod
from tests.models.features import outline, turned
from tests.models.threaded import thread


def hexagon(across: float, high: float) -> Part:
    return Part() + extrude(RegularPolygon(across / 2, 6, major_radius=False), high)


def stepped_shaft() -> Solid:
    made = Solid(
        turned([(0, 0), (5, 0), (5, 12), (10, 12), (10, 40), (15, 40), (15, 46), (8, 46), (8, 70), (0, 70)])
    )
    made.boss(10.0, (0, 0, 0), (0, 0, 12)).boss(20.0, (0, 0, 12), (0, 0, 40), ends=True)
    made.boss(30.0, (0, 0, 46), (0, 0, 40)).boss(16.0, (0, 0, 70), (0, 0, 46))
    return made.other("turned", size=30.0, length=70.0, axis=[0, 0, 1], at=[0, 0, 0])


def bosses() -> Solid:
    made = Solid(slab(80, 40, 3))
    for diameter, x, high in ((4.0, -30, 8), (8.0, -15, 10), (15.0, 8, 6), (13.2, 28, 9)):
        made.add(diameter, (x, 0, 3 + high), (x, 0, 3))
    made.bore(2.5, (-15, 0, 13), (-15, 0, 5), through=False)
    return made.bore(4.4, (28, 0, 12), (28, 0, 0))


def leaning_bosses() -> Solid:
    made = Solid(slab(70, 40, 10))
    for x, lean, diameter in ((-18, 30, 9.0), (14, 15, 12.0)):
        along = (sin(radians(lean)), 0.0, cos(radians(lean)))
        foot = [x, 0.0, 10.0]
        top = [p + 14 * d for p, d in zip(foot, along, strict=True)]
        made.body += rod(diameter, top, foot, past=4)
        made.boss(diameter, top, foot, ends=False, aimed=True)
    return made


def filleted_boss() -> Solid:
    """Its foot runs out in a radius of 2, its top edge is rounded by 1."""
    made = Solid(
        turned([(0, 0), (30, 0), (30, 5), (12, 5, 2), (12, 20, 1), (0, 20)]), chord_mm=0.05, angle_rad=0.3
    )
    made.boss(60.0, (0, 0, 5), (0, 0, 0))
    return made.boss(24.0, (0, 0, 19), (0, 0, 7), ends=False)


def slots() -> Solid:
    made = Solid(slab(90, 50, 8))
    for x, y, long, wide, deep in ((-20, 10, 25.0, 9.0, 8), (20, 10, 20.0, 6.0, 8), (0, -12, 40.0, 10.0, 5)):
        through = deep == 8
        made.body -= Pos(x, y, 8 - deep - 1 * through) * extrude(SlotOverall(long, wide), deep + 2)
        top, end = (x, y, 8), (x, y, 8 - deep)
        made.other(
            "slot",
            size=wide,
            length=float(deep),
            second=long,
            axis=[0, 0, 1],
            at=list(top),
            inner=True,
            through=through,
        )
        for side in (-1, 1):
            off = side * (long - wide) / 2
            made.maybe("hole", wide, (x + off, y, top[2]), (x + off, y, end[2]))
    return made


def cornered_slot() -> Solid:
    """A through window and a blind pocket with rounded corners: no round hole in either."""
    made = Solid(slab(70, 40, 6))
    window = Pos(-15, 0, 3) * Box(21, 8, 20)
    pocket = Pos(16, 0, 2) * outline_pocket()
    made.body = made.body - window - pocket
    made.other(
        "slot", size=8.0, length=6.0, second=21.0, axis=[0, 0, 1], at=[-15, 0, 6], inner=True, through=True
    )
    return made.other(
        "slot", size=12.0, length=4.0, second=24.0, axis=[0, 0, 1], at=[16, 0, 6], inner=True, through=False
    )


def outline_pocket() -> Part:
    return Part() + extrude(outline([(-12, -6, 2.5), (12, -6, 2.5), (12, 6, 2.5), (-12, 6, 2.5)]), 10)


def square_drive() -> Solid:
    made = Solid(Part() + rod(30, (0, 0, 0), (0, 0, 24)))
    made.boss(30.0, (0, 0, 24), (0, 0, 0))
    made.body -= Pos(0, 0, 6) * Rot(0, 0, 20) * Box(10.15, 10.15, 12)
    made.other("square", size=10.15, length=12.0, axis=[0, 0, -1], at=[0, 0, 0], inner=True)
    return made.bore(6.5, (0, 0, 24), (0, 0, 12), through=None, cut_past=1)


def square_head() -> Solid:
    made = Solid(Part() + rod(20, (0, 0, 0), (0, 0, 30)))
    made.boss(20.0, (0, 0, 0), (0, 0, 30), asked=True)
    made.body += Pos(0, 0, 30) * slab(13, 13, 15)
    return made.other("square", size=13.0, length=15.0, axis=[0, 0, 1], at=[0, 0, 45], inner=False)


def nut() -> Solid:
    made = Solid(hexagon(19, 10))
    made.bore(10.0, (0, 0, 10), (0, 0, 0))
    return made.other("hexagon", size=19.0, length=10.0, axis=[0, 0, 1], at=[0, 0, 10], inner=False)


def hexagon_pocket() -> Solid:
    made = Solid(slab(40, 30, 20))
    made.body -= Pos(0, 0, 14.5) * Rot(0, 0, 17) * hexagon(10, 20)
    made.bore(6.5, (0, 0, 14.5), (0, 0, 0), cut_past=2)
    return made.other("hexagon", size=10.0, length=5.5, axis=[0, 0, 1], at=[0, 0, 20], inner=True)


def bush_flats() -> Solid:
    """A flange with two flats 25.4 apart; Ø30 is left between them on two sides."""
    made = Solid(turned([(6, 0), (15, 0), (15, 5), (10, 5), (10, 25), (6, 25)]))
    made.body = made.body & Pos(0, 0, 12) * Box(25.4, 60, 60)
    arc = 360 - 4 * degrees(acos(12.7 / 15))
    made.hole(12.0, (0, 0, 25), (0, 0, 0)).boss(20.0, (0, 0, 25), (0, 0, 5))
    made.boss(30.0, (0, 0, 5), (0, 0, 0), arc=arc)
    return made.other("flats", size=25.4, length=5.0, axis=[0, 0, 1], at=[0, 0, 0], inner=False)


def d_shaft() -> Solid:
    """Ø12, a flat 4.5 from the axis over the upper 15."""
    made = Solid(Part() + rod(12, (0, 0, 0), (0, 0, 40)))
    made.body -= Pos(4.5 + 5, 0, 25 + 10) * Box(10, 20, 20)
    made.boss(12.0, (0, 0, 0), (0, 0, 40), ends=False, pieces=2)
    return made.other("flats", size=10.5, length=15.0, axis=[0, 0, 1], at=[0, 0, 40], inner=False)


def channel() -> Solid:
    """33 clear between two cheeks of 4.2, on a base of 5."""
    made = Solid(slab(41.4, 50, 30) - Pos(0, 0, 5) * slab(33, 60, 40))
    made.other("faces", size=33.0, axis=[1, 0, 0], inner=True)
    return made.other("faces", size=41.4, axis=[1, 0, 0], inner=False)


def turned_handle() -> Solid:
    made = Solid(
        turned([(0, 0), (6, 0), (11, 20), (11, 24), (7, 50), (14, 62), (9, 80), (0, 84)]),
        chord_mm=0.05,
        angle_rad=0.3,
    )
    made.boss(22.0, (0, 0, 24), (0, 0, 20))
    return made.other("turned", size=28.0, length=84.0, axis=[0, 0, 1], at=[0, 0, 0])


def toothed(count: int, tip: float, root: float, wide: float, bore: float) -> Solid:
    """Straight-sided teeth whose tips and roots lie on two circles."""
    corners = []
    for tooth in range(count):
        for radius, share in ((root, -0.30), (tip, -0.14), (tip, 0.14), (root, 0.30)):
            turn = 2 * pi * (tooth + share) / count
            corners.append((radius * cos(turn), radius * sin(turn)))
    made = Solid(Part() + extrude(outline(corners), wide))
    made.bore(bore, (0, 0, wide), (0, 0, 0))
    return made.other(
        "teeth", size=2 * tip, length=wide, second=2 * root, count=count, axis=[0, 0, 1], at=[0, 0, 0]
    )


def splined() -> Solid:
    """Six keys round a shaft: its round parts between the keys are arcs."""
    made = Solid(Part() + rod(24, (0, 0, 0), (0, 0, 40)))
    for turn in range(6):
        made.body += Rot(0, 0, 60 * turn) * Pos(12, 0, 20) * Box(6, 5, 40)
    made.maybe("boss", 24.0, (0, 0, 40), (0, 0, 0))
    return made.other(
        "teeth", size=2 * (15**2 + 2.5**2) ** 0.5, length=40.0, count=6, axis=[0, 0, 1], at=[0, 0, 0]
    )


def outside_thread(major: float, pitch: float, hand: str) -> Solid:
    depth = 0.6134 * pitch
    body = thread(major / 2 - depth, major / 2, pitch, 6 * pitch, crest=1 / 8, foot=7 / 8)
    body += Pos(0, 0, -6) * rod(major + 6, (0, 0, 0), (0, 0, 6.2))
    made = Solid(Part() + (mirror(body, Plane.XZ) if hand == "left" else body), angle_rad=0.5, chord_mm=0.06)
    made.boss(major + 6, (0, 0, -6), (0, 0, 0.2), ends=False)
    made.maybe("boss", major, (0, 0, 6 * pitch), (0, 0, 0)).maybe(
        "boss", major - 2 * depth, (0, 0, 6 * pitch), (0, 0, 0)
    )
    return made.other(
        "thread", size=major, second=pitch, axis=[0, 0, 1], at=[0, 0, 0], hand=hand, inner=False
    )


def inside_thread(major: float, pitch: float, hand: str) -> Solid:
    depth = 0.5413 * pitch
    core = thread(major / 2 - depth, major / 2, pitch, 8 * pitch, crest=1 / 4, foot=7 / 8)
    core = Part() + (mirror(core, Plane.XZ) if hand == "left" else core)
    high = 6 * pitch
    made = Solid(slab(major + 14, major + 10, high) - Pos(0, 0, -pitch) * core, angle_rad=0.5, chord_mm=0.06)
    made.maybe("hole", major, (0, 0, high), (0, 0, 0)).maybe(
        "hole", major - 2 * depth, (0, 0, high), (0, 0, 0)
    )
    return made.other("thread", size=major, second=pitch, axis=[0, 0, 1], at=[0, 0, 0], hand=hand, inner=True)


def elbow() -> Solid:
    """A quarter of a torus between two straight tubes: only the straight ends are round holes and bosses."""
    way = Wire(
        [Edge.make_line((30, -25, 0), (30, 0, 0)), quarter(30.0), Edge.make_line((0, 30, 0), (-15, 30, 0))]
    )
    start = Plane(origin=(30, -25, 0), z_dir=(0, 1, 0))
    outer, inner = (Part() + sweep(start * Circle(radius), path=way) for radius in (10, 8))
    made = Solid(Part() + outer - inner, chord_mm=0.05, angle_rad=0.3)
    for top, foot in (((30, -25, 0), (30, 0, 0)), ((-15, 30, 0), (0, 30, 0))):
        made.boss(20.0, top, foot, ends=False)
        made.hole(16.0, top, foot, through=None, ends=False)
    return made


def quarter(radius: float) -> Edge:
    return Edge.make_circle(radius, start_angle=0, end_angle=90)


def pinned_shaft() -> Solid:
    made = Solid(Part() + rod(20, (0, 0, 0), (0, 0, 60)))
    made.boss(20.0, (0, 0, 60), (0, 0, 0))
    made.bore(5.0, (10, 0, 45), (-10, 0, 45), ends=False, cut_past=4)
    return made.bore(8.0, (0, 0, 0), (0, 0, 22), through=False)


def saddle() -> Solid:
    """A filleted block with one bore: the roundings of 90° are no bosses."""
    block = Part() + Box(40, 26, 22)
    made = Solid(Part() + fillet(block.edges(), 3.0), angle_rad=0.3)
    return made.bore(9.0, (0, 0, 11), (0, 0, -11))


def wheel() -> Solid:
    """Rim, hub and five spokes; five-fold, but no gear."""
    made = Solid(Part() + rod(70, (0, 0, 0), (0, 0, 10)) - rod(58, (0, 0, -1), (0, 0, 11)))
    made.body += rod(20, (0, 0, 0), (0, 0, 10))
    for turn in range(5):
        made.body += Rot(0, 0, 72 * turn) * Pos(19.4, 0, 5) * Box(22, 5, 4)
    made.bore(10.0, (0, 0, 10), (0, 0, 0))
    made.boss(70.0, (0, 0, 10), (0, 0, 0)).hole(58.0, (0, 0, 10), (0, 0, 0))
    return made.boss(20.0, (0, 0, 10), (0, 0, 0))


OTHERS = {
    "stepped-shaft": stepped_shaft, "bosses": bosses, "leaning-bosses": leaning_bosses, "filleted-boss": filleted_boss,
    "slots": slots, "cornered-slot": cornered_slot, "square-drive": square_drive, "square-head": square_head, "nut": nut,
    "hexagon-pocket": hexagon_pocket, "bush-flats": bush_flats, "d-shaft": d_shaft, "channel": channel,
    "turned-handle": turned_handle, "gear-17": lambda: toothed(17, 28, 23.5, 10, 12.0),
    "gear-32": lambda: toothed(32, 40, 37, 8, 16.0), "gear-11": lambda: toothed(11, 9, 6.8, 5, 4.0), "splined": splined,
    "thread-right": lambda: outside_thread(20.0, 2.5, "right"), "thread-left": lambda: outside_thread(16.0, 3.0, "left"),
    "nut-right": lambda: inside_thread(24.0, 3.0, "right"), "nut-left": lambda: inside_thread(20.0, 2.5, "left"),
    "elbow": elbow, "pinned-shaft": pinned_shaft, "filleted-block": saddle, "wheel": wheel,
}  # fmt: skip
