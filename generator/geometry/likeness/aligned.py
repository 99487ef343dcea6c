"""Are two shapes the same, once one is laid onto the other? In millimetres, as surfaces, in either hand and in either size."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.geometry.likeness.faces import Faces
from generator.geometry.likeness.kinds import Compared, Sameness
from generator.geometry.likeness.lying import Lying, laid
from generator.geometry.likeness.surface import Surface, surface_of
from generator.geometry.mesh import Mesh

__all__ = ["Compared", "Sameness", "compared", "surfaces_compared"]

_FINE: Final = 16_384  # points of a mesh that is at hand
# What a mesh of the same part may lie away besides its facets: single precision, tolerances of an exporter, our own points.
_SAME_MM, _SAME_SHARE = 0.02, 2e-4
_SAME_AT_MOST: Final = 2e-3  # of the extent: below it everything small would be the same
_FACETS: Final = 2.0  # of a ball they lie in by the sagitta of either way
# Sizes that differ by less than this are one size: a coarse export is smaller by its facets (common practice, no source).
_ONE_SIZE: Final = 0.008
# So many points may find no face beside them that looks the same way, at a corner.
_STRAY, _STRAYS = 0.003, 40
# The coarsest facets of a mesh may lie so much farther away than most (common practice, no source).
_APART, _MIDDLES = 4.0, 40_000
_AS_LARGE: Final = 0.12  # logarithm: a scan's noise adds some per cent of area
_SIMILAR: Final = 0.02  # of the extent: so far two surfaces may lie apart that people would take for each other
_OF_ASKED, _OF_KNOWN, _WHOLE = 0.85, 0.4, 0.97

Floats = NDArray[np.float64]

_SETTLED: Final = (Sameness.SAME, Sameness.SCALED, Sameness.OTHER_HAND)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Shape:
    """What is laid, and by what it is measured where its mesh is at hand."""

    few: Surface
    fine: Surface
    faces: Faces | None = None


def compared(asked: Mesh, known: Mesh) -> Compared:
    """Lay one mesh onto another and measure on the faces of both. One without area is OTHER than all."""
    one, other = _shape(asked), _shape(known)
    if one is None or other is None:
        return Compared(kind=Sameness.OTHER, distance_mm=np.inf, ratio=1.0, covered=0.0, explained=0.0, within_mm=0.0, away_mm=np.inf)
    return _compared(one, other)


def _shape(mesh: Mesh) -> _Shape | None:
    few, faces = surface_of(mesh), Faces.of(mesh)
    return _Shape(few=few, fine=surface_of(mesh, _FINE) or few, faces=faces) if few and faces else None


def surfaces_compared(asked: Surface, known: Surface) -> Compared:
    """The same of kept points alone, to which a difference of less than 1 % of the surface is none."""
    return _compared(_Shape(few=asked, fine=asked), _Shape(few=known, fine=known))


def _compared(asked: _Shape, known: _Shape) -> Compared:
    here = _best(asked, known, 1.0) if _may_be_one_size(asked.few, known.few) else None
    if here and (here.kind in _SETTLED or (here.kind is Sameness.SIMILAR and here.covered < _WHOLE)):
        return here  # a piece is no smaller copy
    ratio = _size(asked.few) / _size(known.few)
    if here and (abs(ratio - 1) <= _ONE_SIZE or not _is_as_large(asked, known, 1 / ratio)):
        return here
    there = _best(asked, known, 1 / ratio)
    # What is alike in another size alone, and not the same, is another part.
    return there if here is None or there.kind is Sameness.SCALED else here


def _may_be_one_size(asked: Surface, known: Surface) -> bool:
    """What is twice as large is no piece, nor worn."""
    return 0.5 < _size(asked) / _size(known) < 2


def _best(asked: _Shape, known: _Shape, scale: float) -> Compared:
    """As it is first; mirrored only where that is not the same and may be: of a piece nobody can tell its other hand."""
    own = _laid(asked, known, scale, is_mirrored=False)
    if own.kind in _SETTLED or not _is_as_large(asked, known, scale):
        return own
    return min(own, _laid(asked, known, scale, is_mirrored=True), key=_rank)


def _is_as_large(asked: _Shape, known: _Shape, scale: float) -> bool:
    """Whether their surfaces are of one area, which the same shape has in any hand and size, rough or not."""
    return abs(math.log(asked.few.area_mm2 * scale**2 / known.few.area_mm2)) < _AS_LARGE


def _laid(asked: _Shape, known: _Shape, scale: float, *, is_mirrored: bool) -> Compared:
    return _told(laid(asked.few, known.few, scale=scale, is_mirrored=is_mirrored, faces=known.faces), asked, known)


def _rank(told: Compared) -> tuple[int, float]:
    return (list(Sameness).index(told.kind), told.distance_mm / max(told.covered, 0.05))


def _size(surface: Surface) -> float:
    centred = surface.points_mm - surface.points_mm.mean(axis=0)
    return float(np.sqrt((centred**2).sum(axis=1).mean())) or 1e-300


def _told(lying: Lying, asked: _Shape, known: _Shape) -> Compared:
    extent = known.fine.extent_mm
    facets = asked.fine.facets_mm * lying.scale + known.fine.facets_mm
    within = _FACETS * facets + min(max(_SAME_MM, _SAME_SHARE * extent), _SAME_AT_MOST * extent)
    there, back = _away(lying, asked, known, within)
    near = max(within, _SIMILAR * extent / 2)
    explained, covered = float((there < near).mean()), float((back < near).mean())
    distance = float((there.mean() + back.mean()) / 2)
    ratio = 1 / lying.scale
    is_one_size = abs(ratio - 1) <= _ONE_SIZE
    if _lies_within(there, back, within) and _has_no_face_apart(lying, asked, known, within):
        kind = Sameness.SCALED if not is_one_size else Sameness.OTHER_HAND if lying.is_mirrored else Sameness.SAME
    elif is_one_size and not lying.is_mirrored and explained >= _OF_ASKED and covered >= _OF_KNOWN:
        kind = Sameness.SIMILAR
    else:
        kind = Sameness.OTHER
    return Compared(
        kind=kind,
        distance_mm=distance,
        ratio=1.0 if is_one_size else ratio,
        covered=covered,
        explained=explained,
        within_mm=within,
        is_mirrored=lying.is_mirrored,
        turn=tuple(lying.turn.ravel().tolist()),
        away_mm=float(there.mean()),
    )


def _lies_within(there: Floats, back: Floats, within: float) -> bool:
    return all(float(np.quantile(each, 1 - max(_STRAY, _STRAYS / len(each)))) <= within for each in (there, back))


def _away(lying: Lying, asked: _Shape, known: _Shape, within: float) -> tuple[Floats, Floats]:
    """Of each point of one from the surface of the other, in mm of the known one: asked to known, known to asked."""
    if not (asked.faces and known.faces):
        return lying.distances(asked.fine, known.fine)
    is_signed = asked.fine.is_oriented and known.fine.is_oriented
    there = known.faces.away(*lying.placed(asked.fine), within, is_signed=is_signed)
    of_known = lying.carried_back(known.fine.points_mm, known.fine.ways_out)
    return there, asked.faces.away(*of_known, within / lying.scale, is_signed=is_signed) * lying.scale


def _has_no_face_apart(lying: Lying, asked: _Shape, known: _Shape, within: float) -> bool:
    """Whether no face of either lies clear of the other: the wall of one small hole is a trace of the surface, and has few points."""
    if not (asked.faces and known.faces):
        return True
    is_signed, beyond = asked.fine.is_oriented and known.fine.is_oriented, _APART * within
    points, ways = asked.faces.middles(_MIDDLES)
    flip = np.array([-1.0 if lying.is_mirrored else 1.0, 1.0, 1.0])
    of_asked, of_known = lying.carried(points * flip, ways * flip), lying.carried_back(*known.faces.middles(_MIDDLES))
    there = known.faces.away(*of_asked, beyond, is_signed=is_signed)
    back = asked.faces.away(*of_known, beyond / lying.scale, is_signed=is_signed) * lying.scale
    return max(float(there.max()), float(back.max())) <= beyond
