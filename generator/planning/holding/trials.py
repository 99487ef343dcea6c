"""What has become of a trial: of how many planned pieces how many were fitted, for how long, how they held, and what still sits."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from generator.planning.holding.parts import HoldingFigures, figures_among
from generator.planning.holding.pieces import FittedUpTo, Piece, fitted_pieces
from generator.records.approvals import (
    AcceptanceRefused,
    Approval,
    ApprovalRefused,
    Approved,
    Event,
    FittedPieces,
    Superseded,
    TrialClosed,
    TrialOpened,
    TrialResult,
    Withdrawn,
)
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, doubt
from generator.rules.permits import begins, covers


class Course(StrEnum):
    """How a trial stands on a day."""

    AHEAD = "ahead"
    """Its first day is to come."""
    RUNNING = "running"
    PASSED = "passed"
    FAILED = "failed"
    BROKEN_OFF = "broken off"
    UNSAID = "unsaid"
    """It is over, and nobody has said how it went."""


_COURSES = {TrialResult.PASSED: Course.PASSED, TrialResult.FAILED: Course.FAILED, TrialResult.BROKEN_OFF: Course.BROKEN_OFF}


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialEnd:
    """The event that ended a trial."""

    event: Event
    index: int
    """Of the record's events, from 0."""

    @property
    def result(self) -> TrialResult | None:
        return self.event.result if isinstance(self.event, TrialClosed) else None

    @property
    def fitted_pieces(self) -> FittedPieces | None:
        return self.event.fitted_pieces if isinstance(self.event, TrialClosed) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A trial as it stands on a day, with the pieces of its revision that were fitted on its vehicles and places while it ran."""

    event: TrialOpened
    ended: TrialEnd | None
    course: Course
    first_day: date
    last_day: date
    """The day that ended it, else the last that it was given."""
    days: int
    """How long it has run; 0 on its first day."""
    figures: HoldingFigures
    """As they stood at its end, or stand while it lasts."""
    came_off: int
    """Of its pieces, up to the day, for whatever reason."""
    sitting: tuple[Piece, ...]
    """Of its pieces, those on the vehicles on the day."""

    @property
    def is_to_come_off(self) -> bool:
        """Whether pieces sit there that the end of the trial has said are to come off."""
        return bool(self.sitting) and self.ended is not None and self.ended.fitted_pieces is FittedPieces.COME_OFF

    @property
    def vehicles(self) -> tuple[str, ...]:
        """On which pieces sit, each with its fleet."""
        return tuple(sorted({f"{piece.spot.fleet} {piece.spot.vehicle}" for piece in self.sitting}))


def trials_of(number: str, approval: Approval | None, catalogue: Catalogue, day: date) -> tuple[Trial, ...]:
    """Every trial of a part that was opened up to `day`, the newest first."""
    events = [event for event in approval.events if event.on <= day] if approval else []
    if not any(isinstance(event, TrialOpened) for event in events):
        return ()
    fitted, batches = fitted_pieces(catalogue.production, day), catalogue.production.of_part(number)
    return tuple(_trial(event, ended, _pieces(event, ended, batches, fitted), day) for event, ended in reversed(list(_walked(events))))


def _walked(events: Iterable[Event]) -> Iterable[tuple[TrialOpened, TrialEnd | None]]:
    """Every trial with what ended it, the first opened first."""
    opened: dict[int, TrialOpened] = {}
    ended: dict[int, TrialEnd] = {}
    for index, event in enumerate(events):
        for at, trial in opened.items():
            if at not in ended and _ends(event, trial):
                ended[at] = TrialEnd(event=event, index=index)
        if isinstance(event, TrialOpened):
            opened[index] = event
    return [(trial, ended.get(at)) for at, trial in opened.items()]


def _ends(event: Event, trial: TrialOpened) -> bool:
    """As rules/history.py has it: a refusal ends a trial too."""
    if isinstance(event, Approved | TrialOpened):
        return trial.on in event.replaces
    return isinstance(event, TrialClosed | AcceptanceRefused | ApprovalRefused | Withdrawn | Superseded)


def _pieces(event: TrialOpened, ended: TrialEnd | None, batches: Mapping[str, Batch], fitted: FittedUpTo) -> list[Piece]:
    of_revision: Collection[str] = [name for name, batch in batches.items() if batch.revision == event.revision]
    last = _last_day(event, ended)
    return [
        piece
        for piece in fitted.of(of_revision)
        if begins(event) <= piece.fitted_on <= last and covers(event.scope, piece.spot.fleet, piece.spot.place, piece.spot.vehicle)
    ]


def _last_day(event: TrialOpened, ended: TrialEnd | None) -> date:
    return min(event.valid_until, ended.event.on) if ended else event.valid_until


def _trial(event: TrialOpened, ended: TrialEnd | None, pieces: list[Piece], day: date) -> Trial:
    last = _last_day(event, ended)
    until = min(last, day)
    return Trial(
        event=event,
        ended=ended,
        course=_course(event, ended, day),
        first_day=begins(event),
        last_day=last,
        days=max(0, (until - begins(event)).days),
        figures=figures_among(pieces, until),
        came_off=sum(piece.off_on is not None for piece in pieces),
        sitting=tuple(piece for piece in pieces if piece.off_on is None),
    )


def _course(event: TrialOpened, ended: TrialEnd | None, day: date) -> Course:
    if ended:
        return _COURSES[ended.result] if ended.result else Course.UNSAID
    if day < begins(event):
        return Course.AHEAD
    return Course.RUNNING if day <= event.valid_until else Course.UNSAID


def trial_doubts(trials: Iterable[Trial]) -> tuple[Problem, ...]:
    """Pieces of a trial that were to come off and sit on vehicles still, at the event that said so."""
    return tuple(
        doubt("TRIAL01", "still fitted", path=("events", each.ended.index), pieces=len(each.sitting), vehicles=each.vehicles, on=each.ended.event.on)
        for each in trials
        if each.ended and each.is_to_come_off
    )
