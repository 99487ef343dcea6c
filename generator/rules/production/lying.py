"""How many pieces of a batch can lie on the shelf, and how many in hands, by what is written down?

Nobody writes down which piece it is. What is fitted came out of a hand, as far as pieces were handed out by then, or off the shelf
without a word; what is scrapped lay on the shelf, in a hand, or with what had come off. Of one day the record tells the order of its own
events alone. So there may be several numbers of which none contradicts the records: this keeps the least and the most of each place.
A count settles the shelf, and what was fitted before it is over: nothing issued later can have been fitted then.

Pieces only move between places and none is lost, so the states that are possible form an M-convex set (K. Murota, Discrete Convex Analysis,
2003, sections 4 and 9): moves and limits keep it one, and of three places the bounds of each tell all of it. So this is exact, but for days with a
count amidst pieces that are fitted and scrapped, where it may be wider than need be.
"""

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import IntEnum

from generator.records.batches import Batch, BatchEvent, Counted, Issued, Returned, Scrapped


class _Place(IntEnum):
    SHELF = 0
    HAND = 1
    OFF = 2
    ON = 3
    """Fitted on the day that is walked through."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfBounds:
    """What can lie there after all that is written down, none of it below nothing."""

    least: int
    most: int
    out: int
    """In hands, where what is fitted came out of hands as far as it can have."""
    counts: tuple[tuple[int, int, int], ...]
    """Of each count its event, from 0, and the least and the most that can have lain there."""
    short: tuple[tuple[int, int], ...]
    """Events, from 0, that took more off the shelf than can have lain there, with how many can have."""
    is_overdrawn: bool
    """Since the newest count more went than there can have been."""


@dataclass(slots=True)
class _State:
    """The least and the most of each place; together they are so many."""

    pieces: int
    least: list[int]
    most: list[int]
    out: int = 0
    is_overdrawn: bool = False
    counts: list[tuple[int, int, int]] = field(default_factory=list)
    short: list[tuple[int, int]] = field(default_factory=list)

    def settle(self) -> None:
        """No place holds less than nothing, nor what the others cannot give or take."""
        self.least = [max(each, 0) for each in self.least]
        for _ in range(2):  # the one may narrow the other
            every, none = sum(self.most), sum(self.least)
            self.most = [min(most, self.pieces - none + least) for least, most in zip(self.least, self.most, strict=True)]
            self.least = [max(least, self.pieces - every + most) for least, most in zip(self.least, self.most, strict=True)]
        self.out = min(max(self.out, self.least[_Place.HAND]), self.most[_Place.HAND])

    def fix(self, place: _Place, count: int) -> None:
        self.least[place] = self.most[place] = count
        self.settle()

    def may_be_fitted(self, count: int) -> None:
        """Any number of those of the day that are not fitted yet, off the shelf or out of hands."""
        more = count - self.least[_Place.ON]
        if more:
            self.least[_Place.SHELF] -= more
            self.least[_Place.HAND] -= more
            self.most[_Place.ON] = count
            self.settle()

    def goes(self, origin: _Place, to: _Place, count: int) -> bool:
        """So many of one place; no more than can be there. Returns whether there can be so many."""
        there = min(count, self.most[origin])
        self.least[origin] = max(self.least[origin], there)
        self.settle()
        for bounds in (self.least, self.most):
            bounds[origin] -= there
            bounds[to] += there
        self.out += {_Place.HAND: there}.get(to, 0) - {_Place.HAND: there}.get(origin, 0)
        self.settle()
        return there == count

    def leaves(self, count: int) -> None:
        """Scrap, of any place but a vehicle."""
        there = min(count, self.pieces - self.least[_Place.ON])
        self.is_overdrawn |= there < count
        self.pieces -= there
        for place in (_Place.SHELF, _Place.HAND, _Place.OFF):
            self.least[place] -= there
        self.settle()

    def lay(self, at: int, found: int, *, takes_counts: bool) -> None:
        """A count; where it cannot be, the nearest number that can is settled, and the difference is taken or left out."""
        least, most = self.least[_Place.SHELF], self.most[_Place.SHELF]
        self.counts.append((at, least, most))
        self.fix(_Place.SHELF, min(max(found, least), most))
        if takes_counts:
            self.pieces += found - self.least[_Place.SHELF]
            self.fix(_Place.SHELF, found)
        self.is_overdrawn = False


def lying(batch: Batch, on: Mapping[date, int], off: Mapping[date, int], again: Mapping[date, int], day: date | None, *, takes_counts: bool) -> ShelfBounds:
    """After the end of `day`; after all days by default.

    on, off, again: pieces that went on, came off, and of those that went on the ones that had come off before, by day.
    takes_counts: whether a count that contradicts the rest is right from then on; else the rest is, as the books have it.
    """
    state = _State(batch.count, [batch.count, 0, 0, 0], [batch.count, 0, 0, 0])
    events: dict[date, list[tuple[int, BatchEvent]]] = {}
    for at, each in enumerate(batch.events):
        events.setdefault(each.on, []).append((at, each))
    for step in _steps(events, (on, off, again), day):
        _walk(state, step, takes_counts=takes_counts)
    return ShelfBounds(
        least=state.least[_Place.SHELF],
        most=state.most[_Place.SHELF],
        out=state.out,
        counts=tuple(state.counts),
        short=tuple(state.short),
        is_overdrawn=state.is_overdrawn,
    )


@dataclass(slots=True)
class _Step:
    """A day with events, or all days between two such, within which no order matters."""

    events: list[tuple[int, BatchEvent]]
    moved: list[int] = field(default_factory=lambda: [0, 0, 0])
    """How many pieces went on, came off, and of those that went on had come off before."""


def _steps(events: Mapping[date, list[tuple[int, BatchEvent]]], lines: tuple[Mapping[date, int], ...], day: date | None) -> list[_Step]:
    """A step before each day with events, one of that day, and one after all: thousands of lines cost no more than a few events."""
    told = sorted(each for each in events if day is None or each <= day)
    steps = [_Step([])]
    for each in told:
        steps += [_Step(events[each]), _Step([])]
    for nth, moved in enumerate(lines):
        for when, count in moved.items():
            if day is None or when <= day:
                at = bisect_left(told, when)
                steps[2 * at + (at < len(told) and told[at] == when)].moved[nth] += count
    return steps


def _walk(state: _State, step: _Step, *, takes_counts: bool) -> None:
    """What came off may have done so before anything else, what went on again after it."""
    on, off, again = step.moved
    fitted, events = on - again, step.events
    if not events and not any(step.moved):
        return
    state.pieces += off
    state.least[_Place.OFF] += off
    state.most[_Place.OFF] += off
    for at, each in events:
        state.may_be_fitted(fitted)
        _event(state, at, each, takes_counts=takes_counts)
    state.may_be_fitted(fitted)
    there = min(fitted, state.most[_Place.ON])
    state.is_overdrawn |= there < fitted
    hand = state.out
    state.fix(_Place.ON, there)
    state.out = hand - min(hand, there)
    for place, gone in ((_Place.ON, there), (_Place.OFF, min(again, state.most[_Place.OFF]))):
        state.least[place] = max(state.least[place], gone) - gone
        state.most[place] -= gone
        state.pieces -= gone
    state.settle()


def _event(state: _State, at: int, event: BatchEvent, *, takes_counts: bool) -> None:
    if isinstance(event, Issued):
        there = state.most[_Place.SHELF]
        if not state.goes(_Place.SHELF, _Place.HAND, event.count):
            state.is_overdrawn = True
            state.short.append((at, there))
    elif isinstance(event, Returned):
        state.goes(_Place.HAND, _Place.SHELF, event.count)
    elif isinstance(event, Scrapped):
        state.leaves(event.count)
    elif isinstance(event, Counted):
        state.lay(at, event.on_shelf, takes_counts=takes_counts)
