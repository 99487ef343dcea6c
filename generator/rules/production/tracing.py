"""Which vehicles carry it, and which lots, batches and machines are behind what a vehicle carries? One list, asked from all sides."""

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import TypeVar

from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow, Why
from generator.records.production import Production
from generator.records.vehicles import order_of
from generator.rules.production.ledger import Balance, ledger, moved_days
from generator.rules.production.moves import PieceSpot, compared


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """Pieces of one batch that sit at one spot."""

    spot: PieceSpot
    batch: str
    part: str | None
    """None of a batch that there is no record of."""
    revision: str | None
    count: int
    since: date
    """The last day on which one of them went on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CameOff:
    """Pieces that came off a spot."""

    on: date
    spot: PieceSpot
    batch: str
    """Empty of what carries no batch."""
    part: str | None
    count: int
    why: Why | None
    by: str
    instead: str = ""
    """The batch that went on there by the same line; what came off was of the same part then."""


_DIGITS = re.compile(r"([0-9]{1,9})")
T = TypeVar("T", Carried, CameOff)


@dataclass(frozen=True, slots=True, kw_only=True)
class Traced:
    """What is behind a lot, batch, part, vehicle or machine, and where it is."""

    batches: Mapping[str, Batch]
    balances: Mapping[str, Balance]
    carried: tuple[Carried, ...]
    came_off: tuple[CameOff, ...]
    """Oldest first."""

    @property
    def lots(self) -> tuple[str, ...]:
        """Of the batches that sit on vehicles, each once."""
        sitting = {each.batch for each in self.carried}
        return tuple(sorted({lot for name, batch in self.batches.items() if name in sitting for lot in batch.lots}))

    @property
    def vehicles(self) -> tuple[tuple[str, str], ...]:
        """Fleet and number of those that carry any of it, as people sort them."""
        return tuple(dict.fromkeys((each.spot.fleet, each.spot.vehicle) for each in self.carried))

    @property
    def on_vehicles(self) -> int:
        return sum(each.count for each in self.carried)


Days = tuple[date | None, date | None]
"""From and to, both included; None: without a bound."""
_ALWAYS: Days = (None, None)


def of_lot(production: Production, lot: str, *, ran: Days = _ALWAYS) -> Traced:
    """ran: only of batches that were on the machine within these days."""
    return _where(production, lambda _, batch: lot in batch.lots and _ran_within(batch, ran))


def of_batch(production: Production, name: str) -> Traced:
    """A batch of which there is no record can sit somewhere all the same."""
    found = _where(production, lambda each, _: each == name)
    if name in production.batches:
        return found
    carried, came_off = _all(production)
    return Traced(
        batches={},
        balances={},
        carried=tuple(each for each in carried if each.batch == name),
        came_off=tuple(each for each in came_off if each.batch == name),
    )


def of_part(production: Production, number: str, revision: str | None = None) -> Traced:
    return _where(production, lambda _, batch: batch.part == number and revision in (None, batch.revision))


def revisions_of(number: str, catalogue: Catalogue) -> set[str]:
    """Every revision of a part that somebody has written down: in its record, its approval, or of a batch."""
    folder = catalogue.folder(number)
    printed = {each.revision for each in catalogue.production.of_part(number).values()}
    own = {folder.part.revision} if folder and folder.part else set()
    told = (getattr(each, "revision", None) for each in (folder.approval.events if folder and folder.approval else ()))
    return printed | own | set(filter(None, told))


def of_machine(production: Production, machine: str, *, ran: Days = _ALWAYS) -> Traced:
    return _where(production, lambda _, batch: batch.machine == machine and _ran_within(batch, ran))


def _ran_within(batch: Batch, ran: Days) -> bool:
    """Whether it was printing on any of these days: what a machine spoilt was on it then, whenever it was begun."""
    since, until = ran
    return (since is None or batch.ended.date() >= since) and (until is None or batch.started.date() <= until)


def of_vehicle(production: Production, fleet: str, vehicle: str) -> Traced:
    """What sits on it and what came off it, also where no batch is told."""
    carried, came_off = _by_vehicle(production)
    here, off = carried.get((fleet, vehicle), ()), came_off.get((fleet, vehicle), ())
    named = {each.batch for each in here} | {each.batch for each in off}
    return _traced(production, {name: batch for name, batch in production.batches.items() if name in named}, here, off)


def of_all(production: Production) -> Traced:
    carried, came_off = _all(production)
    return _traced(production, production.batches, carried, came_off)


def _where(production: Production, is_meant: Callable[[str, Batch], bool]) -> Traced:
    batches = {name: batch for name, batch in production.batches.items() if is_meant(name, batch)}
    carried, came_off = _by_batch(production)
    return _traced(
        production,
        batches,
        tuple(sorted((each for name in batches for each in carried.get(name, ())), key=_order)),
        tuple(sorted((each for name in batches for each in came_off.get(name, ())), key=lambda each: each.on)),
    )


def _traced(
    production: Production, batches: Mapping[str, Batch], carried: tuple[Carried, ...], came_off: tuple[CameOff, ...]
) -> Traced:
    balances = ledger(production).balances
    return Traced(batches=dict(batches), balances={name: balances[name] for name in batches}, carried=carried, came_off=came_off)


@lru_cache(4)
def _all(production: Production) -> tuple[tuple[Carried, ...], tuple[CameOff, ...]]:
    since: dict[tuple[tuple[str, ...], str, str], date] = {}
    off: list[CameOff] = []
    for day in moved_days(production):
        for row in day.rows:
            if row.batch:
                since[(row.fleet, row.vehicle, row.place), compared(row.position), row.batch] = row.day
        taken = {(row.file, row.line): count for row, count in day.taken}
        for row in day.rows:
            count = taken[row.file, row.line] if row.removed_batch else row.removed
            if count:
                off.append(_came_off(row, count, production))
    sitting = ledger(production).sitting
    carried = [
        _carried(spot, name, count, since[spot[:3], compared(spot.position), name], production)
        for spot, there in sitting.items()
        for name, count in there.items()
    ]
    return tuple(sorted(carried, key=_order)), tuple(off)


Grouped = tuple[dict[object, tuple[Carried, ...]], dict[object, tuple[CameOff, ...]]]


@lru_cache(4)
def _by_vehicle(production: Production) -> Grouped:
    carried, came_off = _all(production)
    return _grouped(carried, _vehicle), _grouped(came_off, _vehicle)


@lru_cache(4)
def _by_batch(production: Production) -> Grouped:
    carried, came_off = _all(production)
    return _grouped(carried, lambda each: each.batch), _grouped(came_off, lambda each: each.batch)


def _vehicle(each: Carried | CameOff) -> tuple[str, str]:
    return each.spot.fleet, each.spot.vehicle


def _grouped(listed: Iterable[T], by: Callable[[T], object]) -> dict[object, tuple[T, ...]]:
    found: defaultdict[object, list[T]] = defaultdict(list)
    for each in listed:
        found[by(each)].append(each)
    return {key: tuple(own) for key, own in found.items()}


def _carried(spot: PieceSpot, name: str, count: int, since: date, production: Production) -> Carried:
    batch = production.batches.get(name)
    part, revision = (batch.part, batch.revision) if batch else (None, None)
    return Carried(spot=spot, batch=name, part=part, revision=revision, count=count, since=since)


def _came_off(row: FittedRow, count: int, production: Production) -> CameOff:
    batch = production.batches.get(row.removed_batch)
    spot = PieceSpot(row.fleet, row.vehicle, row.place, row.position)
    return CameOff(on=row.day, spot=spot, batch=row.removed_batch, part=batch.part if batch else None, count=count, why=row.why, by=row.by, instead=row.batch)


def _order(each: Carried) -> tuple[object, ...]:
    return (each.spot.fleet, order_of(each.spot.vehicle), each.spot.place, as_people_count(each.spot.position), each.batch)


def as_people_count(position: str) -> tuple[tuple[int, str], ...]:
    """A sort key: window 2 comes before window 10."""
    pieces = (piece for piece in _DIGITS.split(position) if piece)
    return tuple((int(piece) if piece.isdecimal() else -1, piece) for piece in pieces)
