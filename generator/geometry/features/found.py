"""Which features has a mesh, recognised from its triangles alone?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from generator.geometry.boxes import oriented_box
from generator.geometry.features.cylinders import cylinders_of
from generator.geometry.features.facets import Facets, facets_of
from generator.geometry.features.holes import holes_and_bosses
from generator.geometry.features.kinds import Feature, Features, Kind
from generator.geometry.features.rounds import rounds_of
from generator.geometry.mesh import Mesh

_ORDER = {kind: number for number, kind in enumerate(Kind)}


def features_of(mesh: Mesh) -> Features:
    """All features of a mesh, in its own coordinates; of an empty one none, and a box of no size.

    The work is counted, and broken off at a bound: `is_whole` is then False.
    """
    facets = facets_of(mesh)
    if facets is None:
        axes = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
        return Features(found=(), size_mm=(0.0, 0.0, 0.0), box_mm=(0.0, 0.0, 0.0), box_axes=axes)
    used = facets.vertices[np.unique(facets.faces)]
    box = oriented_box(used)
    x, y, z = (float(each) for each in np.ptp(used, axis=0))
    found, is_whole = _found(facets)
    first, second, third = ((float(a), float(b), float(c)) for a, b, c in box.axes)
    return Features(
        found=in_order(found), size_mm=(x, y, z), box_mm=box.size_mm, box_axes=(first, second, third), is_whole=is_whole
    )


def _found(facets: Facets) -> tuple[list[Feature], bool]:
    cylinders, is_whole = cylinders_of(facets)
    rounds = rounds_of(facets, cylinders)
    return holes_and_bosses(facets, rounds), is_whole


def in_order(found: Sequence[Feature]) -> tuple[Feature, ...]:
    """By kind, the largest first; a seat goes on naming its hole."""
    order = sorted(range(len(found)), key=lambda number: (_ORDER[found[number].kind], -round(found[number].size_mm, 3), number))
    place = {number: at for at, number in enumerate(order)}
    return tuple(_seated(found[number], place) for number in order)


def _seated(feature: Feature, place: Mapping[int, int]) -> Feature:
    return feature if feature.seat is None else replace(feature, seat=place[feature.seat])
