"""Which critical check does nothing meet that was recognised in the model?

What was recognised tells only what is there, never all that is there: a check is doubted only where its name or its kind
plainly says what it measures, the search went to its end and found something of that kind, and nothing that could be meant lies
within its limits. What is not sure to be meant is not asked about: of lengths only those that are called by one plain word.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from itertools import combinations
from typing import Final, NamedTuple

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
_SAYS_LENGTH: Final = re.compile(
    r"(overall |total )?(length|width|height|thickness)( over all)?|(gesamt)?(länge|breite|höhe|dicke)|(samlet )?(længde|bredde|højde|tykkelse)",
    re.IGNORECASE,
)
_LENGTHS: Final = frozenset({FeatureKind.LENGTH, FeatureKind.WIDTH, FeatureKind.HEIGHT, FeatureKind.THICKNESS})
# A model stands for the nominal size; what is printed may be drawn larger or smaller by this (common practice, no source).
_ROOM_MM, _ROOM_SHARE = 0.15, 0.01
_PARALLEL: Final = 0.9999


class _Way(NamedTuple):
    """How one kind of check is held: what there must be at least one of, and what else could be meant."""

    is_its_kind: Callable[[Feature], bool]
    could_be_meant: Callable[[Feature], bool]


def _is(*kinds: Kind, inner: bool | None = None) -> Callable[[Feature], bool]:
    return lambda each: each.kind in kinds and (inner is None or each.is_inner == inner)


_HOLE: Final = _Way(_is(Kind.HOLE, inner=True), lambda each: each.is_inner)
_SQUARE: Final = _Way(_is(Kind.SQUARE), _is(Kind.SQUARE, Kind.FLATS, Kind.FACES))
_FLATS: Final = _Way(_is(Kind.HEXAGON, Kind.FLATS), _is(Kind.HEXAGON, Kind.SQUARE, Kind.FLATS, Kind.FACES))
_SLOT: Final = _Way(_is(Kind.SLOT), _is(Kind.SLOT, Kind.HOLE, Kind.FACES, inner=True))
_KEYWAY: Final = _Way(_is(Kind.SLOT, Kind.FACES, inner=True), _is(Kind.SLOT, Kind.FACES, inner=True))
_PIN: Final = _Way(
    lambda each: each.kind is Kind.BOSS and (each.length_mm or 0) >= each.size_mm / 2,
    lambda each: not each.is_inner,
)
_LENGTH: Final = _Way(_is(Kind.FACES, inner=False), _is(Kind.FACES))
_WAYS: Final[Mapping[FeatureKind, _Way]] = {
    **dict.fromkeys(_HOLES, _HOLE),
    FeatureKind.SQUARE: _SQUARE,
    FeatureKind.FLATS: _FLATS,
    FeatureKind.SLOT: _SLOT,
    FeatureKind.STRAP_SLOT: _SLOT,
    FeatureKind.KEYWAY: _KEYWAY,
    FeatureKind.PIN: _PIN,
    FeatureKind.SHANK: _PIN,
}


def feature_doubts(part: Part, features: Features | None) -> Iterator[Problem]:
    """One doubt for each check that nothing of the model meets, with what of its kind is nearest in size."""
    if features is None or not features.is_whole:
        return
    for check in part.checks:
        way = _way(check)
        of_kind = [each for each in features.found if way.is_its_kind(each)] if way else []
        if way and of_kind and not any(_meets(check, size, within) for size, within in _sizes(way, features)):
            nearest = min(of_kind, key=lambda each: (abs(each.size_mm - check.nominal_mm), each.at))
            at = "(" + ", ".join(f"{each:.1f}" for each in nearest.at) + ")"
            key = "no such hole" if way is _HOLE else "no such size"
            yield doubt("CHECK02", key, check=check.name, asked=asked(check), nearest=_three(nearest.size_mm), at=at)


def asked(check: Check) -> str:
    """The nominal size and its limits, as they are told."""
    return f"{check.nominal_mm:g} +{check.plus_mm:g} −{check.minus_mm:g} mm"


def _way(check: Check) -> _Way | None:
    if check.feature in _LENGTHS or check.feature is None:
        if _SAYS_LENGTH.fullmatch(check.name.strip()):
            return _LENGTH
        is_hole = check.feature is None and bool(_SAYS_HOLE.search(check.name)) and not _SAYS_OTHER.search(check.name)
        return _HOLE if is_hole else None
    return _WAYS.get(check.feature)


def _sizes(way: _Way, features: Features) -> Iterator[tuple[float, float]]:
    """What a caliper could measure of what could be meant, with how far each may be off."""
    for each in features.found:
        if way.could_be_meant(each):
            yield each.size_mm, each.within_mm
            if each.second_mm is not None:
                yield each.second_mm, each.within_mm
    if way is _LENGTH or way is _PIN:
        yield from ((size, 0.0) for size in (*features.size_mm, *features.box_mm))
    if way is _LENGTH:
        yield from _between_levels(features)


def _between_levels(features: Features) -> Iterator[tuple[float, float]]:
    """From any plane or end to any other along each direction: a length may begin at one feature and end at another."""
    levels: list[tuple[tuple[float, float, float], list[tuple[float, float]]]] = []
    for each in features.found:
        along = next((found for axis, found in levels if abs(_dot(axis, each.axis)) > _PARALLEL), None)
        if along is None:
            levels.append((each.axis, along := []))
        axis = next(axis for axis, found in levels if found is along)
        middle, way = _dot(axis, each.at), 1 if _dot(axis, each.axis) > 0 else -1
        if each.kind is Kind.FACES:
            along += [(middle + side * each.size_mm / 2, each.within_mm) for side in (-1, 1)]
        else:
            along += [(middle - way * length, each.within_mm) for length in (0.0, each.length_mm or 0.0)]
    for _, found in levels:
        yield from ((abs(one - other), off + more) for (one, off), (other, more) in combinations(sorted(set(found)), 2))


def _dot(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _meets(check: Check, size_mm: float, within_mm: float) -> bool:
    room = _ROOM_MM + _ROOM_SHARE * size_mm + within_mm
    return check.nominal_mm - check.minus_mm - room <= size_mm <= check.nominal_mm + check.plus_mm + room


def _three(number: float) -> float:
    """To a hundredth, as a caliper tells it."""
    return round(number, 2)
