"""Closed, touching, nested, doubled, turned and collapsed bodies: what is certain of their volume, by formula."""

import struct

import numpy as np

from tests.reading.meshes import files
from tests.reading.meshes.unseen import BOX, Case, Truth, joined, polygon, prism, soup

APART_ITEM = '<item objectid="1"/><item objectid="2"/>'


def stl(mesh, truth):
    return Case(suffix=".stl", content=lambda: files.binary_stl(*mesh), truth=truth)


def precise_ply(mesh, truth):
    """In double precision, so that nothing is rounded on the way."""

    def content():
        corners, faces = mesh
        head = f"ply\nformat binary_little_endian 1.0\nelement vertex {len(corners)}\n" + "".join(f"property double {a}\n" for a in "xyz")
        head += f"element face {len(faces)}\nproperty list uchar int vertex_indices\nend_header\n"
        rows = b"".join(struct.pack("<B3i", 3, *map(int, face)) for face in faces)
        return head.encode() + np.asarray(corners, "<f8").tobytes() + rows

    return Case(suffix=".ply", content=content, truth=truth)


def items(one, other, truth):
    """Two objects of a 3MF: which solids there are is said by the file."""
    objects = files.threemf_object(*one) + files.threemf_object(*other, number=2)
    return Case(suffix=".3mf", content=lambda: files.threemf(files.threemf_model(objects, APART_ITEM)), truth=truth)


def box(x=10.0, y=20.0, z=30.0, at=(0.0, 0.0, 0.0)):
    return soup((x, y, z, at))


def inside_out(mesh):
    return mesh[0], mesh[1][:, ::-1]


def with_slivers(mesh, share, chosen=(0,)):
    """The edge that begins each chosen face gets a further corner at this share of its length, for the one face alone;
    a triangle without area closes the gap, so the surface stays closed and the solid the same."""
    corners, faces = list(map(tuple, mesh[0])), [tuple(map(int, face)) for face in mesh[1]]
    for at in chosen:
        a, b, c = faces[at]
        new = len(corners)
        corners.append(tuple(np.asarray(corners[a]) + share * (np.asarray(corners[b]) - np.asarray(corners[a]))))
        faces[at] = (a, new, c)
        faces += [(new, b, c), (a, b, new)]
    return np.array(corners), np.array(faces)


def scaled(mesh, times, at=0.0):
    return mesh[0] * times + at, mesh[1]


SHARES = {"in the middle": 0.5, "at a third": 1 / 3, "a billionth from the end": 1e-9, "on the end": 0.0}
SIDES = 200
ROUND = prism(polygon(SIDES, 25.0), 12.0)
ROUND_AREA = SIDES / 2 * 625 * np.sin(2 * np.pi / SIDES)  # n/2 r2 sin(2 pi / n)
ROUND_SIDE = SIDES * 50 * np.sin(np.pi / SIDES)  # n chords of 2 r sin(pi / n)
ROUND_TRUE = Truth(size=(50, 50, 12), volume=ROUND_AREA * 12, area=2 * ROUND_AREA + ROUND_SIDE * 12, bodies=1)
MANY = tuple(range(0, len(ROUND[1]), 9))


def times(truth, factor):
    return Truth(size=tuple(factor * each for each in truth.size), volume=truth.volume * factor**3, area=truth.area * factor**2, bodies=1)


ONE_BOX = Truth(area=2200, bodies=1)
COLLAPSED = {
    **{f"STL, {told}": stl(with_slivers(BOX, share), ONE_BOX) for told, share in SHARES.items()},
    **{f"{told}, {factor:g} times as large": precise_ply(with_slivers(scaled(BOX, factor), share), times(ONE_BOX, factor))
       for told, share in SHARES.items() for factor in (0.02, 1, 60)},
    **{f"many on a disc, {told}": precise_ply(with_slivers(ROUND, share, MANY), ROUND_TRUE) for told, share in SHARES.items()},
    **{f"many on a disc in STL, {told}": stl(with_slivers(ROUND, share, MANY), ROUND_TRUE) for told, share in SHARES.items()},
    "far from the origin": precise_ply(with_slivers(scaled(ROUND, 1, 40000.0), 0.5, MANY), ROUND_TRUE),
    "every edge of a face": precise_ply(with_slivers(with_slivers(BOX, 0.5, (3,)), 0.25, (12, 3)), ONE_BOX),
    "a face whose corners are one point": precise_ply((np.vstack([BOX[0], BOX[0][:1], BOX[0][:1]]), np.vstack([BOX[1], [0, 8, 9]])), ONE_BOX),
    "every corner twice, the second unused": precise_ply((np.vstack([BOX[0], BOX[0]]), BOX[1]), ONE_BOX),
    "every face with corners of its own": precise_ply((BOX[0][BOX[1]].reshape(-1, 3), np.arange(36).reshape(-1, 3)), ONE_BOX),
    "corners that miss each other by a rounding": precise_ply(
        (BOX[0][BOX[1]].reshape(-1, 3) * (1 + 1e-13 * np.arange(36)[:, None] % 7), np.arange(36).reshape(-1, 3)), ONE_BOX
    ),
}  # fmt: skip

TWO = Truth(size=(20, 20, 30), volume=12000, bodies=2)
DOUBT = {"may_withhold": True}
AGAINST = {"face": (10, 0, 0), "a part of a face": (10, 5, 5), "edge": (10, 20, 0), "corner": (10, 20, 30)}


def spans(at):
    return tuple(float(side + move) for side, move in zip((10, 20, 30), at, strict=True))


TOUCHING = {
    **{f"two items against each other by a {how}": items(box(), box(at=at), Truth(size=spans(at), volume=12000)) for how, at in AGAINST.items()},
    **{f"STL, against each other by a {how}": stl(soup((10, 20, 30, (0, 0, 0)), (10, 20, 30, at)), Truth(size=spans(at), volume=12000, **DOUBT))
       for how, at in AGAINST.items()},
    "a hair apart": items(box(), box(at=(10.001, 0, 0)), Truth(size=(20.001, 20, 30), volume=12000, area=4400, bodies=2)),
    "a small box on a large one": items(box(), box(2, 2, 2, (4, 9, 30)), Truth(size=(10, 20, 32), volume=6008)),
    "three in a row": stl(soup(*((10, 20, 30, (10 * k, 0, 0)) for k in range(3))), Truth(size=(30, 20, 30), volume=18000, **DOUBT)),
}  # fmt: skip
OVERLAPS = {
    "half in each other": items(box(), box(at=(5, 0, 0)), Truth(size=(15, 20, 30), volume=9000, **DOUBT)),
    "across each other": stl(soup((30, 10, 10, (0, 0, 0)), (10, 30, 10, (10, -10, 0))), Truth(size=(30, 30, 10), volume=5000, **DOUBT)),
    "by a hundredth": items(box(), box(at=(9.99, 0, 0)), Truth(size=(19.99, 20, 30), volume=11994, within=1e-5, **DOUBT)),
    "the same box twice": stl(soup((10, 20, 30, (0, 0, 0)), (10, 20, 30, (0, 0, 0))), Truth(**DOUBT)),
    "the same item twice": items(box(), box(), Truth(**DOUBT)),
    "one in the other, both outwards": items(box(), box(2, 2, 2, (4, 9, 14)), Truth(**DOUBT)),
    "one in the other, in STL": stl(soup((10, 20, 30, (0, 0, 0)), (2, 2, 2, (4, 9, 14))), Truth(**DOUBT)),
}
CAVITY = joined(box(), inside_out(box(4, 4, 4, (3, 8, 13))))
TURNED = {
    "a box inside out": stl(inside_out(BOX), ONE_BOX),
    "a box inside out, 3MF": Case(suffix=".3mf", content=lambda: files.threemf(files.threemf_model(files.threemf_object(*inside_out(BOX)), '<item objectid="1"/>'))),
    "a disc inside out": stl(inside_out(ROUND), ROUND_TRUE),
    "two boxes, one inside out": stl(joined(box(), inside_out(box(at=(50, 0, 0)))), Truth(size=(60, 20, 30), volume=12000, area=4400, bodies=2)),
    "two items, one inside out": items(box(), inside_out(box(at=(50, 0, 0))), Truth(size=(60, 20, 30), volume=12000, area=4400, bodies=2)),
    "a cavity stays a cavity": stl(CAVITY, Truth(volume=6000 - 64, area=2200 + 96, bodies=1)),
    "a cavity in a box inside out": stl(inside_out(CAVITY), Truth(volume=6000 - 64, area=2200 + 96, **DOUBT)),
    "a ball in the cavity": stl(joined(CAVITY, box(2, 2, 2, (4, 9, 14))), Truth(volume=6000 - 64 + 8, area=2200 + 96 + 24, bodies=2)),
    "one face the wrong way": stl((BOX[0], np.vstack([BOX[1][:-1], BOX[1][-1:, ::-1]])), Truth(area=2200, **DOUBT)),
    "a face left out": stl((BOX[0], BOX[1][:-1]), Truth(volume=None, area=2100)),
    "a face twice": stl((BOX[0], np.vstack([BOX[1], BOX[1][:1]])), Truth(**DOUBT)),
    "a sheet of two sides": stl((BOX[0], np.array([[0, 2, 6], [0, 6, 2]])), Truth(size=None, volume=None, may_refuse=True)),
}  # fmt: skip


def pin(sides, hole=5.0, at_turn=0.0, across=5.0):
    """A plate 40 x 40 x 10 with a hole of so many sides, and a pin of 20 in it: the two bodies."""
    ring = polygon(sides, hole)
    square = 20 * ring / np.abs(ring).max(axis=1, keepdims=True)
    corners = np.vstack([np.column_stack([each, np.full(sides, z)]) for z in (0.0, 10.0) for each in (square, ring)])
    faces = []
    for i in range(sides):
        k = (i + 1) % sides
        out, inner, out_top, in_top = 0, sides, 2 * sides, 3 * sides
        for a, b, c, d in ((out + i, inner + i, inner + k, out + k), (out_top + i, out_top + k, in_top + k, in_top + i),
                           (out + i, out + k, out_top + k, out_top + i), (inner + i, in_top + i, in_top + k, inner + k)):  # fmt: skip
            faces += [(a, b, c), (a, c, d)]
    return (corners, np.array(faces)), prism(polygon(sides, across, at_turn), 20.0, at=-5.0)


def ngon(sides, radius):
    return sides / 2 * radius**2 * np.sin(2 * np.pi / sides)


SIX = 48  # a multiple of eight, so that the square's corners are corners
PLATE = 16000 - 10 * ngon(SIX, 5.0)
# A regular polygon and itself turned by half a step have a polygon of twice the sides in common: 2 n a2 tan(pi / 2 n), a = r cos(pi / n).
COMMON = 2 * SIX * (5 * np.cos(np.pi / SIX)) ** 2 * np.tan(np.pi / (2 * SIX))
UNION = PLATE + 10 * ngon(SIX, 5.0) + 10 * COMMON
PINNED = {
    "with a tenth around it": items(*pin(SIX, 5.1), Truth(size=(40, 40, 20), volume=16000 - 10 * ngon(SIX, 5.1) + 20 * ngon(SIX, 5.0), bodies=2)),
    "facet on facet": items(*pin(SIX), Truth(size=(40, 40, 20), volume=PLATE + 20 * ngon(SIX, 5.0))),
    # Told is the union of the bodies in the file, or the sum of the solids that they stand for: 0.02 % apart.
    "corner on facet": items(*pin(SIX, at_turn=0.5), Truth(size=(40, 40, 20), volume=UNION, within=3e-4)),
    "pressed in by a tenth": items(*pin(SIX, 4.9), Truth(size=(40, 40, 20), volume=16000 + 10 * ngon(SIX, 5.0), may_withhold=True)),
}
