"""A permit (an approval or a trial) as the events since have left it, and what else it speaks of."""

from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from generator.records.approvals import (
    Approved,
    Scope,
    TakenOver,
    TakeOverConfirmed,
    TrialOpened,
    TrialResult,
)
from generator.records.conditions import Condition
from generator.records.evidence import Evidence
from generator.records.vehicles import vehicles_in


@dataclass(slots=True)
class Permit:
    """A permit as the events since have left it."""

    event: Approved | TrialOpened | TakenOver
    index: int
    text: str
    """The canonical text that it binds: its own, or the newer one that whoever gave it has accepted since; of a letter
    that was taken over, the one that was confirmed, and until then none, which is empty."""
    bound_at: int
    """How many events had happened when that text was bound."""
    valid_until: date | None
    """None: no end is recorded. `open_ended` tells whether the approval itself says so."""
    conditions: list[Condition]
    authority_asked: bool
    assessment: tuple[Evidence, ...]
    """The safety assessment report that stood on the way when it was given; empty where none did."""
    evidence_kept: bool
    """Whether evidence is named for the permit and for everything that has made it wider since."""
    prolonged: list[Evidence] = field(default_factory=list)
    """The letters that prolong it."""
    set_by: dict[str, tuple[Evidence, ...]] = field(default_factory=dict)
    """The letters that set its conditions, by the condition's text."""
    letters: list[Evidence] = field(default_factory=list)
    """Its own letter, and those of what the events since have made of it."""
    questions: list[date] = field(default_factory=list)
    """The days of the questions that were asked after it and are not answered; an answer settles the oldest."""
    reviewed: bool = False
    """Whether it is written down what lay before its reviewers; a trial needs none."""
    ended_by: list[Approved] = field(default_factory=list)
    """Newer approvals of the same revision: what they speak of, this one never speaks of again."""
    confirmed: TakeOverConfirmed | None = None
    """Of a letter that was taken over: who has confirmed that it speaks of what lies here."""

    @property
    def question_since(self) -> date | None:
        return self.questions[0] if self.questions else None

    @property
    def is_trial(self) -> bool:
        return isinstance(self.event, TrialOpened)

    @property
    def awaits(self) -> bool:
        """Whether it is a letter that was taken over, and nobody has confirmed yet what it speaks of."""
        return isinstance(self.event, TakenOver) and self.confirmed is None

    @property
    def open_ended(self) -> bool:
        return isinstance(self.event, Approved | TakenOver) and self.event.open_ended and self.valid_until is None

    def held(self, text: str) -> Condition | None:
        """The condition with this text, word for word."""
        return next((each for each in self.conditions if each.text == text), None)

    @property
    def begins(self) -> date:
        return begins(self.event)

    def speaks_of(self, fleet: str, place: str, vehicle: str) -> bool:
        """Whether it still speaks of a vehicle and place: what a newer approval speaks of it has left for good.

        Until a newer one begins that was given ahead, the older one goes on; see `until_newer`.
        """
        newer = (each for each in self.ended_by if covers(each.scope, fleet, place, vehicle))
        return covers(self.event.scope, fleet, place, vehicle) and all(begins(each) > each.on for each in newer)

    def until_newer(self, fleet: str, place: str, vehicle: str) -> date | None:
        """The last day before a newer approval, given ahead, speaks in its place; None where there is none."""
        newer = (begins(each) for each in self.ended_by if covers(each.scope, fleet, place, vehicle))
        return min((day - timedelta(days=1) for day in newer), default=None)

    def ending_on(self, day: date | None) -> "Permit":
        """The permit as it holds until that day, where it does not end before."""
        is_shorter = day is not None and (self.open_ended or (self.valid_until is not None and day < self.valid_until))
        return replace(self, valid_until=day) if is_shorter else self

    def lasts_on(self, day: date) -> bool:
        return self.valid_until is None or self.valid_until >= day


@dataclass(frozen=True, slots=True)
class Tried:
    """A trial that has not passed, or not yet: how it ended, where it did, and at which event of the record."""

    event: TrialOpened
    result: TrialResult | None = None
    ended_on: date | None = None
    """None where no event ended it: it lasts until its last day, and then nobody has said how it went."""
    ended_at: int | None = None

    @property
    def last_day(self) -> date:
        """The last day on which nothing speaks against the revision."""
        until = self.event.valid_until
        return until if self.ended_on is None else min(until, self.ended_on - timedelta(days=1))

    def speaks_against(self, approval: Permit) -> bool:
        """Whether the approval was given before it ended: a later one of that revision has seen how it went."""
        if approval.is_trial or approval.event.revision != self.event.revision:
            return False
        if self.ended_at is None:
            return approval.event.on <= self.event.valid_until
        return approval.index < self.ended_at


def begins(event: Approved | TrialOpened | TakenOver) -> date:
    """The first day of a permit: never before it was given, nor before it stood in this record."""
    if isinstance(event, TakenOver):
        return event.on
    return max(event.on, event.valid_from or event.on)


def covers(scope: tuple[Scope, ...], fleet: str, place: str, vehicle: str) -> bool:
    """Whether a scope names a vehicle and place.

    What it does not name it does not speak of: "all" would grow with every vehicle and place that comes later.
    """
    return any(
        each.fleet == fleet and vehicle in vehicles_in(each.vehicles) and place in each.places
        for each in scope
    )


def overlap(one: tuple[Scope, ...], other: tuple[Scope, ...]) -> bool:
    """Whether two scopes speak of the same vehicles and places."""
    return any(
        a.fleet == b.fleet
        and set(vehicles_in(a.vehicles)) & set(vehicles_in(b.vehicles))
        and set(a.places) & set(b.places)
        for a in one
        for b in other
    )
