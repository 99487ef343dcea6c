"""Does a new line put a piece where one sits already, though each position there carries one?

Only what a depot has written down tells whether a position carries one piece: `window 3` does, `left side` may not. So
it is asked where enough positions of the part at that place carried one, and none ever two. What was found so on a
vehicle teaches nothing.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from generator.records.fitted import FittedRow
from generator.records.problems import Problem, Severity, Where, wrong
from generator.records.production import Production
from generator.rules.production.moves import PieceSpot, Sitting, compared, days

Key = tuple[str, str, str]
"""A part's number, and fleet and place."""
FEWEST = 3
"""Positions that carried one, on whatever vehicles, before two at one are asked about (common practice, no source)."""


@lru_cache(4)
def one_each(production: Production) -> frozenset[Key]:
    """Where each position carries one piece of the part, by the lines that stand."""
    spots: defaultdict[Key, set[PieceSpot]] = defaultdict(set)
    shared: set[Key] = set()
    odd = {_spot(row) for row in production.fitted if row.as_found}
    for day in days(production.fitted):
        for row in day.rows:
            part = _part(row, production)
            if part and row.position and (spot := _spot(row)) not in odd:
                key = (part, row.fleet, row.place)
                spots[key].add(spot)
                if key not in shared and sum(_at(spot, part, day.sitting, production).values()) > 1:
                    shared.add(key)
    return frozenset(key for key, found in spots.items() if len(found) >= FEWEST and key not in shared)


def crowded(standing: Sequence[FittedRow], new: Sequence[FittedRow], production: Production) -> Iterator[Problem]:
    """Of each new line by which a position has more pieces than one, and more than it had; a warning where that was found so."""
    alone = one_each(production)
    asked = {(_spot(row), part) for row in new if row.position and (part := _part(row, production)) and (part, row.fleet, row.place) in alone}
    if not asked:
        return
    mine, had = {id(row) for row in new}, dict.fromkeys(asked, 0)
    for day in days((*standing, *new)):
        for spot, part in _touched(day.rows, asked):
            there = _at(spot, part, day.sitting, production)
            own = [row for row in day.rows if id(row) in mine and _spot(row) == spot and _part(row, production) == part]
            if own and sum(there.values()) > max(had[spot, part], 1):
                yield _taken(own[-1], there)
            had[spot, part] = sum(there.values())


def found_crowded(production: Production) -> Iterator[Problem]:
    """The same of the lines that stand and were found so."""
    rows = production.fitted
    found = [row for row in rows if row.as_found]
    if found:
        yield from crowded([row for row in rows if not row.as_found], found, production)


def _touched(rows: Iterable[FittedRow], asked: Iterable[tuple[PieceSpot, str]]) -> set[tuple[PieceSpot, str]]:
    """Of those asked for what a day's lines changed; a removal without a position may take from any."""
    sites = {(row.fleet, row.vehicle, row.place) for row in rows}
    return {each for each in asked if each[0][:3] in sites}


def _taken(row: FittedRow, there: dict[str, int]) -> Problem:
    others = [name for name in there if name != row.batch] or [row.batch]
    return wrong(
        "FITTED15", "taken", batch=row.batch, position=row.position, vehicle=row.vehicle, sits=others, where=Where(row.file, row.line),
        severity=Severity.WARNING if row.as_found else Severity.ERROR,
    )  # fmt: skip


def _at(spot: PieceSpot, part: str, sitting: Sitting, production: Production) -> dict[str, int]:
    """Pieces of the part there, by batch."""
    _, batches = sitting.there.get(spot[:3], {}).get(spot.position, ("", {}))
    return {name: count for name, count in batches.items() if (batch := production.batches.get(name)) and batch.part == part}


def _spot(row: FittedRow) -> PieceSpot:
    return PieceSpot(row.fleet, row.vehicle, row.place, compared(row.position))


def _part(row: FittedRow, production: Production) -> str | None:
    batch = production.batches.get(row.batch)
    return batch.part if batch else None
