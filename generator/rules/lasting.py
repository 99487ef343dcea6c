"""Until when does a paper count, and how long may it before its end is taken for a slip of the pen?"""

from collections.abc import Iterable
from datetime import date
from typing import TypeVar

from generator.records.fire import FireExemption, FireTest
from generator.records.materials import Certificate

Paper = Certificate | FireTest | FireExemption
P = TypeVar("P", Certificate, FireTest)

# Common practice, no source: a review takes its papers for five to fifteen years. What has no end says so.
LONGEST_YEARS = 30
# Common practice, no source: gauges are calibrated and machines qualified for a year or two, and a filament keeps as long.
LONGEST_USUAL_DAYS = 5 * 365 + 1
FOR_EVER = date.max
"""The last day of a paper that says that it has no end."""


def is_too_long(begins: date, ends: date) -> bool:
    """Whether a paper of one day would count until another that is more than LONGEST_YEARS away."""
    years = ends.year - begins.year
    return years > LONGEST_YEARS or (
        years == LONGEST_YEARS and (ends.month, ends.day) > (begins.month, begins.day)
    )


def is_unusually_long(begins: date, ends: date) -> bool:
    """Whether what is renewed often would count more than five years, as a slip of the year makes it."""
    return (ends - begins).days > LONGEST_USUAL_DAYS


def last_day(paper: Paper) -> date | None:
    """The last day that the paper counts, FOR_EVER where it says that it has no end.

    None, which is unknown, where it says no end, two of them, or one that cannot be.
    """
    if (paper.valid_until is None) != paper.open_ended:
        return None
    if paper.valid_until is None:
        return FOR_EVER
    return None if is_too_long(_begins(paper), paper.valid_until) else paper.valid_until


def longest(papers: Iterable[P]) -> P | None:
    """The paper that counts longest; one of unknown end comes last."""
    return max(papers, key=lambda paper: last_day(paper) or date.min, default=None)


def _begins(paper: Paper) -> date:
    match paper:
        case Certificate():
            return paper.issued_on
        case FireTest():
            return paper.tested_on
        case FireExemption():
            return paper.on
