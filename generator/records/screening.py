"""The screening of a change: the answers people gave, by whom and when. Nothing here judges them."""

from enum import StrEnum
from typing import Literal

from pydantic import Field

from generator.records.base import Day, Id, Line, Record, Text
from generator.records.evidence import Evidence


class Answer(StrEnum):
    YES = "yes"
    NO = "no"


class ScreeningAnswer(Record):
    """One answer of the change screening; the tool stores it and never judges it."""

    answer: Text
    by: Id
    on: Day


class IdenticalFunction(Record):
    """Regulation (EU) 2018/545 Art. 16(1): identical function and performance?"""

    answer: Answer
    reason: Text
    by: Id
    on: Day


class ChangeCase(Record):
    """Regulation (EU) 2018/545 Art. 15(1): which case a change that is no like-for-like substitution falls in."""

    case: Literal["a", "b", "c", "d"]
    reason: Text
    by: Id
    on: Day


class Authorisation(Record):
    """What the authority wrote of a change of case c or d, Regulation (EU) 2018/545 Art. 15(1) and 16(4)."""

    reference: Line
    by: Id
    on: Day
    evidence: Evidence


class Screening(Record):
    """Change screening, an aid only: the answers people gave. Who decides is the entity managing the change."""

    identical_function: IdenticalFunction | None = None
    change_case: ChangeCase | None = None
    failure_consequence: ScreeningAnswer | None = None
    """402/2013 Art. 4(2)(a): credible worst case if the part fails."""
    novelty: ScreeningAnswer | None = None
    """402/2013 Art. 4(2)(b): what is new for the sector and for the depot."""
    complexity: ScreeningAnswer | None = None
    """402/2013 Art. 4(2)(c)."""
    monitoring: ScreeningAnswer | None = None
    """402/2013 Art. 4(2)(d): can it be watched in service?"""
    reversibility: ScreeningAnswer | None = None
    """402/2013 Art. 4(2)(e): can the old state be brought back?"""
    additionality: ScreeningAnswer | None = None
    """402/2013 Art. 4(2)(f): together with earlier changes that were judged not significant."""
    own_answers: dict[Id, ScreeningAnswer] = Field(default_factory=dict)
    """Answers to the depot's own questions, by their id, where depot.yml names a law other than the Union's."""
    judged_significant: Answer | None = None
    """The proposer's own judgement; the tool never fills this in."""
    judged_by: Id | None = None
    judged_on: Day | None = None
    authorisation: Authorisation | None = None
    """Needed in the cases c and d of Art. 15(1)."""
