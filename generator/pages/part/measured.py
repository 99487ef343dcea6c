"""What was recognised in the model, as rows of words: feature, size, depth, where."""

from dataclasses import dataclass
from itertools import groupby
from typing import Final

from generator.geometry.features.kinds import Feature, Features, Kind, Point, Void
from generator.geometry.features.telling import worth_telling
from generator.pages.wording import Wording

_MOST_ROWS, _MOST_PLACES = 20, 4
_LEAST_MM: Final = 1.0
_TOLD: Final = tuple(kind for kind in Kind if kind is not Kind.FACES)
"""Spacings of plane faces are for the drawing: as a list they say little."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredRow:
    feature: str
    size: str
    depth: str
    where: str


def measured_rows(features: Features | None, w: Wording) -> tuple[MeasuredRow, ...]:
    """Equal features in one row, in the order in which they are told."""
    told = [each for each in worth_telling(features.found) if each.kind in _TOLD and each.size_mm >= _LEAST_MM] if features else []
    alike = (tuple(group) for _, group in groupby(sorted(told, key=_key), key=_key))
    return (*(_row(group, w) for group in alike), *(_void_row(each, w) for each in (features.voids if features else ())))[:_MOST_ROWS]


def _void_row(void: Void, w: Wording) -> MeasuredRow:
    """A hollow that nothing opens: no bore, though its wall may be round."""
    size = " × ".join(w.number(each, 1) for each in void.size_mm)
    return MeasuredRow(feature=w("figures.measured.void"), size=size, depth="", where=_place(void.at, w))


def _key(each: Feature) -> tuple[object, ...]:
    length = round(each.length_mm, 1) if each.length_mm is not None else 0.0
    is_cone = each.kind is Kind.HOLE and each.second_mm is not None
    return (_TOLD.index(each.kind), not each.is_inner, -round(each.size_mm, 2), is_cone, length, str(each.is_through), str(each.hand), each.count or 0)


def _row(group: tuple[Feature, ...], w: Wording) -> MeasuredRow:
    first = group[0]
    name = w(f"figures.measured.{_name(first)}", count=str(first.count or ""), hand=w(f"figures.measured.{first.hand}") if first.hand else "")
    return MeasuredRow(
        feature=f"{len(group)} × {name}" if len(group) > 1 else name,
        size=_size(first, w),
        depth=_depth(first, w),
        where="; ".join(_place(each.at, w) for each in group[:_MOST_PLACES]) + (" …" if len(group) > _MOST_PLACES else ""),
    )


def _name(feature: Feature) -> str:
    if feature.kind is Kind.HOLE and feature.seat is not None:
        return "countersink" if feature.second_mm is not None else "counterbore"
    if feature.kind is Kind.TEETH and feature.second_mm is None:
        return "repeated"
    if feature.kind in {Kind.SQUARE, Kind.HEXAGON, Kind.THREAD}:
        return f"{feature.kind}_{'in' if feature.is_inner else 'out'}"
    return str(feature.kind)


def _size(feature: Feature, w: Wording) -> str:
    """The diameter or width; what belongs to it behind."""
    size = w.number(feature.size_mm, 2)
    is_round = feature.kind in {Kind.HOLE, Kind.BOSS, Kind.TURNED, Kind.TEETH, Kind.THREAD}
    told = f"Ø {size}" if is_round else size
    if feature.second_mm is not None and feature.kind is Kind.SLOT:
        told += f" × {w.number(feature.second_mm, 2)}"
    if feature.second_mm is not None and feature.kind is Kind.THREAD:
        told += f" × {w.number(feature.second_mm, 1)}"
    return f"{told} ({w.number(feature.arc_deg, 0)}°)" if feature.arc_deg < 345 else told


def _depth(feature: Feature, w: Wording) -> str:
    if feature.length_mm is None:
        return ""
    depth = w.number(feature.length_mm, 1)
    return w("figures.measured.through", depth=depth) if feature.is_through else depth


def _place(at: Point, w: Wording) -> str:
    return " / ".join(w.number(round(each, 1) + 0.0, 1) for each in at)  # never −0.0
