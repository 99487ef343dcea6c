"""Where is every piece of a batch? printed = shelf + out + on vehicles + removed + scrap.

What is `out` was issued and is not fitted yet. What is fitted without a word of having been issued counts as issued. What
is scrapped after pieces came off is taken to be these, so that more is left to look for.

A count is of the moment at which it was made: of its day the events before it in the record count, and the lines of what
was fitted and came off may stand before or after it, so it differs only where no order of them explains it. What sits
where: moves.py.
"""

from bisect import bisect_right
from collections import Counter, defaultdict, deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from generator.records.batches import Batch, BatchEvent, Counted, Issued, Returned, Scrapped
from generator.records.fitted import FittedRow
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

    def until(self, day: date | None) -> "Moved":
        """Without what moved after that day."""
        return self if day is None else Moved(*({on: count for on, count in each.items() if on <= day} for each in (self.on, self.off)))


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
    return Ledger(balances_on(production, day), sitting_on(production, day))


@lru_cache(8)
def balances_on(production: Production, day: date | None = None) -> Mapping[str, Balance]:
    """Of every recorded batch, by the end of `day`."""
    moved, none = moved_by_day(production), Moved({}, {})
    return {name: _balance(batch, moved.get(name, none).until(day), day) for name, batch in production.batches.items()}


@lru_cache(8)
def moved_by_day(production: Production) -> Mapping[str, Moved]:
    """What went on and came off of each batch that a line names, recorded or not."""
    fitted, removed = fitted_by_day(production), _walked(production).removed
    return {name: Moved(fitted.get(name, {}), removed.get(name, {})) for name in {**fitted, **removed}}


def sitting_on(production: Production, day: date | None = None) -> Mapping[Spot, Mapping[str, int]]:
    """What sits where at the end of `day`; after all days by default."""
    walked = _walked(production)
    if day is None or day in walked.sitting:
        return walked.sitting[day]
    return _spots(row for row in production.fitted if row.day <= day)


def _spots(rows: Iterable[FittedRow]) -> Mapping[Spot, Mapping[str, int]]:
    newest = deque(days(rows), maxlen=1)
    return newest[0].sitting.spots() if newest else {}


@dataclass(frozen=True, slots=True)
class _Walked:
    """What one walk through all lines tells."""

    removed: Mapping[str, Mapping[date, int]]
    """Pieces of each batch that came off, by day."""
    sitting: Mapping[date | None, Mapping[Spot, Mapping[str, int]]]
    """What sits where, at the end (None) and on the days that recalls are held against."""


@lru_cache(8)
def _walked(production: Production) -> _Walked:
    """Tens of thousands of lines are walked through once, however many recalls and months ask."""
    removed: defaultdict[str, Counter[date]] = defaultdict(Counter)
    on = sorted({row.day for row in production.fitted})
    calls = {each.on - ago for recall in production.recalls.values() for each in recall.events for ago in (timedelta(0), timedelta(days=1))}
    asked: defaultdict[date | None, list[date]] = defaultdict(list)
    for day in calls:
        at = bisect_right(on, day)
        asked[on[at - 1] if at else None].append(day)
    sitting: dict[date | None, Mapping[Spot, Mapping[str, int]]] = {day: {} for day in asked[None]}
    last = None
    for last in days(production.fitted):
        for row, off in last.taken:
            removed[row.removed_batch][last.on] += off
        if last.on in asked:
            spots = last.sitting.spots()
            sitting |= dict.fromkeys(asked[last.on], spots)
    sitting[None] = last.sitting.spots() if last else {}
    return _Walked(removed, sitting)


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
