"""In which order are tasks done, and which of them fit into the time there is?

Weighted shortest processing time: sorted by value for a unit of time ÷ time, the sum of all values times when each is done
is the least. Smith, W. E. (1956), Various optimizers for single-stage production, Naval Research Logistics Quarterly 3, 59–66.
A task that is of use only with others (the papers of one submission, the steps that are still to come on a way) counts as all
of them together, so that a quick beginning of a long way does not stand before what is nearly done; within such a chain its own
order stays. Days to keep come before all ratios, the earliest first, by which the greatest lateness is the least: Jackson's rule
(1955, from memory). A day that is lost whatever is done today is none to keep: each week of delay costs one week more without, which is
what Smith's rule weighs (deadlines.py).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighedJob:
    """What the order is made by.

    `value` is lost for each week until the whole chain is done, which takes `chain_minutes` of own work; this piece of it takes
    `minutes`. `latest` is a day's ordinal, where the chain has to be begun now or it is missed, and is not missed in any case.
    """

    key: tuple[str | int, ...]
    """Tells it from the others, and stands for its place within its chain."""
    chain: str
    minutes: int
    chain_minutes: int
    value: Decimal
    latest: int | None = None
    due: int | None = None
    """A day's ordinal that is still to come, by which the chain has to be done (kept.py); the order itself asks nothing of it."""

    @property
    def ratio(self) -> Fraction | None:
        """Value a week for each minute of own work; None where it takes no time and has a value: nothing comes before it."""
        if self.chain_minutes:
            return Fraction(self.value) / self.chain_minutes
        return None if self.value else Fraction(0)


@dataclass(frozen=True, slots=True)
class Slot:
    """A task and how many minutes go into it now."""

    job: WeighedJob
    minutes: int

    @property
    def is_begun(self) -> bool:
        """Whether it is only begun."""
        return self.minutes < self.job.minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenTasks:
    """What is done in a stretch of time, in this order."""

    slots: tuple[Slot, ...]
    skipped: tuple[WeighedJob, ...]
    """Whose turn it was before the last of these, and that do not fit."""
    waiting: int
    """How many are left, with those skipped."""

    @property
    def minutes(self) -> int:
        return sum(slot.minutes for slot in self.slots)


def in_order(jobs: Iterable[WeighedJob]) -> list[WeighedJob]:
    """By Smith's rule, behind those with a day to keep. Raises ValueError for minutes or a value of less than nothing.

    Equal ones: the shorter chain first, then by name, so that nobody's order of handing over tells.
    """
    every = list(jobs)
    if any(job.minutes < 0 or job.chain_minutes < job.minutes or job.value < 0 for job in every):
        raise ValueError("no task takes less than nothing, and no chain less than its pieces; neither has a value of less than nothing")
    return sorted(every, key=_place)


def _place(job: WeighedJob) -> tuple[object, ...]:
    ratio = job.ratio
    days = (0, job.latest) if job.latest is not None else (1, 0)
    return (*days, ratio is not None, -(ratio or 0), job.chain_minutes, job.chain, job.key)


def fitting(order: Sequence[WeighedJob], minutes: int) -> ChosenTasks:
    """Those that fit, each in its turn; one that does not is skipped. Where none fits, the first is begun. ValueError for no minutes."""
    if minutes <= 0:
        raise ValueError(f"in {minutes} minutes nothing is done")
    slots, left, last = list[Slot](), minutes, -1
    for at, job in enumerate(order):
        if job.minutes <= left:
            slots.append(Slot(job, job.minutes))
            left, last = left - job.minutes, at
    if order and not slots:
        slots, last = [Slot(order[0], minutes)], 0
    taken = {slot.job.key for slot in slots}
    return ChosenTasks(slots=tuple(slots), skipped=tuple(job for job in order[:last] if job.key not in taken), waiting=len(order) - len(slots))
