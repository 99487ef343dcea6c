"""How many assemblies would have been bought for the pieces that were fitted? At most one a visit: on one day, at one place of one vehicle.

No record says how many of a part sit in one assembly, and positions are free text: nine vanes of one outlet are one outlet, four surrounds of
four doors could have been four. The fewer are counted, so that no saving is made of an assembly that nobody would have bought. Components of
one assembly (by its number, else its name) share it. What comes off as wrong takes back that of the newest visits its pieces came from, each once.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from generator.records.fitted import FittedRow, Why

Place = tuple[str, str, str, str]
"""Fleet, vehicle, place, assembly."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """One that would have been bought for these pieces (1), or one that is taken back (-1)."""

    row: FittedRow
    batch: str
    times: int


class _Visit:
    """The pieces of each batch that are left of it, and whether an assembly counts for it."""

    def __init__(self) -> None:
        self.left: Counter[str] = Counter()
        self.counts = True


def assemblies(rows: Iterable[FittedRow], assembly_of: Mapping[str, str]) -> list[Bought]:
    """assembly_of: by batch, of those alone for which an assembly was bought. In order of days; of one day what went on comes first."""
    ordered = sorted(rows, key=lambda row: (row.day, row.file, row.line))
    moves = sorted(_moves(ordered, assembly_of), key=lambda move: (move[0].day, move[2] < 0))
    visits: defaultdict[Place, dict[date, _Visit]] = defaultdict(dict)
    found = []
    for row, batch, count in moves:
        at = visits[row.fleet, row.vehicle, row.place, assembly_of[batch]]
        if count < 0:
            found += [Bought(row=row, batch=batch, times=-1) for _ in range(_taken_back(at, batch, -count))]
            continue
        if row.day not in at:
            at[row.day] = _Visit()
            found.append(Bought(row=row, batch=batch, times=1))
        at[row.day].left[batch] += count
    return found


def _moves(rows: Iterable[FittedRow], assembly_of: Mapping[str, str]) -> Iterable[tuple[FittedRow, str, int]]:
    for row in rows:
        if row.count and row.batch in assembly_of:
            yield row, row.batch, row.count
        if row.removed and row.removed_batch in assembly_of and row.why is Why.WRONG:
            yield row, row.removed_batch, -row.removed


def _taken_back(at: Mapping[date, _Visit], batch: str, count: int) -> int:
    """How many visits lose their assembly; pieces of which nobody wrote where they went on are of one visit more."""
    lost = 0
    for day in sorted(at, reverse=True):
        visit = at[day]
        taken = min(visit.left[batch], count)
        visit.left[batch] -= taken
        count -= taken
        lost += bool(taken and visit.counts)
        visit.counts = visit.counts and not taken
    return lost + bool(count)
