"""Which events cannot have happened so? Each complaint says what is wrong and how to mend it."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from generator.records.approvals import (
    AcceptanceGiven,
    AcceptanceRefused,
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
from generator.rules.canonical import fingerprint, from_record
from generator.rules.fingerprint import is_readable, part_section, values_of
from generator.rules.lasting import LONGEST_YEARS, is_too_long
from generator.rules.permits import Permit, overlap

Complaint = tuple[str, str, str]
"""Code, what is wrong, how to mend it."""

_Kinds = frozenset[type[Event]]
_SENT: _Kinds = frozenset({SentToTechnicalReview, SentToAuthority})
_WAY: _Kinds = _SENT | {SentForAcceptance, AcceptanceGiven, AcceptanceRefused, DocumentsComplete}
_PERMITS: _Kinds = frozenset({Approved, TrialOpened})

# What no longer counts as done after an event: a new start has its whole way before it.
_FORGETS: dict[type[Event], _Kinds] = {
    DesignStarted: _WAY | {PrototypePrinted},
    PrototypePrinted: _WAY,
    AcceptanceRefused: _WAY,
    DocumentsComplete: _SENT,
    ApprovalRefused: _SENT,
    Withdrawn: _WAY | _PERMITS,
    Superseded: _WAY | _PERMITS,
}
_SETTLES_QUESTIONS = (
    DesignStarted | PrototypePrinted | AcceptanceRefused | QuestionAnswered | Approved | ApprovalRefused
    | Withdrawn | Superseded
)  # fmt: skip

# One of each group must be done before the event.
_NEEDS: dict[type[Event], tuple[tuple[type[Event], ...], ...]] = {
    SentForAcceptance: ((PrototypePrinted,),),
    TrialOpened: ((PrototypePrinted,),),
    AcceptanceGiven: ((PrototypePrinted,),),
    AcceptanceRefused: ((PrototypePrinted,),),
    DocumentsComplete: ((AcceptanceGiven,),),
    SentToTechnicalReview: ((DocumentsComplete,),),
    SentToAuthority: ((DocumentsComplete,),),
    QuestionAsked: ((SentToTechnicalReview, SentToAuthority),),
    Withdrawn: ((Approved, TrialOpened),),
    TrialClosed: ((TrialOpened,),),
}
# What must have come since the last approval, where there is one: else the event contradicts it.
_NEEDS_NEW: dict[type[Event], tuple[type[Event], ...]] = {
    AcceptanceRefused: (PrototypePrinted, DesignStarted, SentForAcceptance),
    ApprovalRefused: (SentToTechnicalReview, SentToAuthority),
}
_MAKING = (DesignStarted, PrototypePrinted, DocumentsComplete)
_GRANTING = (AcceptanceGiven, Approved, TrialOpened, Renewed, ConditionLifted)


@dataclass(slots=True)
class Way:
    """How far the way has come: what is done since the last start, what stands, who made what is judged."""

    route: Route
    done: set[type[Event]] = field(default_factory=set)
    new: set[type[Event]] = field(default_factory=set)
    """What has come since the last approval."""
    permits: list[Permit] = field(default_factory=list)
    question_open: bool = False
    makers: set[str] = field(default_factory=set)
    texts: dict[str, str] = field(default_factory=dict)
    """What of the part was approved or tried under each revision, ever."""

    @property
    def approvals(self) -> list[Permit]:
        return [permit for permit in self.permits if not permit.is_trial]

    def without_replaced(self, event: Approved | TrialOpened) -> list[Permit]:
        """The permits that still stand beside a new one: without those of the days whose place it takes."""
        return [permit for permit in self.permits if permit.event.on not in event.replaces]

    def renewed_by(self, event: Renewed) -> list[Permit]:
        """The approval that is prolonged: the one of the day it names, else the newest; several: it cannot be told."""
        if event.approved_on:
            return [permit for permit in self.approvals if permit.event.on == event.approved_on]
        newest = self.approvals[-1:]
        others = [
            permit
            for permit in self.approvals[:-1]
            if permit.event.revision == newest[0].event.revision
            and not overlap(permit.event.scope, newest[0].event.scope)
        ]
        return others + newest

    def conditioned_by(self, event: ConditionAdded) -> list[Permit]:
        """The permits that get a condition: all that stand, unless it names the day of one."""
        return [permit for permit in self.permits if event.approved_on in (None, permit.event.on)]

    def freed_by(self, event: ConditionLifted) -> list[Permit]:
        """The permits that hold the condition that is lifted, of the day it names."""
        return [
            permit
            for permit in self.permits
            if event.condition in permit.conditions and event.approved_on in (None, permit.event.on)
        ]

    def note(self, event: Event) -> None:
        """Remember that the event has happened."""
        kind = type(event)
        self.done -= _FORGETS.get(kind, frozenset())
        self.done.add(kind)
        self.new = set() if isinstance(event, Approved) else self.new | {kind}
        if isinstance(event, QuestionAsked):
            self.question_open = True
        elif isinstance(event, _SETTLES_QUESTIONS):
            self.question_open = False
        if isinstance(event, _MAKING):
            self.makers.add(event.by)
        if isinstance(event, Approved | TrialOpened):
            self.texts.setdefault(event.revision, part_section(from_record(event.approved_as)))


def complaints(event: Event, way: Way) -> Iterator[Complaint]:
    """Everything that speaks against `event` after what has happened."""
    for group in _NEEDS.get(type(event), ()):
        yield from _needs(event, way, group)
    yield from _contradiction(event, way)
    if isinstance(event, _GRANTING) and event.by in way.makers:
        says = f"says '{event.what}' by '{event.by}', who made what is judged"
        yield "APPR12", says, "name the role that judged it; whoever makes a part does not approve it"
    match event:
        case SentToAuthority() if way.route is Route.CUSTOMER:
            fix = "change 'route' to authority, or take this event out"
            yield "APPR04", "goes to the authority on the customer route", fix
        case QuestionAnswered() if not way.question_open:
            fix = "add the event 'question asked' above it"
            yield "APPR03", "answers a question that nobody asked", fix
        case Approved():
            yield from _approved(event, way)
            yield from _replacing(event, way)
            yield from _bound(event, way)
        case TrialOpened():
            yield from _trial(event)
            yield from _replacing(event, way)
            yield from _bound(event, way)
        case ApprovalRefused():
            yield from _whole_way(event, way)
        case Renewed():
            yield from _renewed(event, way)
        case ConditionAdded():
            yield from _which(event, way.conditioned_by(event), several=True)
        case ConditionLifted():
            yield from _lifted(event, way)
        case _:
            pass


def _needs(event: Event, way: Way, group: tuple[type[Event], ...]) -> Iterator[Complaint]:
    if not way.done.intersection(group):
        wanted = " or ".join(f"'{_word(kind)}'" for kind in group)
        fix = f"add the event {wanted} above it with its date, or take this one out"
        if isinstance(event, Withdrawn) and {Withdrawn, Superseded} & way.done:
            fix = "take this one out: what was approved has ended already"
        yield "APPR03", f"says '{event.what}' without {wanted} before it", fix


def _contradiction(event: Event, way: Way) -> Iterator[Complaint]:
    group = _NEEDS_NEW.get(type(event))
    if group and Approved in way.done and not way.new.intersection(group):
        fix = f"record 'withdrawn' if the approval no longer holds; if something new was refused, add '{_word(group[0])}' above it"
        yield "APPR03", f"says '{event.what}' of what is approved already", fix


def _whole_way(event: Approved | ApprovalRefused, way: Way) -> Iterator[Complaint]:
    review = SentToAuthority if way.route is Route.AUTHORITY else SentToTechnicalReview
    for kind in (AcceptanceGiven, DocumentsComplete, review):
        yield from _needs(event, way, (kind,))


def _approved(event: Approved, way: Way) -> Iterator[Complaint]:
    yield from _whole_way(event, way)
    if way.question_open:
        yield "APPR03", "approves while a question is open", "add the event 'question answered' above it"
    if event.valid_until is None and not event.open_ended:
        fix = "add 'valid_until: <day>', or 'open_ended: true' where the approval itself says that it has no end"
        yield "APPR05", "does not say until when the approval holds", fix
    if event.valid_until and event.open_ended:
        says = f"ends on {event.valid_until} and is open-ended"
        yield "APPR05", says, "keep the end that the approval letter says"
    yield from _ends_after_start(event)
    yield from _names_all(event)
    earlier = next((each for each in way.approvals if _still_speaks(each, event)), None)
    if earlier:
        fix = (
            f"record 'renewed' to prolong the earlier one, 'replaces: [{earlier.event.on}]' if this one takes its place, "
            "or 'withdrawn' if it no longer holds"
        )
        says = f"approves revision {event.revision} where the approval of {earlier.event.on} still speaks of the same vehicles"
        yield "APPR06", says, fix


def _still_speaks(earlier: Permit, later: Approved) -> bool:
    """Whether two approvals of one revision speak of the same vehicles and places at the same time."""
    return (
        earlier.event.revision == later.revision
        and earlier.event.on not in later.replaces
        and earlier.lasts_on(later.on)
        and overlap(earlier.event.scope, later.scope)
    )


def _trial(event: TrialOpened) -> Iterator[Complaint]:
    yield from _ends_after_start(event)
    yield from _names_all(event)


def _names_all(event: Approved | TrialOpened) -> Iterator[Complaint]:
    for scope in event.scope:
        missing = [key for key in ("vehicles", "places") if not getattr(scope, key)]
        if missing:
            says = f"speaks of {scope.fleet} without naming its {' and '.join(missing)}"
            fix = "name them, such as vehicles: ['401-412'] and places: [cab]; an approval or trial holds only for what it names"
            yield "APPR11", says, fix


def _replacing(event: Approved | TrialOpened, way: Way) -> Iterator[Complaint]:
    """What is replaced must stand: a slip in the day would leave the other standing, or say so in vain."""
    for day in event.replaces:
        if all(permit.event.on != day for permit in way.permits):
            known = ", ".join(sorted({str(permit.event.on) for permit in way.permits}))
            says = f"replaces what was given on {day}, and nothing of that day stands"
            fix = f"write the day of one that stands: {known}" if known else "take 'replaces' out: nothing stands"
            yield "APPR13", says, fix


def _ends_after_start(event: Approved | TrialOpened) -> Iterator[Complaint]:
    if event.valid_until and event.valid_until < event.on:
        says = f"ends on {event.valid_until}, before it begins"
        yield "APPR05", says, "check the two dates against the letter"
    yield from _not_too_long(event.on, event.valid_until)


def _not_too_long(on: date, until: date | None) -> Iterator[Complaint]:
    if until and is_too_long(on, until):
        fix = "check the year against the letter; one without an end says 'open_ended: true'"
        yield "APPR05", f"holds until {until}, which is more than {LONGEST_YEARS} years", fix


def _bound(event: Approved | TrialOpened, way: Way) -> Iterator[Complaint]:
    text = from_record(event.approved_as)
    if fingerprint(text) != event.fingerprint:
        fix = "put both back as `spares approve` wrote them; to approve anew, record a new event"
        yield "APPR08", "has a fingerprint that does not belong to its 'approved_as'", fix
    elif not is_readable(text):
        says = "has an 'approved_as' in which a line is broken or says something a second time"
        yield "APPR08", says, "put both back as `spares approve` wrote them; to approve anew, record a new event"
    elif values_of(text).get("revision") != event.revision:
        says = f"speaks of revision {event.revision}, which is not the one in its 'approved_as'"
        yield "APPR08", says, "put both back as `spares approve` wrote them"
    part = part_section(text)
    if way.texts.get(event.revision, part) != part:
        says = f"speaks of revision {event.revision}, which an event above binds to something else"
        fix = "give what was changed a new revision: stock with the old label must be told from the new"
        yield "APPR10", says, fix


def _renewed(event: Renewed, way: Way) -> Iterator[Complaint]:
    yield from _which(event, way.renewed_by(event) if way.approvals else [])
    if event.valid_until <= event.on:
        says = f"is renewed until {event.valid_until}, which is over by then"
        yield "APPR05", says, "check the two dates"
    yield from _not_too_long(event.on, event.valid_until)


def _lifted(event: ConditionLifted, way: Way) -> Iterator[Complaint]:
    freed = way.freed_by(event)
    if way.permits and not freed:
        known = sorted({condition for permit in way.permits for condition in permit.conditions})
        fix = f"write it word for word as it was set: {'; '.join(known) or 'there is none'}"
        yield "APPR07", "lifts a condition that was not set", fix
        return
    own = any(event.condition in permit.event.conditions for permit in freed)
    yield from _which(event, freed, several=not own)


def _which(
    event: Renewed | ConditionAdded | ConditionLifted, meant: list[Permit], *, several: bool = False
) -> Iterator[Complaint]:
    """Complain where it cannot be told which approval an event speaks of."""
    if not meant and event.approved_on:
        says = f"speaks of an approval of {event.approved_on}, and none of that day stands"
        yield "APPR03", says, "write the day of the event 'approved' that is meant"
    elif not meant:
        yield "APPR03", f"says '{event.what}' where no approval stands", "add the event 'approved' above it"
    elif len(meant) > 1 and not several:
        days = " and ".join(str(permit.event.on) for permit in meant)
        fix = "add 'approved_on: <day>', the day of the approval that is meant"
        yield "APPR09", f"says '{event.what}' where those of {days} stand", fix


def _word(kind: Any) -> str:
    return str(kind.model_fields["what"].annotation.__args__[0])
