"""What people looked for in vain, as tablets hand it over: texts, how often, and the last day; never who."""

from typing import Annotated

from pydantic import AfterValidator, Field

from generator.records.base import Day, Id, LinesOfFile, Record, one_line, without_controls

LONGEST_QUERY = 240
MOST_TIMES = 10_000
MOST_QUERIES = 200
"""So many a tablet remembers; a list that is longer was not made by one."""

Query = Annotated[
    str, Field(min_length=1, max_length=LONGEST_QUERY), AfterValidator(without_controls), AfterValidator(one_line)
]


class LookedFor(Record):
    """A text that was typed into the finder, and found nothing."""

    text: Query
    times: Annotated[int, Field(ge=1, le=MOST_TIMES)]
    last: Day
    """The last day on which it was typed."""


LookedForList = Annotated[tuple[LookedFor, ...], Field(max_length=MOST_QUERIES)]


class Queries(Record):
    """queries/*.yml: one hand-over of one tablet."""

    lines: LinesOfFile | None = None
    """Of the tablet's file, where it stands first; `spares queries add` leaves it out."""
    collected: Day
    """The day on which the tablet handed it over."""
    with_request: Id | None = None
    """The request that it came with, such as R-0031; left out, it came alone."""
    looked_for: Annotated[LookedForList, Field(min_length=1)]
