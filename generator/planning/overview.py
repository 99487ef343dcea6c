"""Where every approval stands: stage, wait, holder, what the next step lacks, what lapses soon, and the forecast."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from generator.planning.forecast import Forecast, forecast, own_waits
from generator.planning.unfit import Lack, lacks
from generator.records.approvals import Approval, QuestionAsked, Route
from generator.records.catalogue import PartFolder
from generator.records.file_names import is_drawing
from generator.records.parts import SafetyRole
from generator.rules.history import IN_REVIEW, History, Holder, Stage
from generator.rules.sheet import Sheet
from generator.rules.taking_over import may_be_taken_over

UNTAKEN = "APPR49"
"""Code of a warning about an approval that an import told of and nobody has taken over."""
LAPSE_WINDOWS_DAYS = (30, 90, 180)


class Missing(StrEnum):
    """What the next step of an approval lacks; the words stand in the pages' words file."""

    TAKE_OVER = "an older approval that nobody has taken over"
    PROTOTYPE = "print the prototype"
    SAMPLE = "get a piece to be tried"
    SEND_FOR_ACCEPTANCE = "send it for customer acceptance"
    CUSTOMER_ANSWER = "the customer's answer"
    AUTHORITY_ANSWER = "the authority's answer"
    ANSWER_QUESTION = "answer the question"
    ACCEPTANCE_EVIDENCE = "the customer's letter or minutes on the acceptance"
    DRAWING = "a drawing in documents/"
    CERTIFICATE = "a material certificate that is kept and in date"
    FIRE_SET = "the requirement set of the fire standard"
    FIRE_REPORT = "a fire report that answers it"
    CHECKS = "critical dimensions"
    FITTING_NOTES = "fitting notes"
    SCREENING = "answers of the change screening"
    ASSESSMENT = "the assessment body's report on a significant change"
    AUTHORISATION = "the authority's authorisation for the case of the change"
    AUTHORITY_ROUTE = "the authority route, or a recorded reason why not"
    COMPLETE_DOCUMENTS = "record that the documents are complete"
    RESUBMISSION = "submit it as it lies here now"
    SEND_TO_REVIEW = "send the documents to review"
    SEND_TO_AUTHORITY = "send the documents to the authority"
    CONFIRMATION = "the approver's confirmation of a letter that was taken over"
    RENEWAL = "a renewal"
    NEW_APPROVAL = "an approval of what lies there now"
    MEND_RECORD = "the record's mistakes mended"


# The papers are asked for until whoever approves has decided without them.
_READ_BY_A_REVIEWER = (Stage.DOCUMENTS, *IN_REVIEW)


class Lapsing(StrEnum):
    """What can lapse."""

    APPROVAL = "approval"
    TRIAL = "trial"
    CERTIFICATE = "material certificate"
    FIRE_REPORT = "fire report"


@dataclass(frozen=True, slots=True)
class Lapse:
    """Something that ends: its last day and how many days are left (negative: it is over)."""

    what: Lapsing
    last_day: date
    days_left: int

    @property
    def window_days(self) -> int | None:
        """The narrowest of the windows it falls into; None beyond them."""
        return next((window for window in LAPSE_WINDOWS_DAYS if self.days_left <= window), None)


@dataclass(frozen=True, slots=True)
class OverviewRow:
    """One part in the overview."""

    sheet: Sheet
    stage: Stage
    since: date | None
    waited_days: int | None
    holder: Holder
    missing: tuple[Missing, ...]
    question: str | None
    lapses: tuple[Lapse, ...]
    forecast: Forecast | None
    """None of what is not on its way, and of a record with mistakes: its route and stage may be guesses."""
    lacks: tuple[Lack, ...]
    """Where it is approved or tried and not to be fitted all the same."""


def overview(sheets: Iterable[Sheet], day: date) -> tuple[OverviewRow, ...]:
    """Every part's row, in the order of the stages and within one the longest wait first."""
    every = list(sheets)
    own = own_waits((sheet.history for sheet in every), day)
    order = list(Stage)
    rows = (_row(sheet, None if sheet.is_broken else forecast(sheet.history, own, day), day) for sheet in every)
    return tuple(
        sorted(rows, key=lambda row: (order.index(row.stage), -(row.waited_days or 0), row.sheet.number))
    )


def row_of(sheet: Sheet, day: date) -> OverviewRow:
    """One part's row by itself, without a forecast, which the others would have to tell."""
    return _row(sheet, None, day)


def _row(sheet: Sheet, expected: Forecast | None, day: date) -> OverviewRow:
    told, since = sheet.history, in_stage_since(sheet)
    return OverviewRow(
        sheet=sheet,
        stage=sheet.stage,
        since=since,
        waited_days=(day - since).days if since else None,
        holder=Holder.SPECIALIST if sheet.unsubmitted or sheet.stage in (Stage.LAPSED, Stage.CHANGED) else told.holder,
        missing=missing(sheet),
        question=_open_question(sheet.folder.approval, told),
        lapses=lapses(sheet, day),
        forecast=expected,
        lacks=lacks(sheet),
    )


# Where somebody still has a move to make, in the order of the way.
ON_THE_WAY = (
    Stage.UNREAD, Stage.DESIGN, Stage.PROTOTYPE, Stage.ACCEPTANCE, Stage.DOCUMENTS, Stage.TECHNICAL_REVIEW,
    Stage.AUTHORITY_REVIEW, Stage.TAKEN_OVER, Stage.LAPSED, Stage.CHANGED,
)  # fmt: skip
OVER = (Stage.LAPSED, Stage.CHANGED)


def is_waiting(row: OverviewRow) -> bool:
    """Whether it is on its way; what has lapsed or changed since stands where it says what mends it.

    A letter that has lapsed before anybody confirmed it awaits that first.
    """
    is_told = row.lacks and row.stage in OVER and Missing.CONFIRMATION not in row.missing
    return row.stage in ON_THE_WAY and not is_told


def in_stage_since(sheet: Sheet) -> date | None:
    """The day on which the stage began: for a lapsed approval the day after its last, for a change nobody knows it."""
    approval = sheet.history.approval
    if sheet.stage is Stage.LAPSED and approval and approval.valid_until:
        return approval.valid_until + timedelta(days=1)
    return None if sheet.stage is Stage.CHANGED else sheet.history.since


def missing(sheet: Sheet) -> tuple[Missing, ...]:
    """What stands between the part and its next step."""
    older = (Missing.TAKE_OVER,) if _is_untaken(sheet) else ()
    if sheet.is_broken:
        return (Missing.MEND_RECORD, *older)
    if older:
        return older
    papers = missing_documents(sheet) if is_read_by_a_reviewer(sheet) else ()
    if sheet.history.question_open:
        return (*papers, Missing.ANSWER_QUESTION)
    if sheet.stage is Stage.DOCUMENTS and papers:
        return papers
    return (*papers, *_move(sheet))


def is_read_by_a_reviewer(sheet: Sheet) -> bool:
    return sheet.stage in _READ_BY_A_REVIEWER


def _is_untaken(sheet: Sheet) -> bool:
    """Whether an import told of an approval whose letter can still be taken over: then no step of an ordinary way comes before."""
    events = sheet.folder.approval.events if sheet.folder.approval else ()
    return any(each.code == UNTAKEN for each in sheet.problems) and may_be_taken_over(events)


def _move(sheet: Sheet) -> tuple[Missing, ...]:
    """The technical review comes first on either route."""
    if sheet.unsubmitted:
        return (Missing.RESUBMISSION,)
    if sheet.stage is Stage.DOCUMENTS:
        return (Missing.SEND_TO_REVIEW if sheet.history.documents_complete else Missing.COMPLETE_DOCUMENTS,)
    if sheet.stage is Stage.TECHNICAL_REVIEW and sheet.history.route is Route.AUTHORITY:
        return (Missing.SEND_TO_AUTHORITY,)
    simple = {
        Stage.DESIGN: (Missing.SAMPLE if sheet.part and sheet.part.is_bought else Missing.PROTOTYPE,),
        Stage.PROTOTYPE: (Missing.SEND_FOR_ACCEPTANCE,),
        Stage.ACCEPTANCE: (Missing.CUSTOMER_ANSWER,),
        Stage.TECHNICAL_REVIEW: (Missing.CUSTOMER_ANSWER,),
        Stage.AUTHORITY_REVIEW: (Missing.AUTHORITY_ANSWER,),
        Stage.TAKEN_OVER: (Missing.CONFIRMATION,),
        Stage.LAPSED: (Missing.CONFIRMATION if sheet.history.awaits else Missing.RENEWAL,),
        Stage.CHANGED: (Missing.NEW_APPROVAL,),
    }
    return simple.get(sheet.stage, ())


def missing_documents(sheet: Sheet) -> tuple[Missing, ...]:
    """What a reviewer wants to see and does not find."""
    part, approval, folder = sheet.part, sheet.folder.approval, sheet.folder
    if part is None or approval is None:
        return (Missing.MEND_RECORD,)
    facts = [permit for ground in sheet.grounds for permit in ground.permits]
    wanted = {
        Missing.ACCEPTANCE_EVIDENCE: sheet.history.accepted != (),
        Missing.DRAWING: _has_drawing(folder),
        Missing.CERTIFICATE: all(fact.certificate_until for fact in facts),
        Missing.FIRE_SET: all(fit.fire or part.fire for fit in part.fits),
        Missing.FIRE_REPORT: not any(fit.fire or part.fire for fit in part.fits) or all(fact.fire_until for fact in facts),
        Missing.CHECKS: bool(part.checks),
        Missing.FITTING_NOTES: folder.fitting is not None and not folder.fitting.missing,
        Missing.SCREENING: all(fact.screening_judged for fact in facts),
        Missing.ASSESSMENT: all(fact.significance != "significant" for fact in facts),
        Missing.AUTHORISATION: all(fact.authorisation != "missing" for fact in facts),
        Missing.AUTHORITY_ROUTE: part.safety_role is SafetyRole.NONE
        or approval.route is Route.AUTHORITY
        or approval.waiver is not None,
    }
    return tuple(what for what, is_there in wanted.items() if not is_there)


def _has_drawing(folder: PartFolder) -> bool:
    return any(is_drawing(document.path.rsplit("/", 1)[-1]) for document in folder.documents)


def _open_question(approval: Approval | None, told: History) -> str | None:
    if approval is None or not told.question_open:
        return None
    asked = [event.question for event in approval.events if isinstance(event, QuestionAsked)]
    return asked[-1] if asked else None


def lapses(sheet: Sheet, day: date) -> tuple[Lapse, ...]:
    """What of the part's permission ends within the widest window or has ended, soonest first."""
    return tuple(lapse for lapse in ends(sheet, day) if lapse.window_days)


def ends(sheet: Sheet, day: date) -> tuple[Lapse, ...]:
    """Everything of the part's permission that has an end, however far, soonest first."""
    found: set[tuple[Lapsing, date]] = set()
    if sheet.stage in (Stage.WITHDRAWN, Stage.SUPERSEDED):
        return ()
    for facts in (permit for ground in sheet.grounds for permit in ground.permits):
        if facts.permit is None:
            continue
        kind = Lapsing.TRIAL if facts.permit == "trial" else Lapsing.APPROVAL
        ends = {
            kind: facts.permit_until,
            Lapsing.CERTIFICATE: facts.certificate_until,
            Lapsing.FIRE_REPORT: facts.fire_until,
        }
        found |= {(what, last) for what, last in ends.items() if isinstance(last, date)}
    listed = [Lapse(what, last, (last - day).days) for what, last in found]
    return tuple(sorted(listed, key=lambda lapse: (lapse.last_day, lapse.what)))
