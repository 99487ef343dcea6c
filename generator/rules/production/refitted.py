"""Which of the pieces that had come off are those that went on again, or were scrapped?

Nobody writes down which piece of a batch it is. What is scrapped after pieces came off is taken to be these. A piece that
somebody found on a vehicle though no more were there to be fitted is taken to be one of these too: so every balance
adds up, and closes once the piece is off again. Where there are none of these either, more is about than was printed.
"""

from collections.abc import Iterable, Mapping
from datetime import date

from generator.records.batches import Batch, BatchEvent, Scrapped
from generator.rules.production.states import scrapped


def upto(moved: Mapping[date, int], day: date | None) -> int:
    """Pieces up to the end of a day; None: of all days."""
    return sum(count for on, count in moved.items() if day is None or on <= day)


def scrapped_off(events: Iterable[BatchEvent], loose: Mapping[date, int]) -> int:
    """How many of the pieces that events scrapped are taken to be some that had come off by then.

    loose: by day, less what went on again.
    """
    found = 0
    for each in events:
        if isinstance(each, Scrapped):
            found += max(min(each.count, upto(loose, each.on) - found), 0)
    return found


def again_by_day(batch: Batch, on: Mapping[date, int], off: Mapping[date, int], found: Mapping[date, int]) -> dict[date, int]:
    """How many went on again, by the day on which the pieces that there were ran out; no more than were found so by then."""
    again: dict[date, int] = {}
    for day in sorted(day for day in on if day >= min(found)):
        events = [each for each in batch.events if each.on <= day]
        loose = {each: off.get(each, 0) - again.get(each, 0) for each in {*off, *again} if each <= day}
        scrap_off = scrapped_off(events, loose)
        left = batch.count - (scrapped(events) - scrap_off) - (upto(on, day) - sum(again.values()))
        most = min(upto(found, day) - sum(again.values()), sum(loose.values()) - scrap_off)
        if (n := min(-left, most, on[day])) > 0:  # what went on before, nothing that came off since can have been
            again[day] = n
    return again
