"""What is the model of a request like, and what of it should somebody settle before a part is designed?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.geometry.measured import Kept, Pictures
from generator.records.problems import Problem, doubt
from generator.rules.alike import plain_ratio, unit_slip, within_of

__all__ = ["AskedShape", "Resembled", "asked_doubts"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Resembled:
    """A part, or another request where `is_request`, that a request's model is like, and how the model lies on it."""

    number: str
    is_request: bool
    compared: Compared


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedShape:
    """The model of a request: its pictures, its box (the longest side first), and what it is like, the likeliest first.

    beside: the model and the first of these at one scale.
    """

    pictures: Pictures
    size_mm: tuple[float, float, float]
    like: tuple[Resembled, ...] = ()
    beside: Kept | None = None


def asked_doubts(name: str, like: Iterable[Resembled]) -> tuple[Problem, ...]:
    """What it is the very shape of, of either size: a part that exists, or an earlier request.

    name: the request's id. Of two requests the later one is asked about. What is only similar is for people to look at.
    """
    found = (_doubt(name, each) for each in like)
    return tuple(each for each in found if each)


def _doubt(name: str, each: Resembled) -> Problem | None:
    lies = each.compared
    if each.is_request:
        is_told = lies.kind is Sameness.SAME and each.number < name
        return doubt("LIKE03", "request", number=each.number, within=within_of(lies.within_mm)) if is_told else None
    if lies.kind is Sameness.SAME:
        return doubt("LIKE03", "part", number=each.number, within=within_of(lies.within_mm))
    if lies.kind is Sameness.SCALED and unit_slip(lies.ratio):
        return doubt("LIKE03", "scaled", number=each.number, ratio=plain_ratio(lies.ratio))
    return None
