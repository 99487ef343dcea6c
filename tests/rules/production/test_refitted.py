"""Which pieces went on again? Told from the workshop's side: what was printed, fitted, taken off, scrapped and found, day by day.

Nobody writes down which piece it is, so what must have been is reckoned: as few as possible went on a second time.
"""

from datetime import date

import pytest

from generator.rules.production.refitted import again_by_day, scrapped_off
from tests.fixtures.production import batch


def days(**counts):
    """Pieces by a day of February 2026, such as d3=1; in the order in which they are named."""
    return {date(2026, 2, int(name[1:])): count for name, count in counts.items()}


def scrap(day, count=1):
    return {"what": "scrapped", "on": f"2026-02-{day:02d}", "by": "keeper", "count": count, "why": "worn"}


CASES = {
    "one comes off, and is found on another vehicle": (1, (), days(d1=1, d3=1), days(d2=1), days(d3=1), days(d3=1)),
    "and once more after that": (1, (), days(d1=1, d3=1, d5=1), days(d2=1, d4=1), days(d3=1, d5=1), days(d3=1, d5=1)),
    "the same, with the lines in another order": (1, (), days(d5=1, d3=1, d1=1), days(d4=1, d2=1), days(d5=1, d3=1), days(d3=1, d5=1)),
    "while there are fresh ones it is one of these": (2, (), days(d1=1, d3=1), days(d2=1), days(d3=1), {}),
    "before anything came off it is one too many": (1, (), days(d1=1, d2=1), days(d3=1), days(d2=1), {}),
    "on the day on which one came off it may be that": (1, (), days(d1=1, d2=1), days(d2=1), days(d2=1), days(d2=1)),
    "one came off, two are found: the second is too many": (1, (), days(d1=1, d3=1, d5=1), days(d2=1), days(d3=1, d5=1), days(d3=1)),
    "it went on again, came off, and a line that nobody found adds one": (1, (), days(d1=1, d3=1, d5=1), days(d2=1, d4=1), days(d3=1), days(d3=1)),
    "three fresh and three used, four found, then one more": (6, (), days(d1=3, d3=4, d5=1), days(d2=3), days(d3=4, d5=1), days(d3=1, d5=1)),
    "a fresh one was scrapped before": (2, (scrap(1),), days(d2=1, d4=1), days(d3=1), days(d4=1), days(d4=1)),
    "what came off was scrapped": (1, (scrap(3),), days(d1=1, d4=1), days(d2=1), days(d4=1), {}),
    "it was scrapped on the day on which one was found": (1, (scrap(4),), days(d1=1, d4=1), days(d2=1), days(d4=1), {}),
    "it was scrapped once it had come off again": (1, (scrap(5),), days(d1=1, d3=1), days(d2=1, d4=1), days(d3=1), days(d3=1)),
    "one was too many before any came off: no more went on again than went on": (1, (scrap(1),), days(d1=1, d2=1), days(d2=2), days(d1=1, d2=1), days(d2=1)),
    "of two that came off one was scrapped, and a fresh one is left": (3, (scrap(3),), days(d1=2, d4=1), days(d2=2), days(d4=1), {}),
    "of two that came off one was scrapped, and no fresh one is left": (2, (scrap(3),), days(d1=2, d4=1), days(d2=2), days(d4=1), days(d4=1)),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_as_few_as_can_be_went_on_again_and_none_that_was_not_there(case):
    count, events, on, off, found, again = CASES[case]
    assert again_by_day(batch(count, events=events), on, off, found) == again


@pytest.mark.parametrize(
    ("events", "loose", "scrapped"),
    [
        ((scrap(3),), days(d2=1), 1),
        ((scrap(2),), days(d2=1), 1),  # of one day it is taken to be the one that came off
        ((scrap(1),), days(d2=1), 0),
        ((scrap(3, 3),), days(d2=2), 2),  # the third was fresh
        ((scrap(3), scrap(4)), days(d2=1), 1),
        ((scrap(3), scrap(5)), days(d2=1, d4=1), 2),
        ((scrap(5), scrap(1)), days(d2=1), 1),  # the record tells the later day first: what it says of both is the same
        ((), days(d2=1), 0),
    ],
)
def test_what_is_scrapped_is_what_had_come_off_as_far_as_there_was_any(events, loose, scrapped):
    assert scrapped_off(batch(events=events).events, loose) == scrapped
