"""Until when must something be begun, so that it is done before a day? Counted backwards from how long it takes.

Nobody knows how long a review takes; the forecast gives a chance for each number of days. What is begun on the latest start is
done by the last day in four of five cases.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.planning.waiting import quantile_day

SURE_ENOUGH: Final = 0.8
"""What is done in time with less is pressing: a chance of 20 % to lapse. What is too late with as much although it is begun today is
lost: beginning it today keeps the day no more (common practice, no source)."""
WEEK_DAYS: Final = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Deadline:
    last_day: date
    latest_start: date | None
    """None where history does not tell how long four of five take."""
    chance: float
    """That it lapses although it is begun today, 0 to 1."""
    in_a_week: float
    """The same, begun a week later."""
    delayed: float
    """How much of a week of delay is a week longer without it, 0 to 1: what the last day leaves of it on average."""
    is_pressing: bool
    """Tomorrow would be too late, or may be, and today is not."""

    @property
    def is_lost(self) -> bool:
        """The last day has passed, or will have in all likelihood: a week of delay changes for how long it lacks, not whether."""
        return self.chance >= SURE_ENOUGH


def deadline(chances: NDArray[np.float64], last_day: date, day: date) -> Deadline:
    """chances: of a duration of exactly 0, 1, … days, begun today; what is missing from their sum lasts longer than all of them."""
    needed, left = quantile_day(chances, SURE_ENOUGH), (last_day - day).days
    latest = last_day - timedelta(days=needed) if needed is not None else None
    chance = _longer_than(chances, left)
    return Deadline(
        last_day=last_day,
        latest_start=latest,
        chance=chance,
        in_a_week=_longer_than(chances, left - WEEK_DAYS),
        delayed=_delayed(chances, left),
        is_pressing=chance < SURE_ENOUGH and (latest is None or latest <= day),
    )


def _delayed(chances: NDArray[np.float64], left: int) -> float:
    """E[(T + 7 - left)⁺ - (T - left)⁺] / 7 = the mean of P(T > left - k) over the days k = 1 … 7 of the week."""
    return round(sum(_longer_than(chances, left - each) for each in range(1, WEEK_DAYS + 1)) / WEEK_DAYS, 9)


def _longer_than(chances: NDArray[np.float64], days: int) -> float:
    """P(T > days)."""
    in_time = float(chances[: days + 1].sum()) if days >= 0 else 0.0
    return round(min(1.0, max(0.0, 1.0 - in_time)), 9)
