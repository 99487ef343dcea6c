"""Meshes made by hand for the tests: closed, wound outwards, with nothing but arrays."""

import numpy as np

from generator.geometry.mesh import Mesh
from generator.geometry.weld import welded

CUBE_FACES = np.array(
    [
        [0, 2, 1], [0, 3, 2], [4, 5, 6], [4, 6, 7], [0, 1, 5], [0, 5, 4],
        [1, 2, 6], [1, 6, 5], [2, 3, 7], [2, 7, 6], [3, 0, 4], [3, 4, 7],
    ]
)  # fmt: skip


def box(x=2.0, y=3.0, z=4.0, at=(0.0, 0.0, 0.0)) -> Mesh:
    corners = [[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0], [0, 0, 1], [1, 0, 1], [1, 1, 1], [0, 1, 1]]
    return Mesh(vertices_mm=np.array(corners) * [x, y, z] + np.array(at), faces=CUBE_FACES.copy())


def revolved(profile, around: int) -> Mesh:
    """A closed ring of (radius, height) points, none on the axis, anticlockwise in (r, z)."""
    profile = np.array(profile, dtype=float)
    turn = np.arange(around) * 2 * np.pi / around
    ring = np.stack(
        [
            profile[:, 0] * np.cos(turn)[:, None],
            profile[:, 0] * np.sin(turn)[:, None],
            np.broadcast_to(profile[:, 1], (around, len(profile))),
        ],
        axis=2,
    )
    rows = len(profile)
    i, j = np.meshgrid(np.arange(around), np.arange(rows), indexing="ij")
    a, b = i * rows + j, i * rows + (j + 1) % rows
    c, d = ((i + 1) % around) * rows + (j + 1) % rows, ((i + 1) % around) * rows + j
    faces = np.concatenate([np.stack([a, d, c], 2).reshape(-1, 3), np.stack([a, c, b], 2).reshape(-1, 3)])
    return Mesh(vertices_mm=ring.reshape(-1, 3), faces=faces)


def torus(large=30.0, small=8.0, around=72, across=40) -> Mesh:
    turn = np.arange(across) * 2 * np.pi / across
    return revolved(np.column_stack([large + small * np.cos(turn), small * np.sin(turn)]), around)


def capped(profile, around: int) -> Mesh:
    """A solid of revolution whose profile starts and ends on the axis, from below to above."""
    profile = np.array(profile, dtype=float)
    inner = profile[1:-1]
    turn = np.arange(around) * 2 * np.pi / around
    ring = np.stack(
        [
            np.outer(np.cos(turn), inner[:, 0]),
            np.outer(np.sin(turn), inner[:, 0]),
            np.broadcast_to(inner[:, 1], (around, len(inner))),
        ],
        axis=2,
    ).reshape(-1, 3)
    rows, low, high = len(inner), around * len(inner), around * len(inner) + 1
    i = np.arange(around) * rows
    k = np.roll(i, -1)
    caps = np.stack([np.stack([np.full(around, low), k, i], 1), np.stack([np.full(around, high), i + rows - 1, k + rows - 1], 1)], 1)
    a, d = i[:, None] + np.arange(rows - 1), k[:, None] + np.arange(rows - 1)
    sides = np.stack([np.stack([a, d, d + 1], 2), np.stack([a, d + 1, a + 1], 2)], 2)
    ends = [[0, 0, profile[0, 1]], [0, 0, profile[-1, 1]]]
    faces = np.concatenate([caps, sides.reshape(around, -1, 3)], axis=1).reshape(-1, 3)
    return Mesh(vertices_mm=np.vstack([ring, ends]), faces=faces)


def cylinder(radius=5.0, height=20.0, around=64) -> Mesh:
    return capped([(0, 0), (radius, 0), (radius, height), (0, height)], around)


def sphere(radius=10.0, around=72, rows=36) -> Mesh:
    angle = np.linspace(-np.pi / 2, np.pi / 2, rows + 1)
    profile = np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])
    return capped(profile, around)


def together(*meshes: Mesh) -> Mesh:
    starts = np.cumsum([0] + [len(mesh.vertices_mm) for mesh in meshes[:-1]])
    return Mesh(
        vertices_mm=np.vstack([mesh.vertices_mm for mesh in meshes]),
        faces=np.vstack([mesh.faces + start for mesh, start in zip(meshes, starts, strict=True)]),
    )


def turned_inside_out(mesh: Mesh) -> Mesh:
    return Mesh(vertices_mm=mesh.vertices_mm, faces=mesh.faces[:, ::-1])


def moved(mesh: Mesh, matrix=None, by=(0.0, 0.0, 0.0)) -> Mesh:
    matrix = np.eye(3) if matrix is None else np.asarray(matrix)
    return Mesh(vertices_mm=mesh.vertices_mm @ matrix.T + np.array(by), faces=mesh.faces)


def soup(mesh: Mesh) -> Mesh:
    """The same triangles with three corners of their own each, as in an STL file."""
    corners = mesh.vertices_mm[mesh.faces].reshape(-1, 3)
    return Mesh(vertices_mm=corners, faces=np.arange(len(corners)).reshape(-1, 3))


def with_faces(mesh: Mesh, faces) -> Mesh:
    return Mesh(vertices_mm=mesh.vertices_mm, faces=np.asarray(faces))


def blocks(xs, ys, zs, is_full) -> Mesh:
    """A solid of right-angled cells: xs, ys, zs their borders in mm, is_full(i, j, k) which cells are full.

    Every face of a full cell towards an empty one becomes two triangles; no two full cells may touch at an edge alone.
    """
    shape = (len(xs) - 1, len(ys) - 1, len(zs) - 1)
    full = np.zeros(tuple(n + 2 for n in shape), dtype=bool)
    for cell in np.ndindex(shape):
        full[tuple(np.add(cell, 1))] = is_full(*cell)
    points, faces = [], []
    borders = [np.asarray(each, dtype=float) for each in (xs, ys, zs)]
    for cell in np.argwhere(full):
        for axis in range(3):
            for side in (0, 1):
                beside = cell.copy()
                beside[axis] += 2 * side - 1
                if not full[tuple(beside)]:
                    points.append(_side(borders, cell - 1, axis, side))
                    first = 4 * (len(points) - 1)
                    faces += [[first, first + 1, first + 2], [first, first + 2, first + 3]]
    return welded(Mesh(vertices_mm=np.concatenate(points), faces=np.array(faces))).mesh


def _side(borders, cell, axis, side):
    one, other = (axis + 1) % 3, (axis + 2) % 3
    corners = [(0, 0), (1, 0), (1, 1), (0, 1)]
    square = np.empty((4, 3))
    for row, (u, v) in enumerate(corners if side else corners[::-1]):
        square[row, axis] = borders[axis][cell[axis] + side]
        square[row, one], square[row, other] = borders[one][cell[one] + u], borders[other][cell[other] + v]
    return square


def refined(mesh: Mesh, times=1) -> Mesh:
    """The same surface with each face cut into four."""
    for _ in range(times):
        a, b, c = mesh.vertices_mm[mesh.faces].transpose(1, 0, 2)
        ab, bc, ca = (a + b) / 2, (b + c) / 2, (c + a) / 2
        cut = [(a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca)]
        corners = np.concatenate([np.stack(each, axis=1) for each in cut]).reshape(-1, 3)
        mesh = welded(Mesh(vertices_mm=corners, faces=np.arange(len(corners)).reshape(-1, 3))).mesh
    return mesh


def prism(outline, height: float) -> Mesh:
    """A convex outline of (x, y) corners, anticlockwise, drawn out from z = 0 upwards."""
    outline = np.asarray(outline, dtype=float)
    n = len(outline)
    points = np.vstack([np.column_stack([outline, np.full(n, z)]) for z in (0.0, height)])
    faces = []
    for i in range(n):
        j = (i + 1) % n
        faces += [[i, j, n + j], [i, n + j, n + i]]
    faces += [face for i in range(1, n - 1) for face in ([0, i + 1, i], [n, n + i, n + i + 1])]
    return Mesh(vertices_mm=points, faces=np.array(faces))


def screw(outer: float, inner: float, pitch: float, turns=6, around=12, is_left=False) -> Mesh:
    """A threaded rod as a coarse exporter facets it: each flank a band of two triangles a step, on a core with round ends.

    Radii and pitch in mm; a quarter of the pitch is the ground, an eighth the crest.
    """
    share, radius = np.array([0, 0.25, 0.5625, 0.6875, 1.0]), np.array([inner, inner, outer, outer, inner])
    step = np.arange(around * turns + 1)
    turn = 2 * np.pi * step / around * (-1 if is_left else 1)
    high = pitch * (step[:, None] / around + share)
    rows = np.stack([np.cos(turn)[:, None] * radius, np.sin(turn)[:, None] * radius, high], axis=2).reshape(-1, 3)
    i, j = np.meshgrid(step[:-1], np.arange(4), indexing="ij")
    a = (5 * i + j).ravel()
    faces = np.concatenate([np.stack([a, a + 5, a + 1], 1), np.stack([a + 1, a + 5, a + 6], 1)])
    ends = []
    for ring, level, way in ((5 * step[: around + 1], -pitch, 1), (5 * step[-around - 1 :] + 4, pitch * (turns + 2), -1)):
        foot = rows[ring] * [1, 1, 0] + [0, 0, level]
        first = len(rows)
        rows = np.vstack([rows, foot, [[0, 0, level]]])
        k = np.arange(around)
        side = [(ring[:-1], first + k, ring[1:]), (ring[1:], first + k, first + k + 1), (first + k, np.full(around, first + around + 1), first + k + 1)]
        ends += [np.stack(each, 1)[:, ::way] for each in side]
    faces = np.concatenate([faces, *ends])
    return Mesh(vertices_mm=rows, faces=faces[:, ::-1] if is_left else faces)
