"""Recalls: what is called back from the vehicles and the shelf, why, and since when."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from generator.records.base import Day, Id, Line, PartNumber, Record, Revision, Text
from generator.records.batches import BatchId
from generator.records.problems import Unfit


class CalledBack(Record):
    what: Literal["called back"]
    on: Day
    by: Id
    why: Text
    reference: Line | None = None


class Lifted(Record):
    """What is not fitted any more may be again; what was removed stays removed."""

    what: Literal["lifted"]
    on: Day
    by: Id
    why: Text
    reference: Line | None = None


RecallEvent = Annotated[CalledBack | Lifted, Field(discriminator="what")]


class Recall(Record):
    """recalls/<id>.yml: of one lot, one batch, or one revision of a part."""

    lot: Id | None = None
    batch: BatchId | None = None
    part: PartNumber | None = None
    revision: Revision | None = None
    """With `part`."""
    events: Annotated[tuple[RecallEvent, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _is_of_one_thing(self) -> Self:
        named = [self.lot is not None, self.batch is not None, self.part is not None]
        if sum(named) != 1 or (self.part is None) != (self.revision is None):
            raise Unfit("recall of one thing")
        return self
