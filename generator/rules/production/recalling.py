"""What is called back: is it already, which pieces are meant, and which vehicles have been visited since?"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from generator.records.batches import Issued
from generator.records.production import Production
from generator.records.recalls import CalledBack, Recall
from generator.records.vehicles import order_of
from generator.rules.production.ledger import Ledger, ledger, sitting_on
from generator.rules.production.moves import Site, Spot
from generator.rules.production.states import called_back, speaks_of
from generator.rules.production.tracing import CameOff, Carried, as_people_count, of_all


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A place of a vehicle where pieces sat when they were called back, or went on since."""

    site: Site
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
    spot: Spot | None = None
    """Of those that came off: where they sat."""
    on: date | None = None
    """The last day on which any of them came off."""


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
    sat: Counter[Site] = Counter()
    for day in (call.on - timedelta(days=1), call.on) if call else ():
        sat |= _at(sitting_on(production, day).items(), batches)
    sat |= sits
    visits = sorted((Visit(site=site, sat=count, sits=sits[site]) for site, count in sat.items()), key=_order)
    balances = [now.balances[name] for name in recorded]
    every = of_all(production)
    return Reach(
        batches=batches,
        unrecorded=unrecorded,
        visits=tuple(visits),
        spots=tuple(each for each in every.carried if each.batch in batches),
        elsewhere=(*_put_by(recorded, production, now), *_taken_off(each for each in every.came_off if each.batch in batches)),
        shelf=sum(max(each.shelf, 0) for each in balances),
        out=sum(max(each.out, 0) for each in balances),
    )


def _is_told(batch: str, production: Production) -> bool:
    return any(batch in (row.batch, row.removed_batch) for row in production.fitted)


def _put_by(batches: Iterable[str], production: Production, now: Ledger) -> Iterator[Elsewhere]:
    for name in batches:
        balance, events = now.balances[name], production.batches[name].events
        if balance.shelf > 0:
            yield Elsewhere(kind="shelf", batch=name, count=balance.shelf)
        if balance.out > 0:
            to = dict.fromkeys(each.to for each in events if isinstance(each, Issued) and each.to)
            yield Elsewhere(kind="out", batch=name, count=balance.out, to="; ".join(to))


def _taken_off(came_off: Iterable[CameOff]) -> Iterator[Elsewhere]:
    """By place of a vehicle and batch; positions of one place stand together."""
    found: dict[tuple[Site, str], list[CameOff]] = {}
    for each in came_off:
        found.setdefault((Site(*each.spot[:3]), each.batch), []).append(each)
    for (site, name), alike in found.items():
        positions = sorted({each.spot.position for each in alike if each.spot.position}, key=as_people_count)
        spot, last = Spot(*site, "; ".join(positions)), max(each.on for each in alike)
        yield Elsewhere(kind="came_off", batch=name, count=sum(each.count for each in alike), spot=spot, on=last)


def _at(sitting: Iterable[tuple[Spot, Mapping[str, int]]], batches: Iterable[str]) -> Counter[Site]:
    meant, found = set(batches), Counter[Site]()
    for spot, there in sitting:
        own = sum(count for name, count in there.items() if name in meant)
        if own:
            found[Site(*spot[:3])] += own
    return found


def _order(each: Visit) -> tuple[object, ...]:
    return (not each.sits, each.site.fleet, order_of(each.site.vehicle), each.site.place)
