"""What do the depot's surrounds, covers and retainers look like."""

from __future__ import annotations

from build123d import Box, Part, Pos, RectangleRounded, Rot, Sketch, loft

from tests.models.features import (
    FROM_FLOOR,
    along_x,
    along_y,
    at,
    counterbore,
    countersink,
    drill,
    level,
    peg,
    rounded,
    slab,
    snap_tongue,
    turned,
    upright,
)


def door_push_button_surround() -> Part:
    """TV-0101: domed escutcheon 90 x 60 with a dished collar for a Ø38 button, a lamp slot and four M4 holes."""
    shell = rounded(slab(60, 90, 12, 12), 5, level(12))
    shell -= Pos(0, 0, -1) * rounded(slab(55, 85, 10.4, 9.5), 3, level(10.4))
    shell += at([(x, y, 0) for x in (-22, 22) for y in (-37, 37)], peg(10, 10))
    shell += at([(x, y, 2) for x in (-14, 14) for y in (-38, 38)], Box(12, 1.8, 8, align=FROM_FLOOR))
    shell += Pos(0, -6, 0) * turned(
        [(0, 2), (22.5, 2), (22.5, 11), (26.5, 11.6, 1), (24.5, 16, 1.6), (0, 16)]
    )
    shell -= Pos(0, -6, 0) * turned([(0, -1), (19.2, -1), (19.2, 11.5), (20.4, 13), (23.2, 17), (0, 17)])
    lamp = rounded(slab(26, 13, 3.4, 6), 1.2, level(3.4)) - Pos(0, 0, -1) * slab(20, 7, 9, 3.4)
    shell -= Pos(0, 31, 5) * slab(20, 7, 9, 3.4)
    shell += Pos(0, 31, 10) * lamp
    return upright(shell - at([(x, y, 12) for x in (-22, 22) for y in (-37, 37)], countersink(4.3, 8.6, 13)))


def luggage_rack_bracket_cover() -> Part:
    """TV-0131: hollow cover 64 x 46 x 92 over a rack bracket, cradle for a Ø25 tube, snap tongues, one M5 screw."""
    side = [(-23, 0, 3), (23, 0), (23, 92), (2, 92, 14), (-23, 44, 26)]
    inner = [(-20.6, 2.4, 2), (30, 2.4), (30, 89.6), (3, 89.6, 12), (-20.6, 43.4, 24)]
    solid = rounded(
        along_x(side, 64), 4, lambda e: abs(abs(e.center().X) - 32) < 1e-3 and e.center().Y < 22.9
    )
    hollow = along_x(inner, 59)
    across = Pos(-40, -9, 70) * Rot(0, 90, 0)
    boss = Pos(0, 12, 21) * Rot(90, 0, 0) * peg(12, 40)
    floors = [Pos(0, 0, 36) * Box(2.2, 60, 24), Pos(0, 0, 11) * Box(2.2, 60, 18)]
    stays = [Pos(0, 0, z) * Box(60, 30, 2.2) for z in (21, 50)]
    filling = (boss + floors + stays + across * peg(32, 80)) & solid
    body = solid - hollow + filling - across * peg(25.8, 80)
    body -= Pos(0, -23, 21) * Rot(90, 0, 0) * counterbore(5.4, 10.2, 5, 40)
    tongues = [(-29.5, 14, 90), (-29.5, 76, 90), (29.5, 14, -90), (29.5, 76, -90)]
    return body + [
        Pos(x, 21, z) * Rot(-90, 0, 0) * Rot(0, 0, turn) * snap_tongue(12, 11, 2, 1.4)
        for x, z, turn in tongues
    ]


def step_light_lens_retainer() -> Part:
    """TV-0203: frame 150 x 46 round a lens window 104 x 22, sloped reveal, lens rebate, six M4 countersunk holes."""
    frame = rounded(slab(150, 46, 7, 10), 2.2, level(7))
    reveal = loft(
        [
            Sketch() + Pos(0, 0, 2.6) * RectangleRounded(104, 21, 8),
            Sketch() + Pos(0, 0, 7.2) * RectangleRounded(113, 30, 11),
        ]
    )
    frame -= Part() + reveal
    frame -= Pos(0, 0, -1) * slab(104, 21, 6, 8)
    frame -= Pos(0, 0, -1) * slab(112, 28, 3.2, 10)
    lip = along_x([(22.5, 3), (22.5, 7.0), (26.5, 11, 0.8), (28, 10.2, 0.6), (24.2, 3)], 112)
    frame += lip
    holes = [(x, y, 7) for x in (-67, 67) for y in (-14.5, 14.5)] + [(0, y, 7) for y in (-18.8, 18.8)]
    frame -= at(holes[:4], countersink(4.3, 8.2, 8))
    frame -= at([(x, 0, 7) for x in (-67, 67)], drill(3.2, 8))
    frame -= at([(x, -23, 2.2) for x in (-40, 0, 40)], Box(8, 12, 3.2))
    return upright(frame)


def fuse_box_label_cover() -> Part:
    """TV-0272: clear label cover 122 x 58 with a raised window, two hinge eyes Ø4, a finger latch and a seal groove."""
    cover = rounded(slab(122, 58, 9, 7), 2.5, level(9))
    cover -= Pos(0, 0, -1) * slab(117.6, 53.6, 8, 5)
    window = rounded(slab(92, 36, 3.5, 5), 1.4, level(3.5))
    cover += Pos(-4, 0, 8) * window
    cover -= Pos(-4, 0, 3) * slab(87.6, 31.6, 6.6, 3)
    cover -= at([(-4, y, 9.6) for y in (-8.5, 0, 8.5)], slab(80, 0.8, 3, 0.39))
    cover += at([(x, 27, 0) for x in (-40, 40)], hinge_eye(4.1))
    cover += Pos(52.5, 0, 0) * along_y(
        [(2, 0), (8.3, 0), (19, 6.5, 1.5), (19, 9, 1.2), (8.3, 9, 3), (2, 9)], 24
    )
    cover -= at([(x, 0, 9.4) for x in (66.0, 69.0)], along_x([(-8, 1), (8, 1), (8, -0.6), (-8, -0.6)], 1.4))
    cover += at([(x, y, 0.5) for x in (-52, 46) for y in (-21, 21)], peg(7, 7.5))
    return cover - at(
        [(x, y, 0.5) for x in (-52, 46) for y in (-21, 21)], drill(2.5, 0.1) + Pos(0, 0, -1) * peg(2.5, 6)
    )


def hinge_eye(bore: float) -> Part:
    """A hinge eye of Ø9 with a bore along x, on an arm from y = 0 outwards."""
    arm = along_x([(0, 2), (0, 9), (5, 9, 1), (10.5, 4.5), (10.5, 0.1), (5, 0.1)], 14)
    barrel = Pos(-7, 10, 4.5) * Rot(0, 90, 0) * peg(9, 14)
    return arm + barrel - Pos(-8, 10, 4.5) * Rot(0, 90, 0) * peg(bore, 16)
