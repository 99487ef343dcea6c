"""What do the depot's clamps, guides, clips and spacers look like."""

from __future__ import annotations

from math import hypot

from build123d import Box, Part, Pos, Rot, SlotOverall, extrude

from tests.models.features import (
    FROM_FLOOR,
    along_x,
    along_y,
    at,
    counterbore,
    countersink,
    drill,
    gusset,
    level,
    peg,
    rounded,
    slab,
    turned,
    upward,
)


def sanding_hose_guide() -> Part:
    """TV-0140: foot with two 9 x 15 mm slots, web with gussets, open ring for a Ø38 hose with a snap mouth."""
    foot = rounded(slab(96, 52, 8, 9), 1.5, level(8))
    slot = Part() + extrude(SlotOverall(15, 9, rotation=90), 12)
    seat = Part() + extrude(SlotOverall(25, 19, rotation=90), 12)
    neck = along_y([(-13, 6), (13, 6), (11, 40), (-11, 40)], 26)
    across = Pos(0, 0, 54) * Rot(90, 0, 0) * Pos(0, 0, -17)
    ring = across * turned([(19, 0), (26, 0, 2.5), (26, 34, 2.5), (19, 34)])
    ears = [across * Rot(0, 0, turn) * Pos(0, 25, 0) * slab(8, 12, 34, 3) for turn in (-32, 32)]
    body = foot + neck + ring + ears
    stays = gusset(23, 27, 6)
    body += [Pos(x, 0, 7.8) * Rot(0, 0, turn) * stays for x, turn in ((11.5, 0), (-11.5, 180))]
    body += [Pos(0, y, 7.8) * Rot(0, 0, turn) * gusset(10, 24, 6) for y, turn in ((12.5, 90), (-12.5, -90))]
    mouth = along_y([(-10, 0), (10, 0), (17, 40), (-17, 40)], 60)
    body -= Pos(0, 0, 54) * mouth
    body -= Pos(0, 0, 54) * Rot(90, 0, 0) * Pos(0, 0, -30) * peg(38, 60)
    body -= at([(x, 0, -1) for x in (-36, 36)], slot)
    return body - at([(x, 0, 6.2) for x in (-36, 36)], seat)


def track_brake_cable_clamp() -> Part:
    """TV-0223: saddle 112 x 40 x 36 over two Ø18 cables with grip ribs, two M8 holes with washer seats."""
    arch = [(-56, 0, 3), (-56, 13, 4), (-36, 14, 6), (-29, 33, 12), (-7, 34, 7), (0, 29, 4)]
    corners = [*arch, *[(-x, z, r) for x, z, r in reversed(arch[:-1])]]
    body = rounded(
        along_y(corners, 40), 2.2, lambda e: abs(abs(e.center().Y) - 20) < 1e-3 and e.center().Z > 1
    )
    cables = [Pos(x, 0, 12) * Rot(90, 0, 0) * Pos(0, 0, -30) * peg(19.6, 60) for x in (-17, 17)]
    mouths = [Pos(x, 0, -1) * Box(19.6, 60, 13, align=FROM_FLOOR) for x in (-17, 17)]
    body -= cables + mouths
    grips = [
        Pos(x, y, 12)
        * Rot(90, 0, 0)
        * Pos(0, 0, -1.5)
        * turned([(8.8, 0.6), (10.4, 0), (10.4, 3), (8.8, 2.4)])
        for x in (-17, 17)
        for y in (-13, -4.5, 4.5, 13)
    ]
    upper = Pos(0, 0, 11.5) * Box(120, 60, 40, align=FROM_FLOOR)
    body += [grip & upper for grip in grips]
    body += [Pos(x, 0, 0) * turned([(0, 0), (10.4, 0), (10.4, 17, 1.2), (0, 17)]) for x in (-44, 44)]
    ribs = along_y([(-40, 10), (-34, 16), (-24, 36.5, 4), (24, 36.5, 4), (34, 16), (40, 10)], 5)
    body += [Pos(0, y, 0) * ribs - cables - mouths for y in (-9, 9)]
    body -= [Pos(x, 0, 17) * counterbore(8.6, 17, 1.6, 20) for x in (-44, 44)]
    pockets = [Pos(0, y, -1) * Box(9, 15, 20, align=FROM_FLOOR) for y in (-9, 9)]
    return body - pockets


def horn_bracket_spacer() -> Part:
    """TV-0215: three-lobed spacer 22 mm high on Ø9 bosses 60 mm apart, cored out to walls of 3 mm with ribs."""
    places = [(0, 38, 0), (-33, -19, 0), (33, -19, 0)]
    hull = upward(three_lobes(places, 13), 22)
    hull = rounded(hull, 2.0, level(22))
    core = upward(three_lobes(places, 9.6), 40)
    body = hull - Pos(0, 0, 4) * core
    body += [
        *at(places, peg(20, 22)),
        Pos(0, 0, 3) * turned([(13, 0), (17, 0), (17, 14.2), (16.2, 15), (13.8, 15), (13, 14.2)]),
    ]
    body += [
        Pos(0, 0, 3) * Rot(0, 0, turn) * Pos(24, 0, 0) * Box(16, 3, 14, align=FROM_FLOOR)
        for turn in (90, 210, 330)
    ]
    body += [
        Pos(0, 0, 3) * Rot(0, 0, turn) * Pos(18, 0, 0) * Box(9, 3, 14, align=FROM_FLOOR)
        for turn in (30, 150, 270)
    ]
    body -= at(places, drill(9, 1) + Pos(0, 0, -1) * peg(9, 30))
    body -= at(places, Pos(0, 0, 20.6) * peg(17, 4))
    return body - Pos(0, 0, -1) * peg(26, 30) - at([(x, -24, 0) for x in (-12, 12)], Box(5, 16, 2.4))


def three_lobes(places: list[tuple[float, float, float]], radius: float) -> list[tuple[float, float, float]]:
    """The corners of a hull round three places, wide enough that each can be rounded with the radius."""
    spread = 2 * radius
    return [
        (x / hypot(x, y) * (hypot(x, y) + spread), y / hypot(x, y) * (hypot(x, y) + spread), radius)
        for x, y, _ in places
    ]


def litter_bin_hinge_clip() -> Part:
    """TV-0260: plate 44 x 34 with two M4 countersunk holes, snap clip for a Ø10 wire and a hinge eye Ø6.2."""
    plate = rounded(slab(44, 34, 4.5, 5), 1.2, level(4.5))
    outer = [
        (-8.5, 3, 0),
        (8.5, 3, 0),
        (8.5, 16, 3),
        (6.4, 19.5, 0.8),
        (4.2, 16.2, 0.8),
        (-4.2, 16.2, 0.8),
        (-6.4, 19.5, 0.8),
        (-8.5, 16, 3),
    ]
    jaw = Pos(0, -6, 0) * along_x(outer, 20)
    wire = Pos(0, -6, 11) * Rot(0, 90, 0) * Pos(0, 0, -20) * peg(10.2, 40)
    throat = Pos(0, -6, 11) * along_x([(-4.2, 0), (4.2, 0), (4.2, 9), (-4.2, 9)], 40)
    fork = [Pos(x, 13, 0) * hinge_lug(6.2) for x in (-9, 9)]
    body = plate + jaw - wire - throat + fork
    body += [Pos(x, 4, 4.3) * Rot(0, 0, 90) * gusset(6, 6, 3) for x in (-9, 9)]
    body += [Pos(x, -6, 4.3) * Rot(0, 0, turn) * gusset(4.5, 8, 3) for x, turn in ((-10, 180), (10, 0))]
    return body - at([(x, 1.5, 4.5) for x in (-16.5, 16.5)], countersink(4.3, 8.4, 6))


def hinge_lug(bore: float) -> Part:
    """A round-topped lug across x with a bore 13 mm above its floor."""
    lug = along_x([(-9, 2), (9, 2), (6.5, 12), (6.5, 19.5, 6.3), (-6.5, 19.5, 6.3), (-6.5, 12)], 6)
    return lug - Pos(-10, 0, 13) * Rot(0, 90, 0) * peg(bore, 20)


def microphone_cradle() -> Part:
    """TV-0288: upright plate 29 x 42 with two countersunk M3 holes, shelf with a U-shaped slot for the microphone's stud."""
    plate = Rot(90, 0, 0) * rounded(slab(29, 42, 2.2, 5), 0.8, level(2.2))
    plate -= [Pos(0, -2.2, z) * Rot(90, 0, 0) * countersink(3.4, 6.4, 4) for z in (-15.5, 15.5)]
    shelf = Pos(0, -9.4, 0) * slab(23, 18.4, 2.6, 4)
    lip = [Pos(x, -17.3, 2.2) * slab(5.4, 2.4, 2.2, 1) for x in (-7.4, 7.4)]
    cheeks = [Pos(x, -1.4, 0.2) * Rot(0, 0, -90) * Rot(180, 0, 0) * gusset(13, 12, 2) for x in (-9.5, 9.5)]
    body = plate + shelf + lip + cheeks
    body -= Pos(0, -10, -1) * peg(7.6, 6) + Pos(0, -16, -1) * Box(7.6, 12, 6, align=FROM_FLOOR)
    throat = Pos(0, -19.4, -1) * upward([(-5.2, 0), (5.2, 0), (3.7, 3), (-3.7, 3)], 6)
    return body - throat
