"""What do handles, hooks and strap fittings look like?"""

from __future__ import annotations

from build123d import (
    Box,
    Ellipse,
    Part,
    Plane,
    Pos,
    RectangleRounded,
    Rot,
    Sketch,
    Sphere,
    Spline,
    loft,
    sweep,
)

from tests.models.features import (
    FROM_FLOOR,
    along_x,
    along_y,
    at,
    counterbore,
    countersink,
    gusset,
    level,
    peg,
    rounded,
    slab,
    turned,
    upright,
    upward,
)


def ramp_latch_handle() -> Part:
    """TV-0227: lever 148 long, hub Ø40 with a 10 mm square and an M6 counterbore, raised grip with finger scallops."""
    stations = [
        (6, 30, 20, 15),
        (34, 21, 15, 18),
        (62, 22, 14, 25),
        (92, 27, 16, 28),
        (120, 25, 15, 27),
        (132, 16, 9, 26),
    ]
    sections = [
        Plane(origin=(x, 0, z), x_dir=(0, 1, 0), z_dir=(1, 0, 0))
        * RectangleRounded(width, height, min(width, height) / 2 - 0.6)
        for x, width, height, z in stations
    ]
    arm = Part() + loft([Sketch() + s for s in sections])
    arm = rounded(arm, 3.6, lambda e: e.center().X > 131.9)
    arm -= [Pos(x, -20.6, 0) * peg(22, 60) for x in (68, 86, 104, 122)]
    hub = turned([(0, 0), (20, 0, 1), (20, 24, 3), (0, 24)])
    body = arm + hub
    body += turned([(0, 0), (14, 0), (14, 27, 1.2), (0, 27)])
    body -= Pos(0, 0, -1) * Box(10.15, 10.15, 13, align=FROM_FLOOR)
    body -= Pos(0, 0, 27) * counterbore(6.5, 13, 7, 30)
    return body - Pos(0, 0, -1) * (
        turned([(16, 0), (18, 0), (18, 3), (16, 3)]) - Pos(0, 20, 0) * Box(60, 24, 9)
    )


def coat_hook() -> Part:
    """TV-0240: back plate 30 x 78, upper and lower hook with ball ends, web, two M4 countersunk holes."""
    plate = rounded(slab(30, 78, 6, 14), 1.8, level(6))
    upper = swept_hook([(0, 6, 4), (0, 6, 24), (0, 14, 40), (0, 30, 47)], 6.2)
    lower = swept_hook([(0, -18, 4), (0, -22, 16), (0, -18, 27), (0, -9, 30)], 5.2)
    web = along_x([(10, 3), (10, 22, 6), (-18, 16, 5), (-22, 3)], 5)
    body = plate + upper + lower + web
    body += Pos(0, 30, 47) * Sphere(7.6) + Pos(0, -8.6, 30) * Sphere(6.4)
    body -= [Pos(0, y, 6) * countersink(4.3, 8.6, 8) for y in (29, -31)]
    return upright(body)


def swept_hook(points: list[tuple[float, float, float]], radius: float) -> Part:
    """A round-sectioned arm along a spline that leaves the plate at right angles."""
    path = Spline(*points, tangents=[(0, 0, 1), (0, 1, 0.25)])
    start = Plane(origin=points[0], z_dir=(0, 0, 1))
    return Part() + sweep(Sketch() + start * Ellipse(radius * 1.25, radius), path=path)


def grab_strap_end_fitting() -> Part:
    """TV-0264: split ring for a Ø32 rail with two M6 lugs, tapered neck, strap eye 42 x 7 with rounded edges."""
    lying = Rot(90, 0, 0) * Pos(0, 0, -17)
    ring = Pos(0, 0, 82) * lying * turned([(16, 0), (22.5, 0, 3), (22.5, 34, 3), (16, 34)])
    neck = [(-29, 0, 9), (29, 0, 9), (29, 22, 14), (14, 62), (-14, 62), (-29, 22, 14)]
    body = rounded(along_y(neck, 20), 4, lambda e: abs(abs(e.center().Y) - 10) < 1e-3 and e.center().Z < 61)
    body += ring
    lugs = Pos(0, 0, 108) * Box(18, 28, 22)
    body += rounded(Part() + lugs, 3.5, lambda e: abs(abs(e.center().Y) - 14) < 1e-3)
    body -= Pos(0, 0, 82) * Rot(90, 0, 0) * Pos(0, 0, -30) * peg(32.2, 60)
    body -= Pos(0, 0, 110) * Box(3, 60, 50)
    eye = along_y([(-21, 10, 3.4), (21, 10, 3.4), (21, 17, 3.4), (-21, 17, 3.4)], 40)
    body = body - eye
    body = rounded(
        body,
        2.2,
        lambda e: abs(abs(e.center().Y) - 10) < 1e-3 and abs(e.center().X) < 22 and 9 < e.center().Z < 18,
    )
    window = along_y([(-12, 26, 3), (12, 26, 3), (8, 50, 3), (-8, 50, 3)], 13)
    body -= [Pos(0, y, 0) * window for y in (-14.5, 14.5)]
    body += [Pos(0, y, 0) * along_y([(-1.4, 25), (1.4, 25), (1.4, 55), (-1.4, 55)], 3) for y in (-7.5, 7.5)]
    bolt = Pos(0, 0, 111) * Rot(0, 90, 0)
    body -= bolt * Pos(0, 0, -30) * peg(6.5, 60) + bolt * Pos(0, 0, 7) * peg(11.2, 20)
    return body - bolt * Pos(0, 0, -27) * upward([(5.8 * c, 5.8 * s) for c, s in HEXAGON], 20)


HEXAGON = ((1, 0), (0.5, 0.8660254), (-0.5, 0.8660254), (-1, 0), (-0.5, -0.8660254), (0.5, -0.8660254))


def desk_switch_guard() -> Part:
    """TV-0268: base 74 x 40 with two M4 holes and a Ø22.5 switch hole, two arched cheeks and a bridge bar."""
    base = rounded(slab(74, 40, 4.5, 7), 1.4, level(4.5))
    arch = [(-19, 2), (-19, 10, 3), (-9, 36, 9), (9, 36, 9), (19, 10, 3), (19, 2)]
    cheek = along_x(arch, 4.2) - along_x([(-9, 11, 3), (9, 11, 3), (4.5, 25, 3), (-4.5, 25, 3)], 10)
    cheek = rounded(cheek, 1.5, lambda e: abs(abs(e.center().X) - 2.1) < 1e-3 and e.center().Z > 3)
    body = base + [Pos(x, 0, 0) * cheek for x in (-18.6, 18.6)]
    body += [Pos(x, 0, 4) * Rot(0, 0, turn) * gusset(5, 15, 3) for x, turn in ((-20.4, 180), (20.4, 0))]
    body += Pos(-18.6, 0, 31) * Rot(0, 90, 0) * peg(7, 37.2)
    body += turned([(11.25, 0), (15.2, 0), (15.2, 6.4, 1), (11.25, 6.4)])
    body -= Pos(0, 0, -1) * peg(22.5, 20)
    body -= Pos(0, 12, 4) * Box(2.4, 5, 12)
    return body - at([(x, 0, 4.5) for x in (-30.5, 30.5)], countersink(4.3, 8.6, 6))


def footrest_tilt_lever() -> Part:
    """TV-0284: flat steel lever, hub Ø24 with an 8 mm bore, wedge tooth 9 wide, finger tab, hole for its spring."""
    edge = [
        (-43, -8, 4), (-14, -8, 9), (0, -11, 6), (31, -8, 3), (31, -19, 1), (40, -19, 1), (45, -8, 4), (45, 5, 6), (0, 11, 6), (-14, 8, 9), (-43, 8, 4)
    ]  # fmt: skip
    body = rounded(upward(edge, 8), 1.0, lambda e: level(0)(e) or level(8)(e))
    body -= [Pos(0, 0, z) * upward([(14, -4.4, 2), (27, -4, 2), (38, -3, 2), (38, 2.4, 2), (14, 5.6, 2)], 2) for z in (-0.5, 6.5)]
    body += turned([(0, 0), (12, 0, 0.8), (12, 14, 1), (0, 14)])
    tab = along_x([(-8.0, 0.5), (8.0, 0.5), (8.0, 23, 6), (-8.0, 23, 6)], 5)
    body += Pos(-40.5, 0, 0) * rounded(tab, 1.2, lambda e: e.center().Z > 15)
    body += Pos(-38.2, 0, 7.8) * gusset(9, 8, 6)
    body -= Pos(0, 0, -1) * peg(8.1, 20)
    return body - Pos(-22, 0, -1) * peg(3.4, 12)
