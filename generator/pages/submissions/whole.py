"""One part, or several as one → the whole submission in words, from the judged catalogue and the day."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from types import MappingProxyType

from generator.pages.around import Around
from generator.pages.part.story import ChangeLine, changes
from generator.pages.submissions import identity, judged, shown
from generator.pages.submissions.attached import attachments
from generator.pages.submissions.case import SubmissionCase
from generator.pages.submissions.gaps import gaps_of
from generator.pages.submissions.kinds import Attachment, Block, Dossier, Submission
from generator.pages.submissions.order_data import order_data
from generator.pages.wording import Wording
from generator.planning.submitting import Asks, asked_of, whom
from generator.records.approvals import Approved, Event, TakenOver, TakeOverConfirmed
from generator.records.catalogue import KeptFile
from generator.rules.binding import submitted_text
from generator.rules.canonical import fingerprint, from_record
from generator.rules.changes import Change, Means
from generator.rules.consequences import part_changes
from generator.rules.sheet import Sheet

LONGEST_TEXT = 100_000
_NAMED = 4
SECTIONS = (
    identity.identity, identity.replaced, identity.pictures, identity.places, identity.material, shown.fire, shown.environment,
    shown.making, shown.dimensions, judged.screening, judged.carried_over, judged.history, judged.cautions, order_data,
)  # fmt: skip


def submission_of(
    sheets: Sequence[Sheet],
    around: Around,
    day: date,
    *,
    fleet: str | None = None,
    asks: Asks | None = None,
    shared: Iterable[Block] = (),
    photos: Mapping[str, bytes | None] = MappingProxyType({}),
    large: Mapping[str, KeptFile] = MappingProxyType({}),
) -> Submission:
    """asks: the step, where it is another than the next one. photos: as in SubmissionCase. large: as in `attachments`. Raises ValueError for a part whose record cannot be read."""
    w = around.w
    if any(sheet.part is None for sheet in sheets):
        raise ValueError("a part that cannot be read cannot be submitted")
    attached = attachments([sheet.folder for sheet in sheets], around.catalogue, w, large)
    dossiers = tuple(_dossier(sheet, around, day, attached, fleet=fleet, asks=asks, photos=photos) for sheet in sheets)
    first = dossiers[0]
    title = w("submission.title.one", number=first.number, name=first.name, revision=first.revision)
    if len(dossiers) > 1:
        title = w("submission.title.several", n=w.number(len(dossiers)), numbers=_some([each.number for each in dossiers], w))
    depot = around.catalogue.depot
    return Submission(
        title=title,
        subtitle=w("submission.subtitle", owner=f"{depot.railway}, {depot.depot}" if depot else None, day=w.day(day)),
        day=day,
        dossiers=dossiers,
        shared=tuple(shared),
        attachments=attached,
        answer_to=w("submission.answer_to", owner=f"{depot.railway}, {depot.depot}", contact=depot.contact) if depot else "",
        only=w("submission.only_fleet", fleet=fleet) if fleet else "",
    )


def _some(numbers: Sequence[str], w: Wording) -> str:
    """The first few; the first page names each with what is asked of it."""
    shown = ", ".join(numbers[:_NAMED])
    return w("submission.title.and_more", numbers=shown, more=w.number(len(numbers) - _NAMED)) if len(numbers) > _NAMED else shown


def _dossier(
    sheet: Sheet, around: Around, day: date, attached: Sequence[Attachment], *, fleet: str | None, asks: Asks | None, photos: Mapping[str, bytes | None]
) -> Dossier:
    part = sheet.part
    if part is None:
        raise ValueError("a part that cannot be read has no dossier")
    numbers = {each.path: each.number for each in attached}
    case = SubmissionCase(sheet=sheet, part=part, around=around, day=day, numbers=numbers, fleet=fleet, photos=photos)
    sections = tuple(section(case) for section in SECTIONS)
    text = submitted_text(sheet.folder, around.catalogue) or ""
    asked = asks or asked_of(sheet)
    against, changed = _against(case, text)
    return Dossier(
        number=part.number,
        name=part.name,
        revision=part.revision,
        asks=asked,
        asked=_asked(case, asked),
        until=_until(case) if asked in (Asks.RENEWAL, Asks.CHANGE) else "",
        is_over=_is_over(case, asked),
        fingerprint=fingerprint(text) if text else "",
        text=text,
        against=against,
        changes=changed,
        is_compared=_is_compared(case, against),
        gaps=gaps_of(case, sections, attached, is_bound=bool(text)),
        questions=judged.questions_of(case),
        numbering=judged.numbering(case),
        sections=sections,
    )


def _is_compared(case: SubmissionCase, against: str) -> bool:
    """Whether an approval binds something: of a letter that awaits its confirmation nothing can be held against anything."""
    permit = case.sheet.history.approval
    return against != case.w("submission.against.nothing") and not (permit and permit.awaits)


def _until(case: SubmissionCase) -> str:
    permit = case.sheet.history.approval
    return case.w.day(permit.valid_until) if permit and permit.valid_until else ""


def _is_over(case: SubmissionCase, asked: Asks) -> bool:
    """Whether what is to be renewed has ended before the day."""
    permit = case.sheet.history.approval
    return asked is Asks.RENEWAL and permit is not None and permit.valid_until is not None and permit.valid_until < case.day


def _asked(case: SubmissionCase, asked: Asks) -> str:
    """Of whom, what, and of a permit that stands its last day."""
    w, until = case.w, _until(case) or None
    holder = w.term("holder", whom(asked, case.sheet.history.route).value)
    told = w(f"submission.asked.{asked.value}{'_over' if _is_over(case, asked) else ''}", holder=holder, number=case.part.number, revision=case.part.revision, until=until)
    return told[:1].upper() + told[1:]


def _against(case: SubmissionCase, text: str) -> tuple[str, tuple[ChangeLine, ...]]:
    """With which approval it is compared, and what is otherwise; of a permit that has ended only what it bound of the part."""
    w, sheet, permit = case.w, case.sheet, case.sheet.history.approval
    events = sheet.folder.approval.events if sheet.folder.approval else ()
    if permit:
        if permit.awaits and isinstance(permit.event, TakenOver):
            return w("submission.against.awaits", day=w.day(permit.event.letter_of), reference=permit.event.reference), ()
        words = w("submission.against.standing", day=w.day(given_on(permit.event, events)), reference=permit.event.reference, revision=permit.event.revision)
        return words, _told(sheet, sheet.changes, case)
    ended = [each for each in events if isinstance(each, Approved | TakeOverConfirmed) and each.on <= case.day]
    if not ended or not text:
        return w("submission.against.nothing"), ()
    last = ended[-1]
    words = w("submission.against.ended", day=w.day(given_on(last, events)), reference=last.reference, revision=last.revision)
    return words, _told(sheet, part_changes(from_record(last.approved_as), text), case)


def given_on(event: Event, events: Iterable[Event]) -> date:
    """The day of the approval itself: of a letter that was taken over its own, not the one on which that was written down."""
    if isinstance(event, TakeOverConfirmed):
        taken = (each for each in events if isinstance(each, TakenOver) and each.on == event.approved_on)
        return next((each.letter_of for each in taken), event.approved_on)
    return event.letter_of if isinstance(event, TakenOver) else event.on


def _told(sheet: Sheet, found: tuple[Change, ...], case: SubmissionCase) -> tuple[ChangeLine, ...]:
    """Each whole, as long as it is, and with what follows in a sentence."""
    w = case.w
    follows = {w.term("means", each): w(f"submission.follows.{each.value}") for each in Means}
    lines = changes(replace(sheet, changes=found), w, longest=LONGEST_TEXT)
    return tuple(replace(each, means=follows[each.means]) for each in lines)
