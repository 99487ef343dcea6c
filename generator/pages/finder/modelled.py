"""Which sizes has the model that the record does not name? The few that tell a part best, for the finder."""

from collections.abc import Iterable, Iterator
from typing import Final

from generator.geometry.features.kinds import Feature, Features, Kind
from generator.records.parts import FeatureKind

Sizes = dict[str, list[list[float]]]

MOST_SIZES: Final = 8
LEAST_MM: Final = 2.0
_LEAST_ARC_DEG: Final = 200.0  # the jaws of a caliper reach across from 180 on
_SAME_MM: Final = 0.2  # a check names what the model has: what is measured and what was meant differ by the facets and play
_D: Final = "d"

_OF_HOLES: Final = frozenset(
    {FeatureKind.BORE, FeatureKind.SEAT, FeatureKind.PIN_HOLE, FeatureKind.SCREW_HOLE, FeatureKind.PANEL_HOLE, FeatureKind.RING, FeatureKind.D_BORE, FeatureKind.GRIP, FeatureKind.THREAD}
)  # fmt: skip
_OF_BOSSES: Final = frozenset({FeatureKind.SHANK, FeatureKind.PIN, FeatureKind.PLUG, FeatureKind.OUTSIDE, FeatureKind.TIPS, FeatureKind.THREAD})
NAMED_AS: Final[dict[str, frozenset[FeatureKind]]] = {
    "square": frozenset({FeatureKind.SQUARE}),
    "hexagon": frozenset({FeatureKind.FLATS}),
    "thread": frozenset({FeatureKind.THREAD}),
    _D: frozenset({FeatureKind.D_BORE}),
    "flats": frozenset({FeatureKind.FLATS}),
    "slot": frozenset({FeatureKind.SLOT, FeatureKind.STRAP_SLOT, FeatureKind.WIDTH_INSIDE}),
    "hole": _OF_HOLES,
    "boss": _OF_BOSSES,
}
"""What the record may call each; the order is that in which they tell a part best (common practice, no source)."""

_Told = tuple[str, bool, Feature]


def modelled(features: Features | None, named: Iterable[tuple[str, float]]) -> Sizes:
    """By kind of `NAMED_AS` the sizes in mm, each with how many there are and, of a thread, its pitch; at most MOST_SIZES.

    named: kind (of `FeatureKind`) and size in mm of all that the record names; it is left out. What goes through comes before
    what ends within the part, of each kind the largest first.
    """
    known = list(named)
    grouped: dict[tuple[object, ...], list[_Told]] = {}
    for each in _told(features) if features else ():
        if not any(kind in NAMED_AS[each[0]] and abs(mm - _size(each)) <= _SAME_MM for kind, mm in known):
            grouped.setdefault((each[0], round(_size(each), 1), round(each[2].second_mm or 0, 1) if each[0] == "thread" else 0), []).append(each)
    best = sorted(grouped.values(), key=_rank)[:MOST_SIZES]
    sizes: Sizes = {}
    for group in best:
        sizes.setdefault(group[0][0], []).append(_entry(group))
    return sizes


def _told(features: Features) -> Iterator[_Told]:
    """Kind, whether it is hard to reach, and the feature."""
    d_bores = {round(each.second_mm, 2) for each in features.found if each.kind is Kind.FLATS and each.is_inner and each.second_mm}
    for each in features.found:
        kind = _D if each.kind is Kind.FLATS and each.is_inner and each.second_mm else str(each.kind)
        is_round = each.kind in {Kind.HOLE, Kind.BOSS}
        if kind not in NAMED_AS or each.seat is not None or (is_round and each.arc_deg < _LEAST_ARC_DEG):
            continue
        if each.kind is Kind.HOLE and round(each.size_mm, 2) in d_bores:
            continue
        is_ending = each.kind in {Kind.HOLE, Kind.SLOT} and not each.is_through
        if _size((kind, is_ending, each)) >= LEAST_MM:
            yield kind, is_ending, each


def _size(told: _Told) -> float:
    kind, _, feature = told
    return feature.second_mm if kind == _D and feature.second_mm else feature.size_mm


def _rank(group: list[_Told]) -> tuple[bool, int, float]:
    kind, _, _ = group[0]
    return all(is_ending for _, is_ending, _ in group), list(NAMED_AS).index(kind), -_size(group[0])


def _entry(group: list[_Told]) -> list[float]:
    kind, _, feature = group[0]
    size, pitch = (round(mm, 2) for mm in (_size(group[0]), feature.second_mm or 0))
    entry = [size, len(group), pitch] if kind == "thread" else [size, len(group)] if len(group) > 1 else [size]
    return [int(each) if each == int(each) else each for each in entry]  # 45 and not 45.0: the data are read on tablets
