"""Which questions of the change screening nobody has answered yet. The judgement itself is never made here.

Regulation (EU) 2018/545 Art. 16(1) and 15(1), Regulation (EU) 402/2013 Art. 4(2). Who decides is the entity that
manages the change (the proposer); local codes and licensed people stand above this aid.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.records.approvals import Answer, Screening
from generator.records.catalogue import PartFolder

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
    """A change of a part that its proposer judged not significant, for question (f) of the others."""

    number: str
    name: str
    judged_on: date | None
    judged_by: str | None
    fleets: frozenset[str]
    """The fleets whose vehicles it touched."""

    def counts_for(self, number: str, fleets: frozenset[str], judged_on: date | None) -> bool:
        """Whether it is another change of the same vehicles, not judged later than `judged_on`; an unknown day counts."""
        is_later = judged_on is not None and self.judged_on is not None and self.judged_on > judged_on
        return self.number != number and bool(self.fleets & fleets) and not is_later


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
        open_questions.insert(0, "change_case")
    return tuple(open_questions)


def judged_not_significant(folders: Iterable[PartFolder]) -> tuple[EarlierChange, ...]:
    """Every change that its proposer judged not significant, newest first; one for a number that two folders share."""
    found = [
        EarlierChange(folder.number, folder.name, screening.judged_on, screening.judged_by, fleets_of(folder))
        for folder in {folder.number: folder for folder in folders}.values()
        if (screening := folder.screening) and screening.judged_significant is Answer.NO
    ]
    return tuple(
        sorted(found, key=lambda change: (change.judged_on or date.min, change.number), reverse=True)
    )


def fleets_of(folder: PartFolder) -> frozenset[str]:
    """The fleets whose vehicles the part fits."""
    return frozenset(fit.fleet for fit in folder.part.fits) if folder.part else frozenset()
