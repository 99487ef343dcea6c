"""Where is every piece of a batch? printed = shelf + out + on vehicles + removed + scrap.

What is `out` was issued and is not fitted yet. What is fitted without a word of having been issued counts as issued. A
count of the shelf is held against what should have lain there at the end of its day. What sits where: moves.py.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from generator.records.batches import Batch, Counted, Issued, Returned, Scrapped
from generator.records.production import Production
from generator.rules.production.moves import Spot, days


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
    """Where the pieces of one batch are; it always adds up to what was printed."""

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


@lru_cache(8)
def ledger(production: Production, day: date | None = None) -> Ledger:
    """Of everything that is written down up to `day`; all of it by default."""
    removed: Counter[str] = Counter()
    moved = None
    for moved in days(row for row in production.fitted if day is None or row.day <= day):
        for row, off in moved.taken:
            removed[row.removed_batch] += off
    fitted = fitted_by_day(production)
    sitting = moved.sitting.spots() if moved else {}
    balances = {
        name: _balance(batch, fitted.get(name, {}), removed[name], day) for name, batch in production.batches.items()
    }
    return Ledger(balances, sitting)


@lru_cache(8)
def fitted_by_day(production: Production) -> Mapping[str, Counter[date]]:
    """How many pieces of each batch went on, by day."""
    found: defaultdict[str, Counter[date]] = defaultdict(Counter)
    for row in production.fitted:
        if row.batch:
            found[row.batch][row.day] += row.count
    return found


def _balance(batch: Batch, fitted: Mapping[date, int], removed: int, day: date | None) -> Balance:
    events = [(at, each) for at, each in enumerate(batch.events) if day is None or each.on <= day]
    scrapped = sum(each.count for _, each in events if isinstance(each, Scrapped))
    went = sum(count for on, count in fitted.items() if day is None or on <= day)
    gone = max(_issued(batch, day), went)
    counts = tuple(
        Count(on=each.on, by=each.by, found=each.on_shelf, expected=_shelf(batch, fitted, each.on), event=at)
        for at, each in events
        if isinstance(each, Counted)
    )
    return Balance(
        printed=batch.count,
        scrapped=scrapped,
        on_vehicles=went - removed,
        removed=removed,
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
