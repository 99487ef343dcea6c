"""Which events cannot have happened so?"""

from collections.abc import Iterator
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
    OlderStockSettled,
    PrototypePrinted,
    QuestionAnswered,
    QuestionAsked,
    Renewed,
    Route,
    SafetyAssessmentReport,
    SentForAcceptance,
    SentToAuthority,
    SentToTechnicalReview,
    Superseded,
    TakenOver,
    TakeOverConfirmed,
    TrialClosed,
    TrialOpened,
    Withdrawn,
)
from generator.records.conditions import as_condition
from generator.records.problems import Problem, wrong
from generator.rules.canonical import fingerprint, from_record
from generator.rules.consequences import contradicts, line_of, text_voids
from generator.rules.fingerprint import is_readable, values_of, version_of
from generator.rules.lasting import LONGEST_YEARS, is_too_long
from generator.rules.older_stock import stock_complaints
from generator.rules.permits import Permit, begins, overlap
from generator.rules.taking_over import confirmation_complaints, taken_over_complaints, unconfirmed_complaints
from generator.rules.walking import (
    REVIEWS,
    Submission,
    confirming,
    letter_complaints,
    submission_complaints,
    walking_anew,
    word,
)
from generator.rules.way import Way

# One of each group must be done before the event.
_NEEDS: dict[type[Event], tuple[tuple[type[Event], ...], ...]] = {
    SentForAcceptance: ((PrototypePrinted,),),
    TrialOpened: ((PrototypePrinted,),),
    AcceptanceGiven: ((PrototypePrinted,),),
    AcceptanceRefused: ((PrototypePrinted,),),
    DocumentsComplete: ((AcceptanceGiven,),),
    SentToTechnicalReview: ((DocumentsComplete,),),
    SentToAuthority: ((SentToTechnicalReview,),),
    SafetyAssessmentReport: ((PrototypePrinted,),),
    QuestionAsked: ((SentToTechnicalReview, SentToAuthority, TakenOver),),
    Withdrawn: ((Approved, TrialOpened, TakenOver),),
    TrialClosed: ((TrialOpened,),),
}
# What must have come since the last approval, where there is one: else the event contradicts it.
_NEEDS_NEW: dict[type[Event], tuple[type[Event], ...]] = {
    AcceptanceRefused: (PrototypePrinted, DesignStarted, SentForAcceptance),
    ApprovalRefused: (SentToTechnicalReview, SentToAuthority),
}
# What a record says is the same in every language.
_NAMING = ("vehicles: ['401-412']", "places: [cab]")
# The assessment body is independent of the design (Regulation (EU) 402/2013 Art. 6 and Annex II, from memory).
_GRANTING = (
    AcceptanceGiven, SafetyAssessmentReport, Approved, TrialOpened, Renewed, ConditionLifted, ChangeAccepted, OlderStockSettled,
    TakeOverConfirmed,
)  # fmt: skip


def complaints(event: Event, way: Way) -> Iterator[Problem]:
    """Everything that speaks against `event` after what has happened."""
    for group in _NEEDS.get(type(event), ()):
        yield from _needs(event, way, group)
    yield from _contradiction(event, way)
    if isinstance(event, _GRANTING) and event.by in way.makers:
        yield wrong("APPR12", "by its maker", what=event.what, by=event.by)
    yield from letter_complaints(event, way.walked)
    if isinstance(event, Submission):
        yield from submission_complaints(event, way.walked)
    if isinstance(event, Approved | OlderStockSettled):
        yield from stock_complaints(event, way.approved)
    yield from _step_complaints(event, way)
    yield from _permit_complaints(event, way)


def _step_complaints(event: Event, way: Way) -> Iterator[Problem]:
    """Of the steps that give no permit and change none."""
    match event:
        case SentToAuthority() if way.route is Route.CUSTOMER:
            yield wrong("APPR04", "customer route")
        case QuestionAnswered() if not way.questions_open and not any(each.question_since for each in way.permits):
            yield wrong("APPR03", "nobody asked")
        case ApprovalRefused():
            yield from _whole_way(event, way)


def _permit_complaints(event: Event, way: Way) -> Iterator[Problem]:
    """Of what gives a permit, confirms or changes one."""
    match event:
        case Approved():
            yield from _approved(event, way)
            yield from _replacing(event, way)
            yield from _bound(event, way)
        case TrialOpened():
            yield from _trial(event)
            yield from _replacing(event, way)
            yield from _bound(event, way)
        case TakenOver():
            yield from taken_over_complaints(event, way)
            yield from _names_all(event)
        case TakeOverConfirmed():
            yield from confirmation_complaints(event, way)
            yield from _bound(event, way)
        case Renewed():
            yield from _renewed(event, way)
            yield from unconfirmed_complaints(event, way)
        case ChangeAccepted():
            yield from _which(event, way.renewed_by(event))
            yield from _text(event)
            yield from unconfirmed_complaints(event, way)
            yield from _accepted(event, way)
        case ConditionAdded():
            yield from _which(event, way.conditioned_by(event), several=True)
        case ConditionLifted():
            yield from _lifted(event, way)


def _needs(event: Event, way: Way, group: tuple[type[Event], ...]) -> Iterator[Problem]:
    if not way.done.intersection(group):
        has_ended = isinstance(event, Withdrawn) and {Withdrawn, Superseded} & way.done
        wanted = [f"'{word(kind)}'" for kind in group]
        yield wrong("APPR03", "without", "has ended" if has_ended else "without", what=event.what, wanted=wanted)


def _contradiction(event: Event, way: Way) -> Iterator[Problem]:
    group = _NEEDS_NEW.get(type(event))
    if group and Approved in way.done and not way.new.intersection(group):
        yield wrong("APPR03", "approved already", what=event.what, above=word(group[0]))


def _whole_way(event: Approved | ApprovalRefused, way: Way) -> Iterator[Problem]:
    for kind in (AcceptanceGiven, DocumentsComplete, *REVIEWS[way.route]):
        yield from _needs(event, way, (kind,))


def _approved(event: Approved, way: Way) -> Iterator[Problem]:
    yield from _whole_way(event, way)
    yield from confirming(event, way.walked, way.new, way.route)
    yield from walking_anew(event, way.walked, way.done, way.new, way.route)
    if event.carries_over and event.carries_over.by in way.makers:
        yield wrong("APPR12", "by its maker", what=event.what, by=event.carries_over.by)
    if way.questions_open:
        yield wrong("APPR03", "question open")
    if event.valid_until is None and not event.open_ended:
        yield wrong("APPR05", "no end")
    if event.valid_until and event.open_ended:
        yield wrong("APPR05", "two ends", ends=event.valid_until)
    yield from _ends_after_start(event)
    yield from _names_all(event)
    earlier = next((each for each in way.approvals if _still_speaks(each, event)), None)
    if earlier:
        day = earlier.event.on
        yield wrong("APPR06", "two at once", revision=event.revision, earlier=day, line=f"replaces: [{day}]")


def _still_speaks(earlier: Permit, later: Approved) -> bool:
    """Whether two approvals of one revision speak of the same vehicles and places at the same time."""
    return (
        earlier.event.revision == later.revision
        and earlier.event.on not in later.replaces
        and earlier.lasts_on(begins(later))
        and overlap(earlier.event.scope, later.scope)
    )


def _trial(event: TrialOpened) -> Iterator[Problem]:
    yield from _ends_after_start(event)
    yield from _names_all(event)


def _names_all(event: Approved | TrialOpened | TakenOver) -> Iterator[Problem]:
    for scope in event.scope:
        missing = [key for key in ("vehicles", "places") if not getattr(scope, key)]
        if missing:
            yield wrong("APPR11", "unnamed", fleet=scope.fleet, missing=missing, lines=_NAMING)


def _replacing(event: Approved | TrialOpened, way: Way) -> Iterator[Problem]:
    """What is replaced must stand: a slip in the day would leave the other standing, or say so in vain."""
    for day in event.replaces:
        if all(permit.event.on != day for permit in way.permits):
            known = sorted({str(permit.event.on) for permit in way.permits})
            yield wrong("APPR13", "replaces nothing", "stand" if known else "none stands", day=day, known=known)


def _ends_after_start(event: Approved | TrialOpened) -> Iterator[Problem]:
    if event.valid_until and event.valid_until < begins(event):
        yield wrong("APPR05", "ends before", ends=event.valid_until)
    yield from _not_too_long(event.on, event.valid_until)


def _not_too_long(on: date, until: date | None) -> Iterator[Problem]:
    if until and is_too_long(on, until):
        yield wrong("APPR05", "too long", until=until, years=LONGEST_YEARS)


def _bound(event: Approved | TrialOpened | TakeOverConfirmed, way: Way) -> Iterator[Problem]:
    yield from _text(event)
    text = from_record(event.approved_as)
    if event.revision in way.texts and contradicts(way.texts[event.revision], text):
        yield wrong("APPR10", "revision bound twice", revision=event.revision)


def _accepted(event: ChangeAccepted, way: Way) -> Iterator[Problem]:
    """What is accepted is what the table asks about: nothing that makes it another part or another place."""
    text = from_record(event.approved_as)
    for permit in (each for each in way.renewed_by(event) if not each.awaits):
        if version_of(permit.text) == 1:
            yield wrong("APPR45", "older form", "anew")
        elif found := text_voids(permit.text, text):
            yield wrong("APPR45", "void", "walk", lines=tuple(dict.fromkeys(map(line_of, found))))


def _text(event: Approved | TrialOpened | TakeOverConfirmed | ChangeAccepted) -> Iterator[Problem]:
    text = from_record(event.approved_as)
    if fingerprint(text) != event.fingerprint:
        yield wrong("APPR08", "fingerprint", "put back or anew")
    elif not is_readable(text):
        yield wrong("APPR08", "lines", "put back or anew")
    elif values_of(text).get("revision") != event.revision:
        yield wrong("APPR08", "revision", "put back", revision=event.revision)


def _renewed(event: Renewed, way: Way) -> Iterator[Problem]:
    meant = way.renewed_by(event)
    yield from _which(event, meant)
    newer = next((permit.ended_by for permit in meant if permit.ended_by), None)
    if newer:
        yield wrong("APPR35", "ended", day=meant[0].event.on, newer=newer[0].on)
    if event.valid_until <= event.on:
        yield wrong("APPR05", "renewed in vain", until=event.valid_until)
    yield from _not_too_long(event.on, event.valid_until)


def _lifted(event: ConditionLifted, way: Way) -> Iterator[Problem]:
    freed = way.freed_by(event)
    if way.permits and not freed:
        known = sorted({condition.text for permit in way.permits for condition in permit.conditions})
        yield wrong("APPR07", "not set", "word for word" if known else "none set", known=known)
        return
    own = any(event.condition == as_condition(each).text for permit in freed for each in permit.event.conditions)
    yield from _which(event, freed, several=not own)


def _which(
    event: Renewed | ChangeAccepted | ConditionAdded | ConditionLifted, meant: list[Permit], *, several: bool = False
) -> Iterator[Problem]:
    """Complain where it cannot be told which approval an event speaks of."""
    if not meant and event.approved_on:
        yield wrong("APPR03", "none of that day", day=event.approved_on)
    elif not meant:
        yield wrong("APPR03", "none stands", what=event.what)
    elif len(meant) > 1 and not several:
        days = [str(permit.event.on) for permit in meant]
        yield wrong("APPR09", "several stand", what=event.what, days=days)

