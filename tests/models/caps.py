"""What do the depot's end caps, plugs and edge caps look like."""

from __future__ import annotations

from build123d import Box, Part, Plane, Pos, Rot, mirror

from tests.models.features import (
    FROM_FLOOR,
    along_x,
    around,
    at,
    broken,
    counterbore,
    countersink,
    drill,
    level,
    peg,
    rounded,
    slab,
    snap_tongue,
    turned,
    upward,
)


def sun_blind_end_cap_left() -> Part:
    """TV-0104: cheek with a split plug Ø22 for the blind tube, a cord hook to the left and a countersunk ear below."""
    cheek = [(-17, -30, 8), (17, -30, 8), (17, 4, 14), (12, 19, 12), (-12, 19, 12), (-17, 4, 14)]
    plate = rounded(upward(cheek, 4.5), 1.4, level(4.5))
    plug = turned([(0, 0), (11, 0), (11, 20), (9.8, 23, 1), (0, 23)]) - Pos(0, 0, 2.5) * peg(17.6, 30)
    plug -= Box(60, 3, 60) + Pos(0, 0, 9.5) * Box(3, 60, 14, align=FROM_FLOOR)
    plug += around(4, Pos(10.9, 0, 4) * turned([(0, 0), (1, 0), (1, 11), (0.3, 14), (0, 14)]), start_deg=45)
    plug += Pos(0, 0, 2) * peg(7, 12) + Pos(0, 0, 2) * Box(19, 2, 7, align=FROM_FLOOR)
    body = plate + plug - drill(3.2, 1) - Pos(0, 0, -1) * peg(3.2, 30)
    hook = [(-26, -8, 4), (-26, -24, 6), (-10, -24), (-10, -17), (-20, -17, 2.5), (-20, -8, 2)]
    body += rounded(upward(hook, 7), 1.2, level(7))
    body += Pos(0, -19, 0) * turned([(0, 0), (8, 0), (8, 4), (6.4, 7, 1), (0, 7)])
    body -= at([(0, -19, 7)], countersink(4.3, 8.6, 8))
    body -= Pos(0, 0, -0.1) * turned([(15.2, 0), (16.4, 0), (16.4, 0.1), (15.2, 0.1)])
    return Rot(90, 0, 0) * body


def sun_blind_end_cap_right() -> Part:
    """TV-0105: the mirror image of TV-0104."""
    return Part() + mirror(sun_blind_end_cap_left(), about=Plane.YZ)


def seat_rail_end_plug() -> Part:
    """TV-0112: plug of a C rail, head 46 x 27 x 6, hollow shank 37.6 x 17.6 with crush ribs and two snap tongues."""
    head = rounded(slab(46, 27, 6, 6), 2.4, level(0))
    head -= Pos(0, 0, 4.8) * (slab(42, 23, 2, 4) - slab(39, 19, 2, 2))
    shank = Pos(0, 0, 5) * (slab(37.6, 17.6, 27, 2.5) - Pos(0, 0, 2) * slab(33.2, 13.2, 30, 1.2))
    shank -= at([(x, 0, 11) for x in (-17, 17)], Box(6, 11.4, 30, align=FROM_FLOOR))
    shank += at([(x, 0, 5) for x in (-6, 6)], Box(1.8, 15, 22, align=FROM_FLOOR))
    shank += [
        Pos(x, 0, 6) * Rot(0, 0, turn) * snap_tongue(9, 26, 2.2, 1.8)
        for x, turn in ((-16.6, -90), (16.6, 90))
    ]
    ribs = [
        Pos(x, side * 8.7, 6) * turned([(0, 0), (0.8, 0), (0.8, 18), (0.3, 23), (0, 23)])
        for x in (-12, 0, 12)
        for side in (-1, 1)
    ]
    return head + shank + ribs - at([(0, 0, 6.99)], drill(4.2, 8))


def tread_edge_cap() -> Part:
    """TV-0252: nosing 160 x 57 x 36 with grip ribs, one closed end, four stays, four M5 countersunk holes."""
    section = [(-28, 0, 2), (-28, 34, 7), (28, 34), (28, 30.4), (-21, 30.4, 5), (-24.4, 26, 4), (-24.4, 0)]
    body = along_x(section, 160)
    end = along_x([(-28, 0, 2), (-28, 34, 7), (28, 34), (28, 29, 3), (-14, 22, 9), (-19, 0, 2)], 3.6)
    body = broken(
        body + Pos(-78.2, 0, 0) * end, 1.2, lambda e: abs(e.center().X + 80) < 1e-3 and e.center().Y < 10
    )
    top = along_x([(-1.6, -0.5), (-0.9, 1.8), (0.9, 1.8), (1.6, -0.5)], 150)
    front = along_x([(0.5, -1.6), (-1.4, -0.9), (-1.4, 0.9), (0.5, 1.6)], 150)
    body += [Pos(1, y, 34) * top for y in (-17, -11.5, -6, -0.5, 5, 22.5)]
    body += [Pos(1, -28, z) * front for z in (7, 13, 19)]
    stays = along_x([(-25, 5), (-22, 5), (-8, 31), (-25, 31)], 2.6)
    body += at([(x, 0, 0) for x in (-54, -18, 18, 54)], stays)
    return body - at([(x, 13.8, 34) for x in (-64, -22, 22, 64)], countersink(5.3, 10.4, 8))


def handrail_joint_trim() -> Part:
    """TV-0136: half shell over a tee of a Ø34 and a Ø28 tube, beaded collars, two M4 screw bosses with counterbores."""
    run, branch = half_tube(96, 20.2, 17.2), half_tube(60, 17.0, 14.2)
    outer = run[0] + Rot(0, 0, 90) * Pos(-30, 0, 0) * branch[0]
    outer = rounded(outer, 4, lambda e: e.geom_type.name not in {"LINE", "CIRCLE"} and e.center().Z > 1)
    beads = [run[2], Rot(0, 0, 90) * Pos(-30, 0, 0) * branch[2] - Pos(0, 20, 0) * Box(80, 40, 90)]
    screws = [(x, y, 0) for x, y in ((-26, -25.5), (26, -25.5), (0, 26.5))]
    outer += [Pos(x, y, 0) * turned([(0, 0), (6.6, 0), (6.6, 9, 1.2), (0, 9)]) for x, y, _ in screws]
    outer += [Pos(x, y * 0.85, 0) * Box(13.2, 9, 7, align=FROM_FLOOR) for x, y, _ in screws]
    body = outer + beads
    body -= [run[1], Rot(0, 0, 90) * Pos(-30, 0, 0) * branch[1]]
    body -= [Pos(x, y, 9) * counterbore(4.3, 8, 4.4, 12) for x, y, _ in screws]
    return body


def half_tube(length: float, outer: float, inner: float) -> tuple[Part, Part, Part]:
    """The upper half of a tube along x as (outside, bore, end beads), radii in mm."""
    keep = Box(length + 9, 4 * outer, 2 * outer, align=FROM_FLOOR)
    lying = Rot(0, 90, 0)
    whole = lying * Pos(0, 0, -length / 2) * peg(2 * outer, length) & keep
    bore = lying * Pos(0, 0, -length / 2 - 5) * peg(2 * inner, length + 10)
    bead = turned([(inner, 0), (outer + 1.6, 0, 1.2), (outer + 1.6, 5, 1.6), (inner, 5)])
    ends = lying * (Pos(0, 0, -length / 2) * bead + Pos(0, 0, length / 2) * Rot(180, 0, 0) * bead) & keep
    return whole, bore, ends
