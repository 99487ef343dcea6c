"""A request for a new design: who needs what, where, how often, and what stops without it."""

from datetime import date
from typing import Annotated

from pydantic import Field

from generator.records.base import Id, Line, Name, PartNumber, Positive, Record, RelativeFile, Text


class Wanted(Record):
    """One more voice for the same request."""

    on: date
    by: Id
    yearly_demand: Annotated[float, Field(ge=0, le=100000)]
    note: Line | None = None


class Request(Record):
    """requests/<id>.yml; the file's name is the request's id."""

    on: date
    by: Id
    """Role that asks."""
    name: Name
    what_it_does: Text
    fleet: Id
    vehicles: tuple[Name, ...] = ()
    place: Id | None = None
    words: tuple[Name, ...] = ()
    numbers: tuple[Name, ...] = ()
    """Numbers found on the old part."""
    sizes_mm: tuple[Positive, ...] = ()
    """Measured with a caliper, largest first."""
    yearly_demand: Annotated[float, Field(ge=0, le=100000)]
    stops_without: Line
    """What stands still without it."""
    photo: RelativeFile | None = None
    also_wanted: tuple[Wanted, ...] = ()
    answered_by: PartNumber | None = None
    """The part that answers the request."""
