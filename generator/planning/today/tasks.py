"""What is there to do for the specialist? Each task with its own minutes, what a week of delay costs, and a day to keep, if any.

Nothing is written down anew: tasks are what the overview misses (planning/overview.py, unfit.py), what ends before a review could
come back, open requests, fire tests that would free parts, and batches that wait.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from generator.planning.money import cents
from generator.planning.overview import Missing, OverviewRow
from generator.planning.today.deadlines import Deadline
from generator.planning.today.guesses import Minutes, OwnWork
from generator.planning.today.order import WeighedJob, in_order
from generator.planning.today.worth import Worth


class TaskKind(StrEnum):
    """Where a task comes from."""

    WAY = "a step of the way to an approval"
    UNFIT = "approved, yet not to be fitted"
    KEEP = "something ends"
    REMIND = "somebody else's move"
    REQUEST = "a request"
    TEST = "fire tests that would free parts"
    BATCH = "a batch that waits"
    RECORD = "a record with mistakes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    kind: TaskKind
    number: str
    """Of the part, request or batch; of a material that several parts share its id; of fire tests theirs on the page; a record's file."""
    what: str
    """What is to be done: the name of a Missing in small letters, the id of a question, of a Lapsing, or a word of its own."""
    work: OwnWork
    minutes: Minutes
    """Of own work now."""
    after: int = 0
    """Minutes of own work that are still to come before it is of use."""
    place: int = 0
    """Among the pieces of its chain."""
    worths: Mapping[str, Worth] = field(default_factory=dict)
    """What each part or request concerned is worth, by its number."""
    share: Decimal = Decimal(1)
    """How much of a week a week of delay costs: for how much of it something lacks longer, or the chance that a reminder helps."""
    stops_others: bool = False
    """Of a batch: pieces of others lie on the shelf, and are asked about until this one is settled."""
    deadline: Deadline | None = None
    row: OverviewRow | None = None

    @property
    def chain(self) -> str:
        return f"{self.number} {self.kind.name if self.kind not in (TaskKind.WAY, TaskKind.UNFIT) else ''}".strip()

    @property
    def whole_minutes(self) -> int:
        """Of own work until it is of use."""
        return self.minutes.minutes + self.after

    @property
    def value_a_week(self) -> Decimal:
        """What a week of delay costs, in the depot's currency, to a cent."""
        return cents(sum((each.a_week for each in self.worths.values()), Decimal(0)) * self.share)

    @property
    def is_needed(self) -> bool:
        """Whether anybody loses anything without it."""
        return any(each.a_week for each in self.worths.values())

    @property
    def is_pressing(self) -> bool:
        """Not of what nobody needs: it may lapse; nor where the day is lost, for then Smith's rule says it all."""
        return self.deadline is not None and self.deadline.is_pressing and self.is_needed

    def job(self, day: date) -> WeighedJob:
        latest = (self.deadline.latest_start or day).toordinal() if self.deadline and self.is_pressing else None
        return WeighedJob(
            key=(self.chain, self.place, self.what),
            chain=self.chain,
            minutes=self.minutes.minutes,
            chain_minutes=self.whole_minutes,
            value=self.value_a_week,
            latest=latest,
            due=self._due(),
        )

    def _due(self) -> int | None:
        keeps = self.deadline
        if keeps is None or keeps.latest_start is None or keeps.is_lost or keeps.is_pressing or not self.is_needed:
            return None
        return keeps.latest_start.toordinal()


def ordered(tasks: Iterable[Task], day: date) -> tuple[Task, ...]:
    """What presses first, then by Smith's rule; see order.py."""
    by_key = {task.job(day).key: task for task in tasks}
    return tuple(by_key[job.key] for job in in_order(task.job(day) for task in by_key.values()))


WAITS = frozenset({Missing.CUSTOMER_ANSWER, Missing.AUTHORITY_ANSWER, Missing.CONFIRMATION})
"""What somebody else has to do."""
