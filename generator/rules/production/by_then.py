"""What was known of a batch on the day before a piece of it was fitted? What came on the same day may have come after it.

Unlike the answer for a piece in hand (states.py), which a noted recall stops on any day, this judges what has been done:
nobody could have known of a later one. And a verdict for a day that is gone is of that day, with what came since beside it.
"""

from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from generator.records.batches import Batch, Rejected
from generator.records.lots import Blocked, Lot
from generator.records.production import Production
from generator.records.recalls import Recall
from generator.rules.production.settled import settled
from generator.rules.production.states import Stopped, recalled_revision, speaks_of, stops_of


def rejected_before(batch: Batch, day: date) -> Rejected | None:
    return next((each for each in batch.events if isinstance(each, Rejected) and each.on < day), None)


def may_be_stopped(name: str, batch: Batch, production: Production) -> bool:
    """Whether any recall or block speaks of it, on whatever day."""
    if any(speaks_of(each, name, batch) for each in production.recalls.values()):
        return True
    lots = (production.lots.get(each) for each in batch.lots)
    return any(isinstance(event, Blocked) for lot in lots if lot for event in lot.events)


def stopped_before(name: str, batch: Batch, production: Production, day: date) -> Stopped | None:
    """The first recall or blocked lot that kept it from being fitted already."""
    return next(iter(stops_of(name, batch, production, day, before=day)), None)


R = TypeVar("R", Batch, Lot, Recall)


@dataclass(frozen=True, slots=True)
class Since:
    """What stops pieces of batches now, and was said after the day that is asked about."""

    batches: tuple[str, ...]
    stop: Stopped | Rejected


def known_on(production: Production, day: date, today: date) -> Production:
    """The records without what is dated between `day` and today: nobody knew of it then. What is noted of days to come counts as ever."""
    production = settled(production, max(day, today))
    if day >= today:
        return production
    recalls = {name: _as_on(each, day, today) for name, each in production.recalls.items()}
    return replace(
        production,
        lots={name: _as_on(each, day, today) for name, each in production.lots.items()},
        batches={name: _as_on(each, day, today) for name, each in production.batches.items()},
        recalls={name: each for name, each in recalls.items() if each.events},
        fitted=tuple(row for row in production.fitted if row.day <= day or row.day > today),
    )


def _as_on(record: R, day: date, today: date) -> R:
    return record.model_copy(update={"events": tuple(each for each in record.events if each.on <= day or each.on > today)})


def stopped_since(number: str, batch: str | None, production: Production, day: date, today: date) -> tuple[Since, ...]:
    """What stops pieces of a part now, of one of its batches or of any, that was said between `day` and today; oldest first."""
    found: dict[Stopped | Rejected, list[str]] = {}
    for name, each in production.of_part(number).items():
        if batch in (None, name):
            stops: list[Stopped | Rejected] = [*stops_of(name, each, production, today)]
            stops += [event for event in each.events if isinstance(event, Rejected)]
            for stop in stops:
                if day < stop.on <= today:
                    found.setdefault(stop, []).append(name)
    whole = (recalled_revision(number, each.revision or "", production.recalls, today) for each in production.recalls.values() if each.part == number)
    for called in whole:
        if called and day < called.on <= today and batch is None:
            found.setdefault(called, [])
    listed = (Since(tuple(sorted(names)), stop) for stop, names in found.items())
    return tuple(sorted(listed, key=lambda each: (each.stop.on, each.batches)))
