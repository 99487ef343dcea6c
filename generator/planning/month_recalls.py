"""Which recalls were called or lifted in a month, and of which that stand are pieces about still, as of its last day?"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from generator.records.production import Production
from generator.records.recalls import Recall
from generator.rules.production.ledger import balances_on, moved_by_day
from generator.rules.production.states import called_back, speaks_of


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthRecall:
    """One recall: an event of the month, or that it stands at its end."""

    number: str
    what: Literal["called back", "lifted", "stands"]
    on: date
    """Day of the event; of one that stands the day on which it was called back."""
    by: str
    why: str
    recall: Recall
    on_vehicles: int
    """Pieces that still sat on vehicles at the end of the month."""
    put_by: int
    """Those on the shelf or handed out."""
    came_off: int
    """Those that came off and were not scrapped."""


def month_recalls(production: Production, first: date, until: date) -> tuple[MonthRecall, ...]:
    """By day of the event and number; those that were called before and still stand come first."""
    found = (each for number, recall in sorted(production.recalls.items()) for each in _of(number, recall, production, first, until))
    return tuple(sorted(found, key=lambda each: (each.what != "stands", each.on, each.number)))


def _of(number: str, recall: Recall, production: Production, first: date, until: date) -> Iterator[MonthRecall]:
    sits, put_by, off = _about(recall, production, until)
    in_month = [each for each in recall.events if first <= each.on <= until]
    told = [(each.what, each) for each in in_month]
    call = called_back(recall, until, before=until + timedelta(days=1))
    standing = [("stands", call)] if call and call.on < first else []
    for what, event in (*standing, *told):
        yield MonthRecall(number=number, what=what, on=event.on, by=event.by, why=event.why, recall=recall, on_vehicles=sits, put_by=put_by, came_off=off)  # type: ignore[arg-type]


def _about(recall: Recall, production: Production, until: date) -> tuple[int, int, int]:
    """Pieces on vehicles, on the shelf or handed out, and come off without having been scrapped, at the end of that day."""
    batches = {name for name, batch in production.batches.items() if speaks_of(recall, name, batch)}
    batches |= {recall.batch} if recall.batch else set()
    moved, balances = moved_by_day(production), balances_on(production, until)
    sits = sum(moved[name].went(until) - moved[name].came(until) for name in batches if name in moved)
    left = [balances[name] for name in batches if name in balances]
    bare = sum(moved[name].came(until) for name in batches if name in moved and name not in balances)
    return sits, sum(each.at_hand for each in left), bare + sum(each.removed for each in left)
