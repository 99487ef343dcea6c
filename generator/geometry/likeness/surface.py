"""Which points stand for a surface when it is compared: spread evenly, each with the way out there and how true the facets are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from generator.geometry.mesh import Mesh
from generator.geometry.samples import spread_over
from generator.geometry.weld import welded

__all__ = ["POINTS", "Surface", "surface_of"]

Floats = NDArray[np.float64]

POINTS: Final = 4096
"""So many lie some 1.5 mm apart on a part of a hand's size; 36 kB where they are kept."""
_STEPS: Final = 65_535  # a kept place is exact to 1/65,535 of the longest side of the box
_TURNS: Final = 127  # a kept direction is exact to half a degree
_HEADER: Final = np.dtype([("low", "<f8", 3), ("side", "<f8"), ("area", "<f8"), ("facets", "<f8"), ("oriented", "<u1")])
# An edge at which a round face is bent; what is bent more is meant as an edge, even by a coarse exporter (common practice, no source).
_BENT_LEAST, _BENT_MOST = np.radians(1.0), np.radians(40.0)
_AGREE: Final = 0.98
_FACETS_AT_MOST: Final = 0.0025  # of the extent: what is bent more than that is a drafted block, no coarse ball


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Surface:
    """Points of a surface in mm, the first n of them spread as evenly as all.

    facets_mm: how far the flat facets lie from the round faces they stand for, as their bends tell; grows with noise.
    is_oriented: whether the ways out can be trusted.
    """

    points_mm: Floats  # (n, 3)
    ways_out: Floats  # (n, 3), unit length
    area_mm2: float
    facets_mm: float
    is_oriented: bool

    @property
    def extent_mm(self) -> float:
        """The diagonal of the box about its points."""
        return float(np.linalg.norm(np.ptp(self.points_mm, axis=0)))

    def mirrored(self) -> Surface:
        """The other hand."""
        flip = np.array([-1.0, 1.0, 1.0])
        return Surface(
            points_mm=self.points_mm * flip,
            ways_out=self.ways_out * flip,
            area_mm2=self.area_mm2,
            facets_mm=self.facets_mm,
            is_oriented=self.is_oriented,
        )

    def to_bytes(self) -> bytes:
        """As it is kept: 9 bytes a point."""
        low = self.points_mm.min(axis=0)
        side = float(np.ptp(self.points_mm, axis=0).max()) or 1.0
        header = np.zeros((), _HEADER)
        header["low"], header["side"], header["area"] = low, side, self.area_mm2
        header["facets"], header["oriented"] = self.facets_mm, self.is_oriented
        places = np.rint((self.points_mm - low) / side * _STEPS).astype("<u2")
        turns = np.rint(self.ways_out * _TURNS).astype("i1")
        return bytes(header.tobytes() + places.tobytes() + turns.tobytes())

    @classmethod
    def from_bytes(cls, kept: bytes) -> Surface:
        """Read back what `to_bytes` gave; ValueError for anything else."""
        count, rest = divmod(len(kept) - _HEADER.itemsize, 9)
        if count < 1 or rest:
            raise ValueError("no kept surface")
        header = np.frombuffer(kept, _HEADER, 1)[0]
        places = np.frombuffer(kept, "<u2", 3 * count, _HEADER.itemsize).reshape(count, 3)
        turns = np.frombuffer(kept, "i1", 3 * count, _HEADER.itemsize + 6 * count).reshape(count, 3)
        ways = turns / np.maximum(np.linalg.norm(turns, axis=1), 1)[:, None]
        return cls(
            points_mm=places * (float(header["side"]) / _STEPS) + header["low"],
            ways_out=ways,
            area_mm2=float(header["area"]),
            facets_mm=float(header["facets"]),
            is_oriented=bool(header["oriented"]),
        )


def surface_of(mesh: Mesh, count: int = POINTS) -> Surface | None:
    """None where the faces have no area. The order of the points says nothing of the order of the faces."""
    mesh = welded(mesh).mesh
    corners = mesh.vertices_mm[mesh.faces]
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    double = np.linalg.norm(across, axis=1)
    if not double.sum() > 0:
        return None
    points, face = spread_over(corners, count)
    ways = across[face] / double[face][:, None]
    middle = points.mean(axis=0)
    inwards = float(np.einsum("ij,ij->", points - middle, ways)) < 0
    edges = _edges(mesh)
    mixed = _spread_order(count)
    return Surface(
        points_mm=points[mixed],
        ways_out=(-ways if inwards else ways)[mixed],
        area_mm2=float(double.sum() / 2),
        facets_mm=_facets_mm(mesh, across, double, edges),
        is_oriented=_is_oriented(edges),
    )


def _spread_order(count: int) -> NDArray[np.int64]:
    """An order in which every beginning of the list is spread over all of it: multiples of the golden section."""
    return np.argsort(np.arange(count) * ((5**0.5 - 1) / 2) % 1, kind="stable")


_Edges = tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.bool_]]


def _edges(mesh: Mesh) -> _Edges:
    """Each edge of two faces: its corners (k, 2), the faces (k, 2), and whether these run along it in opposite ways."""
    ends = mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    key = ends.min(axis=1) * len(mesh.vertices_mm) + ends.max(axis=1)
    order = np.argsort(key, kind="stable")
    ordered = key[order]
    starts = np.flatnonzero(np.r_[True, ordered[1:] != ordered[:-1]])
    pairs = starts[np.diff(np.r_[starts, len(key)]) == 2]
    one, other = order[pairs], order[pairs + 1]
    return ends[one], np.column_stack([one // 3, other // 3]), ends[one, 0] == ends[other, 1]


def _is_oriented(edges: _Edges) -> bool:
    """Whether nearly all neighbours agree which side is out."""
    agree = edges[2]
    return bool(len(agree)) and float(agree.mean()) > _AGREE


def _facets_mm(mesh: Mesh, across: Floats, double: Floats, edges: _Edges) -> float:
    """The sagitta of the arcs that facets stand for: of a facet w wide, turned by θ against its neighbour, w/2·tan(θ/4).

    A flat face counts by the second largest of its edges, since a strip of a cylinder is bent at both.
    """
    corners, faces, _ = edges
    if not len(faces):
        return 0.0
    a, b = (across[faces[:, i]] / np.maximum(double[faces[:, i]], 1e-300)[:, None] for i in (0, 1))
    turn = np.arccos(np.clip(np.einsum("ij,ij->i", a, b), -1, 1))
    ends = mesh.vertices_mm[corners]
    length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    bent = (turn > _BENT_LEAST) & (turn < _BENT_MOST) & (length > 0)
    if not bent.any():
        return 0.0
    wide = np.min(double[faces[bent]], axis=1) / length[bent]
    arc = wide / 2 * np.tan(turn[bent] / 4)
    region = _flat_regions(len(mesh.faces), faces[turn <= _BENT_LEAST])
    which, value = region[faces[bent]].ravel(), np.repeat(arc, 2)
    order = np.lexsort((-value, which))
    which, value = which[order], value[order]
    first = np.r_[True, which[1:] != which[:-1]]
    second = np.flatnonzero(first[:-1] & ~first[1:]) + 1
    if not len(second):
        return 0.0
    weight = np.bincount(region, double)[which[second]]
    ranked = np.argsort(value[second], kind="stable")
    until = np.cumsum(weight[ranked])
    most = value[second][ranked][min(int(np.searchsorted(until, 0.95 * until[-1])), len(ranked) - 1)]
    return float(min(most, _FACETS_AT_MOST * np.linalg.norm(np.ptp(mesh.vertices_mm[mesh.faces].reshape(-1, 3), axis=0))))


def _flat_regions(count: int, joined: NDArray[np.int64]) -> NDArray[np.int64]:
    """To which flat face each triangle belongs."""
    pairs = coo_matrix((np.ones(len(joined), bool), (joined[:, 0], joined[:, 1])), shape=(count, count))
    region: NDArray[np.int64] = connected_components(pairs, directed=False)[1].astype(np.int64)
    return region
