"""How far has the way of a part come: what is done, what stands, who made what is judged?"""

from dataclasses import dataclass, field
from datetime import date

from generator.records.approvals import (
    AcceptanceGiven,
    AcceptanceRefused,
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
    ReminderSent,
    Renewed,
    Route,
    SafetyAssessmentReport,
    SentForAcceptance,
    SentToAuthority,
    SentToTechnicalReview,
    Superseded,
    TakenOver,
    TakeOverConfirmed,
    TrialOpened,
    Withdrawn,
)  # fmt: skip
from generator.records.evidence import Evidence
from generator.rules.canonical import from_record
from generator.rules.chain import own_fingerprint
from generator.rules.permits import Permit, overlap
from generator.rules.walking import Walked

_Kinds = frozenset[type[Event]]
_SENT: _Kinds = frozenset({SentToTechnicalReview, SentToAuthority})
_WAY: _Kinds = _SENT | {
    SentForAcceptance, AcceptanceGiven, AcceptanceRefused, DocumentsComplete, SafetyAssessmentReport,
}  # fmt: skip
_PERMITS: _Kinds = frozenset({Approved, TrialOpened, TakenOver})

# What no longer counts as done after an event: a new start has its whole way before it.
_FORGETS: dict[type[Event], _Kinds] = {
    DesignStarted: _WAY | {PrototypePrinted},
    PrototypePrinted: _WAY,
    AcceptanceRefused: _WAY,
    DocumentsComplete: _SENT,
    ApprovalRefused: _SENT,
    TakenOver: _WAY | {DesignStarted, PrototypePrinted},  # nothing counts as walked: the next approval walks all of it
    Withdrawn: _WAY | _PERMITS,
    Superseded: _WAY | _PERMITS,
}
_SETTLES_QUESTIONS = (
    DesignStarted | PrototypePrinted | AcceptanceRefused | Approved | ApprovalRefused | Withdrawn | Superseded
)  # fmt: skip
_MAKING = (DesignStarted, PrototypePrinted, DocumentsComplete)


@dataclass(slots=True)
class Way:
    """How far the way has come: what is done since the last start, what stands, who made what is judged."""

    route: Route
    done: set[type[Event]] = field(default_factory=set)
    new: set[type[Event]] = field(default_factory=set)
    """What has come since the last approval."""
    permits: list[Permit] = field(default_factory=list)
    reported: tuple[Evidence, ...] = ()
    """The newest safety assessment report, whether it is forgotten or not."""
    minutes: tuple[Evidence, ...] = ()
    """What was filed with the newest acceptance, and with what was recorded of it since."""
    questions_open: int = 0
    makers: set[str] = field(default_factory=set)
    texts: dict[str, str] = field(default_factory=dict)
    """What of the part was approved or tried under each revision, ever."""
    walked: Walked = field(default_factory=Walked)
    ever: dict[type[Event], None] = field(default_factory=dict)
    """Every kind of event that has happened, whether it is forgotten or not."""
    begun: date | None = None
    """The day of the first step of a way here."""
    approved: list[str] = field(default_factory=list)
    """Every revision that was ever approved, the one approved last behind the others."""

    @property
    def approvals(self) -> list[Permit]:
        return [permit for permit in self.permits if not permit.is_trial]

    @property
    def assessment(self) -> tuple[Evidence, ...]:
        """The safety assessment report that stands; empty where none does."""
        return self.reported if SafetyAssessmentReport in self.done else ()

    @property
    def accepted(self) -> tuple[Evidence, ...] | None:
        """The papers of the acceptance that stands; None where none does."""
        return self.minutes if AcceptanceGiven in self.done else None

    def without_replaced(self, event: Approved | TrialOpened) -> list[Permit]:
        """The permits that still stand beside a new one: without those of the days whose place it takes."""
        return [permit for permit in self.permits if permit.event.on not in event.replaces]

    def end_older(self, event: Approved) -> None:
        """A newer approval ends every older one of its revision for what both speak of, for good, lapsed ones too."""
        for permit in self.approvals:
            if permit.event.revision == event.revision and overlap(permit.event.scope, event.scope):
                permit.ended_by.append(event)

    def renewed_by(self, event: Renewed | ChangeAccepted) -> list[Permit]:
        """The approval that is prolonged, or that binds a newer text: the one of the day it names, else the newest; several: it cannot be told; none where none stands."""
        if event.approved_on:
            return [permit for permit in self.approvals if permit.event.on == event.approved_on]
        newest = self.approvals[-1:]
        others = [
            permit
            for permit in self.approvals[:-1]
            if not permit.ended_by
            and permit.event.revision == newest[0].event.revision
            and not overlap(permit.event.scope, newest[0].event.scope)
        ]
        return others + newest

    def confirmed_by(self, event: TakeOverConfirmed) -> list[Permit]:
        """The letter that awaits a confirmation and that it speaks of, word for word."""
        return [
            permit
            for permit in self.permits
            if permit.awaits and permit.event.on == event.approved_on and own_fingerprint(permit.event) == event.confirms
        ]

    def conditioned_by(self, event: ConditionAdded) -> list[Permit]:
        """The permits that get a condition: all that stand, unless it names the day of one."""
        return [permit for permit in self.permits if event.approved_on in (None, permit.event.on)]

    def freed_by(self, event: ConditionLifted) -> list[Permit]:
        """The permits that hold the condition that is lifted, of the day it names."""
        return [
            permit
            for permit in self.permits
            if permit.held(event.condition) and event.approved_on in (None, permit.event.on)
        ]

    def note(self, event: Event) -> None:
        """Remember that the event has happened; a reminder does nothing on the way."""
        if isinstance(event, ReminderSent):
            return
        kind = type(event)
        self.done -= _FORGETS.get(kind, frozenset())
        if isinstance(event, AcceptanceGiven):
            self.minutes = (self.accepted or ()) + event.evidence
        self.done.add(kind)
        self.ever[kind] = None
        self.new = set() if isinstance(event, Approved | TakenOver) else self.new | {kind}
        if self.begun is None and isinstance(event, DesignStarted | PrototypePrinted):
            self.begun = event.on
        if isinstance(event, SafetyAssessmentReport):
            self.reported = event.evidence
        if isinstance(event, QuestionAsked):
            self.questions_open += 1
        elif isinstance(event, QuestionAnswered):
            self.questions_open = max(0, self.questions_open - 1)
        elif isinstance(event, _SETTLES_QUESTIONS):
            self.questions_open = 0
        if isinstance(event, _MAKING):
            self.makers.add(event.by)
        if isinstance(event, Approved | TrialOpened | TakeOverConfirmed):
            self.texts.setdefault(event.revision, from_record(event.approved_as))
        if isinstance(event, Approved | TakenOver):
            self.approved = [*(each for each in self.approved if each != event.revision), event.revision]
        self.walked.note(event)
