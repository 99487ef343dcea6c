"""Parts as a depot has them, made of primitives: families of near variants, so that telling them apart is hard.

No two are copies of each other in another size: only the pairs in `HANDS` are, each the mirror image of the other.
Every part stands for its name alone: it comes out the same on every day and in every order.
"""

from collections.abc import Callable
from functools import cache, partial

import numpy as np

from generator.geometry.mesh import Mesh

FINE, COARSE = 64, 20  # how many sides a circle has, in a usual export and in a coarse one
Holes = list[tuple[float, float, float]]  # x, y and diameter in mm


def _3d():
    """The boolean kernel, loaded where it is asked."""
    import manifold3d

    return manifold3d


def box(x, y, z, at=(0.0, 0.0, 0.0)):
    return _3d().Manifold.cube([x, y, z]).translate(list(at))


def rod(diameter, height, around, at=(0.0, 0.0, 0.0), top=None):
    ends = (diameter / 2, (diameter if top is None else top) / 2)
    return _3d().Manifold.cylinder(height, *ends, around).translate(list(at))


def profile(points, height):
    return _3d().CrossSection([np.array(points, dtype=float)], _3d().FillRule.Positive).extrude(height)


def turned(points, around):
    """A ring of (radius, height), anticlockwise, turned round the z axis."""
    return _3d().CrossSection([np.array(points, dtype=float)], _3d().FillRule.Positive).revolve(around)


def bored(solid, holes: Holes, around, *, along="z"):
    """Through holes; along x or y the two places are (y, z) or (x, z)."""
    for u, v, diameter in holes:
        hole = rod(diameter, 2000, around, (0, 0, -1000))
        if along == "z":
            solid -= hole.translate([u, v, 0])
        elif along == "x":
            solid -= hole.rotate([0, 90, 0]).translate([0, u, v])
        else:
            solid -= hole.rotate([90, 0, 0]).translate([u, 0, v])
    return solid


def plate(around, *, x=80, y=50, z=5, round_=6, holes: Holes = (), slots=()):
    flat = _3d().CrossSection.square([x - 2 * round_, y - 2 * round_], center=True)
    solid = flat.offset(round_, _3d().JoinType.Round, 2, around).extrude(z)
    for u, v, long, wide in slots:
        solid -= box(long, wide, 100, (u - long / 2, v - wide / 2, -50))
    return bored(solid, holes, around)


def clip(around, *, inside=20, wall=3, width=12, gap=70, foot=0, lip=0, hole=0):
    """An open ring for a pipe; gap in degrees, foot the length of its base."""
    ring = rod(inside + 2 * wall, width, around) - rod(inside, width * 3, around, (0, 0, -width))
    out, half = inside * 2, np.radians(gap / 2)
    ring -= profile([(0, 0), (out * np.sin(half) * 2, out * np.cos(half) * 2), (-out * np.sin(half) * 2, out * np.cos(half) * 2)], 99).translate([0, 0, -9])
    middle = inside / 2 + wall / 2
    for side in (-1, 1) if lip else ():
        ring += rod(lip, width, around, (side * middle * np.sin(half), middle * np.cos(half), 0))
    if foot:
        base = box(foot, wall + 2, width, (-foot / 2, -inside / 2 - wall - 1, 0))
        holes = [(side * (foot / 2 - 5), width / 2, hole) for side in (-1, 1)] if hole else []
        ring += bored(base, holes, around, along="y")
    return ring


def cap(around, *, across=30, height=14, wall=2, rim=0, ribs=0, hole=0, square=False):
    body = box(across, across, height, (-across / 2, -across / 2, 0)) if square else rod(across, height, around)
    inner = across - 2 * wall
    hollow = box(inner, inner, height, (-inner / 2, -inner / 2, wall)) if square else rod(inner, height, around, (0, 0, wall))
    solid = body - hollow
    if rim:
        solid += rod(across + 2 * rim, wall, around)
    for turn in range(ribs):
        solid += box(inner / 2 + 0.1, wall, height - 3, (0, -wall / 2, wall / 2)).rotate([0, 0, 360 * turn / ribs + 7])
    return bored(solid, [(0, 0, hole)] if hole else [], around)


def knob(around, *, across=36, height=16, lobes=0, bore=6, deep=10, flat=True, skirt=0, pointer=False):
    solid = rod(across, height, around, top=across * 0.92)
    for turn in range(lobes):
        angle = 2 * np.pi * turn / lobes
        solid -= rod(across / 4, 99, around, (across * 0.56 * np.cos(angle), across * 0.56 * np.sin(angle), skirt and 4))
    if skirt:
        solid += rod(across + 2 * skirt, 4, around)
    if pointer:
        solid += box(across * 0.75, 5, height + 3, (0, -2.5, 0))
    shaft = rod(bore, deep, around)
    if flat:
        shaft -= box(bore, bore, 99, (-bore / 2, bore * 0.28, 0))
    return solid - shaft.translate([0, 0, -0.01])


def angle(around, *, long=50, high=40, wide=30, wall=4, gusset=0, holes: Holes = (), wall_holes: Holes = ()):
    foot = bored(box(long, wide, wall), holes, around)
    back = bored(box(wall, wide, high), wall_holes, around, along="x")
    solid = foot + back
    for place in {0: (), 1: (wide / 2 - 2,), 2: (0, wide - 4)}[gusset]:
        solid += profile([(0, 0), (long * 0.7, 0), (0, high * 0.7)], 4).rotate([90, 0, 0]).translate([0, place + 4, 0])
    return solid


def channel(around, *, inside=30, high=25, wide=30, wall=3, holes: Holes = (), side_hole=0, ears=0):
    solid = box(inside + 2 * wall, wide, high) - box(inside, 99, 99, (wall, -9, wall))
    solid = bored(solid, [(u + inside / 2 + wall, wide / 2 + v, d) for u, v, d in holes], around)
    if side_hole:
        solid = bored(solid, [(wide / 2, high * 0.65, side_hole)], around, along="x")
    if ears:
        solid += box(inside + 2 * wall + 2 * ears, wide, wall, (-ears, 0, high - wall)) - box(inside, 99, 99, (wall, -9, wall))
    return solid


def cover(around, *, x=70, y=45, z=18, wall=2, bosses=4, vents=0, window=0):
    solid = box(x, y, z) - box(x - 2 * wall, y - 2 * wall, z, (wall, wall, wall))
    places = [(6, 6), (x - 6, y - 6), (x - 6, 6), (6, y - 6), (x / 2, 6), (x / 2, y - 6)][:bosses]
    for u, v in places:
        solid += rod(7, z - 2, around, (u, v, 0.5)) - rod(2.8, 99, around, (u, v, 5))
    for turn in range(vents):
        solid -= box(2.5, y * 0.45, 9, (14 + turn * (x - 30) / max(vents - 1, 1), y * 0.27, -4))
    return solid - box(window, window * 0.6, 9, (x / 2 - window / 2, y / 2 - window * 0.3, -4)) if window else solid


def gear(around, *, teeth=18, module=2.0, wide=10, bore=8, hub=0, key=0, spokes=0):
    """Straight flanks in place of involutes: the eye and the distance see a gear."""
    step, pitch = 2 * np.pi / teeth, module * teeth / 2
    ring = []
    for tooth in range(teeth):
        for share, out in ((-0.27, -1.25), (-0.13, 1.0), (0.13, 1.0), (0.27, -1.25)):
            at, radius = step * (tooth + share), pitch + out * module
            ring.append((radius * np.cos(at), radius * np.sin(at)))
    solid = profile(ring, wide)
    if hub:
        solid += rod(hub, wide * 1.8, around)
    solid -= rod(bore, 99, around, (0, 0, -9))
    for turn in range(spokes):
        at = 2 * np.pi * turn / spokes
        solid -= rod(pitch * 0.42, 99, around, (pitch * 0.55 * np.cos(at), pitch * 0.55 * np.sin(at), -9))
    return solid - box(bore / 2 + key, key, 99, (0, -key / 2, -9)) if key else solid


def bush(around, *, inside=10, outside=14, long=18, flange=0, thick=2, slit=0, oil=0, both=False):
    solid = rod(outside, long, around)
    if flange:
        solid += rod(flange, thick, around)
        solid += rod(flange, thick, around, (0, 0, long - thick)) if both else rod(1, 1, around)
    solid -= rod(inside, 999, around, (0, 0, -99))
    if slit:
        solid -= box(99, slit, 999, (0, -slit / 2, -99))
    for turn in range(oil):
        solid -= rod(2.5, 99, around).rotate([0, 90, 0]).rotate([0, 0, 40 + 360 * turn / oil]).translate([0, 0, long * 0.6])
    return solid


def tray(around, *, x=90, y=60, z=20, wall=2, rows=1, columns=1, lip=0, drain=0):
    solid = box(x, y, z)
    wide, deep = (x - wall * (columns + 1)) / columns, (y - wall * (rows + 1)) / rows
    for i in range(columns):
        for j in range(rows):
            solid -= box(wide, deep, z, (wall + i * (wide + wall), wall + j * (deep + wall), wall))
    if lip:
        solid += box(x + 2 * lip, y + 2 * lip, wall, (-lip, -lip, z - wall)) - box(x - 1, y - 1, 9, (0.5, 0.5, z - 5))
    return bored(solid, [(x * 0.2, y * 0.2, drain)] if drain else [], around)


def hook(around, *, radius=14, thick=7, arc=230, stem=25, base=0, holes=1):
    bow = _3d().CrossSection.circle(thick / 2, around).translate([radius, 0]).revolve(around, arc)
    solid = bow + rod(thick, stem, around).rotate([90, 0, 0]).translate([radius, 0.01, 0])
    if base:
        foot = box(base, 4, base * 0.6, (radius - base / 2, -stem - 3, -base * 0.3))
        at = [(radius + base * (k + 1) / (holes + 1) - base / 2, 0, 4.5) for k in range(holes)]
        foot = bored(foot, [(u + (0 if holes > 1 else base * 0.3), v, d) for u, v, d in at], around, along="y")
        solid += foot
    return solid


def lever(around, *, long=70, hub=22, end=14, bore=8, bend=0, thick=8, square=False):
    tip = np.array([long * np.cos(np.radians(bend)), long * np.sin(np.radians(bend))])
    elbow = np.array([long * 0.5, 0])
    parts = [rod(hub, thick * 1.6, around), rod(end, thick, around, (*elbow, 0)), rod(end, thick, around, (*(elbow + tip / 2), 0))]
    hull = _3d().Manifold.batch_hull
    solid = parts[0] + hull([rod(end, thick, around), parts[1]]) + hull(parts[1:])
    return solid - (box(bore, bore, 99, (-bore / 2, -bore / 2, -9)) if square else rod(bore, 99, around, (0, 0, -9)))


def roller(around, *, radius=20, wide=18, groove=5.0, kind="v", bore=8, recess=0):
    middle = {"v": [(radius - groove, wide / 2)], "u": [(radius - groove, wide * 0.7), (radius - groove, wide * 0.3)],
              "crown": [(radius + groove, wide / 2)], "step": [(radius, wide / 2), (radius - groove, wide / 2)]}[kind]  # fmt: skip
    low = radius - groove if kind == "step" else radius
    solid = turned([(bore / 2, 0), (low, 0), *middle[::-1], (radius, wide), (bore / 2, wide)], around)
    return solid - (rod(radius * 1.3, recess, around, (0, 0, wide - recess)) - rod(bore + 6, 99, around)) if recess else solid


def duct(around, *, across=30, x=40, y=25, long=40, wall=2, shift=0, flange=0):
    def shape(more):
        above = rod(across + more, 0.5, around, (shift, 0, long))
        return _3d().Manifold.batch_hull([box(x + more, y + more, 0.5, (-(x + more) / 2, -(y + more) / 2, 0)), above])

    solid = shape(2 * wall)
    if flange:
        solid += box(x + 2 * flange, y + 2 * flange, 3, (-x / 2 - flange, -y / 2 - flange, 0))
    inner = shape(0)
    return solid - inner.translate([0, 0, -0.01]) - inner.translate([0, 0, 0.51])


def handle(around, *, long=90, high=30, thick=10, feet=16, holes=5, square=False):
    ring = box(long, thick, high, (-long / 2, -thick / 2, 0)) - box(long - 2 * thick, 99, high - thick, (thick - long / 2, -50, 0))
    if not square:
        bow = _3d().CrossSection.circle(thick / 2, around).translate([long / 2 - thick / 2, 0]).revolve(around, 180).rotate([90, 0, 0])
        ring = bow.scale([1, 1, high / (long / 2)])
    for side in (-1, 1):
        middle = side * (long / 2 - thick / 2)
        ring += rod(feet, 4, around, (middle, 0, -3))
        ring = bored(ring, [(middle, 0, holes)], around) if square else ring - rod(holes, 12, around, (middle, 0, -4))
    return ring


def grille(around, *, x=80, y=60, z=3, bars=7, rows=0, frame=6):
    solid = box(x, y, z * 2) - box(x - 2 * frame, y - 2 * frame, 99, (frame, frame, -9))
    for k in range(bars):
        solid += box(2, y - frame, z, (frame + (x - 2 * frame) * (k + 1) / (bars + 1) - 1, frame / 2, 0))
    for k in range(rows):
        solid += box(x - frame, 2, z, (frame / 2, frame + (y - 2 * frame) * (k + 1) / (rows + 1) - 1, 0))
    return solid


def handed(around, *, arm=40, tab=14, hole=5, step=8, pin=0, left=False):
    """A stepped lug that is no mirror image of itself."""
    solid = box(arm, 20, 5) + box(6, 20, step + 12) + box(tab, 9, 5, (arm - 6, 11, step)) + box(6, 9, step, (arm - 6, 11, 2))
    solid = bored(solid, [(arm * 0.5, 6, hole), (arm + tab - 11, 15.5, 3.5)], around)
    solid = solid + rod(pin, 9, around, (arm * 0.3, 14, 4)) if pin else solid
    return solid.mirror([0, 1, 0]) if left else solid


CORNERS4 = [(-32, -18, 5), (32, -18, 5), (-32, 18, 5), (32, 18, 5)]
LUGS = [{}, {"arm": 55}, {"tab": 22}, {"hole": 9}, {"step": 14}, {"pin": 6}, {"arm": 30, "tab": 20, "step": 4}, {"pin": 8, "hole": 7, "step": 18}]
FAMILIES: dict[Callable, list[dict]] = {
    plate: [
        {}, {"holes": CORNERS4[:1]}, {"holes": CORNERS4[:2]}, {"holes": [CORNERS4[0], CORNERS4[3]]}, {"holes": CORNERS4[:3]},
        {"holes": CORNERS4}, {"holes": [*CORNERS4, (0, 0, 12)]}, {"holes": [*CORNERS4, (0, 0, 24)]}, {"holes": [*CORNERS4, (14, 0, 12)]},
        {"holes": [(-30 + 15 * k, 0, 6) for k in range(5)]}, {"holes": [(-30 + 20 * k, 0, 6) for k in range(4)]},
        {"holes": [(-30, 0, 6), (30, 0, 6)], "slots": [(0, 0, 30, 8)]}, {"slots": [(0, 12, 50, 6), (0, -12, 50, 6)]},
        {"holes": CORNERS4, "slots": [(0, 0, 40, 20)]}, {"holes": CORNERS4, "z": 12}, {"holes": CORNERS4, "x": 110},
        {"holes": [(x, y, 9) for x, y, _ in CORNERS4]}, {"x": 50, "holes": [(0, 0, 20)]}, {"x": 50, "holes": [(0, 0, 30)]},
        {"x": 50, "z": 14, "holes": [(0, 0, 20)]},
    ],
    clip: [
        {}, {"gap": 110}, {"wall": 5}, {"width": 25}, {"foot": 40}, {"foot": 40, "hole": 4}, {"foot": 60, "hole": 4}, {"lip": 5},
        {"lip": 5, "foot": 40}, {"foot": 40, "hole": 4, "gap": 120}, {"inside": 32, "foot": 40, "hole": 5}, {"inside": 12, "foot": 44, "hole": 5},
    ],
    cap: [
        {}, {"height": 26}, {"wall": 4}, {"rim": 4}, {"rim": 8}, {"ribs": 3}, {"ribs": 4}, {"ribs": 6}, {"hole": 6}, {"hole": 14},
        {"square": True}, {"square": True, "height": 26}, {"square": True, "hole": 10}, {"rim": 4, "ribs": 4}, {"rim": 4, "hole": 8},
    ],
    knob: [
        {}, {"lobes": 3}, {"lobes": 5}, {"lobes": 6}, {"lobes": 8}, {"lobes": 12}, {"skirt": 6}, {"skirt": 6, "lobes": 6}, {"pointer": True},
        {"pointer": True, "skirt": 5}, {"height": 28}, {"height": 28, "lobes": 6}, {"bore": 14}, {"bore": 14, "flat": False, "lobes": 6},
    ],
    angle: [
        {}, {"gusset": 1}, {"gusset": 2}, {"holes": [(32, 15, 6)]}, {"holes": [(32, 15, 6)], "wall_holes": [(15, 26, 6)]},
        {"holes": [(32, 8, 5), (32, 22, 5)], "wall_holes": [(15, 26, 6)]}, {"holes": [(22, 15, 5), (40, 15, 5)]}, {"long": 80},
        {"high": 70, "holes": [(32, 15, 6)]}, {"wide": 55}, {"wall": 7}, {"gusset": 1, "holes": [(38, 7, 5), (38, 23, 5)]}, {"wide": 14},
        {"wide": 14, "holes": [(32, 7, 6)], "wall_holes": [(7, 26, 6)]}, {"wall_holes": [(15, 26, 14)]},
    ],
    channel: [
        {}, {"high": 45}, {"wall": 6}, {"holes": [(0, 0, 8)]}, {"holes": [(-9, 0, 5), (9, 0, 5)]}, {"side_hole": 8}, {"side_hole": 12, "high": 35},
        {"ears": 14}, {"ears": 14, "side_hole": 8}, {"inside": 60}, {"inside": 60, "holes": [(0, 0, 12)]}, {"wide": 70},
    ],
    cover: [
        {}, {"bosses": 2}, {"bosses": 6}, {"bosses": 0}, {"vents": 3}, {"vents": 5}, {"vents": 8}, {"window": 20}, {"window": 36}, {"z": 32},
        {"z": 9}, {"y": 68}, {"wall": 4}, {"vents": 5, "bosses": 2}, {"y": 68, "window": 30},
    ],
    gear: [
        {"teeth": 12}, {"teeth": 16}, {}, {"teeth": 20}, {"teeth": 24}, {"teeth": 32}, {"hub": 18}, {"hub": 18, "key": 3}, {"key": 3},
        {"teeth": 24, "spokes": 4}, {"teeth": 24, "spokes": 6}, {"wide": 22}, {"bore": 16}, {"teeth": 12, "wide": 20}, {"teeth": 32, "wide": 5},
    ],
    bush: [
        {}, {"long": 30}, {"outside": 20}, {"flange": 22}, {"flange": 30}, {"flange": 22, "thick": 5}, {"slit": 2}, {"flange": 22, "slit": 2},
        {"oil": 2}, {"oil": 4}, {"flange": 22, "both": True}, {"inside": 6}, {"long": 6}, {"long": 3, "outside": 22}, {"long": 3, "outside": 30},
    ],
    tray: [
        {}, {"columns": 2}, {"columns": 3}, {"columns": 2, "rows": 2}, {"columns": 3, "rows": 2}, {"columns": 4, "rows": 3}, {"lip": 6},
        {"lip": 6, "columns": 2}, {"z": 40}, {"drain": 9}, {"y": 88}, {"wall": 5},
    ],
    hook: [
        {}, {"arc": 180}, {"arc": 270}, {"stem": 50}, {"thick": 11}, {"base": 30}, {"base": 45, "holes": 2}, {"base": 45, "holes": 3},
        {"arc": 180, "base": 30}, {"radius": 22, "base": 30},
    ],
    lever: [
        {}, {"bend": 30}, {"bend": 60}, {"bend": 90}, {"long": 110}, {"hub": 34}, {"square": True}, {"bore": 14}, {"bend": 30, "square": True},
        {"thick": 16}, {"end": 8}, {"hub": 34, "bend": 60},
    ],
    roller: [
        {}, {"kind": "u"}, {"kind": "crown"}, {"kind": "step"}, {"groove": 9}, {"kind": "u", "groove": 9}, {"wide": 34}, {"bore": 20},
        {"recess": 5}, {"kind": "u", "recess": 5}, {"kind": "crown", "wide": 34}, {"kind": "step", "groove": 10},
    ],
    duct: [{}, {"long": 70}, {"shift": 15}, {"flange": 8}, {"flange": 8, "shift": 15}, {"x": 60}, {"across": 18}, {"wall": 5}, {"x": 60, "flange": 8}],
    handle: [
        {}, {"long": 130}, {"high": 50}, {"thick": 16}, {"feet": 28}, {"square": True}, {"square": True, "high": 50}, {"square": True, "long": 130},
        {"square": True, "thick": 16}, {"holes": 8},
    ],
    grille: [{}, {"bars": 4}, {"bars": 11}, {"rows": 2}, {"rows": 4}, {"frame": 12}, {"x": 120}, {"x": 60}],
    handed: [{**lug, "left": left} for lug in LUGS for left in (False, True)],
}  # fmt: skip
RECIPES = {f"{make.__name__}-{at:02}": partial(make, **wanted) for make, all_of in FAMILIES.items() for at, wanted in enumerate(all_of)}
NAMES = tuple(RECIPES)
HANDS = {f"handed-{at:02}": f"handed-{at ^ 1:02}" for at in range(len(FAMILIES[handed]))}
OTHER_HOLES = (
    ("plate-05", "plate-06"), ("plate-05", "plate-16"), ("plate-02", "plate-03"), ("plate-06", "plate-08"), ("plate-09", "plate-10"),
    ("angle-03", "angle-06"), ("angle-04", "angle-05"), ("channel-03", "channel-04"), ("cap-08", "cap-09"), ("gear-02", "gear-12"),
    ("bush-08", "bush-09"), ("grille-00", "grille-03"),
)  # fmt: skip
"""Parts of one family whose outsides are equal and whose holes are not: a mechanic would fit the wrong one."""


def family(name: str) -> str:
    return name.rsplit("-", 1)[0]


def solid(name: str, around: int = FINE):
    """The closed solid of a name, as the boolean kernel has it."""
    return RECIPES[name](around)


def mesh_of(solid) -> Mesh:
    """(n, 3) corners in mm and (m, 3) faces of a kernel's solid."""
    plain = solid.to_mesh64()
    corners, faces = np.array(plain.vert_properties, dtype=float), np.array(plain.tri_verts, dtype=np.int64)
    return Mesh(vertices_mm=corners[:, :3].copy(), faces=faces)


@cache
def part(name: str) -> Mesh:
    """A part as it is known."""
    return mesh_of(solid(name))
