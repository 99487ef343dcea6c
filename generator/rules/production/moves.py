"""What sits where after each day, from the lines of what went on and came off.

Within a day nobody knows the order: what went on counts first, so that a piece may come off on the day on which it went
on. A removal takes from the position that it names, then from pieces at that place of which nobody said the position;
one that names none takes those first, then from any position, in the order of the days on which they were first told and
of one day by name. Of one day's removals those that name a position come first, of these the ones that nobody saw, and
of these the lesser: so the order of lines tells nothing. What cannot come off, since it does not sit there, is told, and
counts for nothing, unless somebody saw that it came off there: then it had gone on by that day without a word.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache
from itertools import groupby
from operator import attrgetter
from typing import NamedTuple

from generator.records.base import as_compared
from generator.records.fitted import FittedRow


class VehiclePlace(NamedTuple):
    """A place of one vehicle."""

    fleet: str
    vehicle: str
    place: str


class PieceSpot(NamedTuple):
    """Where a piece sits."""

    fleet: str
    vehicle: str
    place: str
    position: str
    """As it was first written; empty where nobody said."""


@dataclass(frozen=True, slots=True)
class RemovedTooMany:
    """A removal of more than sat there."""

    row: FittedRow
    sat: int
    """Pieces of the batch that could come off."""
    elsewhere: tuple[str, ...]
    """Positions at the same place where more of it sits."""


@dataclass(slots=True)
class Sitting:
    """What sits on the vehicles as the days go by."""

    there: dict[tuple[str, str, str], dict[str, tuple[str, dict[str, int]]]] = field(default_factory=dict)
    """By site and the position as it is compared: the position as written, and pieces by batch; never below nothing."""

    def at(self, site: VehiclePlace) -> dict[str, int]:
        """Pieces at all positions of a site, by batch."""
        found: defaultdict[str, int] = defaultdict(int)
        for _, batches in self.there.get(site, {}).values():
            for name, count in batches.items():
                found[name] += count
        return found

    def spots(self) -> dict[PieceSpot, dict[str, int]]:
        """What sits where at the end."""
        return {
            PieceSpot(*site, text): dict(batches)
            for site, positions in self.there.items()
            for text, batches in positions.values()
            if batches
        }

    def puts(self, row: FittedRow) -> None:
        positions = self.there.setdefault(_site(row), {})
        _, batches = positions.setdefault(compared(row.position), (row.position, {}))
        batches[row.batch] = batches.get(row.batch, 0) + row.count

    def takes(self, row: FittedRow) -> int:
        """How many could come off."""
        positions = self.there.get((row.fleet, row.vehicle, row.place))
        if not positions:
            return 0
        name, left = row.removed_batch, row.removed
        for key in taken_from(compared(row.position), positions):
            batches = positions[key][1]
            there = batches.get(name, 0)
            if there > left:
                batches[name] = there - left
                return row.removed
            if there:
                left -= there
                del batches[name]
        return row.removed - left


@dataclass(frozen=True, slots=True)
class Day:
    """One day: its lines, what could come off of each removal, what could not, and what sits at its end."""

    on: date
    rows: tuple[FittedRow, ...]
    taken: tuple[tuple[FittedRow, int], ...]
    missing: tuple[RemovedTooMany, ...]
    unwritten: tuple[tuple[FittedRow, int], ...]
    """Removals that were found so, and how many of their pieces must have gone on by then though no line says so."""
    sitting: Sitting
    """The same object for all days: it is as on this day until the next one is asked for."""


def days(rows: Iterable[FittedRow]) -> Iterator[Day]:
    """Each day on which anything moved, oldest first; lines of one day in their order."""
    sitting = Sitting()
    on = attrgetter("day")
    for day, moved in groupby(sorted(rows, key=on), key=on):
        yield _day(day, tuple(moved), sitting)


def _day(day: date, rows: tuple[FittedRow, ...], sitting: Sitting) -> Day:
    for row in sorted((row for row in rows if row.batch), key=lambda each: (compared(each.position), each.position)):
        sitting.puts(row)
    taken, missing, unwritten = [], [], []
    for row in sorted((row for row in rows if row.removed_batch), key=_comes_off):
        off = sitting.takes(row)
        if off < row.removed:
            missing.append(RemovedTooMany(row, off, _elsewhere(row, sitting)))
            if row.as_found:
                unwritten.append((row, row.removed - off))
                off = row.removed
        taken.append((row, off))
    return Day(day, rows, tuple(taken), tuple(missing), tuple(unwritten), sitting)


def _comes_off(row: FittedRow) -> tuple[bool, bool, int, str]:
    """The order of one day's removals, by the rule of the module."""
    return not row.position, row.as_found, row.removed, compared(row.position)


def _elsewhere(row: FittedRow, sitting: Sitting) -> tuple[str, ...]:
    positions = sitting.there.get(_site(row), {})
    return tuple(text for text, batches in positions.values() if row.removed_batch in batches)


def taken_from(key: str, positions: Collection[str]) -> Iterable[str]:
    """The positions that a removal may take from, by the rule of the module."""
    if key:
        if "" not in positions:
            return (key,) if key in positions else ()
        return (key, "") if key in positions else ("",)
    return sorted(positions, key=bool)


def _site(row: FittedRow) -> tuple[str, str, str]:
    """A VehiclePlace, as a plain tuple: it is made for each line of each walk, and a named one takes thrice the time."""
    return row.fleet, row.vehicle, row.place


@lru_cache(10_000)
def compared(position: str) -> str:
    """A position so that letters' case and white space make no difference."""
    return as_compared(position)
