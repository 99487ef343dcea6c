"""Parts made at random for `report_likeness`, by the exact kernel: whole, meshed finer and coarser, and with a piece broken off.

Each family is a plain shape of the trade with its sizes drawn from wide ranges, so that brothers differ as parts of one
catalogue do. The same seed gives the same parts. The kernel is imported by who makes them, for it is dear.
"""

import math
from collections.abc import Callable
from random import Random
from typing import Any

import numpy as np

from generator.geometry.mesh import Mesh

FINE, COARSE = (0.02, 0.15), (0.12, 0.4)
"""Chord in mm and angle in radians of two exporters."""


def _holes(b: Any, r: Random, solid: Any, length: float, width: float, top: float) -> Any:
    """Bores down through it, each somewhere else: most parts of a random pattern have a left and a right hand."""
    for _ in range(r.randint(1, 4)):
        at = (r.uniform(-0.4, 0.4) * length, r.uniform(-0.38, 0.38) * width, top)
        solid -= b.Pos(*at) * b.Cylinder(r.uniform(1.2, min(6, width / 6)), 4 * top + 20)
    return solid


def plate(b: Any, r: Random) -> Any:
    length, width, high = r.uniform(25, 140), r.uniform(18, 70), r.uniform(2, 9)
    solid = _holes(b, r, b.Box(length, width, high), length, width, high)
    if r.random() < 0.6:
        solid += b.Pos(length * r.uniform(-0.35, 0.35), width * 0.2, high / 2) * b.Cylinder(r.uniform(2, width / 5), r.uniform(4, 25), align=(b.Align.CENTER, b.Align.CENTER, b.Align.MIN))
    return solid


def bracket(b: Any, r: Random) -> Any:
    length, width, high, thick = r.uniform(25, 90), r.uniform(15, 60), r.uniform(20, 80), r.uniform(2.5, 8)
    foot = b.Box(length, width, thick)
    wall = b.Pos(-length / 2 + thick / 2, 0, high / 2) * b.Box(thick, width, high)
    solid = _holes(b, r, foot, length, width, thick) + wall
    if r.random() < 0.6:
        rib = b.Pos(-length / 2 + thick, width * r.uniform(-0.4, 0.4), thick / 2) * b.Box(length * 0.5, thick * 0.7, high * 0.4, align=(b.Align.MIN, b.Align.CENTER, b.Align.MIN))
        solid += rib
    return solid


def bush(b: Any, r: Random) -> Any:
    outer, high = r.uniform(6, 35), r.uniform(8, 70)
    solid = b.Cylinder(outer, high)
    if r.random() < 0.7:
        solid += b.Pos(0, 0, -high / 2) * b.Cylinder(outer * r.uniform(1.2, 1.8), r.uniform(2, high / 3), align=(b.Align.CENTER, b.Align.CENTER, b.Align.MIN))
    solid -= b.Cylinder(outer * r.uniform(0.3, 0.85), high * 3)
    if r.random() < 0.5:
        solid -= b.Pos(outer * 0.8, 0, high / 2) * b.Box(outer, r.uniform(2, 5), high * r.uniform(0.3, 0.9))
    return solid


def knob(b: Any, r: Random) -> Any:
    radius, high = r.uniform(10, 30), r.uniform(10, 30)
    solid = b.Cylinder(radius, high)
    lobes = r.randint(0, 9)
    for i in range(lobes):
        turn = 2 * math.pi * i / lobes
        solid -= b.Pos(math.cos(turn) * radius, math.sin(turn) * radius, 0) * b.Cylinder(radius * 0.2, high * 2)
    bore = r.uniform(2, radius / 3)
    hole = b.Cylinder(bore, high * 0.7) - b.Pos(bore * 1.5, 0, 0) * b.Box(bore * 2, bore * 3, high * 2)
    solid -= b.Pos(0, 0, -high * 0.2) * hole
    if r.random() < 0.4:
        solid += b.Pos(radius * 0.6, 0, high / 2) * b.Box(radius * 1.4, radius * 0.2, r.uniform(1, 6))
    return solid


def channel(b: Any, r: Random) -> Any:
    length, width, high, thick = r.uniform(30, 160), r.uniform(14, 60), r.uniform(10, 45), r.uniform(1.6, 5)
    solid = b.Box(length, width, high) - b.Pos(0, 0, thick) * b.Box(length * 2, width - 2 * thick, high)
    solid = _holes(b, r, solid, length, width, high)
    if r.random() < 0.5:
        solid -= b.Pos(length * r.uniform(-0.4, 0.4), width / 2, high * 0.3) * b.Box(length * r.uniform(0.1, 0.3), thick * 4, high)
    return solid


def cover(b: Any, r: Random) -> Any:
    length, width, high, thick = r.uniform(30, 130), r.uniform(25, 80), r.uniform(8, 35), r.uniform(1.6, 4)
    solid = b.Box(length, width, high) - b.Pos(0, 0, -thick) * b.Box(length - 2 * thick, width - 2 * thick, high)
    for _ in range(r.randint(0, 3)):
        at = (length * r.uniform(-0.35, 0.35), width * r.uniform(-0.35, 0.35), 0)
        solid += b.Pos(*at) * (b.Cylinder(r.uniform(3, 5), high * 0.9) - b.Cylinder(1.4, high * 2))
    if r.random() < 0.5:
        solid -= b.Pos(length * r.uniform(-0.3, 0.3), width * r.uniform(-0.3, 0.3), high / 2) * b.Box(length * 0.25, width * 0.2, high)
    return solid


def lever(b: Any, r: Random) -> Any:
    long, thick = r.uniform(40, 150), r.uniform(4, 14)
    one, other = r.uniform(8, 18), r.uniform(5, 14)
    middle = b.Align.MIN, b.Align.CENTER, b.Align.CENTER
    solid = b.Cylinder(one, thick * r.uniform(1, 2.5)) + b.Box(long, min(one, other) * 1.2, thick, align=middle)
    solid += b.Pos(long, 0, thick * r.uniform(-0.3, 0.3)) * b.Cylinder(other, thick * r.uniform(1, 2))
    solid -= b.Cylinder(one * r.uniform(0.3, 0.7), 100)
    solid -= b.Pos(long, r.uniform(-1, 1), 0) * b.Cylinder(other * r.uniform(0.3, 0.7), 100)
    if r.random() < 0.5:
        solid += b.Pos(long * 0.5, min(one, other) * 0.4, thick / 2) * b.Box(long * 0.2, thick * 0.6, r.uniform(4, 15))
    return solid


def gear(b: Any, r: Random) -> Any:
    count, radius, high = r.randint(8, 26), r.uniform(12, 40), r.uniform(4, 16)
    solid = b.Cylinder(radius, high)
    for i in range(count):
        solid += b.Rot(0, 0, 360 * i / count) * b.Pos(radius, 0, 0) * b.Box(radius * 0.3, radius * 3 / count, high)
    solid += b.Cylinder(radius * r.uniform(0.25, 0.5), high * r.uniform(1, 2.4))
    return solid - b.Cylinder(radius * r.uniform(0.1, 0.24), 100)


def elbow(b: Any, r: Random) -> Any:
    outer, thick = r.uniform(8, 25), r.uniform(1.5, 4)
    one, other, lift = r.uniform(20, 60), r.uniform(20, 60), r.uniform(0, 15)
    low = b.Align.CENTER, b.Align.CENTER, b.Align.MIN
    along = b.Rot(0, 90, 0)
    solid = b.Cylinder(outer, one + outer, align=low) + along * b.Cylinder(outer, other + outer, align=low) + b.Sphere(outer)
    inner = outer - thick
    solid = solid - b.Cylinder(inner, one * 3, align=low) - along * b.Cylinder(inner, other * 3, align=low) - b.Sphere(inner)
    return solid + b.Pos(0, outer * 0.9, one * 0.6) * b.Box(outer, r.uniform(4, 12), r.uniform(5, 10) + lift / 5)


def clip(b: Any, r: Random) -> Any:
    radius, thick, long = r.uniform(6, 20), r.uniform(1.8, 4.5), r.uniform(8, 40)
    ring = b.Cylinder(radius + thick, long) - b.Cylinder(radius, long * 2)
    ring -= b.Pos(0, radius, 0) * b.Box(radius * r.uniform(0.8, 1.6), radius * 2, long * 2)
    tab = b.Pos(radius * r.uniform(-0.3, 1.2), -radius - thick, 0) * b.Box(r.uniform(10, 45), thick * 1.5, long * r.uniform(0.5, 1))
    solid = ring + tab
    return solid - b.Pos(radius + 4, -radius, long * r.uniform(-0.2, 0.2)) * b.Rot(90, 0, 0) * b.Cylinder(r.uniform(1.2, 2.5), 100)


def wedge(b: Any, r: Random) -> Any:
    length, width, high = r.uniform(20, 90), r.uniform(12, 50), r.uniform(8, 40)
    solid = b.Wedge(length, high, width, 0, width * r.uniform(0, 0.4), length * r.uniform(0.2, 0.7), width * r.uniform(0.6, 1))
    return solid - b.Pos(length * r.uniform(-0.2, 0.2), 0, width * r.uniform(-0.2, 0.2)) * b.Rot(90, 0, 0) * b.Cylinder(r.uniform(1.5, 5), 200)


def stepped(b: Any, r: Random) -> Any:
    """Blocks upon blocks: without any symmetry."""
    solid = b.Box(*(r.uniform(12, 60) for _ in range(3)))
    for _ in range(r.randint(1, 4)):
        at = tuple(r.uniform(-18, 18) for _ in range(3))
        solid += b.Pos(*at) * b.Rot(0, 0, r.choice((0, 0, 30, 45))) * b.Box(*(r.uniform(6, 40) for _ in range(3)))
    return solid - b.Pos(r.uniform(-10, 10), r.uniform(-10, 10), 0) * b.Cylinder(r.uniform(2, 6), 200)


FAMILIES: tuple[Callable[[Any, Random], Any], ...] = (plate, bracket, bush, knob, channel, cover, lever, gear, elbow, clip, wedge, stepped)


def meshed(solid: Any, chord_mm: float, angle: float) -> Mesh:
    corners, faces = solid.tessellate(chord_mm, angle)
    vertices = np.array([(c.X, c.Y, c.Z) for c in corners])
    return Mesh(vertices_mm=vertices, faces=np.array(faces, dtype=np.int64))


def broken(b: Any, r: Random, solid: Any, share: float) -> Any:
    """With about a share of its volume gone behind a rough face, as plastic breaks: a row of turned blocks cuts it off."""
    box = solid.bounding_box()
    middle, size = box.center(), box.size
    turn = b.Rot(r.uniform(-180, 180), r.uniform(-90, 90), r.uniform(-180, 180))
    reach = math.hypot(size.X, size.Y, size.Z)
    low, high = -reach / 2, reach / 2
    whole = solid.volume
    for _ in range(12):  # by halves until the share fits
        at = (low + high) / 2
        teeth = b.Pos(middle.X, middle.Y, middle.Z) * turn * (
            b.Pos(0, 0, at) * b.Box(2 * reach, 2 * reach, 2 * reach, align=(b.Align.CENTER, b.Align.CENTER, b.Align.MIN))
        )
        left = solid - teeth
        lost = 1 - left.volume / whole
        low, high = (low, at) if lost < share else (at, high)
    for i in range(-1, 2):
        spike = b.Pos(middle.X, middle.Y, middle.Z) * turn * (b.Pos(i * reach / 8, 0, at) * b.Rot(r.uniform(20, 60), r.uniform(20, 60), 0) * b.Box(reach / 14, reach * 2, reach / 14))
        left -= spike
    solids = left.solids()
    return max(solids, key=lambda each: each.volume) if len(solids) > 1 else left
