"""The dated events of an approval → stage, who holds it, since when, what is missing next, and what is permitted."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date
from enum import StrEnum

from generator.records.approvals import (
    AcceptanceGiven,
    AcceptanceRefused,
    Approval,
    ApprovalRefused,
    Approved,
    ChangeAccepted,
    ConditionAdded,
    ConditionLifted,
    DesignStarted,
    DocumentsComplete,
    Event,
    PrototypePrinted,
    QuestionAnswered,
    QuestionAsked,
    Renewed,
    Route,
    SentForAcceptance,
    SentToAuthority,
    SentToTechnicalReview,
    Superseded,
    TakenOver,
    TakeOverConfirmed,
    TrialClosed,
    TrialOpened,
    TrialResult,
    Withdrawn,
)
from generator.records.conditions import Condition, as_condition
from generator.records.evidence import Evidence
from generator.records.problems import Problem, wrong
from generator.rules.canonical import from_record
from generator.rules.older_stock import Settled, settled
from generator.rules.order import complaints
from generator.rules.permits import Permit, Tried
from generator.rules.way import Way


class Stage(StrEnum):
    """Where the way to approval stands, in the trade's words."""

    DESIGN = "design"
    PROTOTYPE = "prototype"
    ACCEPTANCE = "customer acceptance"
    DOCUMENTS = "documents"
    TECHNICAL_REVIEW = "technical review"
    AUTHORITY_REVIEW = "authority review"
    TAKEN_OVER = "taken over"
    APPROVED = "approved"
    LAPSED = "lapsed"
    CHANGED = "changed since approval"
    WITHDRAWN = "withdrawn"
    SUPERSEDED = "superseded"
    UNREAD = "cannot be read"
    """Of a record that cannot be read: nobody knows at which step it is (sheet.py)."""


class Holder(StrEnum):
    """Whose move it is."""

    SPECIALIST = "specialist"
    CUSTOMER = "customer"
    AUTHORITY = "authority"
    NOBODY = "nobody"


HOLDERS = {
    Stage.DESIGN: Holder.SPECIALIST,
    Stage.PROTOTYPE: Holder.SPECIALIST,
    Stage.ACCEPTANCE: Holder.CUSTOMER,
    Stage.DOCUMENTS: Holder.SPECIALIST,
    Stage.TECHNICAL_REVIEW: Holder.CUSTOMER,
    Stage.AUTHORITY_REVIEW: Holder.AUTHORITY,
}

# The stage that an event opens; the others leave it as it is.
OPENS: dict[type[Event], Stage] = {
    DesignStarted: Stage.DESIGN,
    PrototypePrinted: Stage.PROTOTYPE,
    SentForAcceptance: Stage.ACCEPTANCE,
    AcceptanceGiven: Stage.DOCUMENTS,
    AcceptanceRefused: Stage.PROTOTYPE,
    DocumentsComplete: Stage.DOCUMENTS,
    SentToTechnicalReview: Stage.TECHNICAL_REVIEW,
    SentToAuthority: Stage.AUTHORITY_REVIEW,
    ApprovalRefused: Stage.DOCUMENTS,
    TakenOver: Stage.TAKEN_OVER,
    Approved: Stage.APPROVED,
    Withdrawn: Stage.WITHDRAWN,
    Superseded: Stage.SUPERSEDED,
}


IN_REVIEW = (Stage.TECHNICAL_REVIEW, Stage.AUTHORITY_REVIEW)


@dataclass(frozen=True, slots=True)
class Stay:
    """A step of the way that began on a day; `left` is None while it lasts."""

    stage: Stage
    entered: date
    left: date | None


@dataclass(slots=True)
class History:
    """What the events amount to."""

    route: Route
    stage: Stage = Stage.DESIGN
    since: date | None = None
    holder: Holder = Holder.SPECIALIST
    question_open: bool = False
    assessment: tuple[Evidence, ...] = ()
    """The safety assessment report that stands on the way since its last start."""
    accepted: tuple[Evidence, ...] | None = None
    """The papers of the customer's acceptance since the last start; None without an acceptance."""
    permits: list[Permit] = field(default_factory=list)
    endings: tuple[Withdrawn | Superseded, ...] = ()
    """Withdrawals and supersessions, oldest first: each has ended every permit before it, for good."""
    tried: tuple[Tried, ...] = ()
    """Trials that have ended without having passed, and those that still stand."""
    revisions: tuple[str, ...] = ()
    """Every revision that was ever approved or tried, in that order."""
    older_stock: Settled = field(default_factory=dict)
    submitted: str | None = None
    """The canonical text of the last submission."""
    reviewed: dict[type[Event], str | None] = field(default_factory=dict)
    """The text that lies before each reviewer."""
    documents_complete: bool = False
    """Whether the documents have been completed since the last start."""
    stays: list[Stay] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    """Each with the path to its event."""

    @property
    def approval(self) -> Permit | None:
        """The newest approval that stands."""
        return next((permit for permit in reversed(self.permits) if not permit.is_trial), None)

    @property
    def awaits(self) -> bool:
        """Whether a letter was taken over, and nobody has confirmed yet what it speaks of."""
        return any(permit.awaits for permit in self.permits)

    @property
    def superseded_by(self) -> str | None:
        """The part that takes its place, while nothing was approved since."""
        found = [each for each in self.endings if isinstance(each, Superseded)]
        return found[-1].superseded_by if found and self.approval is None else None


def history(approval: Approval | None, day: date) -> History:
    """Walk through the events in the order written; what cannot have happened so becomes a problem.

    Events after `day` are problems and are not counted.
    """
    walk = _Walk(approval.route if approval else Route.CUSTOMER)
    last: date | None = None
    for index, event in enumerate(approval.events if approval else ()):
        if event.on > day:
            walk.problem(index, wrong("APPR02", "to come", on=event.on))
            continue
        if last and event.on < last:
            walk.problem(index, wrong("APPR01", "out of order", on=event.on, last=last))
        last = max(last, event.on) if last else event.on
        walk.take(index, event)
    return walk.ended()


def event_of(problem: Problem) -> int:
    """The index of the event that a problem of a history speaks of."""
    return int(problem.path[1])


def _without(conditions: list[Condition], text: str) -> list[Condition]:
    """Without the first that has this text."""
    first = next(index for index, each in enumerate(conditions) if each.text == text)
    return conditions[:first] + conditions[first + 1 :]


class _Walk:
    """One pass through the events."""

    def __init__(self, route: Route) -> None:
        self.told = History(route=route)
        self.way = Way(route)

    def ended(self) -> History:
        told = self.told
        told.permits, told.question_open = self.way.permits, self.way.questions_open > 0
        told.tried += tuple(
            Tried(permit.event) for permit in told.permits if isinstance(permit.event, TrialOpened)
        )
        told.assessment, told.accepted = self.way.assessment, self.way.accepted
        told.submitted, told.reviewed = self.way.walked.submitted, self.way.walked.reviewed
        told.documents_complete = DocumentsComplete in self.way.done
        told.holder = Holder.SPECIALIST if told.question_open else self.holder()
        return told

    def holder(self) -> Holder:
        """Whose move it is; a letter that was taken over awaits whoever acts for its approver."""
        if self.told.stage is Stage.TAKEN_OVER:
            return Holder.AUTHORITY if self.told.route is Route.AUTHORITY else Holder.CUSTOMER
        return HOLDERS.get(self.told.stage, Holder.NOBODY)

    def problem(self, index: int, found: Problem) -> None:
        self.told.problems.append(replace(found, path=("events", index)))

    def enter(self, stage: Stage, on: date) -> None:
        told = self.told
        if told.stays:
            told.stays[-1] = replace(told.stays[-1], left=on)
        told.stays.append(Stay(stage, on, None))
        told.stage, told.since = stage, on

    def take(self, index: int, event: Event) -> None:
        for found in complaints(event, self.way):
            self.problem(index, found)
        self.move(event)
        self.settle(index, event)
        self.way.note(event)

    def move(self, event: Event) -> None:
        """Enter the stage that the event opens; the first paper of an acceptance, filed during a review, takes nothing back from it."""
        is_late_paper = isinstance(event, AcceptanceGiven) and bool(event.evidence) and self.way.accepted == ()
        if is_late_paper and self.told.stage in IN_REVIEW:
            return
        stage = OPENS.get(type(event))
        still = stage is Stage.DOCUMENTS and self.told.stage is Stage.DOCUMENTS
        if stage and not (still and not isinstance(event, ApprovalRefused)):
            self.enter(stage, event.on)

    def settle(self, index: int, event: Event) -> None:
        """What the event does to the permits."""
        told, way = self.told, self.way
        told.older_stock = settled(told.older_stock, event, way.approved)
        self.change(index, event)
        match event:
            case Approved() | TrialOpened():
                self.permit(index, event)
            case TakenOver():
                self.take_over(index, event)
            case TakeOverConfirmed() if len(awaiting := way.confirmed_by(event)) == 1:
                self.confirm(index, event, awaiting[0])
            case TrialClosed() | AcceptanceRefused() | ApprovalRefused():
                self.end_trials(index, event, way.permits)
                way.permits = way.approvals
            case QuestionAsked():
                for permit in way.permits:
                    permit.questions.append(event.on)
            case QuestionAnswered():
                for permit in way.permits:
                    del permit.questions[:1]
            case Withdrawn() | Superseded():
                told.endings += (event,)
                way.permits = []

    def change(self, index: int, event: Event) -> None:
        """What the event adds to permits that stand, or takes from them."""
        way = self.way
        match event:
            case Renewed() if len(meant := way.renewed_by(event)) == 1:
                meant[0].valid_until = event.valid_until
                meant[0].evidence_kept &= bool(event.evidence)
                meant[0].letters += event.evidence
                meant[0].prolonged += event.evidence
            case ChangeAccepted() if len(meant := way.renewed_by(event)) == 1 and not meant[0].awaits:
                meant[0].text, meant[0].bound_at = from_record(event.approved_as), index
                meant[0].evidence_kept &= bool(event.evidence)
                meant[0].letters += event.evidence
            case ConditionAdded():
                for permit in way.conditioned_by(event):
                    permit.conditions.append(condition := as_condition(event.condition))
                    permit.set_by[condition.text] = event.evidence
                    permit.letters += event.evidence
            case ConditionLifted():
                for permit in way.freed_by(event):
                    permit.conditions = _without(permit.conditions, event.condition)
                    permit.evidence_kept &= bool(event.evidence)
                    permit.letters += event.evidence

    def end_trials(self, index: int, event: Event, permits: Iterable[Permit]) -> None:
        """Remember the trials among the permits that end here, but for those that have passed."""
        result = event.result if isinstance(event, TrialClosed) else None
        ended = [permit.event for permit in permits if isinstance(permit.event, TrialOpened)]
        if result is not TrialResult.PASSED:
            self.told.tried += tuple(Tried(each, result, event.on, index) for each in ended)

    def permit(self, index: int, event: Approved | TrialOpened) -> None:
        told, way = self.told, self.way
        self.end_trials(index, event, (each for each in way.permits if each.event.on in event.replaces))
        told.revisions += () if event.revision in told.revisions else (event.revision,)
        way.permits = way.without_replaced(event)
        is_reviewed = way.walked.is_reviewed(way.route)
        if isinstance(event, Approved):
            way.end_older(event)
        way.permits.append(
            Permit(
                event=event,
                index=index,
                text=from_record(event.approved_as),
                bound_at=index,
                valid_until=event.valid_until,
                conditions=[as_condition(each) for each in event.conditions],
                set_by={as_condition(each).text: event.evidence for each in event.conditions},
                authority_asked=way.route is Route.AUTHORITY and SentToAuthority in way.done,
                assessment=way.assessment,
                evidence_kept=bool(event.evidence),
                letters=list(event.evidence),
                reviewed=is_reviewed,
            )
        )

    def take_over(self, index: int, event: TakenOver) -> None:
        """A permit that binds nothing yet. How long the steps took that it stands for nobody knows, so none is told."""
        told = self.told
        told.stays = told.stays[-1:]
        told.revisions += () if event.revision in told.revisions else (event.revision,)
        self.way.permits.append(
            Permit(
                event=event,
                index=index,
                text="",
                bound_at=index,
                valid_until=event.valid_until,
                conditions=[as_condition(each) for each in event.conditions],
                set_by={as_condition(each).text: event.evidence for each in event.conditions},
                authority_asked=False,
                assessment=(),
                evidence_kept=bool(event.evidence),
                letters=list(event.evidence),
            )
        )

    def confirm(self, index: int, event: TakeOverConfirmed, permit: Permit) -> None:
        """From now on the letter binds what lies here; it is approved since the letter's own day."""
        permit.confirmed, permit.text, permit.bound_at = event, from_record(event.approved_as), index
        permit.letters += event.evidence
        taken = permit.event
        if self.told.stage is Stage.TAKEN_OVER and isinstance(taken, TakenOver) and not any(each.awaits for each in self.way.permits):
            self.enter(Stage.APPROVED, event.on)
            self.told.since = taken.letter_of
