"""What does the change screening still lack, and what follows from what people judged? The judgement is never made here.

Regulation (EU) 2018/545 Art. 16(1) and 15(1), Regulation (EU) 402/2013 Art. 4(2), or the questions of the depot's own law.
Who decides is the entity that manages the change (the proposer); local codes and licensed people stand above this aid.
"""

from bisect import bisect_left
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from itertools import islice

from generator.records.catalogue import PartFolder
from generator.records.law import UNION, Law, Rules
from generator.records.placeholders import says_nothing
from generator.records.screening import Answer, Screening, ScreeningAnswer
from generator.rules.by_identity import ByIdentity

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


@dataclass(frozen=True, slots=True)
class EarlierChanges:
    """Those that count for a change; all of them are in the thousands, a page names the newest."""

    count: int = 0
    newest: tuple[EarlierChange, ...] = ()
    """Newest first, those without a day last."""


def earlier_for(number: str, fleets: frozenset[str], judged_on: date | None, earlier: tuple[EarlierChange, ...], most: int) -> EarlierChanges:
    """Those of all earlier changes, newest first as `judged_not_significant` gives them, that count for a change; at most so many are named."""
    touching = _touching(ByIdentity((earlier,)), fleets)
    first = bisect_left(touching.days, -judged_on.toordinal()) if judged_on else 0
    own = touching.at.get(number, -1)
    named = (each for each in touching.changes[first : first + most + 1] if each.counts_for(number, fleets, judged_on))
    return EarlierChanges(len(touching.changes) - first - (own >= first), tuple(islice(named, most)))


@dataclass(frozen=True, slots=True)
class _Touching:
    """Changes that touched some fleets, newest first."""

    changes: tuple[EarlierChange, ...]
    days: tuple[int, ...]
    """How old each is: its day, counted backwards; without one as old as can be."""
    at: Mapping[str, int]
    """Where the change of a part stands, by its number."""


@lru_cache(64)
def _touching(earlier: ByIdentity[tuple[EarlierChange, ...]], fleets: frozenset[str]) -> _Touching:
    (every,) = earlier.held
    changes = tuple(each for each in every if each.fleets & fleets)
    days = tuple(-(each.judged_on or date.min).toordinal() for each in changes)
    return _Touching(changes, days, {each.number: at for at, each in enumerate(changes)})


# Regulation (EU) 2018/545 Art. 15(1): (c) changes basic design characteristics, of which the authorising entity is told
# (Art. 16(4)); (d) needs a new authorisation.
CASES_FOR_THE_AUTHORITY = ("c", "d")


def unanswered(screening: Screening | None, law: Law = UNION) -> tuple[str, ...]:
    """The questions still open, by their keys, in the order of the law.

    The case of Art. 15(1) is only asked where the change is not a substitution by identical function and performance.
    """
    if law.rules is Rules.OWN:
        answered = screening.own_answers if screening else {}
        return tuple(question.id for question in law.questions if not _is_answered(answered.get(question.id)))
    if screening is None:
        return ("identical_function", *SIX_QUESTIONS)
    open_questions = [key for key in SIX_QUESTIONS if not _is_answered(getattr(screening, key))]
    if screening.identical_function is None:
        open_questions.insert(0, "identical_function")
    identical = screening.identical_function
    if identical is not None and identical.answer is Answer.NO and screening.change_case is None:
        open_questions.insert(0, "change_case")
    return tuple(open_questions)


def _is_answered(given: ScreeningAnswer | None) -> bool:
    return given is not None and not says_nothing(given.answer)


def is_judged(screening: Screening | None, law: Law, day: date) -> bool:
    """Whether every question is answered, and the significance judged by a role, on days that have come."""
    if screening is None or unanswered(screening, law) or screening.judged_significant is None:
        return False
    own = screening.own_answers.values() if law.rules is Rules.OWN else ()
    given = [getattr(screening, key) for key in ("identical_function", "change_case", *SIX_QUESTIONS)]
    days = [each.on for each in (*given, *own) if each is not None]
    judged_on = screening.judged_on
    return screening.judged_by is not None and judged_on is not None and max(*days, judged_on) <= day


def asks_authorisation(screening: Screening | None, law: Law) -> bool:
    """Whether the case of the change is one that the authority authorises, whoever approves the part."""
    case = screening.change_case if screening and law.rules is Rules.UNION else None
    return case is not None and case.case in CASES_FOR_THE_AUTHORITY


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
