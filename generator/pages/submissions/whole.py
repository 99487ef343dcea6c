"""One part, or several as one → the whole submission in words, from the judged catalogue and the day."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from generator.pages.around import Around
from generator.pages.part.story import changes
from generator.pages.submissions import identity, shown, told
from generator.pages.submissions.attached import attachments
from generator.pages.submissions.case import Case
from generator.pages.submissions.gaps import gaps_of
from generator.pages.submissions.kinds import Attachment, Block, Change, Dossier, Submission
from generator.pages.submissions.order_data import order_data
from generator.planning.submitting import Asks, asked_of, whom
from generator.records.approvals import Approved, TakeOverConfirmed
from generator.rules.binding import submitted_text
from generator.rules.canonical import fingerprint, from_record
from generator.rules.changes import Change as Changed
from generator.rules.consequences import part_changes
from generator.rules.sheet import Sheet

SECTIONS = (
    identity.identity, identity.replaced, identity.pictures, identity.places, identity.material, shown.fire, shown.environment,
    shown.making, shown.dimensions, told.screening, told.carried_over, told.history, told.cautions, order_data,
)  # fmt: skip


def submission_of(
    sheets: Sequence[Sheet],
    around: Around,
    day: date,
    *,
    fleet: str | None = None,
    asks: Asks | None = None,
    shared: Iterable[Block] = (),
) -> Submission:
    """asks: the step, where it is another than the next one. Raises ValueError for a part whose record cannot be read."""
    w = around.w
    if any(sheet.part is None for sheet in sheets):
        raise ValueError("a part that cannot be read cannot be submitted")
    attached = attachments([sheet.folder for sheet in sheets], around.catalogue, w)
    dossiers = tuple(_dossier(sheet, around, day, attached, fleet=fleet, asks=asks) for sheet in sheets)
    first = dossiers[0]
    title = w("submission.title.one", number=first.number, name=first.name, revision=first.revision)
    if len(dossiers) > 1:
        title = w("submission.title.several", n=w.number(len(dossiers)), numbers=", ".join(each.number for each in dossiers))
    depot = around.catalogue.depot
    return Submission(
        title=title,
        subtitle=w("submission.subtitle", owner=f"{depot.railway}, {depot.depot}" if depot else None, day=w.day(day)),
        day=day,
        dossiers=dossiers,
        shared=tuple(shared),
        attachments=attached,
        only=w("submission.only_fleet", fleet=fleet) if fleet else "",
    )


def _dossier(
    sheet: Sheet, around: Around, day: date, attached: Sequence[Attachment], *, fleet: str | None, asks: Asks | None
) -> Dossier:
    part, w = sheet.part, around.w
    if part is None:
        raise ValueError("a part that cannot be read has no dossier")
    numbers = {each.path: each.number for each in attached}
    case = Case(sheet=sheet, part=part, around=around, day=day, numbers=numbers, fleet=fleet)
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
        fingerprint=fingerprint(text) if text else "",
        text=text,
        against=against,
        changes=changed,
        is_compared=against != w("submission.against.nothing"),
        gaps=gaps_of(case, sections, attached, is_bound=bool(text)),
        questions=told.questions_of(case),
        sections=sections,
    )


def _asked(case: Case, asked: Asks) -> str:
    """Of whom, what, and of a permit that stands its last day."""
    w, permit = case.w, case.sheet.history.approval
    until = w.day(permit.valid_until) if permit and permit.valid_until else None
    holder = w.term("holder", whom(asked, case.sheet.history.route).value)
    is_over = asked is Asks.RENEWAL and permit is not None and permit.valid_until is not None and permit.valid_until < case.day
    told = w(f"submission.asked.{asked.value}{'_over' if is_over else ''}", holder=holder, number=case.part.number, revision=case.part.revision, until=until)
    return told[:1].upper() + told[1:]


def _against(case: Case, text: str) -> tuple[str, tuple[Change, ...]]:
    """With which approval it is compared, and what is otherwise; of a permit that has ended only what it bound of the part."""
    w, sheet, permit = case.w, case.sheet, case.sheet.history.approval
    if permit:
        words = w("submission.against.standing", day=w.day(permit.event.on), reference=permit.event.reference, revision=permit.event.revision)
        return words, _told(sheet, sheet.changes, case)
    events = sheet.folder.approval.events if sheet.folder.approval else ()
    ended = [each for each in events if isinstance(each, Approved | TakeOverConfirmed) and each.on <= case.day]
    if not ended or not text:
        return w("submission.against.nothing"), ()
    last = ended[-1]
    words = w("submission.against.ended", day=w.day(last.on), reference=last.reference, revision=last.revision)
    return words, _told(sheet, part_changes(from_record(last.approved_as), text), case)


def _told(sheet: Sheet, found: tuple[Changed, ...], case: Case) -> tuple[Change, ...]:
    lines = changes(replace(sheet, changes=found), case.w)
    return tuple(Change(what=each.what, approved=each.approved, now=each.now, means=each.means, why=each.why) for each in lines)
