"""Are two shapes the same, once one is laid onto the other? In millimetres, as surfaces, in either hand and in either size."""

from __future__ import annotations

from typing import Final

import numpy as np

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
_SIMILAR: Final = 0.02  # of the extent: so far two surfaces may lie apart that people would take for each other
_OF_ASKED, _OF_KNOWN, _WHOLE = 0.85, 0.4, 0.97


_SETTLED: Final = (Sameness.SAME, Sameness.SCALED, Sameness.OTHER_HAND)


def compared(asked: Mesh, known: Mesh) -> Compared:
    """Lay one mesh onto another. One without area is OTHER than all."""
    one, other = surface_of(asked), surface_of(known)
    if one is None or other is None:
        return Compared(kind=Sameness.OTHER, distance_mm=np.inf, ratio=1.0, covered=0.0, explained=0.0, within_mm=0.0)
    return surfaces_compared(one, other, (surface_of(asked, _FINE) or one, surface_of(known, _FINE) or other))


def surfaces_compared(asked: Surface, known: Surface, fine: tuple[Surface, Surface] | None = None) -> Compared:
    """The same of kept points. fine: more points of both, for the last look."""
    measured = fine or (asked, known)
    here = _best(asked, known, 1.0, measured) if _may_be_one_size(asked, known) else None
    if here and (here.kind in _SETTLED or (here.kind is Sameness.SIMILAR and here.covered < _WHOLE)):
        return here  # a piece is no smaller copy
    ratio = _size(asked) / _size(known)
    if here and abs(ratio - 1) <= _ONE_SIZE:
        return here
    there = _best(asked, known, 1 / ratio, measured)
    # What is alike in another size alone, and not the same, is another part.
    return there if here is None or there.kind is Sameness.SCALED else here


def _may_be_one_size(asked: Surface, known: Surface) -> bool:
    """What is twice as large is no piece, nor worn."""
    return 0.5 < _size(asked) / _size(known) < 2


def _best(asked: Surface, known: Surface, scale: float, measured: tuple[Surface, Surface]) -> Compared:
    """As it is first; mirrored only where that is not the same."""
    own = _told(laid(asked, known, scale=scale, is_mirrored=False), *measured)
    if own.kind in _SETTLED:
        return own
    return min(own, _told(laid(asked, known, scale=scale, is_mirrored=True), *measured), key=_rank)


def _rank(told: Compared) -> tuple[int, float]:
    return (list(Sameness).index(told.kind), told.distance_mm / max(told.covered, 0.05))


def _size(surface: Surface) -> float:
    centred = surface.points_mm - surface.points_mm.mean(axis=0)
    return float(np.sqrt((centred**2).sum(axis=1).mean())) or 1e-300


def _told(lying: Lying, asked: Surface, known: Surface) -> Compared:
    there, back = lying.distances(asked, known)
    extent = known.extent_mm
    facets = asked.facets_mm * lying.scale + known.facets_mm
    within = _FACETS * facets + min(max(_SAME_MM, _SAME_SHARE * extent), _SAME_AT_MOST * extent)
    near = max(within, _SIMILAR * extent / 2)
    explained, covered = float((there < near).mean()), float((back < near).mean())
    worst = max(float(np.quantile(each, 1 - max(_STRAY, _STRAYS / len(each)))) for each in (there, back))
    distance = float((there.mean() + back.mean()) / 2)
    ratio = 1 / lying.scale
    is_one_size = abs(ratio - 1) <= _ONE_SIZE
    if worst <= within:
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
    )
