"""Where is every piece of a batch? printed = shelf + out + on vehicles + removed + scrap.

What is `out` was issued and is not fitted yet. What is fitted without a word of having been issued counts as issued. A
count of the shelf is held against what should have lain there at the end of its day.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from generator.records.batches import Batch, Counted, Issued, Returned, Scrapped
from generator.records.fitted import FittedRow
from generator.records.production import Production


class Spot(NamedTuple):
    """Where a piece sits."""

    fleet: str
    vehicle: str
    place: str
    position: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """A count of the shelf, and what should have lain there; they differ where something was not written down."""

    on: date
    by: str
    found: int
    expected: int
    event: int
    """Which of the batch's events it is, from 0."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Balance:
    """Where the pieces of one batch are; it always adds up to what was printed, unless more came off or went on than can be."""

    printed: int
    scrapped: int
    on_vehicles: int
    removed: int
    out: int
    shelf: int
    """What should lie there; below nothing where more is told of than was printed."""
    counts: tuple[Count, ...]

    @property
    def adds_up(self) -> bool:
        return self.printed == self.scrapped + self.on_vehicles + self.removed + self.out + self.shelf

    @property
    def left(self) -> int:
        """What may still be fitted: on the shelf or in somebody's hands."""
        return self.shelf + self.out


@dataclass(frozen=True, slots=True)
class Ledger:
    """All batches, and what sits where."""

    balances: Mapping[str, Balance]
    sitting: Mapping[Spot, Mapping[str, int]]
    """Pieces on the vehicles by their spot and batch; nothing that is none."""

    def on_vehicles(self, batch: str) -> dict[Spot, int]:
        return {spot: there[batch] for spot, there in self.sitting.items() if batch in there}


@lru_cache(8)
def ledger(production: Production, day: date | None = None) -> Ledger:
    """Of everything that is written down up to `day`; all of it by default."""
    rows = [row for row in production.fitted if day is None or row.day <= day]
    fitted, removed = _moves(rows)
    sitting = _sitting(rows)
    on_vehicles: Counter[str] = Counter()
    for there in sitting.values():
        on_vehicles.update(there)
    balances = {
        name: _balance(batch, fitted.get(name, {}), removed.get(name, {}), on_vehicles[name], day)
        for name, batch in production.batches.items()
    }
    return Ledger(balances, sitting)


def _moves(rows: list[FittedRow]) -> tuple[dict[str, Counter[date]], dict[str, Counter[date]]]:
    """How many pieces of each batch went on and came off, by day."""
    fitted: defaultdict[str, Counter[date]] = defaultdict(Counter)
    removed: defaultdict[str, Counter[date]] = defaultdict(Counter)
    for row in rows:
        if row.batch:
            fitted[row.batch][row.day] += row.count
        if row.removed_batch:
            removed[row.removed_batch][row.day] += row.removed
    return fitted, removed


def _sitting(rows: list[FittedRow]) -> dict[Spot, dict[str, int]]:
    found: defaultdict[Spot, Counter[str]] = defaultdict(Counter)
    for row in rows:
        spot = Spot(row.fleet, row.vehicle, row.place, row.position)
        if row.removed_batch:
            found[spot][row.removed_batch] -= row.removed
        if row.batch:
            found[spot][row.batch] += row.count
    return {spot: there for spot, batches in found.items() if (there := {name: n for name, n in batches.items() if n})}


def _balance(batch: Batch, fitted: Mapping[date, int], removed: Mapping[date, int], on_vehicles: int, day: date | None) -> Balance:
    events = [(at, each) for at, each in enumerate(batch.events) if day is None or each.on <= day]
    scrapped = sum(each.count for _, each in events if isinstance(each, Scrapped))
    went = sum(fitted.values())
    gone = max(_issued(batch, day), went)
    counts = tuple(
        Count(on=each.on, by=each.by, found=each.on_shelf, expected=_shelf(batch, fitted, each.on), event=at)
        for at, each in events
        if isinstance(each, Counted)
    )
    return Balance(
        printed=batch.count,
        scrapped=scrapped,
        on_vehicles=on_vehicles,
        removed=sum(removed.values()),
        out=gone - went,
        shelf=batch.count - scrapped - gone,
        counts=counts,
    )


def _shelf(batch: Batch, fitted: Mapping[date, int], day: date) -> int:
    """What should lie on the shelf at the end of the day."""
    scrap = sum(each.count for each in batch.events if isinstance(each, Scrapped) and each.on <= day)
    went = sum(count for on, count in fitted.items() if on <= day)
    return batch.count - scrap - max(_issued(batch, day), went)


def _issued(batch: Batch, day: date | None) -> int:
    """Issued and not returned."""
    said = [each for each in batch.events if day is None or each.on <= day]
    return sum(each.count for each in said if isinstance(each, Issued)) - sum(each.count for each in said if isinstance(each, Returned))
