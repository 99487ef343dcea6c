"""Which views does a part need beside the usual three, so that what it has is seen?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from generator.geometry.drawing.kinds import View, ViewName
from generator.geometry.features.kinds import Kind
from generator.pages.drawing.paper import USUAL, PaperSize, scale_on
from generator.pages.drawing.shown import ShownViews, alone
from generator.pages.drawing.wanted_kinds import ORTHOGRAPHIC, WantedSize

MOST_ADDED: Final = 2
_CHECK: Final = 100
"""As many features without a check does a view have to show to come before one with a check."""

Needs = Sequence[tuple[ViewName, bool]]
"""Views to add, the most telling first, and whether a check is seen in none of those before it."""


def needs(views: Mapping[ViewName, View], wanted: Sequence[WantedSize], scale: float) -> Needs:
    """What shows most of that which the usual views hide; scale: at which it is looked at."""
    found: list[tuple[ViewName, bool]] = []
    others: dict[ViewName, ShownViews] = {}
    left = [each for each in wanted if each.balloons or each.kind not in (None, Kind.FACES)]
    for name in USUAL:
        shown = alone(views[name], name, scale)
        left = [each for each in left if not _shows(shown, each)]
    while left and len(found) < MOST_ADDED:
        for name in {place.view for each in left for place in each.places} - {*USUAL, *others}:
            others[name] = alone(views[name], name, scale)
        gained = {name: [each for each in left if _shows(others[name], each)] for name in ORTHOGRAPHIC if name in others}
        best = max(gained, key=lambda name: sum(_CHECK if each.balloons else 1 for each in gained[name]), default=None)
        if best is None or not gained[best]:
            break
        found.append((best, any(each.balloons for each in gained[best])))
        left = [each for each in left if not any(each is one for one in gained[best])]
    return found


def names_on(views: Mapping[ViewName, View], paper: PaperSize, strip: float, asked: Needs) -> tuple[ViewName, ...]:
    """The views of a sheet: one without a check only where the part stays at full size with it, or as small as it is without."""
    names = (*USUAL, *(name for name, is_needed in asked if is_needed))
    for name, is_needed in asked:
        least = min(scale_on(views, paper, strip, names), 1.0)
        if not is_needed and scale_on(views, paper, strip, (*names, name)) >= least:
            names = (*names, name)
    return names


def _shows(shown: ShownViews, wanted: WantedSize) -> bool:
    return any(shown.is_shown(wanted, place) for place in wanted.places)
