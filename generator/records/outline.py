"""The side view of a fleet, in a few figures: enough to draw it and to show where a place is."""

from enum import StrEnum
from typing import Annotated, Self

from pydantic import Field, model_validator

from generator.records.base import NotNegative, Positive, Record
from generator.records.problems import Unfit


class Height(StrEnum):
    """How high on the vehicle a place lies."""

    ROOF = "roof"
    WINDOW = "window"
    FLOOR = "floor"
    UNDERFRAME = "underframe"


class Cabs(StrEnum):
    """Where the vehicle is driven from."""

    BOTH = "both ends"
    FRONT = "front"
    NONE = "none"


class Spot(Record):
    """Where a place is on the outline of its fleet."""

    along_m: NotNegative
    """From the front end, which is drawn on the left."""
    height: Height


Along = Annotated[tuple[NotNegative, ...], Field(max_length=40)]


class Outline(Record):
    """A vehicle of the fleet seen from its side, the front end on the left; all along it from there."""

    length_m: Annotated[Positive, Field(le=120)]
    doors_m: Along = ()
    """The middle of each door."""
    bogies_m: Along = ()
    """The middle of each bogie, or of each axle of a vehicle without bogies."""
    gangways_m: Along = ()
    """The joints between the cars of an articulated vehicle."""
    cabs: Cabs = Cabs.BOTH
    windows: bool = True
    """False for a vehicle without a saloon."""
    drawing: Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,80}\.svg$")] | None = None
    """An SVG of the depot's own in outlines/, in place of ours, as long as `length_m` from edge to edge."""

    @model_validator(mode="after")
    def _lies_on_it(self) -> Self:
        for name in ("doors_m", "bogies_m", "gangways_m"):
            beyond = [each for each in getattr(self, name) if each > self.length_m]
            if beyond:
                raise Unfit("beyond the end", field=name, along=beyond[0], length=self.length_m)
        return self
