"""The inspection sheet of a batch as a tablet fills it: one YAML file, which `spares batch measure --sheet` takes in.

Its entries are those of the event `measured`; railway, depot, part and revision tell that it is of this batch here.
"""

from typing import Annotated

from pydantic import Field

from generator.records.base import Day, Id, Line, LinesOfFile, Name, PartNumber, Record, Revision, each_once
from generator.records.batches import BatchId, MeasuredCheck


class InspectionSheet(Record):
    """inspection-<batch>-<day>.yml, as it comes from the tablet."""

    lines: LinesOfFile | None = None
    """It stands first; a sheet of before has none."""
    railway: Name
    depot: Name
    """Both as depot.yml writes them."""
    batch: BatchId
    part: PartNumber
    revision: Revision
    on: Day
    """On which it was measured."""
    by: Id
    """Role that measured."""
    checks: Annotated[tuple[MeasuredCheck, ...], each_once("check"), Field(min_length=1)]
    note: Line | None = None
