"""A permit (an approval or a trial) as the events since have left it, and what else it speaks of."""

from dataclasses import dataclass, field
from datetime import date

from generator.records.approvals import Approved, Scope, TrialOpened
from generator.records.evidence import Evidence
from generator.records.fleets import vehicles_in


@dataclass(slots=True)
class Permit:
    """A permit as the events since have left it."""

    event: Approved | TrialOpened
    index: int
    text: str
    """The canonical text that it binds: its own, or the newer one that whoever gave it has accepted since."""
    bound_at: int
    """How many events had happened when that text was bound."""
    valid_until: date | None
    """None: no end is recorded. `open_ended` tells whether the approval itself says so."""
    conditions: list[str]
    authority_asked: bool
    assessed: bool
    """Whether the safety assessment report stood on the way when it was given."""
    evidence_kept: bool
    """Whether evidence is named for the permit and for everything that has made it wider since."""
    letters: list[Evidence] = field(default_factory=list)
    """Its own letter, and those of what the events since have made of it."""

    @property
    def is_trial(self) -> bool:
        return isinstance(self.event, TrialOpened)

    @property
    def open_ended(self) -> bool:
        return isinstance(self.event, Approved) and self.event.open_ended and self.valid_until is None

    def lasts_on(self, day: date) -> bool:
        return self.valid_until is None or self.valid_until >= day


def covers(scope: tuple[Scope, ...], fleet: str, place: str, vehicle: int) -> bool:
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
