"""How does a lot or a recall stand on a day, by the events that its record tells, and what stops a batch? Its word: releasing.py."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from generator.records.batches import Batch, BatchEvent, Released, Scrapped
from generator.records.free_texts import is_void
from generator.records.lots import Blocked, Lot, LotEvent, Unblocked, UsedUp
from generator.records.production import Production
from generator.records.recalls import CalledBack, Lifted, Recall, RecallEvent


@dataclass(frozen=True, slots=True)
class Stopped:
    """Why nothing of a batch is fitted: since which day, by which role, and where it is written."""

    on: date
    by: str
    why: str
    recall: str | None
    """Number of the recall; None of a lot that is only blocked."""
    lot: str | None
    """The lot that it speaks of."""


def released_on(batch: Batch) -> date | None:
    """The first day on which anything of it may be fitted."""
    return next((each.on for each in batch.events if isinstance(each, Released)), None)


def is_used_up(lot: Lot, day: date) -> bool:
    return any(isinstance(each, UsedUp) and each.on <= day for each in lot.events)


def lot_word(name: str, lot: Lot, production: Production, day: date) -> Literal["called back", "blocked", "used up", "in use"]:
    """How it stands, in a word: what stops it comes first, and a recall before its block."""
    stops = stops_of_lot(name, production, day)
    if stops:
        return "called back" if stops[0].recall else "blocked"
    return "used up" if is_used_up(lot, day) else "in use"


def is_end(event: LotEvent | RecallEvent) -> bool:
    """Whether it ends what stopped pieces; one that says nothing ends nothing."""
    return isinstance(event, Unblocked | Lifted) and not is_void(event)


def block_of(lot: Lot, day: date, *, before: date | None = None) -> Blocked | None:
    """The block that stands on `day`; noted ones count on any day, as withdrawals do, so `day` only lets an end come. No end is one that says nothing.

    before: only blocks of an earlier day than that count, where it is asked what was known by then.
    """
    standing: Blocked | None = None
    for each in lot.events:
        if isinstance(each, Blocked):
            standing = standing or (each if before is None or each.on < before else None)
        elif is_end(each) and each.on <= day:
            standing = None
    return standing


def called_back(recall: Recall, day: date, *, before: date | None = None) -> CalledBack | None:
    """The call that stands; a noted one counts on any day, its lifting only from its day on. before: as of a block."""
    standing: CalledBack | None = None
    for each in recall.events:
        if isinstance(each, CalledBack):
            standing = standing or (each if before is None or each.on < before else None)
        elif is_end(each) and each.on <= day:
            standing = None
    return standing


def speaks_of(recall: Recall, name: str, batch: Batch) -> bool:
    """Whether a recall speaks of this batch."""
    if recall.batch is not None:
        return recall.batch == name
    if recall.lot is not None:
        return recall.lot in batch.lots
    return (recall.part, recall.revision) == (batch.part, batch.revision)


def stops_of(name: str, batch: Batch, production: Production, day: date, *, before: date | None = None) -> tuple[Stopped, ...]:
    """Every recall, and every blocked lot that none speaks of, that keeps this batch from being fitted. before: as of a block."""
    found = [
        Stopped(call.on, call.by, call.why, number, recall.lot)
        for number, recall in sorted(production.recalls.items())
        if speaks_of(recall, name, batch) and (call := called_back(recall, day, before=before))
    ]
    named = {each.lot for each in found}
    for lot_id in batch.lots:
        lot = production.lots.get(lot_id)
        block = block_of(lot, day, before=before) if lot else None
        if block and lot_id not in named:
            found.append(Stopped(block.on, block.by, block.why, None, lot_id))
    return tuple(found)


def stops_of_lot(name: str, production: Production, day: date) -> tuple[Stopped, ...]:
    """Every recall of a lot that stands, and its block where none speaks of it: what keeps anything from being printed of it."""
    found = [
        Stopped(call.on, call.by, call.why, number, name)
        for number, recall in sorted(production.recalls.items())
        if recall.lot == name and (call := called_back(recall, day))
    ]
    lot = production.lots.get(name)
    block = block_of(lot, day) if lot else None
    return (*found, *([Stopped(block.on, block.by, block.why, None, name)] if block and not found else []))


def lifted(name: str, batch: Batch, production: Production, day: date) -> tuple[str, ...]:
    """The recalls that spoke of this batch and do not stand any more."""
    return tuple(number for number, each in sorted(production.recalls.items()) if speaks_of(each, name, batch) and not called_back(each, day))


def recalled_revision(number: str, revision: str, recalls: Mapping[str, Recall], day: date) -> Stopped | None:
    """The recall of a whole revision of a part, whatever batch a piece is of."""
    for name, recall in sorted(recalls.items()):
        if (recall.part, recall.revision) == (number, revision) and (call := called_back(recall, day)):
            return Stopped(call.on, call.by, call.why, name, None)
    return None


def scrapped(events: Iterable[BatchEvent]) -> int:
    return sum(each.count for each in events if isinstance(each, Scrapped))
