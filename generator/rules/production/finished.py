"""Is anything left to do of what was called back, and if not: since which day, and by what?

It is finished once none of its pieces is anywhere. That day is found from behind, by the records without what came on the last of its
days: a scrap or a count ends it, and no later line of other things moves it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from generator.records.batches import Counted, Scrapped
from generator.records.catalogue import Catalogue
from generator.records.production import Production
from generator.records.recalls import Recall
from generator.rules.production.by_then import known_on
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.recalling import Reach, reach_of
from generator.rules.production.states import called_back
from generator.rules.production.suspects import suspects_in


@dataclass(frozen=True, slots=True, kw_only=True)
class LastOfBatch:
    """What was written down of a batch on the day on which nothing was left any more."""

    how: Literal["scrapped", "counted"]
    batch: str
    count: int
    """How many were scrapped, or lay there still by the count."""
    by: str
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """Since when nothing of it is about. was_about: whether anything was when it was called back."""

    on: date
    ended: tuple[LastOfBatch, ...]
    was_about: bool


def is_open(recall: Recall, reach: Reach, catalogue: Catalogue, day: date) -> bool:
    """Whether there is anything left to do; where nothing is known of the pieces, nobody can say that there is not."""
    if called_back(recall, day) is None:
        return False
    if not reach.batches or reach.to_find or gaps_of(catalogue.production):
        return True
    return not suspects_in(recall, catalogue, reach.batches).is_empty


def finished(recall: Recall, reach: Reach, catalogue: Catalogue, day: date) -> Finished | None:
    """None as long as it is open, and where it does not stand any more."""
    call = called_back(recall, day)
    if call is None or is_open(recall, reach, catalogue, day):
        return None
    production = catalogue.production
    days = sorted(each for each in _days(reach, production) if call.on <= each <= day)
    for at in reversed(range(len(days))):
        before = days[at - 1] if at else call.on - timedelta(days=1)
        if reach_of(recall, known_on(production, before, day)).to_find:
            return Finished(on=days[at], ended=tuple(_ended(reach, production, days[at])), was_about=True)
    return Finished(on=call.on, ended=(), was_about=False)


def _days(reach: Reach, production: Production) -> set[date]:
    """On which anything was written down of its batches."""
    meant = set(reach.batches)
    told = {each.on for name in reach.batches if name in production.batches for each in production.batches[name].events}
    return told | {row.day for row in production.fitted if row.batch in meant or row.removed_batch in meant}


def _ended(reach: Reach, production: Production, day: date) -> Iterator[LastOfBatch]:
    for name in reach.batches:
        for each in production.batches[name].events if name in production.batches else ():
            if each.on == day and isinstance(each, Scrapped):
                yield LastOfBatch(how="scrapped", batch=name, count=each.count, by=each.by, why=each.why)
            elif each.on == day and isinstance(each, Counted):
                yield LastOfBatch(how="counted", batch=name, count=each.on_shelf, by=each.by)
