"""Which dimension shows each critical check? Where exactly one meets its limits it gets the check's number, else the list alone tells it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from generator.geometry.features.kinds import Kind
from generator.pages.drawing.wanted import Wanted
from generator.records.parts import Check, FeatureKind

_ROUND_IN: Final = frozenset({Kind.HOLE, Kind.THREAD})
_ROUND_OUT: Final = frozenset({Kind.BOSS, Kind.TURNED, Kind.THREAD})
_LENGTH: Final = frozenset({Kind.FACES, None})
COULD_BE: Final[Mapping[FeatureKind, frozenset[Kind | None]]] = {
    FeatureKind.SQUARE: frozenset({Kind.SQUARE}),
    FeatureKind.D_BORE: frozenset({Kind.HOLE, Kind.FLATS}),
    FeatureKind.BORE: _ROUND_IN,
    FeatureKind.SEAT: _ROUND_IN,
    FeatureKind.SHANK: _ROUND_OUT,
    FeatureKind.PIN: _ROUND_OUT,
    FeatureKind.PIN_HOLE: _ROUND_IN,
    FeatureKind.SCREW_HOLE: _ROUND_IN,
    FeatureKind.PANEL_HOLE: _ROUND_IN,
    FeatureKind.SLOT: frozenset({Kind.SLOT, Kind.FACES}),
    FeatureKind.STRAP_SLOT: frozenset({Kind.SLOT, Kind.FACES}),
    FeatureKind.KEYWAY: frozenset({Kind.SLOT, Kind.FACES}),
    FeatureKind.THREAD: frozenset({Kind.THREAD}),
    FeatureKind.FLATS: frozenset({Kind.FLATS, Kind.SQUARE, Kind.HEXAGON}),
    FeatureKind.TIPS: frozenset({Kind.TEETH}),
    FeatureKind.SPACING: frozenset({None}),
    FeatureKind.LENGTH: _LENGTH,
    FeatureKind.WIDTH: _LENGTH,
    FeatureKind.HEIGHT: _LENGTH,
    FeatureKind.THICKNESS: _LENGTH,
    FeatureKind.WIDTH_INSIDE: _LENGTH,
}


def with_balloons(wanted: Sequence[Wanted], checks: Sequence[Check]) -> list[Wanted]:
    """The dimensions with the numbers of the checks they show, counted from 1; those with a number come first."""
    numbers: dict[int, list[int]] = {}
    for index, check in enumerate(checks):
        within = [i for i, each in enumerate(wanted) if _meets(each, check)]
        if check.feature and (kinds := COULD_BE.get(check.feature)):
            within = [i for i in within if wanted[i].kind in kinds]
        if len(within) == 1:
            numbers.setdefault(within[0], []).append(index + 1)
    told = [replace(each, balloons=tuple(numbers.get(i, ()))) for i, each in enumerate(wanted)]
    return sorted(told, key=lambda each: (not each.is_overall, not each.balloons))


def _meets(wanted: Wanted, check: Check) -> bool:
    """Within the limits, and the rounding of what is measured of facets."""
    return check.nominal_mm - check.minus_mm - _SLACK <= wanted.value_mm <= check.nominal_mm + check.plus_mm + _SLACK


_SLACK: Final = 0.005
