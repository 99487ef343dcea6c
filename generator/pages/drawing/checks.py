"""Which dimension shows each critical check? Where exactly one meets its limits and is of its kind it gets the check's number, else the list alone tells it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from generator.geometry.drawing.kinds import View, ViewName
from generator.geometry.features.kinds import Kind
from generator.pages.drawing.by_lines import measured_by_lines
from generator.pages.drawing.groups import FeatureGroup
from generator.pages.drawing.wanted_kinds import WantedSize
from generator.pages.wording import Wording
from generator.records.parts import Check, FeatureKind

_Fits = Callable[[WantedSize], bool]


def _inner(*kinds: Kind) -> _Fits:
    return lambda each: each.kind in kinds and each.is_inner


def _outer(*kinds: Kind) -> _Fits:
    return lambda each: each.kind in kinds and not each.is_inner


def _is_outside(each: WantedSize) -> bool:
    """Over a round or between faces that look away from each other, the whole part's too."""
    return each.is_overall or _outer(Kind.BOSS, Kind.TURNED, Kind.FACES)(each)


def _is_straight(each: WantedSize) -> bool:
    """From face to face, never between centres or from an edge to one."""
    return (each.is_overall and each.kind is None) or _outer(Kind.FACES)(each)


_HOLE: Final = _inner(Kind.HOLE)
_GAP: Final = _inner(Kind.SLOT, Kind.FACES)
_ROUND_OUT: Final = _outer(Kind.BOSS, Kind.TURNED)
FITS: Final[Mapping[FeatureKind, _Fits]] = {
    FeatureKind.SQUARE: lambda each: each.kind is Kind.SQUARE,
    FeatureKind.D_BORE: _inner(Kind.HOLE, Kind.FLATS),
    FeatureKind.BORE: _HOLE,
    FeatureKind.SEAT: _HOLE,
    FeatureKind.PIN_HOLE: _HOLE,
    FeatureKind.SCREW_HOLE: _HOLE,
    FeatureKind.PANEL_HOLE: _HOLE,
    FeatureKind.RING: _inner(Kind.HOLE, Kind.SLOT, Kind.FACES),
    FeatureKind.GRIP: _inner(Kind.HOLE, Kind.FACES),
    FeatureKind.SHANK: _outer(Kind.BOSS, Kind.TURNED, Kind.FACES),
    FeatureKind.PIN: _ROUND_OUT,
    FeatureKind.PLUG: _ROUND_OUT,
    FeatureKind.SLOT: _GAP,
    FeatureKind.STRAP_SLOT: _GAP,
    FeatureKind.KEYWAY: _GAP,
    FeatureKind.WIDTH_INSIDE: _GAP,
    FeatureKind.THREAD: lambda each: each.kind is Kind.THREAD,
    FeatureKind.FLATS: lambda each: each.kind in {Kind.FLATS, Kind.SQUARE, Kind.HEXAGON},  # a spanner's, or a socket's
    FeatureKind.TIPS: lambda each: each.kind is Kind.TEETH,
    FeatureKind.SPACING: lambda each: each.is_apart,
    FeatureKind.LENGTH: _is_straight,
    FeatureKind.WIDTH: _is_straight,
    FeatureKind.HEIGHT: _is_straight,
    FeatureKind.THICKNESS: _is_straight,
    FeatureKind.OUTSIDE: _is_outside,
}
"""What is counted (teeth) or reckoned (module) is at no dimension."""
# Whole words of a name that say what is measured, in English, German, Danish; a name with words of two kinds says none.
_SAYS: Final = tuple(
    (kind, re.compile(rf"\b(?:{said})\b", re.IGNORECASE))
    for kind, said in {
        FeatureKind.SPACING: r"distance|spacing|\w*abstand|\w*afstand",
        FeatureKind.BORE: r"bore|hole|\w*bohrung|\w*loch|\w*boring|\w*hul",
        FeatureKind.SHANK: r"shank|pin|journal|schaft|zapfen|stift|skaft|tap",
        FeatureKind.THREAD: r"thread|\w*gewinde|\w*gevind",
        FeatureKind.SQUARE: r"square|\w*vierkant|\w*firkant",
        FeatureKind.SLOT: r"slot|gap|keyway|schlitz|nut|spalte|not",
        FeatureKind.LENGTH: r"length|width|height|thickness|\w*länge|\w*breite|\w*höhe|\w*dicke|\w*længde|\w*bredde|\w*højde|\w*tykkelse",
    }.items()
)
_SAYS_INSIDE: Final = re.compile(r"insid|inner|pocket|window|opening|between|innen|lichte|tasche|fenster|öffnung|zwischen|indvendig|lomme|vindue|åbning|mellem", re.IGNORECASE)
_ROUND: Final = frozenset({Kind.HOLE, Kind.BOSS, Kind.TURNED, Kind.THREAD})
_SLACK: Final = 0.01
_MOST_ALIKE: Final = 2
"""Of dimensions that say the same, such as both legs of a corner."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """Dimensions with the numbers of the checks they show, and the checks that none of them does, counted from 1."""

    wanted: list[WantedSize]
    untold: tuple[int, ...]
    """Neither a feature nor a pair of lines is of their kind and within their limits."""
    several: tuple[int, ...]
    """More than one is, and they say different things."""


def with_balloons(wanted: Sequence[WantedSize], checks: Sequence[Check], views: Mapping[ViewName, View], groups: Sequence[FeatureGroup], w: Wording) -> Numbered:
    """The dimensions with the numbers of the checks they show; those with a number come first.

    A check that no dimension shows gets one of its own, where the lines of the views leave one place for it.
    """
    numbers: dict[int, list[int]] = {}
    more: list[WantedSize] = []
    untold, several = [], []
    rounds = [each for group in groups if group.first.kind in _ROUND for each in group.members]
    for number, check in enumerate(checks, 1):
        kind = kind_of(check)
        fits = FITS.get(kind) if kind else None
        within = [i for i, each in enumerate(wanted) if fits and fits(each) and _meets(each, check)]
        if within and len({_states(wanted[i]) for i in within}) == 1:
            for i in within[:_MOST_ALIKE]:
                numbers.setdefault(i, []).append(number)
        elif within:
            several.append(number)
        elif by_lines := measured_by_lines(check, kind, views, rounds, w):
            more.append(replace(by_lines, balloons=(number,)))
        else:
            untold.append(number)
    told = [*more, *(replace(each, balloons=tuple(numbers.get(i, ()))) for i, each in enumerate(wanted))]
    told.sort(key=lambda each: (not each.balloons, not each.is_overall))
    return Numbered(wanted=told, untold=tuple(untold), several=tuple(several))


def _states(wanted: WantedSize) -> tuple[Kind | None, bool, str]:
    """What two dimensions have in common that say the same of two places."""
    return wanted.kind, wanted.is_overall, wanted.text


def kind_of(check: Check) -> FeatureKind | None:
    """What a check says that it measures; None where neither its kind nor one plain word of its name does."""
    if check.feature:
        return check.feature
    said = [kind for kind, words in _SAYS if words.search(check.name)]
    if len(said) != 1:
        return None
    return FeatureKind.WIDTH_INSIDE if said[0] is FeatureKind.LENGTH and _SAYS_INSIDE.search(check.name) else said[0]


def _meets(wanted: WantedSize, check: Check) -> bool:
    """Within the limits, and the rounding of what is measured of facets."""
    low, high = check.nominal_mm - check.minus_mm - _SLACK, check.nominal_mm + check.plus_mm + _SLACK
    return any(each is not None and low <= each <= high for each in (wanted.value_mm, wanted.also_mm))
