"""A reminder is written down once a day and role: its minutes count each time."""

from collections.abc import Iterable
from datetime import date

from generator.edge.refusals import refused
from generator.edge.spoken import words
from generator.records.approvals import Event, ReminderSent
from generator.records.batches import BatchEvent
from generator.rules.reminding import reminded_already


def refuse_reminded(events: Iterable[Event | BatchEvent], by: str, on: date, number: str) -> None:
    """Raises Refusal, with what stands there, where this role has reminded on that day. number: of the part or batch."""
    before, w = reminded_already(events, by, on), words()
    if before:
        minutes = w.number(before.minutes) if before.minutes else None
        reference = before.reference if isinstance(before, ReminderSent) else None
        raise refused("reminded_already", by=by, number=number, day=w.day(on), minutes=minutes, reference=reference)
