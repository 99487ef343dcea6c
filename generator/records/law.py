"""The law that the vehicles stand under: whose questions the screening of a change asks."""

from enum import StrEnum
from typing import Annotated, Self

from pydantic import model_validator

from generator.records.base import Id, Line, Record, each_once
from generator.records.problems import Unfit


class Rules(StrEnum):
    """Whose questions the screening of a change asks."""

    UNION = "union"
    """Regulation (EU) 2018/545 Art. 15(1) and 16(1), Regulation (EU) 402/2013 Art. 4(2)."""
    OWN = "own"


class Question(Record):
    id: Id
    ask: Line


class Law(Record):
    """The law that the vehicles stand under; local codes and licensed people decide, never this catalogue."""

    rules: Rules = Rules.UNION
    name: Line | None = None
    """How the law is called, such as the number and title of the regulation."""
    questions: Annotated[tuple[Question, ...], each_once("id")] = ()
    """What its screening asks; only, and needed, with 'rules: own'."""

    @model_validator(mode="after")
    def _asks_by_its_rules(self) -> Self:
        if self.rules is Rules.OWN and not (self.questions and self.name):
            raise Unfit("law without questions")
        if self.rules is Rules.UNION and self.questions:
            raise Unfit("questions of the Union")
        return self


UNION = Law()
