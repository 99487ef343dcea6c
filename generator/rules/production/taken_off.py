"""What came off: which of it was scrapped since, and which has to be found still?

Pieces of a batch are alike and scrap names none of them, so this follows the ledger: what is scrapped after pieces came off is
taken to be these. Where all that had come off by a day was scrapped by then, all of it is settled. What came off after the
last scrap is surely about. Of the rest only the number is known: its places stand together, for any of them may be the one.
Where more went on than can have been new, pieces went on again, or a line names the wrong batch: until nothing of the batch
sits on a vehicle any more, these are looked for at both ends.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from operator import attrgetter

from generator.records.batches import Batch, Scrapped
from generator.rules.production.ledger import Balance
from generator.rules.production.moves import VehiclePlace
from generator.rules.production.refitted import scrapped_off
from generator.rules.production.tracing import CameOff, Traced, as_people_count


@dataclass(frozen=True, slots=True, kw_only=True)
class OffSpot:
    """A place of a vehicle that pieces came off."""

    site: VehiclePlace
    positions: tuple[str, ...]
    count: int
    on: date
    """The last day on which any of them came off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenOff:
    """Pieces of one batch that came off, of which nobody can tell one from another."""

    batch: str
    spots: tuple[OffSpot, ...]
    """By the first day, as they were written."""
    scrapped: tuple[tuple[date, int], ...] = ()
    """How many of them by day."""
    refitted: int = 0
    """How many seem to have gone on again, since more went on than there were."""
    count: int
    """How many have to be found."""

    @property
    def came(self) -> int:
        return sum(each.count for each in self.spots)


def fates_of(traced: Traced) -> Mapping[str, tuple[TakenOff, ...]]:
    """Of every batch of which pieces came off, by its number; pieces without a batch have no fate here."""
    came_off: defaultdict[str, list[CameOff]] = defaultdict(list)
    for each in sorted(traced.came_off, key=attrgetter("on")):
        if each.batch:
            came_off[each.batch].append(each)
    return {name: taken_off(name, traced.batches.get(name), traced.balances.get(name), own) for name, own in sorted(came_off.items())}


def taken_off(name: str, batch: Batch | None, balance: Balance | None, came_off: Sequence[CameOff]) -> tuple[TakenOff, ...]:
    """Of one batch, what is settled first. batch, balance: None where there is no record of it. came_off: oldest first."""
    scraps = _scraps(batch, balance)
    settled, gone, open_ = [], list[tuple[date, int]](), list[CameOff]()
    at = 0
    for on, count in scraps:
        while at < len(came_off) and came_off[at].on <= on:
            open_.append(came_off[at])
            at += 1
        gone.append((on, count))
        if _count(open_) <= sum(each for _, each in gone):
            settled.append(TakenOff(batch=name, spots=_spots(open_), scrapped=_by_day(gone), count=0))
            gone, open_ = [], []
    again = _refitted(balance)
    if again:
        return (*settled, *_mixed(name, [*open_, *came_off[at:]], gone, again, balance))
    return (*settled, *_mixed(name, open_, gone, 0, balance), *_surely(name, came_off[at:]))


def _scraps(batch: Batch | None, balance: Balance | None) -> list[tuple[date, int]]:
    """Of pieces that had come off, by day, as the ledger takes them."""
    events = batch.events if batch and balance else ()
    loose = balance.moved.loose if balance else {}
    found = []
    for at, each in enumerate(events):
        count = scrapped_off(events[: at + 1], loose) - scrapped_off(events[:at], loose) if isinstance(each, Scrapped) else 0
        if count:
            found.append((each.on, count))
    return sorted(found)


def _refitted(balance: Balance | None) -> int:
    """Those that the balance takes for such, and those that must be by their number though no line was found so."""
    if balance is None:
        return 0
    more = max(0, min(balance.removed, balance.on_vehicles + balance.removed + balance.scrapped - balance.printed))
    return sum(balance.moved.again.values()) + more


def _mixed(name: str, came_off: Sequence[CameOff], gone: Iterable[tuple[date, int]], again: int, balance: Balance | None) -> Iterator[TakenOff]:
    if not came_off:
        return
    sits = balance is not None and balance.on_vehicles > 0
    scrapped = _by_day(gone)
    left = _count(came_off) - sum(count for _, count in scrapped) - (0 if sits else again)
    yield TakenOff(batch=name, spots=_spots(came_off), scrapped=scrapped, refitted=again, count=left)


def _surely(name: str, came_off: Iterable[CameOff]) -> Iterator[TakenOff]:
    """A line for each place."""
    for spot in _spots(came_off):
        yield TakenOff(batch=name, spots=(spot,), count=spot.count)


def _spots(came_off: Iterable[CameOff]) -> tuple[OffSpot, ...]:
    """By place of a vehicle; positions of one place stand together."""
    found: defaultdict[VehiclePlace, list[CameOff]] = defaultdict(list)
    for each in came_off:
        found[VehiclePlace(*each.spot[:3])].append(each)
    return tuple(
        OffSpot(
            site=site,
            positions=tuple(sorted({each.spot.position for each in alike if each.spot.position}, key=as_people_count)),
            count=_count(alike),
            on=max(each.on for each in alike),
        )
        for site, alike in found.items()
    )


def _by_day(gone: Iterable[tuple[date, int]]) -> tuple[tuple[date, int], ...]:
    """gone: by their days."""
    found: defaultdict[date, int] = defaultdict(int)
    for on, count in gone:
        found[on] += count
    return tuple(found.items())


def _count(came_off: Iterable[CameOff]) -> int:
    return sum(each.count for each in came_off)
