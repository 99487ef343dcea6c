"""A request for a new design: who needs what, where, how often, and what stops without it."""

from typing import Annotated

from pydantic import Field

from generator.records.base import Day, Id, Line, LinesOfFile, Name, PartNumber, Record, RelativeFile, Text
from generator.records.mesh_units import MeshUnits
from generator.records.queries import LookedForList
from generator.records.vehicles import VehicleRange

# What a caliper or a tape finds on a part that can be printed.
Measured = Annotated[float, Field(gt=0, le=5000)]
YearlyDemand = Annotated[float, Field(ge=0, le=100000)]
# Base64 of RFC 4648, clause 4, in lines. 900,000 letters are some 670 kB of JPEG.
PhotoData = Annotated[str, Field(min_length=4, max_length=900_000, pattern=r"^[A-Za-z0-9+/\s]+={0,2}\s*$")]


class Wanted(Record):
    """One more voice for the same request."""

    on: Day
    by: Id
    yearly_demand: YearlyDemand
    note: Line | None = None


class AddedVoice(Wanted):
    """A file that a tablet made by "I need this too", until `spares request add` writes it into its request."""

    lines: LinesOfFile | None = None
    """Of the tablet's file; it stands first."""
    adds_to: Id
    """The request that is needed here too, such as R-0031."""
    looked_for: LookedForList = ()
    """What was looked for in vain on that tablet; `spares request add` makes it a file of queries/."""


class Request(Record):
    """requests/<id>.yml; the file's name is the request's id."""

    lines: LinesOfFile | None = None
    """Of the tablet's file, where it stands first; `spares request add` leaves it out."""
    on: Day
    by: Id
    """Role that asks."""
    name: Name
    what_it_does: Text
    fleet: Id
    vehicles: Annotated[tuple[VehicleRange, ...], Field(max_length=50)] = ()
    place: Id | None = None
    words: Annotated[tuple[Name, ...], Field(max_length=20)] = ()
    numbers: Annotated[tuple[Name, ...], Field(max_length=20)] = ()
    """Numbers found on the old part."""
    sizes_mm: Annotated[tuple[Measured, ...], Field(max_length=9)] = ()
    """Measured with a caliper, largest first."""
    yearly_demand: YearlyDemand
    stops_without: Line
    """What stands still without it."""
    photo: RelativeFile | None = None
    """A picture in requests/, such as photos/R-0031.jpg."""
    model: RelativeFile | None = None
    """A model or scan in requests/, such as models/R-0031.stl: of the old part, or of what is wanted."""
    model_units: MeshUnits | None = None
    """Unit of a model whose file carries none (STL, OBJ, PLY); mm if not said."""
    photo_data: PhotoData | None = None
    """A JPEG as base64, as a tablet sends it; `spares request add` makes it a file."""
    looked_for: LookedForList = ()
    """What was looked for in vain on that tablet; `spares request add` makes it a file of queries/."""
    also_wanted: tuple[Wanted, ...] = ()
    answered_by: PartNumber | None = None
    """The part that answers the request."""
