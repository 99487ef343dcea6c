"""What was known of a batch on the day before a piece of it was fitted? What came on the same day may have come after it.

Unlike the answer for a piece in hand (states.py), which a noted recall stops on any day, this judges what has been done:
nobody could have known of a later one.
"""

from datetime import date

from generator.records.batches import Batch, Rejected
from generator.records.lots import Blocked, Lot, Unblocked
from generator.records.production import Production
from generator.records.recalls import CalledBack, Recall
from generator.rules.production.states import Stopped, speaks_of


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
    for number, recall in sorted(production.recalls.items()):
        if speaks_of(recall, name, batch) and (call := _called(recall, day)):
            return Stopped(call.on, call.by, call.why, number, recall.lot)
    for lot_id in batch.lots:
        lot = production.lots.get(lot_id)
        if lot and (block := _blocked(lot, day)):
            return Stopped(block.on, block.by, block.why, None, lot_id)
    return None


def _called(recall: Recall, day: date) -> CalledBack | None:
    standing: CalledBack | None = None
    for each in recall.events:
        if isinstance(each, CalledBack):
            standing = standing or (each if each.on < day else None)
        elif each.on <= day:
            standing = None
    return standing


def _blocked(lot: Lot, day: date) -> Blocked | None:
    standing: Blocked | None = None
    for each in lot.events:
        if isinstance(each, Blocked):
            standing = standing or (each if each.on < day else None)
        elif isinstance(each, Unblocked) and each.on <= day:
            standing = None
    return standing
