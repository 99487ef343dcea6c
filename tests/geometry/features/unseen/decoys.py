"""Shapes in which nothing is a round hole or boss, though much of it is nearly so."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
from build123d import Cone, Ellipse, Part, Pos, RegularPolygon, Sphere, Torus, extrude, fillet
from numpy.typing import NDArray

from tests.geometry.features.unseen.holes import slab
from tests.geometry.features.unseen.solid import FOOT, Solid, rod
from tests.geometry.solids import capped, revolved
from tests.models.features import outline, turned

Arrays = tuple[NDArray[np.float64], NDArray[np.int64]]


def decoy(body: Part, **more: float) -> Solid:
    return Solid(body, is_decoy=True, **more)  # type: ignore[arg-type]


def filleted() -> Solid:
    block = slab(40, 30, 20)
    return decoy(Part() + fillet(block.edges(), 6.0), angle_rad=0.3, chord_mm=0.05)


def elliptic_hole() -> Solid:
    body = slab(60, 40, 10)
    body -= Pos(-12, 0, -1) * extrude(Ellipse(10, 8.6), 20)
    body -= Pos(16, 0, -1) * extrude(Ellipse(6, 4), 20)
    return decoy(Part() + body)


def elliptic_bar() -> Solid:
    return decoy(Part() + extrude(Ellipse(15, 14), 30))


def cones() -> Solid:
    """A funnel: a cone outside, a cone of another angle inside."""
    return decoy(turned([(8, 0), (10, 0), (24, 30), (21, 30)]), chord_mm=0.03)


def slight_cone() -> Solid:
    """A draft of 3° a side: a moulded stub, no cylinder."""
    return decoy(Part() + Cone(12, 10.43, 30, align=FOOT))


def conical_hole() -> Solid:
    return decoy(slab(40, 40, 15) - Cone(6, 10, 15, align=FOOT))


def ball() -> Solid:
    return decoy(Part() + Sphere(20))


def ring() -> Solid:
    return decoy(Part() + Torus(25, 6), angle_rad=0.4, chord_mm=0.2)


def socket() -> Solid:
    """A ball's socket, deeper than half."""
    return decoy(slab(40, 40, 24) - Pos(0, 0, 18) * Sphere(15), chord_mm=0.05, angle_rad=0.25)


def waisted() -> Solid:
    """A revolved barrel: turned, but nowhere straight."""
    side = [(12 + 4 * cos(pi * z / 40), z) for z in range(-20, 21, 2)]
    return decoy(turned([(0, -20), *side, (0, 20)]), chord_mm=0.1, angle_rad=0.25)


def rounded_pocket() -> Solid:
    pocket = Part() + extrude(outline([(-14, -9, 5), (14, -9, 5), (14, 9, 5), (-14, 9, 5)]), 12)
    return decoy(slab(50, 36, 14) - Pos(0, 0, 6) * pocket)


def twelve_rounded() -> Solid:
    """Twelve flats with edges rounded by 0.8: all their corners lie nearly on one circle."""
    body = Part() + extrude(RegularPolygon(20, 12), 15)
    upright = [e for e in body.edges() if abs(e.tangent_at(0.5).Z) > 0.9]
    return decoy(Part() + fillet(upright, 0.8))


def prism_of(sides: int) -> Solid:
    return decoy(Part() + extrude(RegularPolygon(16, sides), 20))


def twelve_with_bore() -> Solid:
    """A knob of twelve flats, sharp edges of 30°, with a fine bore: only the bore is round."""
    made = Solid(Part() + extrude(RegularPolygon(20, 12), 12))
    return made.bore(6.0, (0, 0, 12), (0, 0, 0))


def stadium_window() -> Solid:
    """A window of four quarter-rounds of unequal radius."""
    window = Part() + extrude(outline([(-15, -9, 3), (15, -9, 5), (15, 9, 7), (-15, 9, 4)]), 30)
    return decoy(slab(50, 36, 8) - Pos(0, 0, -1) * window)


def star() -> Solid:
    """Two hexagons turned by 30°, a socket of twelve points."""
    body = Part() + rod(40, (0, 0, 0), (0, 0, 12))
    for turn in (0, 30):
        body -= Pos(0, 0, 2) * extrude(RegularPolygon(12, 6, rotation=turn), 20)
    made = Solid(Part() + body)
    return made.boss(40.0, (0, 0, 12), (0, 0, 0))


def lobes() -> Solid:
    """A bore that is round to 2 % only: three lobes."""
    corners = [
        ((10 + 0.25 * cos(3 * t)) * cos(t), (10 + 0.25 * cos(3 * t)) * sin(t))
        for t in np.arange(72) * 2 * pi / 72
    ]
    return decoy(slab(36, 36, 10) - Pos(0, 0, -1) * (Part() + extrude(outline(corners), 20)))


DECOYS = {
    "filleted": filleted, "elliptic-hole": elliptic_hole, "elliptic-bar": elliptic_bar, "cones": cones,
    "slight-cone": slight_cone, "conical-hole": conical_hole, "ball": ball, "ring": ring, "socket": socket,
    "waisted": waisted, "rounded-pocket": rounded_pocket, "twelve-rounded": twelve_rounded, "prism-5": lambda: prism_of(5),
    "prism-7": lambda: prism_of(7), "twelve-with-bore": twelve_with_bore, "stadium-window": stadium_window, "star": star,
    "lobes": lobes,
}  # fmt: skip


def blob(seed: int, radius: float, rows: int = 28) -> Arrays:
    """An organic lump: a sphere moved in and out by waves, then by noise."""
    mesh = capped([(radius * sin(t), -radius * cos(t)) for t in np.linspace(0, pi, rows)], 2 * rows)
    chance = np.random.default_rng(seed)
    points = mesh.vertices_mm / radius
    swell = np.ones(len(points))
    for _ in range(6):
        swell += 0.09 * np.sin(points @ chance.normal(0, 2.5, 3) + chance.uniform(0, 6))
    points = points * (swell + chance.normal(0, 0.004, len(points)))[:, None] * radius
    return points, mesh.faces


def wavy_wall() -> Arrays:
    """A corrugated sheet: 2 thick, waves 12 long and 3 high; a sine is no arc."""
    xs = np.linspace(0, 60, 121)
    wave = 3 * np.sin(2 * pi * xs / 12)
    low, high = np.column_stack([xs, wave]), np.column_stack([xs, wave + 2])
    n = len(xs)
    points = np.concatenate(
        [np.column_stack([side, np.full(n, z)]) for z in (0.0, 25.0) for side in (low, high)]
    )
    faces = []
    for i in range(n - 1):
        for a, b, flip in ((0, n, True), (2 * n, 3 * n, False), (0, 2 * n, False), (n, 3 * n, True)):
            quad = [[a + i, a + i + 1, b + i + 1], [a + i, b + i + 1, b + i]]
            faces += [face[::-1] for face in quad] if flip else quad
    for i, flip in ((0, True), (n - 1, False)):
        quad = [[i, n + i, 3 * n + i], [i, 3 * n + i, 2 * n + i]]
        faces += [face[::-1] for face in quad] if flip else quad
    return points, np.array(faces)


def coarse_ring() -> Arrays:
    """A torus of few facets, turned so that no band of it stands upright."""
    turn = (np.arange(12) + 0.3) * 2 * pi / 12
    mesh = revolved(np.column_stack([25 + 7 * np.cos(turn), 7 * np.sin(turn)]), 40)
    return mesh.vertices_mm, mesh.faces


HAND_MADE = {
    "blob-a": lambda: blob(3, 25),
    "blob-b": lambda: blob(8, 60),
    "wavy-wall": wavy_wall,
    "coarse-ring": coarse_ring,
}
