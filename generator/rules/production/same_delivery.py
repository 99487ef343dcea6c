"""Is more of a lot here under another number, and is that one called back or blocked?

A recall or block speaks of one number here. What came later of the same lot of the supplier may be just as bad: its pieces ask until
a role that acts for quality or the customer has said, on a later day, that this delivery is not concerned: the end of a block of its
own, or of a recall of its own, whose words name what stopped the other: a bag that was open over night says nothing of a recall. So do
those of a number that is nearly the same: it may be the same one, written otherwise.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from itertools import chain
from typing import Final

from generator.records.base import as_compared
from generator.records.batches import Batch
from generator.records.lots import Blocked, Lot, LotEvent, Unblocked
from generator.records.problems import Problem, doubt
from generator.records.production import Production
from generator.records.recalls import CalledBack, Lifted, RecallEvent
from generator.rules.production.lot_numbers import LEAST_NUMBER, is_near
from generator.rules.production.record_faults import is_same_lot
from generator.rules.production.states import Stopped, is_end, stops_of_lot

ASKED: Final = ("lot stopped elsewhere", "lot nearly stopped elsewhere")
"""What pieces ask about for it, by keys of `terms.piece_asked`."""


@dataclass(frozen=True, slots=True)
class StoppedDelivery:
    """What stops another number of the supplier's lot; near: its number there is only nearly the same."""

    name: str
    stop: Stopped
    is_near: bool


def stopped_elsewhere(name: str, production: Production) -> tuple[StoppedDelivery, ...]:
    """Of a lot that is not stopped itself: what is stopped of the same lot of the supplier, as long as nobody has said that this one is not concerned."""
    return _all(production).get(name, ())


def stopped_alike(lot: Lot, production: Production) -> tuple[StoppedDelivery, ...]:
    """The same of a lot that comes in."""
    return tuple(_alike(lot, production))


def alike_numbers(batch: Batch, production: Production) -> tuple[str, ...]:
    """Of a batch whose pieces ask for that: which supplier's number here is that of what is stopped, or nearly, such as "Lot 3388 (L-0013) ≈ 3388 (L-0009)"."""
    return tuple(dict.fromkeys(each for name in batch.lots for each in numbers_of(name, production)))


def numbers_of(name: str, production: Production) -> tuple[str, ...]:
    """The same of one lot."""
    return tuple(_numbers(name, each, production) for each in stopped_elsewhere(name, production))


def asking_beside(stopped: str, production: Production) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The other way: each lot that asks because of this one, with these numbers."""
    found = ((name, tuple(_numbers(name, each, production) for each in listed if each.name == stopped)) for name, listed in sorted(_all(production).items()))
    return tuple((name, numbers) for name, numbers in found if numbers)


def called_by_supplier(number: str, production: Production) -> tuple[str, ...]:
    """Lots here whose number this is with their supplier, or nearly, such as "L-0010 (5714)"."""
    return tuple(f"{name} ({lot.supplier_lot})" for name, lot in sorted(production.lots.items()) if is_near(lot.supplier_lot, number, _names(lot)))


def same_number(lot: Lot, production: Production, name: str | None = None) -> tuple[StoppedDelivery, ...]:
    """What is stopped of this very number under another material, which may be a slip: it is told, and no piece asks. name: of one that is here already."""
    if not _is_number(lot.supplier_lot) or (name and name in _stopped(production)):
        return ()
    others = ((each, stop) for each, stop in _stopped(production).items() if production.lots[each].material != lot.material)
    found = (StoppedDelivery(each, stop, is_near=False) for each, stop in others if _signs(production.lots[each].supplier_lot) == _signs(lot.supplier_lot))
    return tuple(each for each in found if name is None or not _is_said(name, lot, each, production))


def same_beside(stopped: str, production: Production) -> tuple[tuple[str, StoppedDelivery], ...]:
    """The other way: each lot of another material with the number of this one."""
    if stopped not in _stopped(production):
        return ()
    return tuple((name, each) for name, lot in sorted(production.lots.items()) for each in same_number(lot, production, name) if each.name == stopped)


def _signs(number: str) -> str:
    return "".join(as_compared(number).split())


def _is_number(number: str) -> bool:
    """Long enough to be a number by itself, and no mere word."""
    signs = _signs(number)
    return len(signs) >= LEAST_NUMBER and any(map(str.isdecimal, signs))


def _numbers(name: str, other: StoppedDelivery, production: Production) -> str:
    own, its = (production.lots[each].supplier_lot for each in (name, other.name))
    return f"{own} ({name}) {'≈' if other.is_near else '='} {its} ({other.name})"


def delivery_problems(name: str, production: Production) -> Iterator[Problem]:
    """What check tells of the lot, once for each other number."""
    for each in stopped_elsewhere(name, production):
        key = "near" if each.is_near else "same delivery"
        yield doubt("LOT04", key, path=("supplier_lot",), name=name, other=each.name, why=each.stop.why.rstrip("."), recall=each.stop.recall)
    lot = production.lots[name]
    for each in same_number(lot, production, name):
        why, its = each.stop.why.rstrip("."), production.lots[each.name].material
        yield doubt("LOT04", "other material", path=("supplier_lot",), name=name, other=each.name, why=why, recall=each.stop.recall, material=lot.material, its=its)


@lru_cache(8)
def _all(production: Production) -> Mapping[str, tuple[StoppedDelivery, ...]]:
    others = {name: lot for name, lot in production.lots.items() if name not in _stopped(production)}
    return {name: tuple(each for each in _alike(lot, production) if not _is_said(name, lot, each, production)) for name, lot in others.items()}


@lru_cache(8)
def _stopped(production: Production) -> Mapping[str, Stopped]:
    """The newest stop of each lot that is stopped; what has ended by its record has ended."""
    every = {name: stops_of_lot(name, production, date.max) for name in production.lots}
    return {name: max(stops, key=lambda each: each.on) for name, stops in every.items() if stops}


def _alike(lot: Lot, production: Production) -> Iterator[StoppedDelivery]:
    """Of a lot that is not stopped itself."""
    for other, stop in _stopped(production).items():
        one = production.lots[other]
        if one.material == lot.material:
            if is_same_lot(one, lot):
                yield StoppedDelivery(other, stop, is_near=False)
            elif is_near(one.supplier_lot, lot.supplier_lot, _names(one, lot)):
                yield StoppedDelivery(other, stop, is_near=True)


def _names(*lots: Lot) -> tuple[str, ...]:
    """What people write beside a number: the material, as the depot calls it and each word of that, and who supplies it."""
    words = (each for lot in lots for each in lot.material.split("-") if not each.isdecimal())
    named = (*words, *(name for lot in lots for name in (lot.material, lot.supplier or "")))
    return tuple(dict.fromkeys(filter(None, named)))


def _is_said(name: str, lot: Lot, other: StoppedDelivery, production: Production) -> bool:
    """Whether quality has let this delivery go on a later day, in words about that stop; who may is checked with the record (LOT02, RECALL01)."""
    own = (recall.events for recall in production.recalls.values() if recall.lot == name)
    return any(on > other.stop.on and _is_about(why, lot, other, production) for events in chain([lot.events], own) for on, why in _ended(events))


def _ended(events: Sequence[LotEvent | RecallEvent]) -> Iterator[tuple[date, str]]:
    """The day of each end, with its reason and that of what it ends."""
    began = ""
    for each in events:
        if isinstance(each, Blocked | CalledBack):
            began = each.why
        elif isinstance(each, Unblocked | Lifted) and is_end(each):
            yield each.on, f"{began}\n{each.why}"


def _is_about(why: str, lot: Lot, other: StoppedDelivery, production: Production) -> bool:
    """Whether the words name what stops the other: its recall, its number here, or the supplier's, unless that is said of the lot itself."""
    if any(_whole(each).search(why) for each in filter(None, (other.stop.recall, other.name))):
        return True
    number = production.lots[other.name].supplier_lot
    return _is_number(number) and _whole(number).search(_whole(lot.supplier_lot).sub(" ", why)) is not None


def _whole(word: str) -> re.Pattern[str]:
    """The word by itself, whatever blanks part its signs: no part of a longer one, nor of L-0013-2."""
    signs = r"\s*".join(re.escape(each) for each in word if not each.isspace())
    return re.compile(rf"(?<!\w)(?<!\w[-.]){signs}(?![-.]?\w)", re.IGNORECASE)


def asks_after_end(lot: str, production: Production, *, end: LotEvent) -> tuple[StoppedDelivery, ...]:
    """Of a lot whose block ends by this event: because of what it asks all the same."""
    ended = production.lots[lot].model_copy(update={"events": (*production.lots[lot].events, end)})
    return stopped_elsewhere(lot, replace(production, lots={**production.lots, lot: ended}))
