"""What gets done by when, if so many hours a week go into it, one task after the other?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate
from math import ceil, isfinite
from typing import Final

HORIZON_YEARS: Final = 2
"""So far ahead is planned: nobody knows the work of later (common practice, no source)."""
_HORIZON: Final = timedelta(days=365 * HORIZON_YEARS)
_DAYS = 7
_MINUTES = 60


@dataclass(frozen=True, slots=True)
class Planned:
    """From which minute of own work to which, counted from now, and the day on which it is done."""

    begins: int
    ends: int
    done_on: date | None
    """None where the depot states no hours, or where it would be done after the horizon."""
    is_beyond: bool
    """Whether it is, or never, though there are hours."""


def horizon(day: date) -> date:
    """The last day that is planned for; the calendar's own last one where that ends before."""
    return day + min(_HORIZON, date.max - day)


def planned(minutes: Iterable[int], hours_a_week: float | None, day: date) -> tuple[Planned, ...]:
    """Of tasks in their order. The hours are spread over all days of a week alike, and a day that is begun counts as whole.

    Raises ValueError for hours that are less than nothing or no number.
    """
    if hours_a_week is not None and not (isfinite(hours_a_week) and hours_a_week >= 0):
        raise ValueError(f"nobody has {hours_a_week} hours a week")
    every = list(minutes)
    ends = list(accumulate(every))
    done = [_done_on(end, hours_a_week, day) for end in ends]
    return tuple(Planned(end - one, end, on, bool(hours_a_week) and on is None) for one, end, on in zip(every, ends, done, strict=True))


def days_of(minutes: int, hours_a_week: float) -> float:
    """So many days from now that much work is done; without the dust of floating point."""
    return round(minutes * _DAYS / (hours_a_week * _MINUTES), 9)


def _done_on(minutes: int, hours_a_week: float | None, day: date) -> date | None:
    if not hours_a_week:
        return None
    days = days_of(minutes, hours_a_week)
    return day + timedelta(days=ceil(days)) if days <= (horizon(day) - day).days else None
