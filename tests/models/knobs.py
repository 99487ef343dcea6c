"""What do the depot's turning knobs look like: the window latch's and the two heater knobs."""

from __future__ import annotations

from build123d import Box, Cylinder, Part, Pos, Rot

from tests.models.features import (
    FROM_FLOOR,
    around,
    at,
    countersink,
    level,
    peg,
    rounded,
    slab,
    turned,
    upward,
)


def window_latch_knob() -> Part:
    """TV-0417: thumb-turn Ø35 with a waisted wing, square drive 7 mm and a recessed countersunk screw."""
    collar = turned([(0, 9), (17.5, 9, 0.8), (17.5, 14.5, 2.5), (0, 14.5)])
    wing = [(-14.2, 5.4, 3.5), (-7, 4.6, 14), (0, 4.0, 20), (7, 4.6, 14), (14.2, 5.4, 3.5)]
    grip = upward([*wing, *[(-x, -y, r) for x, y, r in wing]], 24)
    body = collar + Pos(0, 0, 10) * rounded(grip, 2.4, level(24))
    body = rounded(body, 1.8, lambda e: level(14.5)(e) and abs(e.center().Y) < 8 and e.length < 34)
    body += Pos(0, 0, 12) * peg(13.0, 22)
    body += peg(18, 10)
    body -= at([(0, 0, 34)], countersink(4.3, 8.6, 40))
    body -= Box(7.1, 7.1, 7, align=FROM_FLOOR)
    return body - around(4, Pos(9.6, 0, 0) * peg(3.6, 5), start_deg=45)


def fluted_body(skirt: Part) -> Part:
    """The common body of both heater knobs: fluted grip Ø27, D bore Ø6 with a 4.6 mm flat, hollow with ribs."""
    grip = turned([(0, 0), (13.8, 0), (13.2, 20, 2.2), (8.5, 20, 1.5), (7.2, 18.8, 1.5), (0, 18.4)])
    grip -= around(14, Pos(15.1, 0, 5.0) * Rot(0, -1.7, 0) * peg(4.6, 20))
    body = skirt + grip
    body -= turned([(5.4, -1), (10.8, -1), (10.6, 15, 1), (5.4, 15, 1)])
    body += around(3, Pos(8.2, 0, 3) * Box(6.5, 1.6, 13, align=FROM_FLOOR), start_deg=30)
    flat = Pos(4.6 - 3.05 - 5, 0, 0) * Box(10, 8, 13, align=FROM_FLOOR)
    bore = Cylinder(3.05, 13, align=FROM_FLOOR) & flat
    return body - (Part() + bore) - turned([(0, -1), (3.9, -1), (3.05, 0.8), (0, 0.8)])


def heater_knob() -> Part:
    """TV-0235: fluted knob with a round skirt Ø35 and an engraved line."""
    skirt = turned([(0, 0), (17.5, 0, 0.4), (17.5, 3, 1), (14.5, 5.6, 2), (0, 6)])
    return fluted_body(skirt) - Pos(9.6, 0, 18.6) * slab(10.5, 1.4, 3, 0.69)


def heater_knob_with_pointer() -> Part:
    """TV-0236: the same knob whose skirt runs out into a pointer, with a raised bar on top."""
    skirt = turned([(0, 0), (17.5, 0, 0.4), (17.5, 3, 1), (14.5, 5.6, 2), (0, 6)])
    nose = upward(
        [(0, 13.5), (0, -13.5), (12, -12.4, 3), (24.5, -1.3, 1.2), (24.5, 1.3, 1.2), (12, 12.4, 3)], 5.4
    )
    skirt += rounded(nose, 1.0, lambda e: level(5.4)(e) and e.center().X > 5)
    bar = upward([(-9, 2.4, 1.5), (-9, -2.4, 1.5), (13, -1.5, 0.7), (13, 1.5, 0.7)], 5)
    return fluted_body(skirt) + Pos(0, 0, 17) * rounded(bar, 0.8, level(5))
