"""Meshes that were thought out against a step of ours: each is dear to one tree, grid, list of pairs or loop.

Each function gives the corners of triangles, (m, 3, 3).
"""

from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import NDArray

Corners = NDArray[np.float64]
TETRAHEDRON = np.array([[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]], dtype=np.float64)[
    [[0, 1, 2], [0, 3, 1], [0, 2, 3], [1, 3, 2]]
]


def pleated(rim: int = 100_000) -> Corners:
    """A pleated cone, closed below: all its edges are creases that meet in one point, seen and hidden."""
    turn = np.arange(rim) * 2 * np.pi / rim
    points = np.column_stack([40 * np.cos(turn), 40 * np.sin(turn), np.where(np.arange(rim) % 2, 0.0, -4.0)])
    beside = np.roll(points, -1, axis=0)
    top, below = np.broadcast_to([0.0, 0, 50], points.shape), np.broadcast_to([0.0, 0, -40], points.shape)
    return np.concatenate([np.stack([points, beside, top], axis=1), np.stack([beside, points, below], axis=1)])


def cone(rim: int = 100_000) -> Corners:
    """A smooth cone: one corner with all faces."""
    turn = np.arange(rim) * 2 * np.pi / rim
    points = np.column_stack([40 * np.cos(turn), 40 * np.sin(turn), np.zeros(rim)])
    beside = np.roll(points, -1, axis=0)
    top, below = np.broadcast_to([0.0, 0, 50], points.shape), np.broadcast_to([0.0, 0, 0], points.shape)
    return np.concatenate([np.stack([points, beside, top], axis=1), np.stack([beside, points, below], axis=1)])


def cluster(count: int = 100_000) -> Corners:
    """One large triangle, and as many small loose ones within the rounding of its coordinates."""
    small = np.random.default_rng(1).uniform(0, 0.3, (count, 3, 3))
    large = np.array([[[0, 0, 0], [1e6, 0, 0], [0, 1e6, 0]]])
    return np.concatenate([small, large])


def dust(count: int = 25_000) -> Corners:
    """A block and beside it crumbs, closed, all of them smaller than a line is thick."""
    random = np.random.default_rng(1)
    crumbs = TETRAHEDRON[None] * 0.004 + random.uniform(0, 0.02, (count, 1, 1, 3)) + [0, 0, 700]
    return np.concatenate([TETRAHEDRON * 500, crumbs.reshape(-1, 3, 3)])


def flat(rows: int = 320) -> Corners:
    """All faces in one plane, laid over each other again and again."""
    random = np.random.default_rng(1)
    corners = random.uniform(-50, 50, (2 * rows * rows, 3, 3))
    corners[..., 2] = 0
    return corners


def needles(count: int = 100_000) -> Corners:
    """Closed needles from side to side in all directions: each crosses a row of every grid."""
    random = np.random.default_rng(1)
    start, end = random.uniform(-50, 50, (2, count // 2, 1, 3))
    off = random.normal(0, 0.01, (count // 2, 3, 3))
    foot = start + off
    tip = np.broadcast_to(end, foot.shape)[:, :1]
    one = np.concatenate([foot, tip], axis=1)
    return one[:, [[0, 1, 2], [0, 3, 1], [0, 2, 3], [1, 3, 2]]].reshape(-1, 3, 3)


def slivers(count: int = 100_000) -> Corners:
    """A closed bar cut lengthwise into faces a thousand times longer than wide, wound like a rope."""
    turn = np.arange(count) * 2 * np.pi / count
    low = np.column_stack([5 * np.cos(turn), 5 * np.sin(turn), np.full(count, -100.0)])
    high = np.column_stack([5 * np.cos(turn + 2.8), 5 * np.sin(turn + 2.8), np.full(count, 100.0)])
    low_on, high_on = np.roll(low, -1, axis=0), np.roll(high, -1, axis=0)
    foot, head = np.broadcast_to([0.0, 0, -100], low.shape), np.broadcast_to([0.0, 0, 100], low.shape)
    return np.concatenate(
        [np.stack(each, axis=1) for each in ((low, low_on, high_on), (low, high_on, high), (low_on, low, foot), (high, high_on, head))]
    )


def one_face(count: int = 100_000) -> Corners:
    """The same triangle over and over."""
    return np.repeat(np.array([[[0, 0, 0], [40, 0, 0], [0, 40, 0]]], dtype=np.float64), count, axis=0)


def one_body(count: int = 50_000) -> Corners:
    """The same closed body over and over."""
    return np.tile(TETRAHEDRON * 20, (count, 1, 1))


def book(pages: int = 60_000) -> Corners:
    """Leaves of two faces that all share one edge."""
    turn = np.arange(pages) * 2 * np.pi / pages
    far = np.column_stack([40 * np.cos(turn), 40 * np.sin(turn), np.zeros(pages)])
    low, high = np.broadcast_to([0.0, 0, -20], far.shape), np.broadcast_to([0.0, 0, 20], far.shape)
    return np.concatenate([np.stack([low, far, high], axis=1), np.stack([high, far, low], axis=1)])


def wedges(count: int = 40_000) -> Corners:
    """Closed wedges around one common edge."""
    turn = np.arange(count) * 2 * np.pi / count
    one = np.column_stack([40 * np.cos(turn), 40 * np.sin(turn), np.zeros(count)])
    turn = turn + np.pi / count
    other = np.column_stack([40 * np.cos(turn), 40 * np.sin(turn), np.zeros(count)])
    low, high = np.broadcast_to([0.0, 0, -20], one.shape), np.broadcast_to([0.0, 0, 20], one.shape)
    points = np.stack([low, one, other, high], axis=1)
    return points[:, [[0, 2, 1], [0, 1, 3], [1, 2, 3], [0, 3, 2]]].reshape(-1, 3, 3)


def ratios(count: int = 20_000) -> Corners:
    """Closed bodies from the smallest to the largest number that a file can hold."""
    size = np.logspace(-30, 30, count)[:, None, None]
    return (TETRAHEDRON[None] * size[..., None] + 1.5 * size[..., None]).reshape(-1, 3, 3)


def far_away(faces: int = 200_000) -> Corners:
    """A sphere so far from the origin that its corners fall on few places."""
    return sphere(faces) + np.array([1e7, 1e7, 0])


def sphere(faces: int = 1_900_000) -> Corners:
    """As round as may be."""
    rows = int((faces / 4) ** 0.5)
    height, turn = np.linspace(-np.pi / 2, np.pi / 2, rows + 1), np.arange(2 * rows) * np.pi / rows
    flat_ = 40 * np.cos(height)
    points = np.stack(
        [flat_ * np.cos(turn)[:, None], flat_ * np.sin(turn)[:, None], np.broadcast_to(40 * np.sin(height), (2 * rows, rows + 1))], axis=-1
    )
    points[:, 0], points[:, -1] = (0, 0, -40), (0, 0, 40)
    beside = np.roll(points, -1, axis=0)
    lower = np.stack([points[:, :-1], beside[:, :-1], beside[:, 1:]], axis=2)[:, 1:].reshape(-1, 3, 3)
    upper = np.stack([points[:, :-1], beside[:, 1:], points[:, 1:]], axis=2)[:, :-1].reshape(-1, 3, 3)
    return np.concatenate([lower, upper])


def prism(outline: NDArray[np.float64], depth: float = 20.0) -> Corners:
    """A closed prism of a star-shaped outline, (n, 2), anticlockwise around the origin."""
    low = np.column_stack([outline, np.zeros(len(outline))])
    high = low + np.array([0, 0, depth])
    low_on, high_on = np.roll(low, -1, axis=0), np.roll(high, -1, axis=0)
    foot, head = np.broadcast_to([0.0, 0, 0], low.shape), np.broadcast_to([0.0, 0, depth], low.shape)
    return np.concatenate(
        [np.stack(each, axis=1) for each in ((low, low_on, high_on), (low, high_on, high), (low_on, low, foot), (high, high_on, head))]
    )


def bent(corners: int = 30_000) -> Corners:
    """A prism whose outline bends ever more: a line of it is simplified from its end, one corner at a time."""
    turn = np.arange(corners) * 2 * np.pi / corners
    share = turn / (2 * np.pi)
    reach = 40 * (1 + 0.6 * np.sin(turn) ** 2 * 0.5 ** (1 / np.maximum(share * (1 - share), 1e-3)) + 0.004 * (np.arange(corners) % 2) * share**8)
    return prism(np.column_stack([reach * np.cos(turn), reach * np.sin(turn)]))


def gear(teeth: int = 12_000) -> Corners:
    """More teeth than a gear has."""
    turn = np.arange(4 * teeth) * 2 * np.pi / (4 * teeth)
    reach = np.where(np.arange(4 * teeth) % 4 < 2, 40.0, 39.0)
    return prism(np.column_stack([reach * np.cos(turn), reach * np.sin(turn)]))


def pins(side: int = 60, sides: int = 12) -> Corners:
    """Round pins side by side, each a body: as many cylinders, and pairs of them at the same distance."""
    turn = np.arange(sides) * 2 * np.pi / sides
    one = prism(np.column_stack([np.cos(turn), np.sin(turn)]), 10.0)
    places = np.stack([*np.indices((side, side)) * 3.0, np.zeros((side, side))], axis=-1).reshape(-1, 1, 1, 3)
    return (one[None] + places).reshape(-1, 3, 3)


def grate(bars: int = 180) -> Corners:
    """Bars across bars: each crosses all of the others, and the solids are to be united."""
    box = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)], dtype=np.float64)
    quads = [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]]
    one = np.concatenate([[box[q][[0, 1, 2]], box[q][[0, 2, 3]]] for q in quads])
    along, across = one * [400, 1, 1], one * [1, 400, 1] + [0, 0, 0.5]
    steps = 2 * np.arange(bars)[:, None, None]
    rows, columns = np.zeros((bars, 1, 1, 3)), np.zeros((bars, 1, 1, 3))
    rows[:, 0, 0, 1], columns[:, 0, 0, 0] = steps[:, 0, 0], steps[:, 0, 0]
    return np.concatenate([(along[None] + rows).reshape(-1, 3, 3), (across[None] + columns).reshape(-1, 3, 3)])


def combs(fins: int = 4_000) -> Corners:
    """Two closed combs of fins, one across the other: two bodies, and as many crossings as fins times fins."""
    at = np.arange(fins + 1) * 100.0 / fins
    top = np.where(np.arange(fins + 1) % 2, 10.0, -10.0)
    near, far = np.column_stack([at, np.zeros_like(at), top]), np.column_stack([at, np.full_like(at, 100.0), top])
    base = [0.0, 0.0, -30.0]
    faces = [np.stack([near[:-1], near[1:], far[1:]], axis=1), np.stack([near[:-1], far[1:], far[:-1]], axis=1)]
    low = [each * [1, 1, 0] + base for each in (near, far)]
    faces += [np.stack([low[0][:-1], near[1:], near[:-1]], axis=1), np.stack([low[0][:-1], low[0][1:], near[1:]], axis=1)]
    faces += [np.stack([low[1][:-1], far[:-1], far[1:]], axis=1), np.stack([low[1][:-1], far[1:], low[1][1:]], axis=1)]
    faces += [np.stack([low[0][:-1], low[1][1:], low[0][1:]], axis=1), np.stack([low[0][:-1], low[1][:-1], low[1][1:]], axis=1)]
    ends = [(low[0][0], near[0], far[0]), (low[0][0], far[0], low[1][0])]
    ends += [(low[0][-1], far[-1], near[-1]), (low[0][-1], low[1][-1], far[-1])]
    one = np.concatenate([*faces, np.array(ends)])
    return np.concatenate([one, one[..., [1, 0, 2]][:, ::-1] * [1, 1, -1] + [0, 0, 0.1]])


def hedgehog(spikes: int = 60_000) -> Corners:
    """Spikes in all directions from one point, of all lengths, as closed bodies that cross in the middle."""
    random = np.random.default_rng(1)
    way = random.normal(0, 1, (spikes, 3))
    way /= np.linalg.norm(way, axis=1)[:, None]
    tip = way * random.uniform(20, 60, (spikes, 1))
    foot = random.normal(0, 0.2, (spikes, 3, 3))
    one = np.concatenate([foot, tip[:, None]], axis=1)
    return one[:, [[0, 1, 2], [0, 3, 1], [0, 2, 3], [1, 3, 2]]].reshape(-1, 3, 3)


def screw(turns: int = 2_000, steps: int = 24) -> Corners:
    """A thread of thousands of turns on a bolt."""
    count = turns * steps
    turn = np.arange(count) * 2 * np.pi / steps
    height = np.arange(count) * 0.05 / steps
    reach = np.where(np.arange(count) % 2, 10.0, 10.02)
    inner = np.column_stack([reach * np.cos(turn), reach * np.sin(turn), height])
    outer = np.column_stack([(reach + 0.02) * np.cos(turn), (reach + 0.02) * np.sin(turn), height + 0.02])
    a, b, c, d = inner[:-1], inner[1:], outer[1:], outer[:-1]
    return np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1), np.stack([c, b, a], axis=1) * [1, 1, 1.0001]])


ALL: Final[tuple[Callable[[], Corners], ...]] = (
    pleated,
    cone,
    cluster,
    dust,
    flat,
    needles,
    slivers,
    one_face,
    one_body,
    book,
    wedges,
    ratios,
    far_away,
    sphere,
    bent,
    gear,
    pins,
    grate,
    combs,
    hedgehog,
    screw,
)
