"""Which views does a part need beside the usual three, so that what it has is seen?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from generator.geometry.drawing.kinds import View, ViewName
from generator.geometry.features.kinds import Kind
from generator.pages.drawing.paper import USUAL, Paper, scale_on
from generator.pages.drawing.shown import Shown, alone
from generator.pages.drawing.wanted import ORTHOGRAPHIC, Wanted

MOST_ADDED: Final = 2
_CHECK: Final = 100
"""As many features without a check does a view have to show to come before one with a check."""

Needs = Sequence[tuple[ViewName, bool]]
"""Views to add, the most telling first, and whether a check is seen in none of those before it."""


def needs(views: Mapping[ViewName, View], wanted: Sequence[Wanted], scale: float) -> Needs:
    """What shows most of that which the usual views hide; scale: at which it is looked at."""
    seen: dict[ViewName, Shown] = {}
    left = list(wanted)
    for name in USUAL:
        seen[name] = alone(views[name], name, scale)
        left = [each for each in left if not _shows(seen[name], each)]
    left = [each for each in left if each.balloons or each.kind not in (None, Kind.FACES)]
    found: list[tuple[ViewName, bool]] = []
    while left and len(found) < MOST_ADDED:
        others = [name for name in ORTHOGRAPHIC if name not in seen and any(place.view is name for each in left for place in each.places)]
        if not others:
            break
        shown = {name: [each for each in left if _shows(alone(views[name], name, scale), each)] for name in others}
        best = max(others, key=lambda name: sum(_CHECK if each.balloons else 1 for each in shown[name]))
        if not shown[best]:
            break
        found.append((best, any(each.balloons for each in shown[best])))
        seen[best] = alone(views[best], best, scale)
        left = [each for each in left if not any(each is one for one in shown[best])]
    return found


def names_on(views: Mapping[ViewName, View], paper: Paper, strip: float, asked: Needs) -> tuple[ViewName, ...]:
    """The views of a sheet: one without a check only where it costs no size."""
    names = (*USUAL, *(name for name, is_needed in asked if is_needed))
    for name, is_needed in asked:
        if not is_needed and scale_on(views, paper, strip, (*names, name)) == scale_on(views, paper, strip, names):
            names = (*names, name)
    return names


def _shows(shown: Shown, wanted: Wanted) -> bool:
    return any(shown.is_shown(wanted, place) for place in wanted.places)
