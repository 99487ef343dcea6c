"""What gets done by when, if so many hours a week go into it, one task after the other?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate
from math import ceil, isfinite

_DAYS = 7
_MINUTES = 60


@dataclass(frozen=True, slots=True)
class Planned:
    """From which minute of own work to which, counted from now, and the day on which it is done."""

    begins: int
    ends: int
    done_on: date | None
    """None where the depot states no hours, or none that would ever reach it."""


def planned(minutes: Iterable[int], hours_a_week: float | None, day: date) -> tuple[Planned, ...]:
    """Of tasks in their order. The hours are spread over all days of a week alike, and a day that is begun counts as whole.

    Raises ValueError for hours that are less than nothing or no number.
    """
    if hours_a_week is not None and not (isfinite(hours_a_week) and hours_a_week >= 0):
        raise ValueError(f"nobody has {hours_a_week} hours a week")
    every = list(minutes)
    ends = list(accumulate(every))
    return tuple(Planned(end - one, end, _done_on(end, hours_a_week, day)) for one, end in zip(every, ends, strict=True))


def _done_on(minutes: int, hours_a_week: float | None, day: date) -> date | None:
    if not hours_a_week:
        return None
    try:
        return day + timedelta(days=ceil(round(minutes * _DAYS / (hours_a_week * _MINUTES), 9)))
    except OverflowError:
        return None
