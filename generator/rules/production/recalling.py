"""What is called back: is it already, which pieces are meant, and which vehicles have been visited since?"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal

from generator.records.batches import Issued
from generator.records.production import Production
from generator.records.recalls import CalledBack, Recall
from generator.records.vehicles import order_of
from generator.rules.production.ledger import Ledger, ledger, sitting_on
from generator.rules.production.moves import PieceSpot, VehiclePlace
from generator.rules.production.states import Stopped, block_of, called_back, speaks_of, stops_of
from generator.rules.production.taken_off import TakenOff, fates_of
from generator.rules.production.tracing import Carried, of_all


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A place of a vehicle where pieces sat when they were called back, or went on since."""

    site: VehiclePlace
    sat: int
    sits: int
    """How many are left to take off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Elsewhere:
    """Pieces of a batch that are on no vehicle: on the shelf, handed out, or taken off and nobody knows where they are now."""

    kind: Literal["shelf", "out", "came_off"]
    batch: str
    count: int
    to: str = ""
    """Of those that are out: to whom, as it was written."""
    more: int = 0
    """Of the shelf: how many more (fewer: below nothing) were counted than is written down."""
    on: date | None = None
    """The day of that count."""
    off: TakenOff | None = None
    """Of those that came off: where they sat, and what was scrapped of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """Where the pieces are that a recall speaks of."""

    batches: tuple[str, ...]
    unrecorded: tuple[str, ...]
    """Of these the ones of which there is no record: only what sits on vehicles is known."""
    visits: tuple[Visit, ...]
    """By fleet and number of the vehicle, those to visit first."""
    spots: tuple[Carried, ...]
    """What still sits on vehicles, position by position."""
    elsewhere: tuple[Elsewhere, ...]
    """What has to be found besides: shelf and handed out by batch, then what came off by vehicle."""
    scrapped: tuple[TakenOff, ...]
    """What came off and was scrapped since, all of it."""
    shelf: int
    out: int

    @property
    def vehicles(self) -> tuple[tuple[str, str], ...]:
        return tuple(dict.fromkeys((each.site.fleet, each.site.vehicle) for each in self.visits))

    @property
    def left(self) -> tuple[tuple[str, str], ...]:
        """Vehicles that still carry any of it."""
        return tuple(dict.fromkeys((each.site.fleet, each.site.vehicle) for each in self.visits if each.sits))

    def about(self, batch: str) -> int:
        """Pieces of a batch that are somewhere and have to be found."""
        sitting = sum(each.count for each in self.spots if each.batch == batch)
        return sitting + sum(each.count for each in self.elsewhere if each.batch == batch)

    @property
    def off(self) -> int:
        """How many came off and were not scrapped."""
        return sum(each.count for each in self.elsewhere if each.kind == "came_off")

    @property
    def to_find(self) -> int:
        """All pieces that are anywhere."""
        return self.sits + sum(each.count for each in self.elsewhere)

    @property
    def visited(self) -> int:
        return len(self.vehicles) - len(self.left)

    @property
    def sits(self) -> int:
        return sum(each.sits for each in self.visits)


def same_thing(one: Recall, other: Recall) -> bool:
    return (one.lot, one.batch, one.part, one.revision) == (other.lot, other.batch, other.part, other.revision)


def standing_of(recall: Recall, production: Production, day: date) -> str | None:
    """The number of the recall of the same thing that stands."""
    found = (name for name, each in sorted(production.recalls.items()) if same_thing(each, recall) and called_back(each, day))
    return next(found, None)


def first_call(recall: Recall) -> CalledBack | None:
    return next((each for each in recall.events if isinstance(each, CalledBack)), None)


def reach_of(recall: Recall, production: Production) -> Reach:
    """Of everything that is written down by now."""
    recorded = tuple(sorted(name for name, batch in production.batches.items() if speaks_of(recall, name, batch)))
    unrecorded = (recall.batch,) if recall.batch and not recorded and _is_told(recall.batch, production) else ()
    batches = recorded + unrecorded
    call, now = first_call(recall), ledger(production)
    sits = _at(now.sitting.items(), batches)
    sat: Counter[VehiclePlace] = Counter()
    for day in (call.on - timedelta(days=1), call.on) if call else ():
        sat |= _at(sitting_on(production, day).items(), batches)
    sat |= sits
    visits = sorted((Visit(site=site, sat=count, sits=sits[site]) for site, count in sat.items()), key=_order)
    balances = [now.balances[name] for name in recorded]
    every, meant = of_all(production), set(batches)
    fates = fates_of(replace(every, came_off=tuple(each for each in every.came_off if each.batch in meant)))
    off = [each for own in fates.values() for each in own]
    return Reach(
        batches=batches,
        unrecorded=unrecorded,
        visits=tuple(visits),
        spots=tuple(each for each in every.carried if each.batch in meant),
        elsewhere=(*_put_by(recorded, production, now), *_to_find(off)),
        scrapped=tuple(each for each in off if not each.count),
        shelf=sum(each.lies for each in balances),
        out=sum(each.out for each in balances),
    )


def stopping_still(name: str, recall: Recall, production: Production, day: date) -> tuple[tuple[Stopped, tuple[str, ...]], ...]:
    """What stops its batches besides this recall, each with the batches; a block of its own lot also where nothing was printed from it."""
    others = replace(production, recalls={other: each for other, each in production.recalls.items() if other != name})
    found: dict[Stopped, list[str]] = {}
    for batch_name, batch in sorted(production.batches.items()):
        for each in stops_of(batch_name, batch, others, day) if speaks_of(recall, batch_name, batch) else ():
            found.setdefault(each, []).append(batch_name)
    lot = production.lots.get(recall.lot) if recall.lot else None
    block = block_of(lot, day) if lot else None
    if block and not any(each.lot == recall.lot for each in found):
        found[Stopped(block.on, block.by, block.why, None, recall.lot)] = []
    return tuple((each, tuple(batches)) for each, batches in found.items())


def _is_told(batch: str, production: Production) -> bool:
    return any(batch in (row.batch, row.removed_batch) for row in production.fitted)


def _put_by(batches: Iterable[str], production: Production, now: Ledger) -> Iterator[Elsewhere]:
    for name in batches:
        balance, events = now.balances[name], production.batches[name].events
        if balance.lies:
            yield Elsewhere(kind="shelf", batch=name, count=balance.lies, more=balance.more, on=balance.newest.on if balance.newest else None)
        if balance.out:
            to = dict.fromkeys(each.to for each in events if isinstance(each, Issued) and each.to)
            yield Elsewhere(kind="out", batch=name, count=balance.out, to="; ".join(to))


def _to_find(off: Iterable[TakenOff]) -> list[Elsewhere]:
    """In the order in which vehicles are visited."""
    found = (Elsewhere(kind="came_off", batch=each.batch, count=each.count, off=each) for each in off if each.count)
    return sorted(found, key=lambda each: (_of_site(each.off.spots[0].site), each.batch) if each.off else ())


def _at(sitting: Iterable[tuple[PieceSpot, Mapping[str, int]]], batches: Iterable[str]) -> Counter[VehiclePlace]:
    meant, found = set(batches), Counter[VehiclePlace]()
    for spot, there in sitting:
        own = sum(count for name, count in there.items() if name in meant)
        if own:
            found[VehiclePlace(*spot[:3])] += own
    return found


def _order(each: Visit) -> tuple[object, ...]:
    return (not each.sits, _of_site(each.site))


def _of_site(site: VehiclePlace) -> tuple[object, ...]:
    return (site.fleet, order_of(site.vehicle), site.place)
