"""Which shapes do all modelled parts share: outlines, turned bodies, holes, ribs, snap tongues, how a part stands."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from build123d import (
    Align,
    Axis,
    Cone,
    Cylinder,
    Edge,
    Part,
    Plane,
    Polyline,
    Pos,
    RectangleRounded,
    Rot,
    Sketch,
    chamfer,
    extrude,
    fillet,
    make_face,
    revolve,
)

Corner = tuple[float, float] | tuple[float, float, float]
FROM_FLOOR = (Align.CENTER, Align.CENTER, Align.MIN)
HANGING = (Align.CENTER, Align.CENTER, Align.MAX)


def outline(corners: Sequence[Corner]) -> Sketch:
    """A closed polygon in mm; a corner (x, y, r) is rounded with radius r, a corner (x, y) stays sharp."""
    face = Sketch() + make_face(Polyline(*[(c[0], c[1]) for c in corners], close=True))
    for radius in sorted({c[2] for c in corners if len(c) == 3 and c[2] > 0}):
        wanted = [(c[0], c[1]) for c in corners if len(c) == 3 and c[2] == radius]
        meant = [v for v in face.vertices() if any(abs(v.X - x) + abs(v.Y - y) < 1e-6 for x, y in wanted)]
        face = fillet(meant, radius)
    return face


def turned(corners: Sequence[Corner]) -> Part:
    """A body of revolution about z from an outline of (radius, height) corners in mm."""
    return Part() + revolve(Plane.XZ * outline(corners), Axis.Z)


def along_x(corners: Sequence[Corner], length: float) -> Part:
    """An outline of (y, z) corners drawn out along x, centred on x = 0."""
    return Part() + extrude(Plane.YZ * outline(corners), length / 2, both=True)


def along_y(corners: Sequence[Corner], length: float) -> Part:
    """An outline of (x, z) corners drawn out along y, centred on y = 0."""
    return Part() + extrude(Plane.XZ * outline(corners), length / 2, both=True)


def upward(corners: Sequence[Corner], height: float) -> Part:
    """An outline of (x, y) corners drawn out from z = 0 upwards."""
    return Part() + extrude(outline(corners), height)


def slab(length: float, width: float, height: float, radius: float) -> Part:
    """A plate with rounded corners on z = 0."""
    return Part() + extrude(RectangleRounded(length, width, radius), height)


def peg(diameter: float, height: float) -> Part:
    """A cylinder on z = 0."""
    return Part() + Cylinder(diameter / 2, height, align=FROM_FLOOR)


def drill(diameter: float, depth: float) -> Part:
    """The tool of a plain hole from z = 0 downwards, 1 mm of overrun above."""
    return Pos(0, 0, 1) * (Part() + Cylinder(diameter / 2, depth + 1, align=HANGING))


def countersink(diameter: float, head: float, depth: float) -> Part:
    """The tool of a hole for a 90° countersunk screw whose head is flush with z = 0."""
    cone = Cone(diameter / 2, head / 2, (head - diameter) / 2, align=HANGING)
    return drill(diameter, depth) + cone + Cylinder(head / 2, 1, align=FROM_FLOOR)


def counterbore(diameter: float, head: float, head_depth: float, depth: float) -> Part:
    """The tool of a hole for a cap screw whose seat lies `head_depth` below z = 0."""
    return drill(diameter, depth) + drill(head, head_depth)


def at(places: Iterable[tuple[float, float, float]], tool: Part) -> list[Part]:
    """The same tool at several places."""
    return [Pos(*place) * tool for place in places]


def around(count: int, tool: Part, start_deg: float = 0.0) -> list[Part]:
    """The same tool `count` times round the z axis."""
    return [Rot(0, 0, start_deg + 360 * i / count) * tool for i in range(count)]


def rounded(part: Part, radius: float, chosen: Callable[[Edge], bool]) -> Part:
    """The part with the chosen edges filleted; it is a mistake of the script to choose none."""
    return Part() + fillet(part.edges().filter_by(chosen), radius)


def broken(part: Part, width: float, chosen: Callable[[Edge], bool]) -> Part:
    """The part with the chosen edges chamfered at 45°."""
    return Part() + chamfer(part.edges().filter_by(chosen), width)


def level(height: float) -> Callable[[Edge], bool]:
    """Choose edges that lie wholly at this height."""

    def chosen(edge: Edge) -> bool:
        box = edge.bounding_box()
        return abs(box.min.Z - height) < 1e-3 and abs(box.max.Z - height) < 1e-3

    return chosen


def gusset(reach: float, height: float, thickness: float) -> Part:
    """A triangular rib from the z axis outwards along +x, standing on z = 0, with blunt tips."""
    corners = [(-0.5, -0.5), (reach, -0.5), (reach, 0.6), (0.6, height), (-0.5, height)]
    return along_y(corners, thickness)


def snap_tongue(width: float, length: float, thickness: float, nose: float) -> Part:
    """A spring tongue standing on z = 0 with its back at y = 0 and a hooked nose that points to -y."""
    corners: list[Corner] = [
        (0, -0.5),
        (0, length, 0.5),
        (-thickness * 0.8, length, 0.4),
        (-thickness - nose, length - 2.8 * nose, 0.4),
        (-thickness - nose, length - 3.4 * nose - 0.5, 0.3),
        (-thickness, length - 4.2 * nose - 0.5),
        (-thickness, -0.5),
    ]
    return along_x(corners, width)


def upright(part: Part) -> Part:
    """A part drawn lying on its back (face to +z) set upright with its face to the front (-y)."""
    return Rot(90, 0, 0) * part


def standing(part: Part) -> Part:
    """The part centred on the z axis with its lowest point on z = 0."""
    box = part.bounding_box()
    return Pos(-(box.min.X + box.max.X) / 2, -(box.min.Y + box.max.Y) / 2, -box.min.Z) * part
