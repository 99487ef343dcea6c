"""What did people answer in the screening of the change? An aid only: the pages repeat it and judge nothing."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from generator.pages.story import role_name
from generator.pages.wording import Wording
from generator.records.approvals import Approval, Screening
from generator.records.catalogue import Catalogue

_CRITERIA = ("failure_consequence", "novelty", "complexity", "monitoring", "reversibility", "additionality")


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreeningLine:
    question: str
    answer: str
    who: str


def screening_lines(approval: Approval | None, catalogue: Catalogue, w: Wording) -> tuple[ScreeningLine, ...]:
    """The answers that were given, in the order of the law; what nobody answered is left out."""
    screening = approval.screening if approval else None
    if screening is None:
        return ()
    lines = []
    for key, answer, by, on in _answers(screening, w):
        who = w("screening.who", by=role_name(by, catalogue) if by else None, on=w.day(on) if on else None)
        lines.append(ScreeningLine(question=w(f"screening.{key}"), answer=answer, who=who))
    return tuple(lines)


def _answers(screening: Screening, w: Wording) -> Iterator[tuple[str, str, str | None, date | None]]:
    same, case = screening.identical_function, screening.change_case
    if same:
        yield "identical_function", f"{w(f'screening.answer_{same.answer}')}: {same.reason}", same.by, same.on
    if case:
        yield "change_case", f"({case.case}): {case.reason}", case.by, case.on
    for key in _CRITERIA:
        given = getattr(screening, key)
        if given:
            yield key, given.answer, given.by, given.on
    if screening.judged_significant:
        answer = w(f"screening.answer_{screening.judged_significant}")
        yield "judged_significant", answer, screening.judged_by, screening.judged_on
