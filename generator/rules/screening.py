"""Which questions of the change screening nobody has answered yet. The judgement itself is never made here.

Regulation (EU) 2018/545 Art. 16(1) and 15(1), Regulation (EU) 402/2013 Art. 4(2). Who decides is the entity that
manages the change (the proposer); local codes and licensed people stand above this aid.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.records.approvals import Answer, Screening

SIX_QUESTIONS = (
    "failure_consequence",
    "novelty",
    "complexity",
    "monitoring",
    "reversibility",
    "additionality",
)


@dataclass(frozen=True, slots=True)
class EarlierChange:
    """A change of another part that its proposer judged not significant, for question (f)."""

    number: str
    name: str
    judged_on: date | None
    judged_by: str | None


def unanswered(screening: Screening | None) -> tuple[str, ...]:
    """The questions still open, by their keys, in the order of the regulations.

    The case of Art. 15(1) is only asked where the change is not a substitution by identical function and performance.
    """
    if screening is None:
        return ("identical_function", *SIX_QUESTIONS)
    open_questions = [
        key for key in ("identical_function", *SIX_QUESTIONS) if getattr(screening, key) is None
    ]
    identical = screening.identical_function
    if identical is not None and identical.answer is Answer.NO and screening.change_case is None:
        open_questions.insert(1 if "identical_function" in open_questions else 0, "change_case")
    return tuple(open_questions)


def earlier_not_significant(
    others: Iterable[tuple[str, str, Screening | None]], number: str
) -> tuple[EarlierChange, ...]:
    """Changes of other parts judged not significant, newest first; `others` are (number, name, screening)."""
    found = [
        EarlierChange(other, name, screening.judged_on, screening.judged_by)
        for other, name, screening in others
        if other != number and screening is not None and screening.judged_significant is Answer.NO
    ]
    return tuple(
        sorted(found, key=lambda change: (change.judged_on or date.min, change.number), reverse=True)
    )
