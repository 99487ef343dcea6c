"""Which days to keep does a plan miss, and what is put forward so that it misses as few as can be?

Smith's rule knows no day that is still to come (order.py); in few hours a week it would let such a day pass. So the order is made anew
from its end: last stands whatever the rule puts last and may still wait. Without a day missed that is the rule's own order; what has no
day keeps its order in any case (W. E. Smith's backward rule of 1956, with weights as given; from memory). Where not all days can be kept,
most are: J. M. Moore (1968), An n job, one machine sequencing algorithm, Management Science 15, 102–109 (from memory). What misses its
day all the same is not put forward, since that would help nobody.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from itertools import groupby
from operator import attrgetter

from generator.planning.today.deadlines import WEEK_DAYS, Deadline
from generator.planning.today.order import WeighedJob
from generator.planning.today.tasks import Task
from generator.planning.today.week import Planned, days_of


class Misses(StrEnum):
    """Which day a plan misses."""

    LATEST_START = "latest start"
    """Own work is done so late that it may lapse."""
    LAST_DAY = "last day"
    """It is done behind it, so it lapses."""


def due(keeps: Deadline, day: date) -> date:
    """Until when own work has to be done, so that the review, or whoever has it then, begins in time; of what presses within a week,
    for which the chances are told.
    """
    return keeps.latest_start if keeps.latest_start and keeps.latest_start > day else day + min(timedelta(days=WEEK_DAYS), date.max - day)


def misses(task: Task, plan: Planned, day: date) -> Misses | None:
    """None also of what nobody needs, and of a day that is lost whatever is done today. Only where hours are stated."""
    keeps = task.deadline
    if keeps is None or keeps.is_lost or not task.is_needed:
        return None
    if plan.done_on is None or plan.done_on > keeps.last_day:
        return Misses.LAST_DAY
    return Misses.LATEST_START if plan.done_on > due(keeps, day) else None


@dataclass(frozen=True, slots=True)
class _Unit:
    """The pieces of a chain that stand together, at their place by the rule: all of them have to be done by a day, if any."""

    at: int
    jobs: tuple[WeighedJob, ...]
    left: int | None
    """Days from now."""

    @property
    def minutes(self) -> int:
        return sum(job.minutes for job in self.jobs)


def in_time(order: Sequence[WeighedJob], hours_a_week: float | None, day: date) -> list[WeighedJob]:
    """The order with what has to be done by a day (`due`) put forward, if by that the day is kept; else as it is.

    What presses today (`latest`) stays in front of all.
    """
    front = [job for job in order if job.latest is not None]
    rest = [job for job in order if job.latest is None]
    if not hours_a_week or all(job.due is None for job in rest):
        return list(order)
    grouped = groupby(rest, key=attrgetter("chain", "due"))
    units = [_Unit(at, tuple(jobs), None if by is None else by - day.toordinal()) for at, ((_, by), jobs) in enumerate(grouped)]
    clock = _Clock(sum(job.minutes for job in front), hours_a_week)
    return [*front, *(job for unit in _backwards(units, clock.most(units), clock) for job in unit.jobs)]


def put_forward(before: Sequence[Task], after: Sequence[Task]) -> list[Task]:
    """What stands farther in front than by its worth: something that stood before it stands behind it now."""
    places = {id(task): at for at, task in enumerate(before)}
    least, found = len(before), list[Task]()
    for task in reversed(after):
        if places[id(task)] > least:
            found.append(task)
        least = min(least, places[id(task)])
    return found


@dataclass(frozen=True, slots=True)
class _Clock:
    front: int
    """Minutes before all of them."""
    hours: float

    def keeps(self, unit: _Unit, end: int) -> bool:
        """Whether it keeps its day if it is done so many minutes behind the front."""
        return unit.left is None or days_of(self.front + end, self.hours) <= unit.left

    def most(self, units: Iterable[_Unit]) -> frozenset[int]:
        """Places of those that keep their day, as many as can be: the soonest first, and the longest is left where one comes too late."""
        taken: list[_Unit] = []
        for unit in sorted((each for each in units if each.left is not None), key=lambda each: (each.left, each.at)):
            taken.append(unit)
            if not self.keeps(unit, sum(each.minutes for each in taken)):
                taken.remove(max(taken, key=lambda each: (each.minutes, each.at)))
        return frozenset(each.at for each in taken)


def _backwards(units: Iterable[_Unit], kept: frozenset[int], clock: _Clock) -> list[_Unit]:
    left, made = list(units), list[_Unit]()
    end = sum(unit.minutes for unit in left)
    while left:
        last = next((each for each in reversed(left) if each.at not in kept or clock.keeps(each, end)), left[-1])
        left.remove(last)
        made.append(last)
        end -= last.minutes
    return made[::-1]
