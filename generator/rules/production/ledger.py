"""Where is every piece of a batch? printed = shelf + out + on vehicles + removed + scrap.

What is `out` was issued and is not fitted yet. What is fitted came out of hands as far as pieces were handed out by then, else off
the shelf without a word. What is scrapped after pieces came off is taken to be these, so that more is left to look for. Pieces
that were found on a vehicle beyond what there was to fit are taken to be some that had come off and went on again (refitted.py).

Between shelf and hands the records often allow more than one number: the least and the most of the shelf stand beside (lying.py).
A count is of the moment at which it was made: of its day the events before it in the record count, and the lines of what
was fitted and came off may stand before or after it, so it differs only where no order of them explains it. What sits
where: moves.py.
"""

from bisect import bisect_right
from collections import Counter, defaultdict, deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import lru_cache

from generator.records.batches import Batch, BatchEvent, Counted, Issued, Returned
from generator.records.fitted import FittedRow
from generator.records.production import Production
from generator.rules.production.lying import lying
from generator.rules.production.moves import Day, PieceSpot, days
from generator.rules.production.refitted import again_by_day, scrapped_off, upto
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
    again: Mapping[date, int] = field(default_factory=dict)
    """Of those that went on the ones that had come off before, and were taken from no stock."""

    @property
    def loose(self) -> Mapping[date, int]:
        """What came off, less what of it went on again, by day."""
        return {day: self.off.get(day, 0) - self.again.get(day, 0) for day in {*self.off, *self.again}} if self.again else self.off

    def drawn(self, day: date | None) -> int:
        """Fitted, and taken from the stock to be so."""
        return self.went(day) - upto(self.again, day)

    def went(self, day: date | None) -> int:
        """Fitted up to the end of a day."""
        return upto(self.on, day)

    def came(self, day: date | None) -> int:
        """Taken off, of the same days."""
        return upto(self.off, day)

    def until(self, day: date | None) -> "Moved":
        """Without what moved after that day."""
        every = (self.on, self.off, self.again)
        return self if day is None else Moved(*({on: count for on, count in each.items() if on <= day} for each in every))


@dataclass(frozen=True, slots=True, kw_only=True)
class Balance:
    """Where the pieces of one batch are; it always adds up to what was printed."""

    printed: int
    scrapped: int
    on_vehicles: int
    removed: int
    out: int
    shelf: int
    """What should lie there by the books; below nothing where more is told of than was printed."""
    least: int
    """What must lie there at least by the newest count and all that is written down; a safe number to plan with."""
    most: int
    """What can lie there at most; the same, where the records tell where each piece went."""
    is_overdrawn: bool
    """Since the newest count more went than there can have been."""
    short: tuple[tuple[int, int], ...]
    """Events, from 0, that issued more than can have lain there, by the newest count of then, with how many can have."""
    counts: tuple[Count, ...]
    moved: Moved

    @property
    def newest(self) -> Count | None:
        """The count that was made last."""
        return max(self.counts, key=lambda each: (each.on, each.event), default=None)

    @property
    def more(self) -> int:
        """How many more lie there than is written down, by the newest count and what went since; fewer: below nothing."""
        if self.newest is None:
            return 0
        # Where more is told of than was printed, the books are below nothing, and what was counted lies there all the same.
        counted = max(self.shelf + self.newest.found - self.newest.expected, self.least)
        return counted - max(self.shelf, 0)

    @property
    def lies(self) -> int:
        """How many to look for on the shelf: what is written down, or what was counted where that is more."""
        return max(self.shelf, 0) + max(self.more, 0)

    @property
    def at_hand(self) -> int:
        """How many can come into a hand off the shelf or out of somebody's hands."""
        return self.lies + self.out

    @property
    def in_use(self) -> int:
        """How many are on the shelf, in hands or on vehicles: what came off is to be scrapped."""
        return self.at_hand + max(self.on_vehicles, 0)

    @property
    def left(self) -> int:
        """What may still be fitted: on the shelf or in somebody's hands."""
        return self.shelf + self.out

    @property
    def is_about(self) -> bool:
        """Whether a piece of it can come into a hand: on a shelf, a vehicle or in a drawer; more than can be is one too."""
        return any((self.shelf, self.lies, self.out, self.on_vehicles, self.removed))


@dataclass(frozen=True, slots=True)
class Ledger:
    """All batches, and what sits where."""

    balances: Mapping[str, Balance]
    sitting: Mapping[PieceSpot, Mapping[str, int]]
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


def balance_of(name: str, production: Production, day: date | None = None) -> Balance:
    """Of one recorded batch, by the end of `day`, without reckoning all others."""
    return _balance(production.batches[name], moved_by_day(production).get(name, Moved({}, {})).until(day), day)


@lru_cache(8)
def moved_by_day(production: Production) -> Mapping[str, Moved]:
    """What went on and came off of each batch that a line names, recorded or not."""
    fitted, walked = fitted_by_day(production), _walked(production)
    found = _found_by_day(production, walked)
    moved: dict[str, Moved] = {}
    for name in {**fitted, **walked.removed}:
        on, off = fitted.get(name, Counter[date]()), walked.removed.get(name, {})
        if name in walked.unwritten:
            on = on + walked.unwritten[name]
        batch = production.batches.get(name) if name in found else None
        moved[name] = Moved(on, off, again_by_day(batch, on, off, found[name]) if batch else {})
    return moved


def _found_by_day(production: Production, walked: "_Walked") -> Mapping[str, Counter[date]]:
    """How many pieces of each batch were found on a vehicle, or found to have been on one."""
    found: defaultdict[str, Counter[date]] = defaultdict(Counter)
    for row in production.fitted:
        if row.as_found and row.batch:
            found[row.batch][row.day] += row.count
    for name, by_day in walked.unwritten.items():
        found[name].update(by_day)
    return found


def sitting_on(production: Production, day: date | None = None) -> Mapping[PieceSpot, Mapping[str, int]]:
    """What sits where at the end of `day`; after all days by default."""
    walked = _walked(production)
    if day is None or day in walked.sitting:
        return walked.sitting[day]
    return _spots(row for row in production.fitted if row.day <= day)


def moved_days(production: Production) -> tuple[Day, ...]:
    """Each day of all lines that stand, for who asks only what moved: what `sitting` of each says is of the end of all days."""
    return _walked(production).days


def _spots(rows: Iterable[FittedRow]) -> Mapping[PieceSpot, Mapping[str, int]]:
    newest = deque(days(rows), maxlen=1)
    return newest[0].sitting.spots() if newest else {}


@dataclass(frozen=True, slots=True)
class _Walked:
    """What one walk through all lines tells."""

    removed: Mapping[str, Mapping[date, int]]
    """Pieces of each batch that came off, by day."""
    unwritten: Mapping[str, Counter[date]]
    """Pieces that must have gone on by a day though no line says so."""
    days: tuple[Day, ...]
    sitting: Mapping[date | None, Mapping[PieceSpot, Mapping[str, int]]]
    """What sits where, at the end (None) and on the days that recalls are held against."""


@lru_cache(8)
def _walked(production: Production) -> _Walked:
    """Tens of thousands of lines are walked through once, however many recalls and months ask."""
    removed: defaultdict[str, Counter[date]] = defaultdict(Counter)
    unwritten: defaultdict[str, Counter[date]] = defaultdict(Counter)
    on = sorted({row.day for row in production.fitted})
    calls = {each.on - ago for recall in production.recalls.values() for each in recall.events for ago in (timedelta(0), timedelta(days=1))}
    asked: defaultdict[date | None, list[date]] = defaultdict(list)
    for day in calls:
        at = bisect_right(on, day)
        asked[on[at - 1] if at else None].append(day)
    sitting: dict[date | None, Mapping[PieceSpot, Mapping[str, int]]] = {day: {} for day in asked[None]}
    last, every = None, []
    for last in days(production.fitted):
        every.append(last)
        for row, off in last.taken:
            removed[row.removed_batch][last.on] += off
        for row, count in last.unwritten:
            unwritten[row.removed_batch][last.on] += count
        if last.on in asked:
            spots = last.sitting.spots()
            sitting |= dict.fromkeys(asked[last.on], spots)
    sitting[None] = last.sitting.spots() if last else {}
    return _Walked(removed, unwritten, tuple(every), sitting)


@lru_cache(8)
def fitted_by_day(production: Production) -> Mapping[str, Counter[date]]:
    """How many pieces of each batch went on, by day."""
    found: defaultdict[str, Counter[date]] = defaultdict(Counter)
    for row in production.fitted:
        if row.batch:
            found[row.batch][row.day] += row.count
    return found


def _balance(batch: Batch, moved: Moved, day: date | None) -> Balance:
    events = [each for each in batch.events if day is None or each.on <= day]
    drawn, loose, off = moved.drawn(day), upto(moved.loose, day), scrapped_off(events, moved.loose)
    books = lying(batch, moved.on, moved.off, moved.again, day, takes_counts=False)
    counts = tuple(_count(batch, *each) for each in books.counts)
    is_as_counted = all(each.found == each.expected for each in counts)
    real = books if is_as_counted else lying(batch, moved.on, moved.off, moved.again, day, takes_counts=True)
    return Balance(
        printed=batch.count,
        scrapped=scrapped(events),
        on_vehicles=moved.went(day) - moved.came(day),
        removed=loose - off,
        out=books.out,
        shelf=batch.count - scrapped(events) + off - drawn - books.out,
        least=real.least,
        most=real.most,
        is_overdrawn=real.is_overdrawn,
        short=real.short,
        counts=counts,
        moved=moved,
    )


def _count(batch: Batch, at: int, least: int, most: int) -> Count:
    count = batch.events[at]
    if not isinstance(count, Counted):
        raise TypeError(f"event {at} counts nothing")
    return Count(on=count.on, by=count.by, found=count.on_shelf, least=least, most=most, event=at)


def issued(events: Iterable[BatchEvent]) -> int:
    """Issued and not returned."""
    return sum(each.count if isinstance(each, Issued) else -each.count for each in events if isinstance(each, Issued | Returned))
