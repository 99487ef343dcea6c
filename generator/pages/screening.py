"""What did people answer in the screening of the change, and what is still open? An aid only: the pages judge nothing."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from generator.pages.addresses import Addresses
from generator.pages.story import role_name
from generator.pages.wording import Wording
from generator.records.approvals import Screening
from generator.records.catalogue import Catalogue
from generator.rules.screening import SIX_QUESTIONS, EarlierChange, earlier_not_significant, unanswered
from generator.sheets import Sheet

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
class Earlier:
    """A change that was judged not significant, on the vehicles that it touched."""

    change: EarlierChange
    page: str
    fleets: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierLine:
    number: str
    name: str
    page: str
    day: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreeningView:
    """lines: every question that is asked; earlier: what question (f) looks at, newest first, `more` left out."""

    lines: tuple[ScreeningLine, ...]
    earlier: tuple[EarlierLine, ...]
    count: int
    more: int


def earlier_changes(sheets: Iterable[Sheet], found: Addresses) -> tuple[Earlier, ...]:
    """Every change of the catalogue that was judged not significant, newest first; worked out once for all pages."""
    by_number = {sheet.number: sheet for sheet in sheets}
    changes = earlier_not_significant(
        ((number, sheet.name, _screening(sheet)) for number, sheet in by_number.items()), number=""
    )
    return tuple(
        Earlier(change=change, page=found.page(change.number) or "", fleets=_fleets(by_number[change.number]))
        for change in changes
    )


def screening_view(
    sheet: Sheet, earlier: Iterable[Earlier], catalogue: Catalogue, w: Wording
) -> ScreeningView | None:
    """All questions with their answers, in the order of the law; None for a part without an approval record."""
    if sheet.folder.approval is None:
        return None
    screening = _screening(sheet)
    before = [each for each in earlier if _counts(each, sheet, screening)]
    return ScreeningView(
        lines=tuple(_lines(screening, catalogue, w)),
        earlier=tuple(
            EarlierLine(
                number=each.change.number,
                name=each.change.name,
                page=each.page,
                day=w.day(each.change.judged_on) if each.change.judged_on else w("missing"),
            )
            for each in before[:_EARLIER_LINES]
        ),
        count=len(before),
        more=max(0, len(before) - _EARLIER_LINES),
    )


def _screening(sheet: Sheet) -> Screening | None:
    return sheet.folder.approval.screening if sheet.folder.approval else None


def _fleets(sheet: Sheet) -> frozenset[str]:
    return frozenset(fit.fleet for fit in sheet.part.fits) if sheet.part else frozenset()


def _counts(earlier: Earlier, sheet: Sheet, screening: Screening | None) -> bool:
    """Whether it is another change of the same vehicles, not judged later than this one; an unknown day counts."""
    own, judged_on = screening.judged_on if screening else None, earlier.change.judged_on
    is_later = own is not None and judged_on is not None and judged_on > own
    return earlier.change.number != sheet.number and bool(earlier.fleets & _fleets(sheet)) and not is_later


def _lines(screening: Screening | None, catalogue: Catalogue, w: Wording) -> Iterator[ScreeningLine]:
    still_open = unanswered(screening)
    given = dict(_answers(screening, w)) if screening else {}
    for key in (*_QUESTIONS, "judged_significant"):
        question = w(f"screening.{key}")
        if key in given:
            answer, by, on = given[key]
            who = w(
                "screening.who", by=role_name(by, catalogue) if by else None, on=w.day(on) if on else None
            )
            yield ScreeningLine(question=question, answer=answer, who=who, is_open=False)
        elif key in still_open or key == "judged_significant":
            answer = w("screening.not_judged" if key == "judged_significant" else "screening.not_answered")
            yield ScreeningLine(question=question, answer=answer, who="", is_open=True)


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
    if screening.judged_significant:
        answer = w(f"screening.answer_{screening.judged_significant}")
        yield "judged_significant", (answer, screening.judged_by, screening.judged_on)
