"""Which features has a mesh, recognised from its triangles alone?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from generator.geometry.boxes import box_of, oriented_box
from generator.geometry.distinct import distinct
from generator.geometry.features.cylinders import cylinders_of
from generator.geometry.features.facets import Facets, facets_of
from generator.geometry.features.flats import flats_of
from generator.geometry.features.holes import holes_and_bosses
from generator.geometry.features.kinds import Feature, Features, Kind
from generator.geometry.features.lines import Line, about, lines_of
from generator.geometry.features.outwards import outside_of
from generator.geometry.features.piercing import Piercing, as_many_as
from generator.geometry.features.polygons import polygons_of
from generator.geometry.features.regions import regions_of
from generator.geometry.features.rounds import rounds_of, without_polygons
from generator.geometry.features.sides import sides_of
from generator.geometry.features.slots import slots_of
from generator.geometry.features.spacings import spacings_of
from generator.geometry.features.teeth import teeth_about
from generator.geometry.features.telling import off_axis
from generator.geometry.features.threads import not_of_threads, threads_about
from generator.geometry.features.turned import turned_about
from generator.geometry.mesh import Mesh
from generator.geometry.weld import welded

_SIX = 6
_ORDER = {kind: number for number, kind in enumerate(Kind)}


def features_of(mesh: Mesh) -> Features:
    """All features of a mesh, in its own coordinates; of an empty one none, and a box of no size. What lies in a closed void is none.

    The work is counted, and broken off at a bound: `is_whole` is then False.
    """
    outside = outside_of(mesh)
    facets = facets_of(outside.mesh)
    if facets is None:
        axes = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
        return Features(found=(), size_mm=(0.0, 0.0, 0.0), box_mm=(0.0, 0.0, 0.0), box_axes=axes)
    used = facets.vertices[distinct(facets.faces)]
    box = box_of(welded(mesh).mesh) if len(used) == len(facets.vertices) else oriented_box(used)
    x, y, z = (float(each) for each in np.ptp(used, axis=0))
    found, is_whole = _found(facets)
    first, second, third = ((float(a), float(b), float(c)) for a, b, c in box.axes)
    return Features(
        found=in_order(found), size_mm=(x, y, z), box_mm=box.size_mm, box_axes=(first, second, third),
        voids=outside.voids, is_whole=is_whole,
    )  # fmt: skip


def _found(facets: Facets) -> tuple[list[Feature], bool]:
    regions = regions_of(facets)
    cylinders = cylinders_of(facets, regions)
    all_rounds = without_polygons(rounds_of(facets, cylinders.found))
    rounds = as_many_as(all_rounds, facets)
    sides = sides_of(facets, regions, cylinders.taken)
    axes = Piercing(facets)
    polygons = polygons_of(sides, cylinders.frames, axes, facets.slack_mm)
    repeated = [each for each in _about_lines(facets, lines_of(facets, rounds, polygons)) if not _is_hexagon(each, polygons)]
    holes = holes_and_bosses(facets, not_of_threads(rounds, repeated), axes)
    others = (*slots_of(facets, rounds, axes), *flats_of(facets, rounds, sides), *spacings_of(sides, facets.slack_mm))
    return [*holes, *polygons, *others, *repeated], cylinders.is_whole and len(rounds) == len(all_rounds)


def _about_lines(facets: Facets, lines: Sequence[Line]) -> list[Feature]:
    """Threads and teeth about every line, and the one about which most of the part turns."""
    found: list[Feature] = []
    turned: list[tuple[Feature, float]] = []
    for line in lines:
        seen = about(facets, line)
        found += threads_about(facets, line, seen)
        teeth = teeth_about(facets, line, seen)
        found += [] if teeth is None else [teeth]
        shape = turned_about(facets, line, seen)
        turned += [] if shape is None else [shape]
    return [*found, *(shape for shape, _ in sorted(turned, key=lambda each: -each[1])[:1])]


def _is_hexagon(teeth: Feature, polygons: Sequence[Feature]) -> bool:
    """Whether six teeth are the corners of a hexagon, which is told as such."""
    if teeth.kind is not Kind.TEETH or teeth.count != _SIX:
        return False
    heads = [each for each in polygons if each.kind is Kind.HEXAGON and not each.is_inner]
    return any(each.size_mm < teeth.size_mm < 1.2 * each.size_mm and off_axis(teeth, each) < 0.02 * each.size_mm for each in heads)


def in_order(found: Sequence[Feature]) -> tuple[Feature, ...]:
    """By kind, the largest first; a seat goes on naming its hole."""
    order = sorted(range(len(found)), key=lambda number: (_ORDER[found[number].kind], -round(found[number].size_mm, 7), number))
    place = {number: at for at, number in enumerate(order)}
    return tuple(_seated(found[number], place) for number in order)


def _seated(feature: Feature, place: Mapping[int, int]) -> Feature:
    return feature if feature.seat is None else replace(feature, seat=place[feature.seat])
