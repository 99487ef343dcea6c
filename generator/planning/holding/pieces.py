"""How long was each piece on a vehicle, by the lines of what was fitted and removed?

A piece is in use from its day until it comes off, or until the day that is asked of. Lines name batches, not pieces: from which
position one came off is what rules/production/moves.py says, and of several of its batch there it is the oldest. That choice changes
neither how many failed nor how long all were in use together, only at which ages. What came off the very day it was fitted was in
use for no day; what cannot have come off counts nowhere.
"""

from collections import defaultdict, deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from operator import attrgetter

from generator.planning.holding.curve import Observation
from generator.records.fitted import FittedRow, Why
from generator.records.production import Production
from generator.rules.production.ledger import moved_days
from generator.rules.production.moves import Day, PieceSpot, compared, days, taken_from


@dataclass(slots=True, kw_only=True)
class _Sitting:
    spot: PieceSpot
    batch: str
    fitted_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of a batch on a vehicle."""

    batch: str
    spot: PieceSpot
    """Where it was fitted; its position as that line says it."""
    fitted_on: date
    off_on: date | None
    """None: it sits there still."""
    why: Why | None

    @property
    def failed(self) -> bool:
        """Whether it came off worn or broken; what came off for another reason is cut off, as what sits there still."""
        return self.why is not None and self.why.is_failure

    def until(self, day: date) -> Observation:
        """It as it stood at the end of `day`, which lies on or after its first."""
        if self.off_on is None or self.off_on > day:
            return Observation(days=(day - self.fitted_on).days, failed=False)
        return Observation(days=(self.off_on - self.fitted_on).days, failed=self.failed)


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedUpTo:
    """All pieces up to a day, by their batch, in the order in which they were fitted."""

    day: date
    pieces: Mapping[str, tuple[Piece, ...]]
    unpaired: Mapping[str, int]
    """How many came off that nobody wrote down as fitted; they count nowhere, since nobody knows their age."""
    since: date | None
    """The first day of which anything is written; None without a line."""
    rows: tuple[FittedRow, ...]
    """The lines up to that day, by their days."""

    def of(self, batches: Iterable[str]) -> tuple[Piece, ...]:
        return tuple(piece for name in batches for piece in self.pieces.get(name, ()))

    def observed(self, batches: Iterable[str]) -> list[Observation]:
        return [piece.until(self.day) for piece in self.of(batches)]


@lru_cache(8)
def fitted_pieces(production: Production, day: date) -> FittedUpTo:
    """Every piece of a batch by what is written down of the days up to `day`; lines of days to come do not count."""
    rows = sorted((row for row in production.fitted if row.day <= day), key=attrgetter("day"))
    book = _Book()
    for moved in moved_days(production) if len(rows) == len(production.fitted) else days(rows):
        book.write(moved)
    return FittedUpTo(
        day=day,
        pieces=book.pieces(),
        unpaired=dict(book.unpaired),
        since=rows[0].day if rows else None,
        rows=tuple(rows),
    )


class _Book:
    """What sits where, as day after day is taken in."""

    def __init__(self) -> None:
        self._there: defaultdict[tuple[str, str, str], dict[str, dict[str, deque[_Sitting]]]] = defaultdict(dict)
        """By fleet, vehicle and place, then by position as moves.py compares it, and batch; the oldest first."""
        self._gone: list[Piece] = []
        self.unpaired: defaultdict[str, int] = defaultdict(int)

    def write(self, day: Day) -> None:
        for row in day.rows:
            if row.batch:
                self._puts(row)
        for row, count in day.taken:
            self._takes(row, count)
        for missing in day.missing:
            self.unpaired[missing.row.removed_batch] += missing.row.removed - missing.sat

    def _puts(self, row: FittedRow) -> None:
        spot = PieceSpot(row.fleet, row.vehicle, row.place, row.position)
        batches = self._there[spot[:3]].setdefault(compared(row.position), {})
        there = batches.setdefault(row.batch, deque())
        there.extend(_Sitting(spot=spot, batch=row.batch, fitted_on=row.day) for _ in range(row.count))

    def _takes(self, row: FittedRow, count: int) -> None:
        positions = self._there[row.fleet, row.vehicle, row.place]
        for key in taken_from(compared(row.position), positions):
            there = positions[key].get(row.removed_batch, ())
            while there and count:
                piece = there.popleft()
                count -= 1
                self._gone.append(Piece(batch=piece.batch, spot=piece.spot, fitted_on=piece.fitted_on, off_on=row.day, why=row.why))

    def pieces(self) -> dict[str, tuple[Piece, ...]]:
        """All of them by batch, the first fitted first."""
        found: defaultdict[str, list[Piece]] = defaultdict(list)
        for piece in self._gone:
            found[piece.batch].append(piece)
        sitting = (there for positions in self._there.values() for batches in positions.values() for there in batches.values())
        for there in sitting:
            for each in there:
                found[each.batch].append(Piece(batch=each.batch, spot=each.spot, fitted_on=each.fitted_on, off_on=None, why=None))
        return {name: tuple(sorted(pieces, key=_order)) for name, pieces in sorted(found.items())}


def _order(piece: Piece) -> tuple[date, date, PieceSpot]:
    return piece.fitted_on, piece.off_on or date.max, piece.spot
