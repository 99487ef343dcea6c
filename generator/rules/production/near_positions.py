"""Is a position that nobody has told before one that is known, mistyped? `windwo 2` stands beside `window 2`, `window 3` does not.

Positions are people's own words, so a new one is only asked about, before its line is added: what stands could not be mended.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import zip_longest

from generator.records.fitted import FittedRow
from generator.records.problems import Problem, Where, doubt
from generator.records.production import Production
from generator.rules.production.moves import compared

_WORDS = re.compile(r"[^\W\d_]+|\d+")
FEWEST_LETTERS = 5
"""Shorter words that differ in one letter are as likely two words, such as east and west (common practice, no source)."""

_Known = Mapping[tuple[str | None, ...], Mapping[str, str]]


def near_positions(new: Iterable[FittedRow], production: Production) -> Iterator[Problem]:
    """Lines with a position that is new for the part at that place, where a known one is near; the vehicle's own come first."""
    known = _known(production)
    for row in new:
        part, own = _part(row, production), compared(row.position)
        there = known.get((part, row.fleet, row.place, row.vehicle), {})
        in_fleet = known.get((part, row.fleet, row.place), {})
        if not own or own in in_fleet:
            continue
        near = next((text for each, text in (*there.items(), *in_fleet.items()) if is_near(own, each)), None)
        if near:
            yield doubt("FITTED14", "near", where=Where(row.file, row.line), position=row.position, near=near, vehicle=row.vehicle)


def is_near(one: str, other: str) -> bool:
    """Whether two positions, as they are compared, differ by blanks and points alone, or by one slip in a long word; figures are no slip."""
    words, others = _WORDS.findall(one), _WORDS.findall(other)
    if "".join(words) == "".join(others):
        return one != other
    differing = [(mine, theirs) for mine, theirs in zip_longest(words, others, fillvalue="") if mine != theirs]
    return len(differing) == 1 and all(len(each) >= FEWEST_LETTERS and each.isalpha() for each in differing[0]) and _is_one_slip(*differing[0])


def _is_one_slip(one: str, other: str) -> bool:
    """One letter more, less or otherwise, or two that changed places."""
    if len(one) > len(other):
        one, other = other, one
    at = next((at for at, (mine, theirs) in enumerate(zip(one, other, strict=False)) if mine != theirs), len(one))
    if len(one) < len(other):
        return len(other) - len(one) == 1 and one[at:] == other[at + 1 :]
    swapped = one[at : at + 2][::-1] + one[at + 2 :]
    return one[at + 1 :] == other[at + 1 :] or swapped == other[at:]


def _known(production: Production) -> _Known:
    """Positions that were told of a part at a place, of one vehicle and of the fleet, as they are compared and as they were first written."""
    found: defaultdict[tuple[str | None, ...], dict[str, str]] = defaultdict(dict)
    for row in production.fitted:
        if row.position:
            part, key = _part(row, production), compared(row.position)
            found[part, row.fleet, row.place, row.vehicle].setdefault(key, row.position)
            found[part, row.fleet, row.place].setdefault(key, row.position)
    return found


def _part(row: FittedRow, production: Production) -> str | None:
    batch = production.batches.get(row.batch or row.removed_batch)
    return batch.part if batch else None
