"""May a letter of before this record stand in the place of steps that nobody can date, and may it be confirmed so?

Common practice, no source: an approval that stands is not given again, but whoever answers for it says that it speaks of
what lies here. No route is bypassed: what was walked or judged here is never replaced by a letter.
"""

from collections.abc import Iterable, Iterator

from generator.records.approvals import (
    ChangeAccepted,
    ConditionAdded,
    ConditionLifted,
    DesignStarted,
    Event,
    OlderStockSettled,
    PrototypePrinted,
    QuestionAnswered,
    QuestionAsked,
    RecordCorrected,
    ReminderSent,
    Renewed,
    TakenOver,
    TakeOverConfirmed,
)
from generator.records.placeholders import identifies_nothing, names_nothing
from generator.records.problems import Problem, doubt, wrong
from generator.rules.binding import sites_of
from generator.rules.canonical import from_record
from generator.rules.fingerprint import place_section
from generator.rules.lasting import LONGEST_YEARS, is_too_long
from generator.rules.permits import Permit, overlap
from generator.rules.walking import word
from generator.rules.way import Way

# Nothing of these shows that the way was walked or judged here. Any other event does, one that a later edition adds too.
_MAY_STAND_BEFORE: frozenset[type[Event]] = frozenset(
    {
        DesignStarted, PrototypePrinted, TakenOver, TakeOverConfirmed, Renewed, ConditionAdded, ConditionLifted, ChangeAccepted,
        QuestionAsked, QuestionAnswered, ReminderSent, OlderStockSettled, RecordCorrected,
    }
)  # fmt: skip


def may_be_taken_over(events: Iterable[Event]) -> bool:
    """Whether nothing of a record shows that the way was walked or judged here."""
    return all(type(event) in _MAY_STAND_BEFORE for event in events)


def taken_over_complaints(event: TakenOver, way: Way) -> Iterator[Problem]:
    """Everything that speaks against taking this letter over."""
    walked = [kind for kind in way.ever if kind not in _MAY_STAND_BEFORE]
    if walked:
        yield wrong("APPR46", "walked here", above=word(walked[0]))
    if event.approver is not way.route:
        yield wrong("APPR46", "other route", approver=event.approver, route=way.route)
    if event.letter_of > event.on:
        yield wrong("APPR46", "later", letter_of=event.letter_of, on=event.on)
    elif way.begun and event.letter_of > way.begun:
        yield wrong("APPR46", "begun before", letter_of=event.letter_of, begun=way.begun)
    for key, says_nothing in (("approved_by", names_nothing), ("reference", identifies_nothing)):
        if says_nothing(getattr(event, key)) or not any(sign.isalnum() for sign in getattr(event, key)):
            yield wrong("APPR46", "says nothing", field=key)
    yield from _ends(event)
    yield from _beside(event, [permit.event for permit in way.permits if isinstance(permit.event, TakenOver)])


def _ends(event: TakenOver) -> Iterator[Problem]:
    """The letter may have ended since: then it permits nothing, and may be renewed."""
    until = event.valid_until
    if until is None and not event.open_ended:
        yield wrong("APPR05", "no end")
    if until and event.open_ended:
        yield wrong("APPR05", "two ends", ends=until)
    if until and until < event.letter_of:
        yield wrong("APPR05", "ends before", ends=until)
    if until and is_too_long(event.letter_of, until):
        yield wrong("APPR05", "too long", until=until, years=LONGEST_YEARS)


def _beside(event: TakenOver, earlier: list[TakenOver]) -> Iterator[Problem]:
    """Several letters speak of different vehicles or places, and of one and the same part."""
    for each in earlier:
        if (each.reference, each.letter_of) == (event.reference, event.letter_of):
            yield wrong("APPR46", "twice", reference=event.reference, letter_of=event.letter_of)
        elif overlap(each.scope, event.scope):
            yield wrong("APPR46", "overlap", reference=each.reference, letter_of=each.letter_of)
        elif each.revision != event.revision:
            yield wrong("APPR46", "other revision", revision=event.revision, earlier=each.revision)


def confirmation_complaints(event: TakeOverConfirmed, way: Way) -> Iterator[Problem]:
    """Everything that speaks against the confirmation; what its text binds is looked at as of an approval."""
    meant = way.confirmed_by(event)
    for permit in meant:
        yield from _of_letter(event, permit)
    if not meant:
        known = sorted({str(each.event.on) for each in way.permits if each.awaits})
        yield wrong("APPR47", "none awaits", "days" if known else "none", day=event.approved_on, known=known)
    if way.questions_open:
        yield wrong("APPR47", "question open")
    for each in event.evidence:
        if each.sha256 in way.walked.named:
            yield wrong("APPR47", "paper named", file=each.file, above=way.walked.named[each.sha256])


def _of_letter(event: TakeOverConfirmed, permit: Permit) -> Iterator[Problem]:
    taken = permit.event
    if event.by == taken.by:  # four eyes (common practice, no source)
        yield wrong("APPR47", "same role", by=event.by)
    if event.revision != taken.revision:
        yield wrong("APPR47", "other revision", revision=event.revision, letter=taken.revision)
    text = from_record(event.approved_as)
    for fleet, place in sites_of(taken.scope):
        if not place_section(text, fleet, place):
            yield wrong("APPR47", "place", fleet=fleet, place=place)


def unconfirmed_complaints(event: ChangeAccepted | Renewed, way: Way) -> Iterator[Problem]:
    """A letter that binds nothing yet has no change to accept, and nobody has said what would be prolonged.

    A renewal before its confirmation is a doubt: it stands in records of before this was asked, permits nothing by itself,
    and is not recorded any more, for no event is that leaves a doubt of its order.
    """
    for permit in way.renewed_by(event) if way.approvals else ():
        if permit.awaits and isinstance(event, Renewed):
            yield doubt("APPR47", "renewal first", "confirm first", day=permit.event.on)
        elif permit.awaits:
            yield wrong("APPR47", "change first", "confirm first", day=permit.event.on)
