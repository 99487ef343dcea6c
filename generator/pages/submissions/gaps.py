"""What is missing, doubtful or failed: every gap of a part, in words, before a reviewer finds it.

Gaps are drawn from what the pages and `spares check` say already, so that nothing passes here that asks there: the record's
problems, what a reviewer reads and does not find, the questions of the verdict, each fire test and each demand of a place,
the screening, machines, measurements, files, and every section in which nothing is recorded. What the answer itself will
settle (is there an approval, does it last?) is no gap.
"""

from collections.abc import Collection, Iterable, Iterator

from generator.pages.fire.section import where_words
from generator.pages.part.screening import screening_view
from generator.pages.problems.said import said
from generator.pages.submissions.case import SubmissionCase
from generator.pages.submissions.judged import questions_of
from generator.pages.submissions.kinds import Attachment, SubmissionGap, SubmissionSection
from generator.pages.submissions.order_data import unrecorded
from generator.pages.submissions.shown import asked_sites, first_article, machine_standings, open_fire_rows
from generator.pages.verdict_lines import OF_THE_PERMIT, step_line
from generator.planning.overview import Missing, missing, missing_documents
from generator.records.problems import Severity
from generator.rules.facts.fields import OF_THE_TABLET, Facts
from generator.rules.verdicts import Outcome, Taken

# Questions that the reviewer's answer settles, or that speak of a single piece in a mechanic's hand.
_SETTLED = frozenset({"record", "permit", "begun", "lasts", "unchanged", "taken_over", "reviewed", "asked_about", "question", "authority_alone"})
_OF_PIECES = frozenset({"stock_stopped", "stock_until", "piece_recalled", "piece_released", "piece_revision", "piece_same", "older_stock", "piece", "piece_asked"})
# What another line tells one by one.
_TOLD_APART = frozenset({"fire_report", "fire_results", "fire_asked", "proven", "screening"})
# Codes of what is wrong with a document itself.
_TOLD_OF_FILES = frozenset({"DISK03", "DISK09"})
# Nobody has answered yet: the screening's own open question tells it.
_TOLD_UNKNOWN = frozenset({"significance"})
_PAPERS_TOLD_APART = {
    Missing.CERTIFICATE: "certificate",
    Missing.FIRE_SET: "fire_set",
    Missing.AUTHORISATION: "authorisation",
    Missing.ASSESSMENT: "significance",
}
_SECTIONS = {
    "certificate": "material", "fire_set": "fire", "authorisation": "screening", "significance": "screening", "model": "pictures", "place": "places",
    "trial_result": "carried", "conditions": "history",
}  # fmt: skip
_SECTIONS_OF_PAPERS = {
    Missing.ACCEPTANCE_EVIDENCE: "history", Missing.DRAWING: "documents", Missing.CERTIFICATE: "material", Missing.FIRE_SET: "fire",
    Missing.FIRE_REPORT: "fire", Missing.CHECKS: "dimensions", Missing.FITTING_NOTES: "cautions", Missing.ASSESSMENT: "screening",
    Missing.AUTHORISATION: "screening",
}  # fmt: skip

_TO_BE_TRIED = frozenset({Missing.PROTOTYPE, Missing.SAMPLE})
"""Of what is designed alone: nothing is there that somebody could try."""


def gaps_of(case: SubmissionCase, sections: Iterable[SubmissionSection], attached: Iterable[Attachment], *, is_bound: bool) -> tuple[SubmissionGap, ...]:
    """Each gap once, with all places that it speaks of; none stands for all of them."""
    steps, files = list(_steps(case)), tuple(attached)
    every = [
        *([] if is_bound else [("identity", case.w("submission.gap.unbound"), "")]),
        *_of_record(case, {each.path for each in files}),
        *_papers(case, {step for step, _, _ in steps}),
        *((_SECTIONS.get(step, "history"), says, where) for step, says, where in steps),
        *(("fire", says, where) for says, where in open_fire_rows(case)),
        *_environment(case),
        *_screening(case),
        *_machines(case),
        *_dimensions(case),
        *_photos(case),
        *_files(case, files),
        *((each.key, each.nothing, "") for each in sections if each.nothing and not each.shown),
        *_order(case),
    ]
    return tuple(_folded(every, case))


def _folded(every: Iterable[tuple[str, str, str]], case: SubmissionCase) -> Iterator[SubmissionGap]:
    told: dict[str, tuple[str, list[str]]] = {}
    for section, says, where in every:
        told.setdefault(says, (section, []))[1].append(where)
    places = {where_words(ground, case.catalogue, case.w) for ground, _ in case.judged}
    for says, (section, listed) in told.items():
        named = tuple(dict.fromkeys(filter(None, listed)))
        yield SubmissionGap(says=says, where=() if set(named) >= places else named, section=section)


def _of_record(case: SubmissionCase, attached: Collection[str]) -> Iterator[tuple[str, str, str]]:
    """What is wrong with the records, and what lies here otherwise than it was submitted.

    attached: paths of files that are told by their numbers, with what keeps a reviewer from reading them.
    """
    w, found = case.w, case.sheet
    for severity in (Severity.ERROR, Severity.WARNING):
        for problem in found.problems:
            if problem.severity is severity and not (problem.code in _TOLD_OF_FILES and problem.where.file in attached):
                file = problem.where.file.removeprefix(f"{found.folder.folder}/")
                yield "identity", w(f"submission.gap.{severity.value}", file=file, says=said(problem, w).says), ""
    for step in _TO_BE_TRIED.intersection(missing(found)):
        yield "history", w("submission.gap.lacks", what=w.term("missing_step", step.name.lower())), ""
    if found.unsubmitted:
        yield "history", w("submission.gap.unsubmitted", says=said(found.unsubmitted, w).says), ""
    for each in questions_of(case):
        if each.answer is None:
            yield "history", w("submission.gap.question", number=f"Q{each.number}", question=each.asked.question), ""


def _papers(case: SubmissionCase, steps: set[str]) -> Iterator[tuple[str, str, str]]:
    """What a reviewer reads and does not find, where no question of the verdict tells it more closely."""
    for what in missing_documents(case.sheet):
        is_told = _PAPERS_TOLD_APART.get(what) in steps or what in (Missing.SCREENING, Missing.FIRE_REPORT, Missing.MEND_RECORD)
        if not is_told:
            yield _SECTIONS_OF_PAPERS.get(what, "history"), case.w("submission.gap.lacks", what=case.w.term("missing_step", what.name.lower())), ""


def _steps(case: SubmissionCase) -> Iterator[tuple[str, str, str]]:
    """The questions of the verdict that are not passed: which one, what was found, and where."""
    for ground, judgement in case.judged:
        for taken in judgement.steps:
            if _is_gap(taken, judgement.facts):
                yield taken.step.id, step_line(taken, judgement.facts, case.w).found, where_words(ground, case.catalogue, case.w)


def _is_gap(taken: Taken, facts: Facts) -> bool:
    if taken.outcome is Outcome.PASSED or taken.step.fact in OF_THE_TABLET:
        return False
    if taken.step.id in _TOLD_UNKNOWN and taken.outcome is Outcome.UNKNOWN:
        return False
    unpermitted = OF_THE_PERMIT if not isinstance(facts.permit, str) else frozenset[str]()
    return taken.step.id not in (_SETTLED | _OF_PIECES | _TOLD_APART | unpermitted | {"clock"})


def _environment(case: SubmissionCase) -> Iterator[tuple[str, str, str]]:
    w = case.w
    for site in asked_sites(case):
        for line in site.lines:
            if not line.is_met:
                yield "environment", w("submission.gap.environment", asked=line.asked, needed=line.needed, answer=line.answer), site.name


def _screening(case: SubmissionCase) -> Iterator[tuple[str, str, str]]:
    """The questions that are open, each by its beginning, in one gap."""
    w, found = case.w, screening_view(case.sheet, case.around)
    still_open = [line.question for line in found.lines if line.is_open] if found else []
    if still_open:
        short = w("list_separator").join(each.split(":")[0].rstrip("?") for each in still_open)
        yield "screening", w.count("submission.gap.screening", len(still_open), questions=short), ""


def _machines(case: SubmissionCase) -> Iterator[tuple[str, str, str]]:
    w, found = case.w, list(machine_standings(case))
    if not found and not case.part.is_bought:
        yield "making", w("submission.no_machine"), ""
    for name, material, each in found:
        if not each.is_qualified:
            yield "making", w("submission.gap.machine", machine=name, material=material, standing=w(f"submission.standing.{each.standing.value}")), ""


def _dimensions(case: SubmissionCase) -> Iterator[tuple[str, str, str]]:
    if first_article(case) is None and not case.part.is_bought:
        yield "dimensions", case.w("submission.no_first_article"), ""


def _photos(case: SubmissionCase) -> Iterator[tuple[str, str, str]]:
    """That nobody sees the original or the print, and photos that cannot be drawn."""
    w = case.w
    if not any(each.kind.is_picture for each in case.sheet.folder.photos):
        yield "pictures", w("submission.gap.no_photo"), ""
    for path, drawn in case.photos.items():
        if drawn is None and path.startswith(f"{case.sheet.folder.folder}/"):
            yield "pictures", w("submission.gap.photo_undrawn", name=path.rsplit("/", 1)[-1]), ""


def _files(case: SubmissionCase, attached: Iterable[Attachment]) -> Iterator[tuple[str, str, str]]:
    w = case.w
    for each in attached:
        if each.doubt and case.sheet.number in each.of:
            yield "documents", w("submission.gap.file", number=f"D{each.number}", name=each.name, doubt=each.doubt), ""


def _order(case: SubmissionCase) -> Iterator[tuple[str, str, str]]:
    left = unrecorded(case)
    if left:
        yield "order", case.w("submission.gap.order", items=case.w("list_separator").join(left)), ""
