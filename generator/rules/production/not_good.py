"""What sits on vehicles that must not sit there, and what nobody can say of whether it may?"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from generator.records.catalogue import Catalogue
from generator.rules.production.releasing import standing
from generator.rules.production.states import stops_of
from generator.rules.production.tracing import Carried, of_all

Why = Literal["called back", "blocked", "rejected", "void", "printed", "unknown"]
"""Of a batch: called back, of a blocked lot, rejected; released by what does not hold, never released, without a record."""
STOPPED: frozenset[Why] = frozenset({"called back", "blocked", "rejected"})
"""Has to come off. The others have to be looked at and asked about."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Against:
    """What speaks against pieces of a batch."""

    why: Why
    recall: str | None = None
    """Its number."""

    @property
    def is_stopped(self) -> bool:
        return self.why in STOPPED


@dataclass(frozen=True, slots=True, kw_only=True)
class NotGood:
    """Pieces at one spot."""

    carried: Carried
    against: Against


def against(batch: str, catalogue: Catalogue, day: date) -> Against | None:
    """The most urgent that speaks against a batch on `day`; None where its pieces may sit on vehicles."""
    record = catalogue.production.batches.get(batch)
    if record is None:
        return Against(why="unknown")
    stops = stops_of(batch, record, catalogue.production, day)
    if stops:
        return Against(why="called back" if stops[0].recall else "blocked", recall=stops[0].recall)
    word = standing(batch, record, catalogue, day).word
    return None if word == "released" else Against(why=word)


def against_each(catalogue: Catalogue, day: date) -> Mapping[str, Against | None]:
    """The same of every batch that sits on a vehicle, by its number."""
    sitting = dict.fromkeys(each.batch for each in of_all(catalogue.production).carried) if catalogue.production.fitted else {}
    return {name: against(name, catalogue, day) for name in sitting}


def not_good(catalogue: Catalogue, speaking: Mapping[str, Against | None]) -> Mapping[str, tuple[NotGood, ...]]:
    """By number of the part, vehicle by vehicle; what has no record stands with every part that fits at its place. speaking: of `against_each`."""
    found: defaultdict[str, list[NotGood]] = defaultdict(list)
    for each in of_all(catalogue.production).carried if catalogue.production.fitted else ():
        speaks = speaking[each.batch]
        if speaks is None:
            continue
        for number in _parts(each, catalogue):
            found[number].append(NotGood(carried=each, against=speaks))
    return {number: tuple(each) for number, each in found.items()}


def _parts(each: Carried, catalogue: Catalogue) -> Iterable[str]:
    if each.part is not None:
        return (each.part,)
    return dict.fromkeys(part.number for part, _ in catalogue.fitting(each.spot.fleet, each.spot.place))


def by_vehicle(some: Iterable[NotGood]) -> Iterator[tuple[tuple[str, str], int, bool]]:
    """Fleet and number, how many pieces, and whether any of them has to come off; each vehicle once."""
    counts: dict[tuple[str, str], tuple[int, bool]] = {}
    for each in some:
        vehicle = each.carried.spot[:2]
        count, stopped = counts.get(vehicle, (0, False))
        counts[vehicle] = (count + each.carried.count, stopped or each.against.is_stopped)
    for vehicle, (count, stopped) in counts.items():
        yield vehicle, count, stopped
