"""Which critical check of a round hole does no feature of the model meet?

What was recognised tells only what is there, never all that is there: a check is doubted only where its name or its kind
plainly says that it measures a hole across, the search went to its end and found round holes, and none of the sizes that
could be meant lies within its limits. What is not sure to be meant is not asked about.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from generator.geometry.features.kinds import Feature, Features, Kind
from generator.records.parts import Check, FeatureKind, Part
from generator.records.problems import Problem, doubt

_HOLES: Final = frozenset(
    {FeatureKind.BORE, FeatureKind.SEAT, FeatureKind.PIN_HOLE, FeatureKind.SCREW_HOLE, FeatureKind.PANEL_HOLE, FeatureKind.D_BORE}
)
# Parts of words by which a hole is called, and those beside which its diameter is not meant; English, German, Danish.
_SAYS_HOLE: Final = re.compile(r"\b(bore|hole|[\w-]*bohrung|[\w-]*loch|[\w-]*boring|[\w-]*hul)\b", re.IGNORECASE)
_SAYS_OTHER: Final = re.compile(
    r"distan|spac|apart|between|pitch|circle|depth|deep|length|width|height|thick|wall|edge|square|hexagon|slot|thread|round the|outside"
    r"|abstand|kreis|tief|länge|breite|höhe|dick|zwischen|rand|vierkant|sechskant|lang|gewinde|außen"
    r"|afstand|cirkel|dyb|længde|bredde|højde|tyk|mellem|kant|aflang|gevind|udvendig",
    re.IGNORECASE,
)
# A model stands for the nominal size; what is printed may be drawn larger or smaller by this (common practice, no source).
_ROOM_MM, _ROOM_SHARE = 0.15, 0.01


def feature_doubts(part: Part, features: Features | None) -> Iterator[Problem]:
    """One doubt for each check of a hole that no hole of the model meets, with the hole whose size is nearest."""
    holes = [each for each in features.found if each.kind is Kind.HOLE and each.is_inner] if features else []
    if features is None or not features.is_whole or not holes:
        return
    sizes = sorted({size for each in features.found if each.is_inner for size in _across(each)})
    for check in part.checks:
        if _is_of_hole(check) and not any(_meets(check, size) for size in sizes):
            nearest = min(holes, key=lambda each: (abs(each.size_mm - check.nominal_mm), each.at))
            at = "(" + ", ".join(f"{each:.1f}" for each in nearest.at) + ")"
            yield doubt("CHECK02", "no such hole", check=check.name, asked=asked(check), nearest=_three(nearest.size_mm), at=at)


def asked(check: Check) -> str:
    """The nominal size and its limits, as they are told."""
    return f"{check.nominal_mm:g} +{check.plus_mm:g} −{check.minus_mm:g} mm"


def _is_of_hole(check: Check) -> bool:
    if check.feature is not None:
        return check.feature in _HOLES
    return bool(_SAYS_HOLE.search(check.name)) and not _SAYS_OTHER.search(check.name)


def _across(feature: Feature) -> tuple[float, ...]:
    """What of an inner feature a caliper could measure across."""
    return (feature.size_mm,) if feature.second_mm is None else (feature.size_mm, feature.second_mm)


def _meets(check: Check, size_mm: float) -> bool:
    room = _ROOM_MM + _ROOM_SHARE * size_mm
    return check.nominal_mm - check.minus_mm - room <= size_mm <= check.nominal_mm + check.plus_mm + room


def _three(number: float) -> float:
    """To a hundredth, as a caliper tells it."""
    return round(number, 2)
