"""What was printed here: how long a run took and what it weighed, so that the next one can be foretold."""

from typing import Annotated

from pydantic import Field

from generator.records.base import MAY_BE_EMPTY, Day, Id, Line, PartNumber, Record, Revision
from generator.records.print_rules import Up


class PrintRun(Record):
    """One run of a printer with pieces of one part on its plate."""

    on: Day
    part: PartNumber
    revision: Revision
    maker: Id
    count: Annotated[int, Field(ge=1, le=1000)]
    """How many pieces stood on the plate."""
    minutes: Annotated[float, Field(gt=0, le=100_000)]
    """From the start to the end of the run, without cooling and finishing."""
    grams: Annotated[float, Field(gt=0, le=1_000_000)] | None = None
    """Of all pieces together, with what supported them."""
    up: Up | None = None
    """Which axis of the model pointed up, where it was another than the part's settings say."""
    note: Line | None = None


class Prints(Record):
    """prints.yml"""

    prints: Annotated[tuple[PrintRun, ...], MAY_BE_EMPTY]
