"""What is called back: is it already, which pieces are meant, and which vehicles have been visited since?"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from generator.records.production import Production
from generator.records.recalls import CalledBack, Recall
from generator.records.vehicles import order_of
from generator.rules.production.ledger import ledger
from generator.rules.production.moves import Site, Spot
from generator.rules.production.states import called_back, speaks_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A place of a vehicle where pieces sat when they were called back, or went on since."""

    site: Site
    sat: int
    sits: int
    """How many are left to take off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """Where the pieces are that a recall speaks of."""

    batches: tuple[str, ...]
    visits: tuple[Visit, ...]
    """By fleet and number of the vehicle, those to visit first."""
    shelf: int
    out: int

    @property
    def vehicles(self) -> tuple[tuple[str, str], ...]:
        return tuple(dict.fromkeys((each.site.fleet, each.site.vehicle) for each in self.visits))

    @property
    def left(self) -> tuple[tuple[str, str], ...]:
        """Vehicles that still carry any of it."""
        return tuple(dict.fromkeys((each.site.fleet, each.site.vehicle) for each in self.visits if each.sits))

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
    batches = tuple(sorted(name for name, batch in production.batches.items() if speaks_of(recall, name, batch)))
    call, now = first_call(recall), ledger(production)
    sits = _at(now.sitting.items(), batches)
    sat: Counter[Site] = Counter()
    for day in (call.on - timedelta(days=1), call.on) if call else ():
        sat |= _at(ledger(production, day).sitting.items(), batches)
    sat |= sits
    visits = sorted((Visit(site=site, sat=count, sits=sits[site]) for site, count in sat.items()), key=_order)
    balances = [now.balances[name] for name in batches]
    return Reach(
        batches=batches,
        visits=tuple(visits),
        shelf=sum(max(each.shelf, 0) for each in balances),
        out=sum(max(each.out, 0) for each in balances),
    )


def _at(sitting: Iterable[tuple[Spot, Mapping[str, int]]], batches: Iterable[str]) -> Counter[Site]:
    meant, found = set(batches), Counter[Site]()
    for spot, there in sitting:
        own = sum(count for name, count in there.items() if name in meant)
        if own:
            found[Site(*spot[:3])] += own
    return found


def _order(each: Visit) -> tuple[object, ...]:
    return (not each.sits, each.site.fleet, order_of(each.site.vehicle), each.site.place)
