"""Which flats are cut into a round: two for a spanner, or the one of a D?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from generator.geometry.distinct import distinct
from generator.geometry.features.facets import Facets
from generator.geometry.features.frames import point
from generator.geometry.features.kinds import Feature, Kind
from generator.geometry.features.rounds import Round
from generator.geometry.features.sides import Sides

_DEEPEST: Final = 0.25  # radii from the axis: what is nearer is a slot's side
_BEYOND: Final = 1.02  # radii that a flat of a hole reaches at most
_ASIDE: Final = 0.2  # radii by which the middle of a flat may lie beside the point nearest to the axis


def flats_of(facets: Facets, rounds: Sequence[Round], sides: Sides) -> list[Feature]:
    """Of each round its flats; two that are parallel and as far from the axis are one pair."""
    found: list[Feature] = []
    place = {region: number for number, region in enumerate(sides.regions.tolist())}
    for each in rounds:
        if each.is_told:
            found += _of(facets, each, sides, place)
    return found


def _of(facets: Facets, round_: Round, sides: Sides, place: dict[int, int]) -> list[Feature]:
    edges = facets.edges_at(round_.faces)
    touched = distinct(facets.plane[np.concatenate([facets.one[edges], facets.other[edges]])])
    numbers = [place[each] for each in touched.tolist() if each in place]
    axis, centre = round_.frame.axis, round_.frame.space(round_.centre, 0.0)
    flats: list[tuple[int, float]] = []
    for number in numbers:
        normal = sides.normals[number]
        reach = sides.centres[number] - centre
        off = float(reach @ normal) * (-1 if round_.is_inner else 1)
        aside = abs(float(reach @ np.cross(axis, normal)))
        is_flat = abs(float(normal @ axis)) < 2e-3 and _DEEPEST * round_.radius < off < 0.995 * round_.radius
        if is_flat and aside < _ASIDE * round_.radius and not (round_.is_inner and _reaches_out(round_, sides, number)):
            flats.append((number, off))
    return _paired(round_, sides, flats)


def _reaches_out(round_: Round, sides: Sides, number: int) -> bool:
    """Whether a plane goes on beyond a hole: the floor of another one that crosses it."""
    away = round_.frame.flat(sides.corners[number]) - round_.centre
    return float(np.hypot(away[:, 0], away[:, 1]).max()) > _BEYOND * round_.radius


def _paired(round_: Round, sides: Sides, flats: list[tuple[int, float]]) -> list[Feature]:
    """Opposite flats at one distance are told once; of a polygon's none, for it is told as such."""
    if len(flats) > 2:
        opposite = [(a, b) for a in flats for b in flats if a[0] < b[0] and sides.normals[a[0]] @ sides.normals[b[0]] < -0.9999]
        if len(opposite) != 1:
            return []
        flats = list(opposite[0])
    if len(flats) == 2:
        (one, near), (other, far) = flats
        if sides.normals[one] @ sides.normals[other] > -0.9999 or abs(near - far) > 0.02 * round_.radius:
            return [_feature(round_, sides, each, round_.radius + off) for each, off in flats]
        return [_feature(round_, sides, one, near + far)]
    return [_feature(round_, sides, each, round_.radius + off) for each, off in flats]


def _feature(round_: Round, sides: Sides, number: int, across: float) -> Feature:
    frame = round_.frame
    low, high = sides.span(number, frame.axis)
    low_is_first = round_.low.inwards > round_.high.inwards
    if round_.is_inner:
        low_is_first = round_.high.inwards > round_.low.inwards
    end, sense = (low, -1.0) if low_is_first else (high, 1.0)
    return Feature(
        kind=Kind.FLATS,
        at=point(frame.space(round_.centre, end)),
        axis=point(sense * frame.axis),
        size_mm=across,
        within_mm=round_.within_mm,
        length_mm=high - low,
        second_mm=2 * round_.radius,
        is_inner=round_.is_inner,
    )
