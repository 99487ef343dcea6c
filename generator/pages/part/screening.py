"""What did people answer in the screening of the change, and what is still open? An aid only: the pages judge nothing."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from generator.pages.around import Around
from generator.pages.part.story import role_name
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.law import Law, Rules
from generator.records.screening import Screening
from generator.rules.screening import (
    SIX_QUESTIONS,
    EarlierChange,
    asks_authorisation,
    earlier_for,
    fleets_of,
    unanswered,
)
from generator.rules.sheet import Sheet

_QUESTIONS = ("identical_function", "change_case", *SIX_QUESTIONS)
_EARLIER_LINES = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreeningLine:
    """A question with its answer, or as still open."""

    question: str
    answer: str
    who: str
    is_open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierLine:
    number: str
    name: str
    page: str
    day: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreeningView:
    """lines: every question that is asked; earlier: what question (f) looks at, newest first, `more` left out."""

    law: str
    """The law that the vehicles stand under, and who decides."""
    lines: tuple[ScreeningLine, ...]
    earlier: tuple[EarlierLine, ...]
    count: int
    more: int


def screening_view(sheet: Sheet, around: Around) -> ScreeningView | None:
    """All questions with their answers, in the order of the law; None for a part without an approval record."""
    if sheet.folder.approval is None:
        return None
    screening, fleets = sheet.folder.screening, fleets_of(sheet.folder)
    judged_on = screening.judged_on if screening else None
    before = earlier_for(sheet.number, fleets, judged_on, around.earlier, _EARLIER_LINES)
    return ScreeningView(
        law=_law(around.catalogue.law, around.w),
        lines=tuple(_lines(screening, around.catalogue, around.w)),
        earlier=tuple(_earlier_line(each, around) for each in before.newest),
        count=before.count,
        more=before.count - len(before.newest),
    )


def _law(law: Law, w: Wording) -> str:
    if law.rules is Rules.OWN:
        return w("screening.says_own", law=law.name)
    return w("screening.says", law=law.name)


def _earlier_line(change: EarlierChange, around: Around) -> EarlierLine:
    day = around.w.day(change.judged_on) if change.judged_on else around.w("missing")
    page = around.found.page(change.number) or ""
    return EarlierLine(number=change.number, name=change.name, page=page, day=day)


def _lines(screening: Screening | None, catalogue: Catalogue, w: Wording) -> Iterator[ScreeningLine]:
    law = catalogue.law
    always = ("judged_significant", *(("authorisation",) if asks_authorisation(screening, law) else ()))
    own = "own." if law.rules is Rules.OWN else ""
    still_open = (*(f"{own}{key}" for key in unanswered(screening, law)), *always)
    given = dict(_answers(screening, w)) if screening else {}
    for key, question in _asked(law, w):
        if key in given:
            answer, by, on = given[key]
            who = w(
                "screening.who", by=role_name(by, catalogue) if by else None, on=w.day(on) if on else None
            )
            yield ScreeningLine(question=question, answer=answer, who=who, is_open=False)
        elif key in still_open:
            answer = w("screening.not_answered" if key not in always else f"screening.not_{key}")
            yield ScreeningLine(question=question, answer=answer, who="", is_open=True)


def _asked(law: Law, w: Wording) -> Iterator[tuple[str, str]]:
    """Every question of the law with its words, in its order."""
    if law.rules is Rules.OWN:
        yield from ((f"own.{question.id}", question.ask) for question in law.questions)
    else:
        yield from ((key, w(f"screening.{key}")) for key in _QUESTIONS)
    yield from ((key, w(f"screening.{key}")) for key in ("judged_significant", "authorisation"))


def _answers(screening: Screening, w: Wording) -> Iterator[tuple[str, tuple[str, str | None, date | None]]]:
    same, case = screening.identical_function, screening.change_case
    if same:
        yield (
            "identical_function",
            (f"{w(f'screening.answer_{same.answer}')}: {same.reason}", same.by, same.on),
        )
    if case:
        yield "change_case", (f"({case.case}): {case.reason}", case.by, case.on)
    for key in SIX_QUESTIONS:
        given = getattr(screening, key)
        if given:
            yield key, (given.answer, given.by, given.on)
    for name, own in screening.own_answers.items():
        yield f"own.{name}", (own.answer, own.by, own.on)
    if screening.authorisation:
        paper = screening.authorisation
        yield "authorisation", (paper.reference, paper.by, paper.on)
    if screening.judged_significant:
        answer = w(f"screening.answer_{screening.judged_significant}")
        yield "judged_significant", (answer, screening.judged_by, screening.judged_on)
