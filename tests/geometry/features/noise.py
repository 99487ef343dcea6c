"""Shapes in which a workshop would name nothing: free forms, some as a scanner sees them. No scan of anybody's is kept."""

import numpy as np

from generator.geometry.mesh import Mesh
from generator.geometry.weld import welded
from tests.geometry.solids import sphere


def scanned(mesh: Mesh, noise_mm: float) -> Mesh:
    """Each corner moved by chance, the same on each run."""
    whole = welded(mesh).mesh
    chance = np.random.default_rng(7).normal(0, noise_mm, whole.vertices_mm.shape)
    return Mesh(vertices_mm=whole.vertices_mm + chance, faces=whole.faces)


def statue(rows: int) -> Mesh:
    """A sum of fourteen blobs, stretched, some 80 mm high: 2 rows² faces."""
    ball = sphere(1, rows, rows)
    chance = np.random.default_rng(3)
    middles = chance.normal(size=(14, 3))
    middles /= np.linalg.norm(middles, axis=1, keepdims=True)
    wide, narrow = chance.uniform(2, 9, 14), chance.uniform(4, 30, 14)
    reach = 18 + (np.exp(-narrow * (1 - ball.vertices_mm @ middles.T)) * wide).sum(axis=1)
    return Mesh(vertices_mm=ball.vertices_mm * reach[:, None] * [1, 1, 1.7], faces=ball.faces)


def bumpy(rows: int) -> Mesh:
    """A ball of 50 mm with waves of 1.5 mm."""
    ball = sphere(1, rows, rows)
    waves = np.sin(18 * ball.vertices_mm).prod(axis=1)
    return Mesh(vertices_mm=ball.vertices_mm * (25 + 1.5 * waves)[:, None], faces=ball.faces)


def cloth(rows: int) -> Mesh:
    """An open sheet of 120 mm in folds."""
    place = np.linspace(0, 120, rows)
    x, y = np.meshgrid(place, place, indexing="ij")
    z = 6 * np.sin(x / 9 + np.cos(y / 17)) + 2.4 * np.cos(y / 6)
    i, j = np.meshgrid(np.arange(rows - 1), np.arange(rows - 1), indexing="ij")
    a = (i * rows + j).ravel()
    faces = np.concatenate([np.stack([a, a + rows, a + 1], 1), np.stack([a + 1, a + rows, a + rows + 1], 1)])
    return Mesh(vertices_mm=np.stack([x, y, z], axis=2).reshape(-1, 3), faces=faces)


SHAPES = {
    f"{make.__name__}, {noise} mm of noise": (lambda rows, make=make, noise=noise: scanned(make(rows), noise) if noise else make(rows))
    for make in (statue, bumpy, cloth)
    for noise in (0, 0.005, 0.1)
}
