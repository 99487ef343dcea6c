"""The fleets: which vehicles there are, how they run and which places a part can sit in."""

from enum import StrEnum
from typing import Annotated, Self

from pydantic import Field, model_validator

from generator.records.base import MAY_BE_EMPTY, Id, Name, Positive, Record, each_once
from generator.records.environment import Environment
from generator.records.outline import Outline, Spot
from generator.records.problems import Unfit
from generator.records.vehicles import VehicleRange, read_alike, vehicles_in


class Area(StrEnum):
    """Where on the vehicle a place lies, for the fire requirement."""

    INTERIOR = "interior"
    EXTERIOR = "exterior"
    TECHNICAL_CABINET = "technical cabinet"
    CAVITY = "cavity"


class FireRule(StrEnum):
    """Fire rule that a fleet was approved to: the European standard, or an older national one."""

    EN_45545 = "EN 45545-2"
    DIN_5510 = "DIN 5510-2"
    NF_F_16_101 = "NF F 16-101"
    BS_6853 = "BS 6853"


class DesignCategory(StrEnum):
    """Design category of EN 45545-1: N standard, A automatic without trained staff, D double-decked, S sleeping."""

    N = "N"
    A = "A"
    D = "D"
    S = "S"


class Place(Record):
    """A place on the vehicle where parts sit."""

    id: Id
    name: Name
    area: Area
    largest_mm: Positive
    """The largest extent that a part at this place can plausibly have."""
    smallest_mm: Positive = 4.0
    """The smallest plausible largest extent: below it the file is probably in other units."""
    environment: Environment | None = None
    """What the place asks of the material there; left out, nothing."""
    spot: Spot | None = None
    """Where it is on the fleet's outline; left out, it stands in the list alone."""


class Fleet(Record):
    """One fleet of like vehicles."""

    id: Id
    name: Name
    vehicles: Annotated[tuple[VehicleRange, ...], Field(min_length=1)]
    in_service_since: Annotated[int, Field(ge=1850, le=2100)]
    operation_category: Annotated[int, Field(ge=1, le=4)]
    """Operation category 1-4 of EN 45545-1."""
    design_category: DesignCategory
    fire_rule: FireRule = FireRule.EN_45545
    """The rule that the fleet was approved to; an older national one is never read as the European one."""
    places: Annotated[tuple[Place, ...], each_once("id"), each_once("name")]
    outline: Outline | None = None
    """Its side view in a few figures; left out, none is drawn."""

    @model_validator(mode="after")
    def _spots_lie_on_the_outline(self) -> Self:
        spots = [(place.id, place.spot) for place in self.places if place.spot]
        if spots and self.outline is None:
            raise Unfit("spot without outline", place=spots[0][0])
        beyond = [(place, spot.along_m) for place, spot in spots if self.outline and spot.along_m > self.outline.length_m]
        if beyond and self.outline:
            raise Unfit("spot beyond the end", place=beyond[0][0], along=beyond[0][1], length=self.outline.length_m)
        return self

    @model_validator(mode="after")
    def _numbers_are_told_apart(self) -> Self:
        seen: dict[str, str] = {}
        for number in self.numbers:
            other = seen.setdefault(read_alike(number), number)
            if other != number:
                raise Unfit("read alike", first=other, other=number)
        return self

    @property
    def numbers(self) -> tuple[str, ...]:
        """The number of each vehicle, as people sort them."""
        return vehicles_in(self.vehicles)


class Fleets(Record):
    """fleets.yml"""

    fleets: Annotated[tuple[Fleet, ...], each_once("id"), each_once("name"), MAY_BE_EMPTY]
