"""The dated events of an approval → stage, who holds it, since when, what is missing next, and what is permitted."""

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Any

from generator.records.approvals import (
    AcceptanceGiven,
    AcceptanceRefused,
    Approval,
    ApprovalRefused,
    Approved,
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
    TrialClosed,
    TrialOpened,
    Withdrawn,
)
from generator.records.fleets import vehicles_in
from generator.rules.fingerprint import fingerprint, from_record


class Stage(StrEnum):
    """Where the way to approval stands, in the trade's words."""

    DESIGN = "design"
    PROTOTYPE = "prototype"
    ACCEPTANCE = "customer acceptance"
    DOCUMENTS = "documents"
    TECHNICAL_REVIEW = "technical review"
    AUTHORITY_REVIEW = "authority review"
    APPROVED = "approved"
    LAPSED = "lapsed"
    CHANGED = "changed since approval"
    WITHDRAWN = "withdrawn"
    SUPERSEDED = "superseded"


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
    Stage.LAPSED: Holder.SPECIALIST,
    Stage.CHANGED: Holder.SPECIALIST,
}


@dataclass(slots=True)
class Standing:
    """A permit as the events since have left it."""

    event: Approved | TrialOpened
    index: int
    valid_until: date | None
    """None: no end is recorded. `open_ended` tells whether the approval itself says so."""
    conditions: list[str]
    authority_asked: bool
    evidence_kept: bool

    @property
    def is_trial(self) -> bool:
        return isinstance(self.event, TrialOpened)

    @property
    def open_ended(self) -> bool:
        return isinstance(self.event, Approved) and self.event.open_ended and self.valid_until is None


@dataclass(frozen=True, slots=True)
class OrderProblem:
    """An event that cannot have happened so, by its index in the record."""

    index: int
    code: str
    says: str
    fix: str


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
    permits: list[Standing] = field(default_factory=list)
    withdrawn_on: date | None = None
    withdrawn_for: str | None = None
    superseded_on: date | None = None
    superseded_by: str | None = None
    stays: list[Stay] = field(default_factory=list)
    problems: list[OrderProblem] = field(default_factory=list)

    @property
    def approval(self) -> Standing | None:
        """The newest approval that stands."""
        return next((permit for permit in reversed(self.permits) if not permit.is_trial), None)


def history(approval: Approval | None, day: date) -> History:
    """Walk through the events in the order written; what cannot have happened so becomes a problem.

    Events after `day` are problems and are not counted.
    """
    told = History(route=approval.route if approval else Route.CUSTOMER)
    walk = _Walk(told)
    last: date | None = None
    for index, event in enumerate(approval.events if approval else ()):
        if event.on > day:
            walk.problem(
                index,
                "APPR02",
                f"is dated {event.on}, which is still to come",
                "date it on the day it happened",
            )
            continue
        if last and event.on < last:
            fix = "events are only ever added at the end: put this one back where it stood, with its own date"
            walk.problem(index, "APPR01", f"is dated {event.on}, before the event above it ({last})", fix)
        last = max(last, event.on) if last else event.on
        walk.take(index, event)
    told.holder = Holder.SPECIALIST if told.question_open else HOLDERS.get(told.stage, Holder.NOBODY)
    return told


class _Walk:
    """One pass through the events; it remembers what has happened since the last start."""

    def __init__(self, told: History) -> None:
        self.told = told
        self.done: set[type[Event]] = set()

    def problem(self, index: int, code: str, says: str, fix: str) -> None:
        self.told.problems.append(OrderProblem(index, code, says, fix))

    def needs(self, index: int, event: Event, *before: type) -> None:
        """Complain where none of the kinds `before` has happened."""
        if not self.done.intersection(before):
            wanted = " or ".join(f"'{_word(kind)}'" for kind in before)
            fix = f"add the event {wanted} above it with its date, or take this one out"
            self.problem(index, "APPR03", f"says '{event.what}' without {wanted} before it", fix)

    def enter(self, stage: Stage, on: date) -> None:
        told = self.told
        if told.stays and told.stays[-1].left is None:
            told.stays[-1] = Stay(told.stays[-1].stage, told.stays[-1].entered, on)
        told.stays.append(Stay(stage, on, None))
        told.stage, told.since, told.question_open = stage, on, False

    def take(self, index: int, event: Event) -> None:
        self.check(index, event)
        self.apply(index, event)
        self.done.add(type(event))

    def check(self, index: int, event: Event) -> None:
        match event:
            case SentForAcceptance():
                self.needs(index, event, PrototypePrinted)
            case TrialOpened():
                self.needs(index, event, PrototypePrinted)
                self.check_fingerprint(index, event)
            case AcceptanceGiven() | AcceptanceRefused():
                self.needs(index, event, PrototypePrinted)
            case DocumentsComplete():
                self.needs(index, event, AcceptanceGiven)
            case SentToTechnicalReview():
                self.needs(index, event, DocumentsComplete)
            case SentToAuthority():
                self.needs(index, event, DocumentsComplete)
                self.check_authority_route(index)
            case QuestionAsked():
                self.needs(index, event, SentToTechnicalReview, SentToAuthority)
            case QuestionAnswered() if not self.told.question_open:
                self.problem(
                    index,
                    "APPR03",
                    "answers a question that nobody asked",
                    "add the event 'question asked' above it",
                )
            case Approved() | ApprovalRefused():
                self.check_approval(index, event)
            case Renewed() | ConditionAdded() | ConditionLifted():
                self.check_standing_approval(index, event)
            case Withdrawn():
                self.needs(index, event, Approved, TrialOpened)
            case TrialClosed():
                self.needs(index, event, TrialOpened)
            case _:
                pass

    def check_authority_route(self, index: int) -> None:
        if self.told.route is Route.CUSTOMER:
            fix = "change 'route' to authority, or take this event out"
            self.problem(index, "APPR04", "goes to the authority on the customer route", fix)

    def check_approval(self, index: int, event: Approved | ApprovalRefused) -> None:
        self.needs(index, event, AcceptanceGiven)
        self.needs(index, event, DocumentsComplete)
        self.needs(
            index, event, SentToAuthority if self.told.route is Route.AUTHORITY else SentToTechnicalReview
        )
        if not isinstance(event, Approved):
            return
        self.check_fingerprint(index, event)
        if event.valid_until is None and not event.open_ended:
            fix = "add 'valid_until: <day>', or 'open_ended: true' where the approval itself says that it has no end"
            self.problem(index, "APPR05", "does not say until when the approval holds", fix)
        if event.valid_until and (event.open_ended or event.valid_until < event.on):
            says = (
                f"ends on {event.valid_until} and is open-ended"
                if event.open_ended
                else f"ends on {event.valid_until}, before it begins"
            )
            self.problem(index, "APPR05", says, "keep the end that the approval letter says")
        for earlier in self.told.permits:
            if not earlier.is_trial and _overlap(earlier, event):
                fix = "record 'renewed' to prolong the earlier one, or 'withdrawn' if it no longer holds"
                says = f"approves revision {event.revision} where the approval of {earlier.event.on} still speaks of the same vehicles"
                self.problem(index, "APPR06", says, fix)
                break

    def check_fingerprint(self, index: int, event: Approved | TrialOpened) -> None:
        if fingerprint(from_record(event.approved_as)) != event.fingerprint:
            says = "has a fingerprint that does not belong to its 'approved_as'"
            fix = "put both back as `spares approve` wrote them; to approve anew, record a new event"
            self.problem(index, "APPR08", says, fix)

    def check_standing_approval(self, index: int, event: Renewed | ConditionAdded | ConditionLifted) -> None:
        standing = self.told.approval
        if standing is None:
            self.problem(
                index,
                "APPR03",
                f"says '{event.what}' where no approval stands",
                "add the event 'approved' above it",
            )
        elif isinstance(event, Renewed) and event.valid_until <= event.on:
            self.problem(
                index,
                "APPR05",
                f"is renewed until {event.valid_until}, which is over by then",
                "check the two dates",
            )
        elif isinstance(event, ConditionLifted) and event.condition not in standing.conditions:
            fix = f"write it word for word as it was set: {'; '.join(standing.conditions) or 'there is none'}"
            self.problem(index, "APPR07", "lifts a condition that was not set", fix)

    def apply(self, index: int, event: Event) -> None:
        told, standing = self.told, self.told.approval
        match event:
            case DesignStarted():
                self.start_anew()
                self.enter(Stage.DESIGN, event.on)
            case PrototypePrinted():
                self.start_anew()
                self.enter(Stage.PROTOTYPE, event.on)
            case SentForAcceptance():
                self.enter(Stage.ACCEPTANCE, event.on)
            case AcceptanceGiven() | DocumentsComplete():
                self.enter_documents(event)
            case AcceptanceRefused():
                self.start_anew()
                self.enter(Stage.PROTOTYPE, event.on)
            case SentToTechnicalReview():
                self.enter(Stage.TECHNICAL_REVIEW, event.on)
            case SentToAuthority():
                self.enter(Stage.AUTHORITY_REVIEW, event.on)
            case QuestionAsked() | QuestionAnswered():
                told.question_open = isinstance(event, QuestionAsked)
            case ApprovalRefused():
                self.enter(Stage.DOCUMENTS, event.on)
            case Approved() | TrialOpened():
                self.permit(index, event)
            case Renewed() if standing:
                standing.valid_until = event.valid_until
            case ConditionAdded() if standing:
                standing.conditions.append(event.condition)
            case ConditionLifted() if standing and event.condition in standing.conditions:
                standing.conditions.remove(event.condition)
            case TrialClosed():
                told.permits = [permit for permit in told.permits if not permit.is_trial]
            case Withdrawn():
                told.withdrawn_on, told.withdrawn_for = event.on, event.reason
                told.permits = []
                self.enter(Stage.WITHDRAWN, event.on)
            case Superseded():
                told.superseded_on, told.superseded_by = event.on, event.superseded_by
                self.enter(Stage.SUPERSEDED, event.on)
            case _:
                pass

    def start_anew(self) -> None:
        """A new design or prototype has its whole way before it; what was approved before still stands."""
        self.done -= {
            AcceptanceGiven,
            AcceptanceRefused,
            DocumentsComplete,
            SentToTechnicalReview,
            SentToAuthority,
        }

    def enter_documents(self, event: AcceptanceGiven | DocumentsComplete) -> None:
        if self.told.stage is not Stage.DOCUMENTS:
            self.enter(Stage.DOCUMENTS, event.on)

    def permit(self, index: int, event: Approved | TrialOpened) -> None:
        told = self.told
        told.permits.append(
            Standing(
                event=event,
                index=index,
                valid_until=event.valid_until,
                conditions=list(event.conditions),
                authority_asked=told.route is Route.AUTHORITY and SentToAuthority in self.done,
                evidence_kept=bool(event.evidence),
            )
        )
        if isinstance(event, Approved):
            told.withdrawn_on = told.withdrawn_for = told.superseded_on = told.superseded_by = None
            self.enter(Stage.APPROVED, event.on)


def _word(kind: Any) -> str:
    return str(kind.model_fields["what"].annotation.__args__[0])


def _overlap(earlier: Standing, later: Approved) -> bool:
    """Whether two approvals of one revision speak of the same vehicles and places at the same time."""
    if earlier.event.revision != later.revision:
        return False
    if earlier.valid_until and earlier.valid_until < later.on:
        return False
    return any(
        a.fleet == b.fleet
        and (not a.vehicles or not b.vehicles or set(vehicles_in(a.vehicles)) & set(vehicles_in(b.vehicles)))
        and (not a.places or not b.places or set(a.places) & set(b.places))
        for a in earlier.event.scope
        for b in later.scope
    )
