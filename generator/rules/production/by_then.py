"""What was known of a batch on the day before a piece of it was fitted? What came on the same day may have come after it.

Unlike the answer for a piece in hand (states.py), which a noted recall stops on any day, this judges what has been done:
nobody could have known of a later one.
"""

from datetime import date

from generator.records.batches import Batch, Rejected
from generator.records.lots import Blocked
from generator.records.production import Production
from generator.rules.production.states import Stopped, speaks_of, stops_of


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
