"""A file that a tablet made: what was fitted and what came off, until `spares fitted add` writes it into fitted/."""

from typing import Annotated

from pydantic import AfterValidator, Field

from generator.records.base import Day, Id, LinesOfFile, Name, PartNumber, Record, one_line, without_controls
from generator.records.batches import BatchId, Pieces
from generator.records.fitted import Why

NEWEST_FITTED_FILE = 1
MOST_ROWS = 500
"""So many a tablet keeps until it hands them over; a file with more was not made by one."""
RowId = Annotated[str, Field(pattern=r"^[A-Za-z0-9-]{1,40}$")]
_Vehicle = Annotated[str, Field(min_length=1, max_length=40), AfterValidator(without_controls), AfterValidator(one_line)]


class FittedEntry(Record):
    """What went onto a place of a vehicle, what came off it, or both; the columns of fitted/<year>.csv."""

    day: Day
    fleet: Id
    vehicle: _Vehicle
    """A text: its leading zeros and letters count."""
    place: Id
    position: Name | None = None
    """Such as 'left, third window'; left out where nobody said."""
    part: PartNumber | None = None
    """Number of the part, as the page said that the row was made on; with `batch` it must be the batch's own."""
    batch: BatchId | None = None
    """Left out where nothing went on; with `count`."""
    count: Pieces | None = None
    removed_batch: BatchId | None = None
    """Left out where what came off carries no batch."""
    removed: Pieces | None = None
    """With `why`."""
    why: Why | None = None
    as_found: bool = False
    """Whoever wrote it was told that the piece must not be there, or cannot be by the records, and has seen that it sits there."""
    by: Id
    """Role that fitted."""
    row: RowId
    """Drawn by the tablet once for this row, the same in each file that it makes of it, so that the row counts once."""


class FittedList(Record):
    """fitted-<made_on>.yml, as a tablet hands it over."""

    lines: LinesOfFile | None = None
    """It stands first; a file of before has none."""
    fitted: Annotated[int, Field(ge=1)]
    """The form of the file: 1. It tells what kind of file it is."""
    railway: Name
    depot: Name
    """Of the catalogue on the tablet; a file of another depot is refused."""
    made_on: Day
    rows: Annotated[tuple[FittedEntry, ...], Field(min_length=1, max_length=MOST_ROWS)]
