"""Where is every piece of a batch? printed = shelf + out + on vehicles + removed + scrap.

What is `out` was issued and is not fitted yet. What is fitted without a word of having been issued counts as issued. What
is scrapped after pieces came off is taken to be these, so that more is left to look for.

A count is of the moment at which it was made: of its day the events before it in the record count, and the lines of what
was fitted and came off may stand before or after it, so it differs only where no order of them explains it. What sits
where: moves.py.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from generator.records.batches import Batch, BatchEvent, Counted, Issued, Returned, Scrapped
from generator.records.production import Production
from generator.rules.production.moves import Spot, days
from generator.rules.production.states import scrapped


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """A count of the shelf, and what can have lain there; it lies outside where something was not written down."""

    on: date
    by: str
    found: int
    least: int
    most: int
    event: int
    """Which of the batch's events it is, from 0."""

    @property
    def expected(self) -> int:
        """What should have lain there; the nearest of several that can have."""
        return min(max(self.found, self.least), self.most)


@dataclass(frozen=True, slots=True)
class Moved:
    """How many pieces of one batch went on and came off, by day."""

    on: Mapping[date, int]
    off: Mapping[date, int]

    def went(self, day: date | None, *, before: bool = False) -> int:
        """Fitted up to the end of a day, or before its beginning."""
        return _upto(self.on, day, before=before)

    def came(self, day: date | None, *, before: bool = False) -> int:
        """Taken off, of the same days."""
        return _upto(self.off, day, before=before)


def _upto(moved: Mapping[date, int], day: date | None, *, before: bool) -> int:
    return sum(count for on, count in moved.items() if day is None or on < day or (on == day and not before))


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
    moved: Moved

    @property
    def adds_up(self) -> bool:
        return self.printed == self.scrapped + self.on_vehicles + self.removed + self.out + self.shelf

    @property
    def left(self) -> int:
        """What may still be fitted: on the shelf or in somebody's hands."""
        return self.shelf + self.out

    @property
    def is_about(self) -> bool:
        """Whether a piece of it can come into a hand: on a shelf, a vehicle or in a drawer; more than can be is one too."""
        return any((self.shelf, self.out, self.on_vehicles, self.removed))


@dataclass(frozen=True, slots=True)
class Ledger:
    """All batches, and what sits where."""

    balances: Mapping[str, Balance]
    sitting: Mapping[Spot, Mapping[str, int]]
    """Pieces on the vehicles by their spot and batch; nothing that is none."""


@lru_cache(8)
def ledger(production: Production, day: date | None = None) -> Ledger:
    """Of everything that is written down up to `day`; all of it by default."""
    removed: defaultdict[str, Counter[date]] = defaultdict(Counter)
    moved = None
    for moved in days(row for row in production.fitted if day is None or row.day <= day):
        for row, off in moved.taken:
            removed[row.removed_batch][moved.on] += off
    fitted = fitted_by_day(production)
    sitting = moved.sitting.spots() if moved else {}
    balances = {
        name: _balance(batch, Moved(fitted.get(name, {}), removed.get(name, {})), day)
        for name, batch in production.batches.items()
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


def scrapped_off(events: Iterable[BatchEvent], off: Mapping[date, int]) -> int:
    """How many of the pieces that events scrapped are taken to be some that had come off by then. off: by day."""
    found = 0
    for each in events:
        if isinstance(each, Scrapped):
            found += max(min(each.count, _upto(off, each.on, before=False) - found), 0)
    return found


def _balance(batch: Batch, moved: Moved, day: date | None) -> Balance:
    events = [each for each in batch.events if day is None or each.on <= day]
    went, came, off = moved.went(day), moved.came(day), scrapped_off(events, moved.off)
    gone = max(issued(events), went)
    counts = (_count(batch, at, each, moved) for at, each in enumerate(batch.events) if isinstance(each, Counted))
    return Balance(
        printed=batch.count,
        scrapped=scrapped(events),
        on_vehicles=went - came,
        removed=came - off,
        out=gone - went,
        shelf=batch.count - scrapped(events) + off - gone,
        counts=tuple(each for each in counts if day is None or each.on <= day),
        moved=moved,
    )


def _count(batch: Batch, at: int, count: Counted, moved: Moved) -> Count:
    """What can have lain there: at least as if all of that day had gone before it and all scrap had lain there, at most as if none had."""
    before = [each for nth, each in enumerate(batch.events) if each.on < count.on or (each.on == count.on and nth < at)]
    scrap, out = scrapped(before), issued(before)
    return Count(
        on=count.on,
        by=count.by,
        found=count.on_shelf,
        least=batch.count - scrap - max(out, moved.went(count.on)),
        most=batch.count - scrap + scrapped_off(before, moved.off) - max(out, moved.went(count.on, before=True)),
        event=at,
    )


def issued(events: Iterable[BatchEvent]) -> int:
    """Issued and not returned."""
    return sum(each.count if isinstance(each, Issued) else -each.count for each in events if isinstance(each, Issued | Returned))
