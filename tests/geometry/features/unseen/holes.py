"""Solids with round holes as workshops drill them: the figures in each call are the truth."""

from __future__ import annotations

from math import acos, asin, degrees, radians, tan

from build123d import Box, Cone, Part, Plane, Pos, RegularPolygon, Rot, Sphere, chamfer, extrude, fillet

from tests.geometry.features.unseen.solid import FOOT, Solid, rod
from tests.models.features import turned


def slab(x: float, y: float, z: float) -> Part:
    """Centred in x and y, standing on z = 0."""
    return Part() + Box(x, y, z, align=FOOT)


def plate() -> Solid:
    made = Solid(slab(80, 50, 6))
    for diameter, x, y in ((2.0, -30, 15), (4.3, -30, -15), (6.5, 0, 10), (12.0, 25, 0)):
        made.bore(diameter, (x, y, 6), (x, y, 0))
    return made


def blind() -> Solid:
    made = Solid(slab(90, 40, 20))
    made.bore(3.0, (-35, 0, 20), (-35, 0, 12), through=False)
    made.bore(8.0, (-20, 0, 20), (-20, 0, 15), through=False)
    made.bore(20.0, (5, 0, 20), (5, 0, 8), through=False)
    made.bore(10.0, (30, 0, 20), (30, 0, 9), through=False)
    made.body -= Pos(30, 0, 6) * Cone(0.001, 5.0, 3.0, align=FOOT)  # a drill's point
    return made


def counterbored() -> Solid:
    made = Solid(slab(60, 30, 15))
    for x, small, large, deep in ((-18, 5.4, 10.2, 5.0), (12, 8.6, 17.0, 1.6)):
        made.bore(small, (x, 0, 15 - deep), (x, 0, 0), cut_past=3)
        made.bore(large, (x, 0, 15), (x, 0, 15 - deep), through=None, cut_past=0, seat=small)
    return made


def countersunk() -> Solid:
    made = Solid(slab(70, 30, 8), soup=True)
    for x, small, large in ((-20, 4.3, 8.6), (0, 5.3, 10.4), (22, 3.4, 6.4)):
        sink = (large - small) / 2
        made.bore(small, (x, 0, 8), (x, 0, 0), ends=False)
        made.body -= Pos(x, 0, 8 - sink) * Cone(small / 2, large / 2, sink, align=FOOT)
        made.maybe("hole", large, (x, 0, 8), (x, 0, 8 - sink))
    return made


def crossing() -> Solid:
    made = Solid(Part() + Box(40, 40, 40))
    made.bore(10.0, (20, 0, 0), (-20, 0, 0), pieces=2)
    made.bore(10.0, (0, 20, 0), (0, -20, 0), pieces=2)
    return made.bore(6.0, (10, 0, 20), (10, 0, -20), through=None, pieces=2)


def crossing_unequal() -> Solid:
    made = Solid(Part() + Box(50, 36, 36), angle_rad=0.12)
    made.bore(16.0, (25, 0, 0), (-25, 0, 0))
    return made.bore(5.0, (6, 0, 18), (6, 0, -18), through=None, pieces=2)


def half_holes() -> Solid:
    made = Solid(slab(60, 40, 8))
    made.bore(10.0, (30, 5, 8), (30, 5, 0), arc=180.0)
    return made.bore(16.0, (-5, -20, 8), (-5, -20, 0), arc=180.0)


def pipe_half() -> Solid:
    """Half a clamp: the tube's run is an open half bore."""
    made = Solid(slab(80, 30, 24))
    made.bore(34.4, (0, 15, 24), (0, -15, 24), arc=180.0)
    for x in (-29, 29):
        made.bore(6.6, (x, 0, 24), (x, 0, 0))
    return made


def clip(open_deg: float, inner: float, outer: float, wide: float) -> Solid:
    """A ring with a sector left out; its two ends are radial."""
    ring = Part() + rod(outer, (0, 0, 0), (0, 0, wide)) - rod(inner, (0, 0, -1), (0, 0, wide + 1))
    turns = int(open_deg / 10)
    for step in range(turns):
        ring -= Rot(0, 0, 10 * step + 5 - open_deg / 2) * turned_sector(outer, wide)
    made = Solid(ring)
    made.hole(inner, (0, 0, wide), (0, 0, 0), arc=360 - open_deg)
    return made.boss(outer, (0, 0, wide), (0, 0, 0), arc=360 - open_deg)


def turned_sector(outer: float, wide: float) -> Part:
    """A wedge of exactly 10° about +x, larger than the ring."""
    reach = outer
    block = Pos(reach / 2, 0, wide / 2) * Box(reach, reach, wide + 2)
    above = Rot(0, 0, 5) * Pos(0, reach, wide / 2) * Box(4 * reach, 2 * reach, wide + 4)
    below = Rot(0, 0, -5) * Pos(0, -reach, wide / 2) * Box(4 * reach, 2 * reach, wide + 4)
    return Part() + block - above - below


def ring_grooved() -> Solid:
    """A bore with a snap ring's groove: one bore, told as one or as two."""
    made = Solid(Part() + rod(36, (0, 0, 0), (0, 0, 24)))
    made.boss(36.0, (0, 0, 24), (0, 0, 0))
    made.bore(20.0, (0, 0, 24), (0, 0, 0), pieces=2)
    made.body -= rod(23.0, (0, 0, 16), (0, 0, 18))
    return made.maybe("hole", 23.0, (0, 0, 18), (0, 0, 16))


def axially_grooved() -> Solid:
    """A bush with six grease grooves along its bore."""
    made = Solid(Part() + rod(32, (0, 0, 0), (0, 0, 20)), angle_rad=0.15)
    made.boss(32.0, (0, 0, 20), (0, 0, 0))
    made.bore(20.0, (0, 0, 20), (0, 0, 0), arc=360 - 6 * 2 * degrees(asin(1.0 / 10)))
    for turn in range(6):
        made.body -= Rot(0, 0, 60 * turn) * Pos(10, 0, 10) * Box(3, 2, 30)
    return made


def keyway() -> Solid:
    made = Solid(Part() + rod(26, (0, 0, 0), (0, 0, 24)))
    made.boss(26.0, (0, 0, 24), (0, 0, 0))
    made.bore(12.05, (0, 0, 24), (0, 0, 0), arc=360 - 2 * degrees(asin(2 / 6.025)))
    made.body -= Pos(5, 0, 12) * Box(6, 4, 30)
    return made


def d_bore() -> Solid:
    """Ø8, its flat 3 from the axis."""
    made = Solid(Part() + rod(22, (0, 0, 0), (0, 0, 14)))
    made.boss(22.0, (0, 0, 14), (0, 0, 0))
    shaft = rod(8.0, (0, 0, 3), (0, 0, 20)) - Pos(8, 0, 10) * Box(10, 20, 30)
    made.body -= shaft
    made.hole(8.0, (0, 0, 14), (0, 0, 3), through=False, arc=360 - 2 * degrees(acos(3 / 4)))
    return made.other("flats", inner=True, size=7.0, axis=[0, 0, 1], at=[0, 0, 14])


def split_collar() -> Solid:
    made = Solid(Part() + rod(30, (0, 0, 0), (0, 0, 12)))
    gap = 2 * degrees(asin(1.5 / 8))
    made.bore(16.0, (0, 0, 12), (0, 0, 0), arc=360 - gap)
    made.boss(30.0, (0, 0, 12), (0, 0, 0), arc=360 - 2 * degrees(asin(1.5 / 15)))
    made.body -= Pos(12, 0, 6) * Box(24, 3, 30)
    return made


def curved_faces() -> Solid:
    """A round bar with a cross hole and a blind one, both into its curved side."""
    made = Solid(Part() + rod(40, (0, 0, 0), (0, 0, 60)), angle_rad=0.15)
    made.boss(40.0, (0, 0, 60), (0, 0, 0))
    made.bore(6.0, (20, 0, 40), (-20, 0, 40), ends=False, cut_past=5)
    return made.bore(9.0, (0, 20, 18), (0, 8, 18), through=False, ends=False)


def tube_cross() -> Solid:
    made = Solid(Part() + rod(30, (0, 0, 0), (0, 0, 50)), angle_rad=0.12)
    made.boss(30.0, (0, 0, 50), (0, 0, 0))
    made.bore(24.0, (0, 0, 50), (0, 0, 0))
    return made.bore(8.0, (15, 0, 25), (-15, 0, 25), through=None, ends=False, pieces=2)


def slanted() -> Solid:
    made = Solid(slab(80, 40, 20))
    lean = radians(20)
    made.bore(5.0, (-20, 0, 20), (-20 + 20 * tan(lean), 0, 0), ends=False)
    return made.bore(8.0, (5, 0, 20), (25, 0, 0), ends=False, cut_past=8)


def near_row() -> Solid:
    """Five holes with webs of 0.6 mm."""
    made = Solid(slab(50, 14, 4))
    for place in range(5):
        made.bore(6.0, (6.6 * (place - 2), 0, 4), (6.6 * (place - 2), 0, 0))
    return made


def concentric() -> Solid:
    """Three tubes standing in each other on one floor."""
    made = Solid(Part() + rod(60, (0, 0, 0), (0, 0, 4)))
    for outer, inner, high in ((60, 54, 20), (40, 34, 16), (20, 14, 24)):
        made.body += rod(outer, (0, 0, 4), (0, 0, high)) - rod(inner, (0, 0, 4), (0, 0, high))
        made.boss(float(outer), (0, 0, high), (0, 0, 0 if outer == 60 else 4))
        made.hole(float(inner), (0, 0, high), (0, 0, 4), through=False)
    return made


def metre() -> Solid:
    made = Solid(slab(1200, 400, 30), chord_mm=0.05)
    made.bore(20.0, (-500, 150, 30), (-500, 150, 0))
    made.bore(60.0, (0, 0, 30), (0, 0, 0))
    made.bore(12.0, (400, -120, 18), (400, -120, 0))
    made.bore(26.0, (400, -120, 30), (400, -120, 18), through=None, cut_past=0, seat=12.0)
    return made.bore(5.0, (520, 170, 30), (520, 170, 0))


def small_part() -> Solid:
    made = Solid(slab(5, 5, 2), chord_mm=0.004)
    made.bore(2.0, (0, 0, 4), (0, 0, 0))
    made.add(3.2, (0, 0, 4), (0, 0, 2))
    made.body -= rod(2.0, (0, 0, -1), (0, 0, 5))
    return made


def rounded_rims() -> Solid:
    """Holes whose rims are rounded or broken: less of the wall is left."""
    made = Solid(slab(60, 30, 12), chord_mm=0.05, angle_rad=0.3)
    made.bore(10.0, (-15, 0, 11), (-15, 0, 1), ends=False, cut_past=4)
    made.bore(12.0, (15, 0, 11), (15, 0, 1), ends=False, cut_past=4)
    rims = [e for e in made.body.edges() if e.geom_type.name == "CIRCLE"]
    made.body = Part() + fillet([e for e in rims if e.center().X < 0], 1.0)
    rims = [e for e in made.body.edges() if e.geom_type.name == "CIRCLE" and e.center().X > 0]
    made.body = Part() + chamfer(rims, 1.0)
    made.maybe("hole", 14.0, (15, 0, 12), (15, 0, 11))
    return made.maybe("hole", 14.0, (15, 0, 0), (15, 0, 1))


def sloping() -> Solid:
    """Upright holes through a wedge's slope."""
    wedge = slab(60, 30, 30) - Pos(0, 0, 30) * Rot(0, -20, 0) * Pos(0, 0, 20) * Box(120, 60, 40)
    made = Solid(wedge)
    made.bore(8.0, (12, 0, 36), (12, 0, 0), ends=False)
    return made.bore(12.0, (-10, 0, 30), (-10, 0, 0), ends=False)


def ball_bored() -> Solid:
    made = Solid(Part() + Sphere(25), angle_rad=0.4, chord_mm=0.1)
    return made.bore(12.0, (0, 0, 24), (0, 0, -24), ends=False)


def stepped_bore() -> Solid:
    made = Solid(slab(44, 44, 30))
    made.bore(14.0, (0, 0, 8), (0, 0, 0))
    made.bore(22.0, (0, 0, 18), (0, 0, 8), through=None, cut_past=0, seat=14.0)
    return made.bore(30.0, (0, 0, 30), (0, 0, 18), through=None, cut_past=0, seat=22.0)


def opposed() -> Solid:
    """Two blind holes on one axis with a web between them: two, none through."""
    made = Solid(slab(40, 24, 24))
    made.bore(8.0, (20, 0, 12), (8, 0, 12), through=False)
    made.bore(8.0, (-20, 0, 12), (-5, 0, 12), through=False)
    made.bore(5.0, (10, 0, 24), (10, 0, 18), through=False)
    return made.bore(7.0, (10, 0, 0), (10, 0, 5), through=False)


def figure_eight() -> Solid:
    """Two holes that run into each other."""
    made = Solid(slab(40, 30, 6))
    lost = 2 * degrees(acos(4 / 5))
    for x in (-4, 4):
        made.bore(10.0, (x, 0, 6), (x, 0, 0), arc=360 - lost)
    return made


def sieve() -> Solid:
    made = Solid(slab(30, 30, 2), chord_mm=0.04, angle_rad=0.5)
    for x in range(5):
        for y in range(5):
            made.bore(3.0, (5 * (x - 2), 5 * (y - 2), 2), (5 * (x - 2), 5 * (y - 2), 0))
    return made


def hinge() -> Solid:
    """Two lugs with one bore each, on one axis."""
    made = Solid(slab(44, 34, 4.5))
    for x in (-6, 6):
        out = 6 if x > 0 else -6
        made.body += Pos(x + out / 2, 0, 4) * slab(6, 12, 9)
        made.body += rod(12.0, (x, 0, 13), (x + out, 0, 13))
        made.boss(12.0, (x + out, 0, 13), (x, 0, 13), arc=180.0, asked=False)
    for x in (6, -6):
        out = 6 if x > 0 else -6
        made.body -= rod(6.2, (x - out / 2, 0, 13), (x + 1.2 * out, 0, 13))
        made.hole(6.2, (x + out, 0, 13), (x, 0, 13))
    return made


def flange() -> Solid:
    made = Solid(turned([(8, 0), (40, 0), (40, 8), (14, 8), (14, 30), (8, 30)]))
    made.hole(16.0, (0, 0, 30), (0, 0, 0)).boss(80.0, (0, 0, 8), (0, 0, 0)).boss(28.0, (0, 0, 30), (0, 0, 8))
    for turn in range(6):
        centre = Plane.XY.rotated((0, 0, 60 * turn + 10)).from_local_coords((29, 0, 0))
        made.bore(6.6, (centre.X, centre.Y, 8), (centre.X, centre.Y, 0))
    return made


def wide_ring() -> Solid:
    made = Solid(turned([(30, 0), (32, 0), (32, 3), (30, 3)]))
    return made.hole(60.0, (0, 0, 3), (0, 0, 0)).boss(64.0, (0, 0, 3), (0, 0, 0))


def coarse(facets: int) -> Solid:
    """A bore and a boss of so many facets: below 13 edges turn by 30° and more, which may be told as round or not."""
    if facets > 12:
        made = Solid(slab(60, 40, 10), chord_mm=50.0, angle_rad=0.4)  # the kernel gives 16
        return made.bore(20.0, (-12, 0, 10), (-12, 0, 0)).add(16.0, (15, 0, 22), (15, 0, 10))
    made = Solid(slab(60, 40, 10) - Pos(-12, 0, -1) * extrude(RegularPolygon(10, facets), 12))
    made.body += Pos(15, 0, 9) * extrude(RegularPolygon(8, facets), 13)
    return made.maybe("hole", 20.0, (-12, 0, 10), (-12, 0, 0)).maybe("boss", 16.0, (15, 0, 22), (15, 0, 10))


def fine() -> Solid:
    made = Solid(slab(30, 20, 6), chord_mm=0.001, angle_rad=0.05)
    made.bore(7.0, (-6, 0, 6), (-6, 0, 0))
    return made.bore(4.0, (7, 0, 6), (7, 0, 2.5), through=False)


HOLES = {
    "plate": plate, "blind": blind, "counterbored": counterbored, "countersunk": countersunk, "crossing": crossing,
    "crossing-unequal": crossing_unequal, "half-holes": half_holes, "pipe-half": pipe_half,
    "clip-230": lambda: clip(130, 12, 16, 10), "clip-270": lambda: clip(90, 20, 28, 8),
    "clip-300": lambda: clip(60, 38, 52, 20), "ring-grooved": ring_grooved, "axially-grooved": axially_grooved,
    "keyway": keyway, "d-bore": d_bore, "split-collar": split_collar, "curved-faces": curved_faces,
    "tube-cross": tube_cross, "slanted": slanted, "near-row": near_row, "concentric": concentric, "metre": metre,
    "small": small_part, "rounded-rims": rounded_rims, "sloping": sloping, "ball-bored": ball_bored,
    "stepped-bore": stepped_bore, "opposed": opposed, "figure-eight": figure_eight, "sieve": sieve, "hinge": hinge,
    "flange": flange, "wide-ring": wide_ring, "coarse-16": lambda: coarse(16),
    "coarse-10": lambda: coarse(10), "coarse-8": lambda: coarse(8), "fine": fine,
}  # fmt: skip
