"""The records of a depot → its tasks of a day, in their order."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Final

from generator.planning.fire_plan import ChosenTests, FirePlan
from generator.planning.forecast import Own, own_waits, practice_of, review_ahead, usual_wait, way_ahead
from generator.planning.overview import (
    Lapse,
    Lapsing,
    Missing,
    OverviewRow,
    ends,
    is_waiting,
    missing_documents,
    overview,
)
from generator.planning.saving.rows import savings
from generator.planning.today.deadlines import Deadline, deadline
from generator.planning.today.guesses import (
    OF_MISSING,
    OF_STEP,
    Dated,
    Logged,
    Minutes,
    OwnWork,
    logged_minutes,
    minutes_for,
)
from generator.planning.today.tasks import WAITS, Task, TaskKind, ordered
from generator.planning.today.unread import records_to_mend, told_by_itself
from generator.planning.today.worth import Worth, worth_of, worth_of_request
from generator.planning.unfit import UNRELEASED
from generator.records.approvals import Route
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.records.depot import Depot
from generator.records.problems import Severity
from generator.rules.answering import answer, worked_on
from generator.rules.history import Stage
from generator.rules.production.ledger import ledger
from generator.rules.production.releasing import standing
from generator.rules.production.states import stops_of
from generator.rules.reminding import may_remind, may_remind_of_release
from generator.rules.sheet import Sheet

# Common practice, no source, all of these.
REMINDER_HELPS: Final = Decimal("0.2")
"""The chance that who is reminded would have let it lie a week longer."""
REMINDER_RESTS_DAYS: Final = 14
"""So long who was reminded is left alone."""
AHEAD_DAYS: Final = 28
"""So long before it has to be begun what ends is a task."""
RELEASE_USUAL_DAYS: Final = 7
"""Longer than this a measured batch does not wait for its release."""
PAPER_DAYS: Final[Mapping[Lapsing, tuple[int, float]]] = {Lapsing.CERTIFICATE: (60, 2.0), Lapsing.FIRE_REPORT: (150, 1.8)}
"""Median days until a new paper is there and accepted, and the factor that spans the middle 80 %."""

# Own work of the steps of the way, by the stage that it ends.
_OF_STAGE: Mapping[Stage, tuple[OwnWork, ...]] = {
    Stage.DESIGN: (OwnWork.PROTOTYPE,),
    Stage.PROTOTYPE: (OwnWork.SEND,),
    Stage.DOCUMENTS: (OwnWork.DOSSIER, OwnWork.SEND),
    Stage.AUTHORITY_REVIEW: (OwnWork.SEND,),
}
_WAY = (Stage.DESIGN, Stage.PROTOTYPE, Stage.ACCEPTANCE, Stage.DOCUMENTS, Stage.TECHNICAL_REVIEW, Stage.AUTHORITY_REVIEW)
# What a part needs before its documents are complete and that nobody has of a mere request.
_NEW_PART = (OwnWork.DESIGN, OwnWork.DRAWING, OwnWork.CHECKS, OwnWork.NOTES, OwnWork.SCREENING)
# Questions of the verdict that a reviewer asks under another name.
_SAME: Mapping[str, str] = {"question": "answer_question", "significance": "assessment", "record": "mend_record"}
_FIRE_REPORT: Final = Missing.FIRE_REPORT.name.lower()
"""The same word as the question's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Books:
    """What each task is drawn from."""

    catalogue: Catalogue
    day: date
    own: Own
    logged: Logged
    tests: ChosenTests | None = None
    """The fire tests to order next."""
    freed: frozenset[str] = frozenset()
    """Parts that lack a report which these would give: for them ordering the tests takes the place of looking for one."""

    def minutes(self, work: OwnWork) -> Minutes:
        return minutes_for(work, self.logged)


def todays(sheets: Iterable[Sheet], catalogue: Catalogue, day: date, plan: FirePlan | None = None) -> tuple[Task, ...]:
    """Everything there is to do, in its order. plan: the fire tests that would free parts (planning/fire_plan.py)."""
    every = list(sheets)
    rows = overview(every, day)
    own = own_waits((sheet.history for sheet in every), day)
    books = _Books(catalogue=catalogue, day=day, own=own, logged=logged_minutes(_events(catalogue, day)))
    books = _with_tests(books, rows, plan)
    fitted = savings((row for row in catalogue.production.fitted if row.day <= day), every, catalogue).by_part
    worths = {row.sheet.number: worth_of(row.sheet, catalogue, day, fitted.get(row.sheet.number)) for row in rows}
    found = [
        *(task for row in rows for task in _of_part(row, worths[row.sheet.number], books)),
        *_of_papers(rows, worths, books),
        *_of_requests(books),
        *_of_batches(rows, worths, books),
        *_of_tests(rows, worths, books),
        *records_to_mend(rows, worths, catalogue, books.logged),
    ]
    return ordered(found, day)


def _events(catalogue: Catalogue, day: date) -> Iterator[Dated]:
    for folder in catalogue.parts:
        yield from (each for each in (folder.approval.events if folder.approval else ()) if each.on <= day)
    for batch in catalogue.production.batches.values():
        yield from (each for each in batch.events if each.on <= day)


def _with_tests(books: _Books, rows: Iterable[OverviewRow], plan: FirePlan | None) -> _Books:
    """The smallest choice of tests that frees a part which lacks a report, and those of its parts that do."""
    lacking = {row.sheet.number for row in rows if _FIRE_REPORT in _wanted(row, books.catalogue)}
    chosen = next((each for each in (plan.best if plan else ()) if lacking & set(each.frees)), None)
    return replace(books, tests=chosen, freed=frozenset(lacking & set(chosen.frees))) if chosen else books


def _of_part(row: OverviewRow, worth: Worth, books: _Books) -> Iterator[Task]:
    number, pieces, whole = row.sheet.number, _pieces(row, books), _whole_minutes(row, books)
    keeps, worths = _way_deadline(row, books), {number: worth}
    for place, task in enumerate(pieces):
        yield replace(task, place=place, after=whole - task.minutes.minutes, deadline=keeps, worths=worths, row=row)
    if not pieces and number not in books.freed:
        yield from (replace(task, after=whole, worths=worths, row=row) for task in _reminder(row, books))
    yield from (replace(task, worths=worths, row=row) for task in _renewal(row, books))


def _whole_minutes(row: OverviewRow, books: _Books) -> int:
    """Of own work until it may be fitted, with the fire tests to order."""
    tests = _test_minutes(books).minutes if row.sheet.number in books.freed else 0
    return sum(task.minutes.minutes for task in _pieces(row, books)) + _rest(row, books) + tests


def _pieces(row: OverviewRow, books: _Books) -> tuple[Task, ...]:
    """The specialist's own of what is missing for the next step, then of what keeps an approved part from being fitted."""
    number = row.sheet.number
    wanted = {what: each for what, each in _wanted(row, books.catalogue).items() if each[1] is not OwnWork.REMIND}
    if number in books.freed:
        wanted.pop(_FIRE_REPORT)
    return tuple(_piece(kind, number, what, work, books) for what, (kind, work) in wanted.items())


def _wanted(row: OverviewRow, catalogue: Catalogue) -> dict[str, tuple[TaskKind, OwnWork]]:
    """What is missing, each once, by its name; a question of the verdict that a reviewer asks too is the reviewer's.

    That a batch waits for its release is a task of its own (_of_batch), or waits for others.
    """
    found = {what.name.lower(): (TaskKind.WAY, OF_MISSING[what]) for what in row.missing} if is_waiting(row) else {}
    for step in dict.fromkeys(taken.step.id for lack in row.lacks for taken in lack.taken if taken.found != UNRELEASED):
        if step not in found and _SAME.get(step, "") not in found:
            found[step] = (TaskKind.UNFIT, OF_STEP.get(step, OwnWork.OTHER))
    return {what: each for what, each in found.items() if told_by_itself(row, what, catalogue)}


def _piece(kind: TaskKind, number: str, what: str, work: OwnWork, books: _Books) -> Task:
    return Task(kind=kind, number=number, what=what, work=work, minutes=books.minutes(work))


def _rest(row: OverviewRow, books: _Books) -> int:
    """Minutes of own work that come behind what is missing now, up to the approval."""
    stage, missing = row.stage, set(row.missing)
    if stage is Stage.CHANGED or Missing.NEW_APPROVAL in missing:
        stage = Stage.DESIGN
    if stage not in _WAY:
        return 0
    later = [each for each in _WAY[_WAY.index(stage) + 1 :] if row.sheet.history.route is Route.AUTHORITY or each is not Stage.AUTHORITY_REVIEW]
    work = [each for ahead in later for each in _OF_STAGE.get(ahead, ())]
    if stage is Stage.TECHNICAL_REVIEW and Missing.SEND_TO_AUTHORITY in missing:
        work.remove(OwnWork.SEND)
    if stage is Stage.DOCUMENTS and Missing.SEND_TO_REVIEW not in missing:
        work += [OwnWork.SEND] if {Missing.COMPLETE_DOCUMENTS, Missing.RESUBMISSION} & missing else [OwnWork.DOSSIER, OwnWork.SEND]
    if Stage.DOCUMENTS in later:
        work += [OF_MISSING[each] for each in missing_documents(row.sheet) if each is not Missing.ACCEPTANCE_EVIDENCE]
    return sum(books.minutes(each).minutes for each in work)


def _way_deadline(row: OverviewRow, books: _Books) -> Deadline | None:
    """Of a part on its way that may be fitted meanwhile: until when its approval has to be there."""
    soonest = next((each for each in ends(row.sheet, books.day) if each.what in (Lapsing.APPROVAL, Lapsing.TRIAL) and each.days_left >= 0), None)
    ahead = way_ahead(row.sheet.history, books.own, books.day)
    return deadline(ahead[0], soonest.last_day, books.day) if soonest and ahead else None


def _reminder(row: OverviewRow, books: _Books) -> Iterator[Task]:
    """Of what waits for somebody else, once it has waited for longer than four of five do."""
    wanted = next((what for what in row.missing if what in WAITS), None) if is_waiting(row) else None
    if wanted is None or row.waited_days is None:
        return
    stage = Stage.TECHNICAL_REVIEW if wanted is Missing.CONFIRMATION else row.stage
    usual = usual_wait(row.sheet.history.route, stage, books.own)
    if usual is not None and row.waited_days > usual and not _rests(row, books):
        task = _piece(TaskKind.REMIND, row.sheet.number, wanted.name.lower(), OwnWork.REMIND, books)
        yield replace(task, share=REMINDER_HELPS)


def reminded_on(row: OverviewRow, depot: Depot | None, day: date) -> date | None:
    """When whoever has it was reminded last since it has lain there, by somebody else; None where nobody was."""
    approval, history = row.sheet.folder.approval, row.sheet.history
    sent = (each for each in (approval.events if approval else ()) if each.what == "reminder sent" and (row.since or each.on) <= each.on <= day)
    return max((each.on for each in sent if may_remind(each.by, approval, history, depot)), default=None)


def _rests(row: OverviewRow, books: _Books) -> bool:
    last = reminded_on(row, books.catalogue.depot, books.day)
    return last is not None and (books.day - last).days < REMINDER_RESTS_DAYS


def _renewal(row: OverviewRow, books: _Books) -> Iterator[Task]:
    """Of an approval that stands, once it is time to begin."""
    if row.stage is not Stage.APPROVED:
        return
    soonest = next((each for each in ends(row.sheet, books.day) if each.what is Lapsing.APPROVAL and each.days_left >= 0), None)
    if soonest:
        keeps = deadline(review_ahead(row.sheet.history.route, books.own), soonest.last_day, books.day)
        yield from _kept(row.sheet.number, soonest, keeps, OwnWork.RENEWAL, books)


def _kept(number: str, lapse: Lapse, keeps: Deadline, work: OwnWork, books: _Books) -> Iterator[Task]:
    """A week of delay costs what a week without it does, for as much of it as it lacks a week longer."""
    begins = keeps.latest_start
    if lapse.days_left >= 0 and (begins is None or begins <= books.day + timedelta(days=AHEAD_DAYS)):
        task = _piece(TaskKind.KEEP, number, lapse.what.name.lower(), work, books)
        yield replace(task, share=Decimal(str(keeps.delayed)), deadline=keeps)


def _of_papers(rows: Sequence[OverviewRow], worths: Mapping[str, Worth], books: _Books) -> Iterator[Task]:
    """A material's papers, once for all parts of which they end on one day."""
    lapsing: dict[tuple[str, Lapse], dict[str, Worth]] = defaultdict(dict)
    for row in rows:
        for lapse in ends(row.sheet, books.day):
            if lapse.what in PAPER_DAYS and row.sheet.part:
                lapsing[row.sheet.part.material, lapse][row.sheet.number] = worths[row.sheet.number]
    chances = {what: practice_of(*days) for what, days in PAPER_DAYS.items()}
    for (material, lapse), parts in lapsing.items():
        keeps = deadline(chances[lapse.what], lapse.last_day, books.day)
        work = OwnWork.CERTIFICATE if lapse.what is Lapsing.CERTIFICATE else OwnWork.ORDER_TEST
        for task in _kept(material, lapse, keeps, work, books):
            # One material may have papers of several ends; each is a task.
            yield replace(task, worths=parts, place=lapse.last_day.toordinal())


def _of_requests(books: _Books) -> Iterator[Task]:
    """Those that nobody works on; the part that is to answer one has tasks of its own."""
    catalogue = books.catalogue
    way = [*_NEW_PART, *(work for stage in _WAY if stage is not Stage.AUTHORITY_REVIEW for work in _OF_STAGE.get(stage, ()))]
    after = sum(books.minutes(work).minutes for work in way)
    for name, request in sorted(catalogue.requests.items()):
        if answer(request, catalogue) is None and worked_on(request, catalogue) is None and request.on <= books.day:
            task = _piece(TaskKind.REQUEST, name, "look", OwnWork.LOOK, books)
            yield replace(task, after=after, worths={name: worth_of_request(request, catalogue)})


def _of_batches(rows: Iterable[OverviewRow], worths: Mapping[str, Worth], books: _Books) -> Iterator[Task]:
    """Those that are printed and not yet good to fit. While others lie on the shelf, a week of delay costs nothing, unless those have to be
    asked about because of it.
    """
    catalogue, day = books.catalogue, books.day
    asked = {row.sheet.number: _asked_because_of(row) for row in rows}
    for name, batch in sorted(catalogue.production.batches.items()):
        if stops_of(name, batch, catalogue.production, day) or batch.ended.date() > day:
            continue
        task = _of_batch(name, batch, books)
        worth = worths.get(batch.part)
        if task and worth:
            has_others, stops_others = _lies_on_shelf(batch.part, name, books), name in asked.get(batch.part, ())
            share = Decimal(0) if has_others and not stops_others else task.share
            yield replace(task, worths={batch.part: worth}, share=share, stops_others=has_others and stops_others)


def _asked_because_of(row: OverviewRow) -> frozenset[str]:
    """The batches because of which each piece of the part is asked about, whichever it is of: none of it is fitted without."""
    facts = [lack.judgement.facts for lack in row.lacks if lack.judgement and any(taken.step.id == "piece" for taken in lack.taken)]
    return frozenset(name for each in facts for name in (*each.piece_batches, *(told.split()[-1] for told in each.piece_unreleased)))


def _of_batch(name: str, batch: Batch, books: _Books) -> Task | None:
    said = standing(name, batch, books.catalogue, books.day)
    if said.is_void and not _is_mended_first(batch, books):
        return _piece(TaskKind.BATCH, name, "void", OwnWork.MEND, books)
    if said.word != "printed":
        return None
    measured = [each.on for each in batch.events if each.what == "measured" and each.on <= books.day]
    if not measured:
        return _piece(TaskKind.BATCH, name, "measure", OwnWork.MEASURE, books)
    reminded = release_reminded_on(batch, books.catalogue.depot, books.day)
    if (books.day - measured[-1]).days <= RELEASE_USUAL_DAYS or (reminded and (books.day - reminded).days < REMINDER_RESTS_DAYS):
        return None
    return replace(_piece(TaskKind.REMIND, name, "release", OwnWork.REMIND, books), share=REMINDER_HELPS)


def release_reminded_on(batch: Batch, depot: Depot | None, day: date) -> date | None:
    """When whoever releases it was reminded last since it was measured, by somebody else; None where nobody was."""
    measured = max((each.on for each in batch.events if each.what == "measured" and each.on <= day), default=None)
    sent = (each for each in batch.events if each.what == "reminder sent" and measured and measured <= each.on <= day)
    return max((each.on for each in sent if may_remind_of_release(each.by, batch, depot)), default=None)


def _is_mended_first(batch: Batch, books: _Books) -> bool:
    """Whether its part's own record, or the depot's, has a mistake: of what it was approved for nobody knows."""
    folder = books.catalogue.folder(batch.part)
    return books.catalogue.depot is None or folder is None or any(each.severity is Severity.ERROR for each in folder.problems)


def _lies_on_shelf(number: str, but: str, books: _Books) -> bool:
    production, day = books.catalogue.production, books.day
    balances = ledger(production).balances
    return any(
        balances[name].least > 0 and standing(name, batch, books.catalogue, day).is_released and not stops_of(name, batch, production, day)
        for name, batch in production.of_part(number).items()
        if name != but
    )


def _of_tests(rows: Iterable[OverviewRow], worths: Mapping[str, Worth], books: _Books) -> Iterator[Task]:
    """With all else that is to do for the parts that they free: they are of use together."""
    if books.tests is None:
        return
    freed = [row for row in rows if row.sheet.number in books.freed]
    minutes = _test_minutes(books)
    yield Task(
        kind=TaskKind.TEST,
        number=", ".join(str(at + 1) for at in books.tests.orders),
        what="order",
        work=OwnWork.ORDER_TEST,
        minutes=minutes,
        after=sum(_whole_minutes(row, books) - minutes.minutes for row in freed),
        worths={row.sheet.number: worths[row.sheet.number] for row in freed},
    )


def _test_minutes(books: _Books) -> Minutes:
    one = books.minutes(OwnWork.ORDER_TEST)
    return replace(one, minutes=one.minutes * len(books.tests.orders)) if books.tests else one
