"""What do the depot's holders and blanking plates look like that were printed before it had a catalogue."""

from __future__ import annotations

from build123d import Part, Pos, Rot

from tests.models.features import at, countersink, level, rounded, slab, snap_tongue


def duty_card_frame() -> Part:
    """TV-0296: frame 124 x 92 x 7 with a pocket 112 x 78 for a card, open at the top, a window and three M3 holes."""
    frame = rounded(slab(124, 92, 7, 6), 1.5, level(7))
    frame -= Pos(0, 9, 2.4) * slab(112, 88, 2.2, 2)
    frame -= Pos(0, 10, 4) * slab(98, 66, 6, 3)
    return frame - at([(-56, -38, 7), (56, -38, 7), (0, -40, 7)], countersink(3.2, 6.2, 9))


def bell_push_blanking_plate() -> Part:
    """TV-0297: plate 86 x 58 x 3.6 over the opening of a bell push that is gone, with a collar and two snap tongues."""
    plate = rounded(slab(86, 58, 3.6, 9), 1.4, level(3.6))
    collar = slab(70, 42, 9, 5) - Pos(0, 0, -1) * slab(65.2, 37.2, 12, 3)
    plate += Pos(0, 0, 3.5) * collar
    return plate + [Pos(0, y, 3.5) * Rot(0, 0, turn) * snap_tongue(14, 13, 2.4, 1.4) for y, turn in ((-24, 0), (24, 180))]
