"""A condition of an approval or trial: a text, when it is to be met, and where the maintenance plan keeps it."""

from enum import StrEnum
from typing import Annotated

from pydantic import Discriminator, Tag

from generator.records.base import Line, Record
from generator.records.placeholders import names_nothing


class Applies(StrEnum):
    """When a condition is to be met."""

    BEFORE_FITTING = "before fitting"
    IN_SERVICE = "in service"


class Condition(Record):
    """A condition that says when it is to be met."""

    text: Line
    applies: Applies
    maintenance_plan: Line | None = None
    """Where the maintenance plan keeps it; without, nobody in service knows of it, and the part is asked about."""

    @property
    def is_planned(self) -> bool:
        return self.applies is Applies.IN_SERVICE and self.maintenance_plan is not None and not names_nothing(self.maintenance_plan)


def _kind(given: object) -> str:
    return "of a kind" if isinstance(given, dict | Condition) else "text"


# A text alone is the older form: it is to be met before fitting, the more careful of the two.
ConditionAsWritten = Annotated[
    Annotated[Line, Tag("text")] | Annotated[Condition, Tag("of a kind")], Discriminator(_kind)
]


def as_condition(written: str | Condition) -> Condition:
    return Condition(text=written, applies=Applies.BEFORE_FITTING) if isinstance(written, str) else written
