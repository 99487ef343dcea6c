"""What may happen to a part before it is asked after: another export, a scan, a saw, a fall.

Each copy is made of the part's name alone (seed: the name and the kind), turned and moved at random besides.
"""

import zlib
from collections.abc import Callable

import numpy as np

from generator.geometry.mesh import Mesh
from tests.geometry.likeness.unseen_parts import COARSE, mesh_of, part, solid

Copied = Callable[[str], Mesh]


def chance(name: str, kind: str) -> np.random.Generator:
    return np.random.default_rng(zlib.crc32(f"{name} {kind}".encode()))


def turn(random: np.random.Generator) -> np.ndarray:
    """A rotation, all equally likely (Shoemake's unit quaternions)."""
    w, x, y, z = (quaternion := random.normal(size=4)) / np.linalg.norm(quaternion)
    return np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
            [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
            [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
        ]
    )


def anywhere(mesh: Mesh, random: np.random.Generator, *, times: float = 1.0) -> Mesh:
    """Turned, moved by up to half a metre, its corners and faces in another order."""
    moved = mesh.vertices_mm @ turn(random).T * times + random.uniform(-500, 500, 3)
    order = random.permutation(len(moved))
    place = np.argsort(order)
    faces = place[mesh.faces][random.permutation(len(mesh.faces))]
    return Mesh(vertices_mm=moved[order], faces=np.roll(faces, random.integers(3), axis=1))


def diagonal(mesh: Mesh) -> float:
    return float(np.linalg.norm(np.ptp(mesh.vertices_mm, axis=0)))


def finer(solid, share: float):
    """No edge longer than this share of the diagonal; the surface stays where it is."""
    low, high = np.array(solid.bounding_box()).reshape(2, 3)
    return solid.refine_to_length(float(np.linalg.norm(high - low)) * share)


def rotated(name: str) -> Mesh:
    return anywhere(part(name), chance(name, "rotated"))


def subdivided(name: str) -> Mesh:
    return anywhere(mesh_of(finer(solid(name), 0.05)), chance(name, "subdivided"))


def coarser(name: str) -> Mesh:
    """The same part from an exporter with larger facets."""
    return anywhere(mesh_of(solid(name, COARSE)), chance(name, "coarser"))


def clustered(name: str) -> Mesh:
    """Decimated: the corners within a cell of 1.2 % of the diagonal become their mean; what collapses is gone."""
    random = chance(name, "clustered")
    mesh = anywhere(mesh_of(finer(solid(name), 0.03)), random)
    cells = np.floor(mesh.vertices_mm / (diagonal(mesh) * 0.012))
    _, at, count = np.unique(cells, axis=0, return_inverse=True, return_counts=True)
    sums = np.zeros((len(count), 3))
    np.add.at(sums, at.reshape(-1), mesh.vertices_mm)
    faces = at.reshape(-1)[mesh.faces]
    kept = (faces != np.roll(faces, 1, axis=1)).all(axis=1)
    return Mesh(vertices_mm=sums / count[:, None], faces=faces[kept])


def shaken(corners: np.ndarray, sigma: float, cell: float, random: np.random.Generator) -> np.ndarray:
    """Each place off by a normal deviate in every direction, alike within about a cell, as a scanner's error is: drawn on a
    grid and interpolated linearly, whose weights' squares have the mean (2/3) to the third."""
    at = (corners - corners.min(axis=0)) / cell
    low = np.floor(at).astype(int)
    drawn = random.normal(0, sigma / (2 / 3) ** 1.5, (*(low.max(axis=0) + 2), 3))
    off = np.zeros_like(corners)
    for corner in np.ndindex(2, 2, 2):
        share = np.where(corner, at - low, 1 - (at - low)).prod(axis=1)
        off += share[:, None] * drawn[tuple((low + corner).T)]
    return corners + off


def noisy(name: str) -> Mesh:
    """As a scanner sees it: off by 0.2 to 0.5 % of the diagonal, root of the mean square."""
    random = chance(name, "noisy")
    mesh = anywhere(mesh_of(finer(solid(name), 0.03)), random)
    long = diagonal(mesh)
    sigma = long * random.uniform(0.002, 0.005) / np.sqrt(3)
    return Mesh(vertices_mm=shaken(mesh.vertices_mm, sigma, long * 0.03, random), faces=mesh.faces)


def scaled(name: str, times: float) -> Mesh:
    return anywhere(part(name), chance(name, f"scaled {times}"), times=times)


def inch(name: str) -> Mesh:
    return scaled(name, 25.4)


def half(name: str) -> Mesh:
    return scaled(name, 0.5)


def mirrored(name: str) -> Mesh:
    """The other hand, wound outwards; of a part that is its own mirror image, the part itself."""
    mesh = part(name)
    return anywhere(Mesh(vertices_mm=mesh.vertices_mm * [-1, 1, 1], faces=mesh.faces[:, ::-1]), chance(name, "mirrored"))


def _lost(whole, without: Callable[[float], object], share: float):
    """What is left where the tool comes so deep that this share of the volume is gone (by halving)."""
    shallow, deep = 0.0, 1.0
    for _ in range(9):
        middle = (shallow + deep) / 2
        if 1 - without(middle).volume() / whole.volume() < share:
            shallow = middle
        else:
            deep = middle
    return without(deep)


def _extent(whole, towards: np.ndarray) -> tuple[float, float]:
    along = mesh_of(whole).vertices_mm @ towards
    return float(along.min()), float(along.max())


def cut(name: str) -> Mesh:
    """10 to 20 % of the volume sawn off by a plane."""
    random = chance(name, "cut")
    whole, towards = solid(name), turn(random)[0]
    low, high = _extent(whole, towards)
    left = _lost(whole, lambda deep: whole.trim_by_plane(towards.tolist(), low + deep * (high - low)), random.uniform(0.1, 0.2))
    return anywhere(mesh_of(left), random)


def halved(name: str) -> Mesh:
    """Half of the volume sawn off, nearly across the long side; the largest piece is left."""
    random, whole = chance(name, "halved"), solid(name)
    corners = mesh_of(whole).vertices_mm
    towards = np.linalg.svd(corners - corners.mean(axis=0), full_matrices=False)[2][0] * random.choice([-1, 1]) + random.normal(0, 0.15, 3)
    towards /= np.linalg.norm(towards)
    low, high = _extent(whole, towards)
    left = _lost(whole, lambda deep: whole.trim_by_plane(towards.tolist(), low + deep * (high - low)), 0.5)
    return anywhere(mesh_of(max(left.decompose(), key=lambda piece: piece.volume())), random)


def broken_solid(name: str):
    """20 to 36 % of the volume broken off, mostly across the long side, with a ragged edge; the largest piece is left.

    Where more falls off with it, it breaks elsewhere.
    """
    random, whole = chance(name, "broken"), solid(name)
    while True:
        left = _broken(whole, random)
        if 1 - left.volume() / whole.volume() <= 0.36:
            return left


def _broken(whole, random: np.random.Generator):
    import manifold3d

    corners = mesh_of(whole).vertices_mm
    long = np.linalg.svd(corners - corners.mean(axis=0), full_matrices=False)[2][0]
    towards = long * random.choice([-1, 1]) + random.normal(0, 0.3, 3)
    towards /= np.linalg.norm(towards)
    low, high = _extent(whole, towards)
    span = high - low
    side = np.linalg.svd(towards[None])[2][1:]
    teeth = []
    for _ in range(24):
        foot = corners.mean(axis=0) + side.T @ random.uniform(-0.6, 0.6, 2) * span - towards * (corners.mean(axis=0) @ towards)
        width = span * random.uniform(0.03, 0.1)
        tip = foot + towards * span * random.uniform(0.02, 0.1)
        base = [foot + width * (np.cos(a) * side[0] + np.sin(a) * side[1]) - towards * 0.02 * span for a in random.uniform(0, 6.28, 4)]
        teeth.append(manifold3d.Manifold.hull_points(np.array([*base, tip])))
    ragged = manifold3d.Manifold.batch_boolean(teeth, manifold3d.OpType.Add)

    def without(deep: float):
        at = low + deep * span
        return whole.trim_by_plane(towards.tolist(), at) - ragged.translate((towards * at).tolist())

    left = _lost(whole, without, random.uniform(0.2, 0.35))
    return max(left.decompose(), key=lambda piece: piece.volume())


def broken(name: str) -> Mesh:
    return anywhere(mesh_of(broken_solid(name)), chance(name, "broken, found"))


def scan(name: str) -> Mesh:
    """Open below, three holes, every face with corners of its own, a little noise, and crumbs that float beside it."""
    random = chance(name, "scan")
    mesh = mesh_of(finer(solid(name), 0.04))
    long = diagonal(mesh)
    corners = mesh.vertices_mm[mesh.faces]
    middle, across = corners.mean(axis=1), np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    down = across[:, 2] / np.maximum(np.linalg.norm(across, axis=1), 1e-12) < -0.9
    kept = ~(down & (middle[:, 2] < mesh.vertices_mm[:, 2].min() + 0.03 * long))
    for place in middle[random.integers(len(middle), size=3)]:
        kept &= np.linalg.norm(middle - place, axis=1) > 0.03 * long
    moved = Mesh(vertices_mm=shaken(mesh.vertices_mm, long * 0.001, long * 0.02, random), faces=mesh.faces[kept])
    seen = moved.vertices_mm[moved.faces].reshape(-1, 3)
    low, high = seen.min(axis=0), seen.max(axis=0)
    crumbs = random.uniform(low - 0.05 * long, high + 0.05 * long, (12, 1, 3)) + random.normal(0, 0.004 * long, (12, 3, 3))
    soup = np.vstack([seen, crumbs.reshape(-1, 3)])
    return anywhere(Mesh(vertices_mm=soup, faces=np.arange(len(soup)).reshape(-1, 3)), random)


SAME: dict[str, Copied] = {"rotated": rotated, "subdivided": subdivided, "coarser": coarser, "clustered": clustered, "noisy": noisy}
KINDS: dict[str, Copied] = {
    **SAME, "x 25.4": inch, "x 0.5": half, "mirrored": mirrored, "cut": cut, "broken": broken, "scan": scan,
}  # fmt: skip
