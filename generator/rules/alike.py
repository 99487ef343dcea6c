"""Which parts are alike in shape, and which of it does nobody say in the records?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.records.approvals import Superseded
from generator.records.catalogue import PartFolder
from generator.records.problems import Problem, doubt

__all__ = ["LooksLike", "Pair", "alike_doubts", "looks_like", "plain_ratio", "told_once", "unit_slip", "within_of"]

Pair = tuple[str, str, Compared]
"""Two folders, and how the model of the first lies on that of the second."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LooksLike:
    """Another part whose model is near to this one's.

    ratio: this one's size / the other's. is_said: the records of one of the two name the other.
    """

    number: str
    kind: Sameness
    distance_mm: float
    ratio: float
    within_mm: float
    is_said: bool


def looks_like(folders: Iterable[PartFolder], pairs: Iterable[Pair]) -> Mapping[str, tuple[LooksLike, ...]]:
    """By the part's folder, the nearest first; two under one number have been told of already."""
    by_folder = {each.folder: each for each in folders}
    found: dict[str, list[LooksLike]] = defaultdict(list)
    for one, other, compared in pairs:
        first, second = by_folder[one], by_folder[other]
        if compared.kind is Sameness.OTHER or first.number.casefold() == second.number.casefold():
            continue
        is_said = second.number in _named(first) or first.number in _named(second)
        for own, its, ratio in ((first, second, compared.ratio), (second, first, 1 / compared.ratio)):
            found[own.folder].append(
                LooksLike(
                    number=its.number,
                    kind=compared.kind,
                    distance_mm=compared.distance_mm,
                    ratio=ratio,
                    within_mm=compared.within_mm,
                    is_said=is_said,
                )
            )
    return {folder: tuple(sorted(each, key=_order)) for folder, each in found.items()}


def _order(each: LooksLike) -> tuple[int, float, str]:
    return list(Sameness).index(each.kind), each.distance_mm, each.number


def _named(folder: PartFolder) -> set[str]:
    """The numbers that a part's own records name as its relations."""
    part = folder.part
    events = folder.approval.events if folder.approval else ()
    replaced = {each.superseded_by for each in events if isinstance(each, Superseded)}
    return replaced | ({*part.look_alikes, part.other_hand or ""} if part else set())


def alike_doubts(alike: Iterable[LooksLike], same_model: Iterable[str]) -> tuple[Problem, ...]:
    """What a person should look at: the same shape, or its mirror image, under another number, and no record says so.

    same_model: numbers with the very same triangles, which are told of already.
    """
    told = set(same_model)
    unsaid = [each for each in alike if not each.is_said and each.number not in told]
    same = [each for each in unsaid if each.kind is Sameness.SAME]
    others = (_doubt(each) for each in unsaid if each.kind is not Sameness.SAME)
    return (*_same_doubt(same), *(each for each in others if each))


def told_once(told: Iterable[tuple[str, Problem]]) -> list[Problem]:
    """What stands with the parts, each with its part's number, for who reads all of it: of a group that is alike one line alone.

    A line that names others says what theirs would say of it and of each other; the one that names the most is kept.
    """
    every = list(told)
    groups = [frozenset({number, *_numbers_in(problem)}) if problem.code in _BETWEEN else None for number, problem in every]
    kept: dict[int, Problem] = {}
    covered: defaultdict[tuple[str, str], list[frozenset[str]]] = defaultdict(list)
    for at in sorted(range(len(every)), key=lambda at: -len(groups[at] or ())):
        problem, group = every[at][1], groups[at]
        if group is not None:
            if any(group <= other for other in covered[problem.code, problem.key]):
                continue
            covered[problem.code, problem.key].append(group)
        kept[at] = problem
    return [kept[at] for at in sorted(kept)]


_BETWEEN = ("LIKE01", "LIKE02")


def _numbers_in(problem: Problem) -> tuple[str, ...]:
    facts = dict(problem.facts)
    named = facts.get("numbers") or facts.get("number") or ()
    return named if isinstance(named, tuple) else (str(named),)


UNIT_SLIPS = {"25.4": 25.4, "10": 10.0, "100": 100.0, "1000": 1000.0, "1000/25.4": 1000 / 25.4}
"""As it is written, by how much a part is too large or too small that was read in another unit of length."""
SLIP_SHARE = 0.005


def unit_slip(ratio: float) -> str | None:
    """The slip of the unit that sizes of such a ratio are, as '25.4' or '1/25.4'; None for washers, plugs and boxes of one form."""
    larger = max(ratio, 1 / ratio)
    slip = next((name for name, each in UNIT_SLIPS.items() if abs(larger - each) <= SLIP_SHARE * each), None)
    if slip is None or ratio >= 1:
        return slip
    return "/".join(reversed(slip.split("/"))) if "/" in slip else f"1/{slip}"


def _same_doubt(same: list[LooksLike]) -> tuple[Problem, ...]:
    """One for all of them: of five alike nobody reads the other four singly."""
    if not same:
        return ()
    return (doubt("LIKE01", "same shape", numbers=sorted(each.number for each in same), within=within_of(max(each.within_mm for each in same))),)


def _doubt(each: LooksLike) -> Problem | None:
    if each.kind is Sameness.OTHER_HAND:
        return doubt("LIKE02", "other hand", number=each.number, within=within_of(each.within_mm))
    if each.kind is Sameness.SCALED and (slip := unit_slip(each.ratio)):
        return doubt("LIKE01", "scaled", number=each.number, ratio=plain_ratio(each.ratio), slip=slip)
    return None


def within_of(within_mm: float) -> float:
    """As it is told."""
    return round(max(within_mm, 0.01), 2)


def plain_ratio(ratio: float) -> float:
    """To four digits, as it is told."""
    return float(f"{ratio:.4g}")
