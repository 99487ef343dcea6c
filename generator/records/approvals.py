"""The approval record: an append-only list of dated events, and the screening of the change."""

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field

from generator.records.accompanying import CarriesOver, ChangesAsked, OlderStock, Submitted
from generator.records.base import (
    Day,
    Id,
    Line,
    LongText,
    OwnMinutes,
    PartNumber,
    Record,
    Revision,
    Sha256,
    Signature,
    Text,
    each_once,
)
from generator.records.conditions import ConditionAsWritten
from generator.records.evidence import Evidence
from generator.records.problems import Unfit
from generator.records.screening import Screening
from generator.records.vehicles import VehicleRange


class Route(StrEnum):
    """Who approves: the customer (the keeper or operator of the vehicles) or the safety authority."""

    CUSTOMER = "customer"
    AUTHORITY = "authority"


def _corrected(named: object) -> object:
    if isinstance(named, bool) or not (named in CORRECTED or (isinstance(named, int) and named > 0)):
        raise Unfit("corrects", choices=CORRECTED)
    return named


CORRECTED = ("screening", "waiver", "route")
"""What can be corrected in a record besides its events."""
Corrected = Annotated[int | str, BeforeValidator(_corrected)]


class Scope(Record):
    """What an approval or trial speaks of: vehicles of a fleet, and places on them, each by name."""

    fleet: Id
    vehicles: tuple[VehicleRange, ...] = ()
    places: tuple[Id, ...] = ()


class TrialResult(StrEnum):
    """How a trial ended."""

    PASSED = "passed"
    FAILED = "failed"
    BROKEN_OFF = "broken off"


class FittedPieces(StrEnum):
    """What becomes of the pieces of a trial that are fitted when it ends."""

    STAY = "stay"
    COME_OFF = "come off"


class _Event(Record):
    on: Day
    by: Id
    """Role that did it or signed it."""
    reference: Line | None = None
    """Number of the letter, minutes or file."""
    evidence: tuple[Evidence, ...] = ()
    note: Text | None = None
    minutes: OwnMinutes | None = None
    """How long it took whoever records it: own work alone, nobody's waiting and no machine's time."""
    signed: Signature | None = None
    """SSH signature of the event, as `spares sign` wrote it; do not edit."""


class DesignStarted(_Event):
    what: Literal["design started"]


class PrototypePrinted(_Event):
    what: Literal["prototype printed"]


class SentForAcceptance(_Event):
    """The prototype lies with the customer to be tried."""

    what: Literal["sent for customer acceptance"]


class AcceptanceGiven(_Event):
    what: Literal["customer acceptance given"]


class AcceptanceRefused(_Event):
    what: Literal["customer acceptance refused"]
    reason: Line


class DocumentsComplete(_Event, Submitted):
    what: Literal["documents complete"]


class SentToTechnicalReview(_Event, Submitted):
    what: Literal["sent to technical review"]


class SentToAuthority(_Event, Submitted):
    what: Literal["sent to the authority"]


class SafetyAssessmentReport(_Event):
    """What the assessment body says of a change that was judged significant; Regulation (EU) 402/2013 Art. 15 (from memory)."""

    what: Literal["safety assessment report"]
    reference: Line
    evidence: Annotated[tuple[Evidence, ...], Field(min_length=1)]


class QuestionAsked(_Event):
    what: Literal["question asked"]
    question: Text


class QuestionAnswered(_Event):
    what: Literal["question answered"]


class ReminderSent(_Event):
    """Whoever has it was asked how far it is; says nothing of the part, and changes neither stage nor verdict nor what is bound."""

    what: Literal["reminder sent"]
    evidence: Annotated[tuple[Evidence, ...], Field(max_length=0)] = ()
    """None, for what lies in documents/ is bound; its number is the reference."""


class Approved(_Event):
    """Approval: what it speaks of, until when, under which conditions, bound to what was approved."""

    what: Literal["approved"]
    scope: Annotated[tuple[Scope, ...], Field(min_length=1)]
    valid_from: Day | None = None
    """First day of the approval, where it begins later than it was given."""
    valid_until: Day | None = None
    """Last day of the approval. Left out only with `open_ended: true`."""
    open_ended: bool = False
    """True where the approval itself says that it has no end."""
    conditions: tuple[ConditionAsWritten, ...] = ()
    replaces: tuple[Day, ...] = ()
    """Days of the earlier approvals or trials whose place it takes; they end with it."""
    also_for: tuple[PartNumber, ...] = ()
    """Other parts that the letter speaks of too; the permit of each of them names this one."""
    changes_asked: ChangesAsked | None = None
    """Where it binds something else than was submitted."""
    carries_over: CarriesOver | None = None
    """Where a changed part has not walked every step anew."""
    older_stock: Annotated[tuple[OlderStock, ...], each_once("revision")] = ()
    """What becomes of pieces with the label of each revision that was approved before."""
    revision: Revision
    approved_as: LongText
    """What was approved, line by line, as `spares approve` wrote it; do not edit."""
    fingerprint: Sha256
    """SHA-256 of approved_as."""


class TakenOver(_Event):
    """An approval of before this record: its letter stands in the place of steps that nobody can date. It binds nothing yet."""

    what: Literal["taken over"]
    reference: Line
    letter_of: Day
    """The letter's own date."""
    approved_by: Line
    """Who approved it, as the letter says: an office, never a person."""
    approver: Route
    """For whom that office acted."""
    scope: Annotated[tuple[Scope, ...], Field(min_length=1)]
    valid_until: Day | None = None
    """Last day of the approval. Left out only with `open_ended: true`."""
    open_ended: bool = False
    """True where the letter itself says that it has no end."""
    conditions: tuple[ConditionAsWritten, ...] = ()
    also_for: tuple[PartNumber, ...] = ()
    """Other parts that the letter speaks of too; the record of each of them names this one."""
    evidence: Annotated[tuple[Evidence, ...], Field(min_length=1)]
    revision: Revision


class TakeOverConfirmed(_Event):
    """Whoever acts for the approver has looked: what lies here is what the letter speaks of, and is bound from now on."""

    what: Literal["take-over confirmed"]
    approved_on: Day
    """Day of the event 'taken over' that it speaks of."""
    confirms: Sha256
    """Fingerprint of what that event says (rules/chain.py): of another letter, scope or last day nothing is confirmed."""
    reference: Line
    also_for: tuple[PartNumber, ...] = ()
    """Other parts whose letters it confirms too; the record of each of them names this one."""
    evidence: Annotated[tuple[Evidence, ...], Field(min_length=1)]
    revision: Revision
    approved_as: LongText
    """What lies here, line by line, as `spares record` wrote it; do not edit."""
    fingerprint: Sha256
    """SHA-256 of approved_as."""


class ApprovalRefused(_Event):
    what: Literal["approval refused"]
    reason: Line


class ConditionAdded(_Event):
    what: Literal["condition added"]
    condition: ConditionAsWritten
    approved_on: Day | None = None
    """Day of the approval that it speaks of; left out, it is set on everything that stands."""


class ConditionLifted(_Event):
    what: Literal["condition lifted"]
    condition: Line
    approved_on: Day | None = None
    """Day of the approval that it speaks of; needed only where several stand."""


class TrialOpened(_Event):
    """A trial on named vehicles until a day."""

    what: Literal["trial opened"]
    scope: Annotated[tuple[Scope, ...], Field(min_length=1)]
    valid_from: Day | None = None
    """First day of the trial, where it begins later than it was opened."""
    valid_until: Day
    planned_pieces: Annotated[int, Field(ge=1)] | None = None
    """How many are to be fitted and watched."""
    conditions: tuple[ConditionAsWritten, ...] = ()
    replaces: tuple[Day, ...] = ()
    """Days of the earlier approvals or trials whose place it takes; they end with it."""
    also_for: tuple[PartNumber, ...] = ()
    """Other parts that the letter speaks of too; the permit of each of them names this one."""
    revision: Revision
    approved_as: LongText
    fingerprint: Sha256


class TrialClosed(_Event):
    what: Literal["trial closed"]
    reason: Line
    result: TrialResult | None = None
    """None in records of the older form: then nobody has said how it ended."""
    fitted_pieces: FittedPieces | None = None
    """Whether what the trial has fitted stays on the vehicles."""


class Renewed(_Event):
    what: Literal["renewed"]
    valid_until: Day
    approved_on: Day | None = None
    """Day of the approval that it speaks of; needed only where several stand."""


class ChangeAccepted(_Event):
    """The approver has seen what has changed and has to be asked about: from then on the approval binds the newer text."""

    what: Literal["change accepted"]
    approved_on: Day | None = None
    """Day of the approval that it speaks of; needed only where several stand."""
    also_for: tuple[PartNumber, ...] = ()
    """Other parts that the letter speaks of too; the permit of each of them names this one."""
    revision: Revision
    approved_as: LongText
    """What was seen and accepted, line by line, as `spares record` wrote it; do not edit."""
    fingerprint: Sha256
    """SHA-256 of approved_as."""


class OlderStockSettled(_Event):
    """What the approval did not say: what becomes of pieces with an earlier label."""

    what: Literal["older stock settled"]
    older_stock: Annotated[tuple[OlderStock, ...], Field(min_length=1), each_once("revision")]


class Withdrawn(_Event):
    what: Literal["withdrawn"]
    reason: Line


class Superseded(_Event):
    """A newer part takes its place; what is fitted may stay unless the reason says otherwise."""

    what: Literal["superseded"]
    superseded_by: PartNumber
    reason: Line | None = None


class RecordCorrected(_Event):
    """Why the record no longer says what it said: explains the one difference that it names, and is added like any event."""

    what: Literal["record corrected"]
    corrects: Corrected
    """Number of the event that was changed, taken out or put in, counted from 1; or 'screening', 'waiver' or 'route'."""
    why: Text
    checked_by: Id
    """Role that has checked it; another one than `by`."""


Event = Annotated[
    DesignStarted
    | PrototypePrinted
    | SentForAcceptance
    | AcceptanceGiven
    | AcceptanceRefused
    | DocumentsComplete
    | SentToTechnicalReview
    | SentToAuthority
    | SafetyAssessmentReport
    | QuestionAsked
    | QuestionAnswered
    | ReminderSent
    | Approved
    | TakenOver
    | TakeOverConfirmed
    | ApprovalRefused
    | ConditionAdded
    | ConditionLifted
    | TrialOpened
    | TrialClosed
    | Renewed
    | ChangeAccepted
    | OlderStockSettled
    | Withdrawn
    | Superseded
    | RecordCorrected,
    Field(discriminator="what"),
]


class Waiver(Record):
    """Why a safety-role part does not need the authority: decided by whom, written where."""

    reason: Text
    by: Id
    reference: Line


NEWEST_FORMAT = 2


def _known_format(written: int) -> int:
    """A later program may mean by a record what this one cannot know."""
    if written > NEWEST_FORMAT:
        raise Unfit("later format", newest=NEWEST_FORMAT)
    return written


class Approval(Record):
    """approval.yml"""

    format: Annotated[int, Field(ge=1), AfterValidator(_known_format)] = 1
    """The form of this record, as `spares migrate` writes it; left out, it is the older one."""
    route: Route
    waiver: Waiver | None = None
    """For a safety-role part on the customer route: why the authority is not needed."""
    events: tuple[Event, ...] = ()
    screening: Screening | None = None
