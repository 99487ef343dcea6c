"""What the fire standard asks of a part at a place, who chose that, and what reports of a material found."""

from enum import StrEnum
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from generator.records.base import Day, Id, Line, Name, NotNegative, Positive, Record, RelativeFile, Sha256
from generator.records.evidence import Evidence
from generator.records.makers import Process
from generator.records.problems import Unfit


class HazardLevel(StrEnum):
    """Hazard level of EN 45545-2."""

    HL1 = "HL1"
    HL2 = "HL2"
    HL3 = "HL3"


RequirementSet = Annotated[str, Field(pattern=r"^R([1-9]|1[0-9]|2[0-8])$")]
TestCode = Annotated[str, Field(pattern=r"^T[0-9]{2}(\.[0-9]{2})?$")]
"""Test of EN 45545-2, Table 5, such as T10.03."""

# Common practice, no source: plaques are moulded or printed from about half a millimetre; what is given as thinner
# than this was typed in other units.
THINNEST_SPECIMEN_MM = 0.1
Specimen = Annotated[float, Field(ge=THINNEST_SPECIMEN_MM, le=1000)]


class Layers(StrEnum):
    """How the printed layers lay to the face of the specimen that the flame met."""

    ALONG = "along"
    ACROSS = "across"
    NONE = "none"  # moulded, cast or machined


class FireResult(Record):
    """One result of a report."""

    test: TestCode
    method: Line
    """The test's standard and part, such as EN ISO 5659-2."""
    value: float | Line
    """A number in `unit`, or the class of a test that gives one, such as V-0."""
    unit: Annotated[str, Field(max_length=20)]
    thickness_mm: Specimen | None = None
    """Of the specimen; left out only where the method goes by mass."""
    mass_g: Positive | None = None
    """Of the specimen, where the method goes by mass."""
    layers: Annotated[tuple[Layers, ...], Field(max_length=3)] = ()
    infill_percent: Annotated[float, Field(ge=0, le=100)] | None = None
    """Of the specimen; 100 is solid."""


class FireTest(Record):
    """A report of a fire laboratory on the material."""

    standard: Line
    """What its results are held against, with the edition in full, such as EN 45545-2:2020+A1:2023."""
    report: Line
    laboratory: Name
    accreditation: Line | None = None
    """The laboratory's own number as an accredited one."""
    tested_on: Day
    valid_until: Day | None = None
    """Last day that the report is accepted. Left out only with `open_ended: true`."""
    open_ended: bool = False
    """True where whoever accepts the report has said that it has no end."""
    accepted_by: Id | None = None
    """Role that says until when the report is accepted."""
    process: Process | Literal["moulded"] | None = None
    """How the specimens were made."""
    colour: Line | None = None
    lot_family: Line | None = None
    """The formulation that was tested, as the supplier names it."""
    requirement_set: RequirementSet | None = None
    """What the report itself says is met, with the level and the thickness; believed less than results."""
    hazard_level: HazardLevel | None = None
    """The highest hazard level that the report says is met."""
    thickness_mm: Specimen | None = None
    """Thickness of the specimen of what is stated; a thinner part is not covered."""
    results: Annotated[tuple[FireResult, ...], Field(max_length=200)] = ()
    file: RelativeFile
    sha256: Sha256

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        stated = (self.requirement_set, self.hazard_level, self.thickness_mm)
        if not self.results and None in stated:
            raise Unfit("report of nothing")
        return self


class FireExemption(Record):
    """The fire engineer's statement that no test is asked of the part at its place.

    Such as for a group of small mass (EN 45545-2, clause 4), which depends on the neighbours on the vehicle: only a
    fire engineer can say so, and the statement is kept as a file.
    """

    reference: Line
    by: Id
    on: Day
    valid_until: Day | None = None
    """Last day that the statement counts. Left out only with `open_ended: true`."""
    open_ended: bool = False
    """True where the statement itself says that it has no end."""
    evidence: Evidence


class Neighbour(Record):
    """Something that burns beside the part on the vehicle, and that the catalogue does not know."""

    what: Name
    combustible_mass_g: NotNegative
    exposed_area_m2: NotNegative


class AsksNothing(StrEnum):
    """Why the standard asks no test; `reason` tells more."""

    NON_COMBUSTIBLE = "non-combustible"
    NO_REQUIREMENT = "no requirement"


class Fire(Record):
    """What the fire standard asks of the part at its place, as the fire engineer chose it."""

    requirement_set: RequirementSet | None = None
    further_sets: tuple[RequirementSet, ...] = ()
    """Sets that apply as well; each must be answered."""
    asks_nothing: AsksNothing | None = None
    """In place of a set."""
    edition: Line | None = None
    """Edition of EN 45545-2 that the choice was made by, such as 2020+A1:2023; the newest by default."""
    product: Annotated[str, Field(pattern=r"^[A-Z]{1,2}[0-9]{1,2}[A-Z]?$")] | None = None
    """Number of the product in Table 2 of EN 45545-2, such as IN8; left out where it is not listed."""
    electrotechnical: bool = False
    exposed_area_m2: Positive | None = None
    """Exposed area of the whole group at the place, where the fire engineer measured it; else worked out from the mesh."""
    thinnest_wall_mm: Positive | None = None
    """Thinnest wall of the part, where its mesh cannot tell."""
    thickest_section_mm: Positive | None = None
    """Thickest section of the part, where its mesh cannot tell."""
    neighbours: tuple[Neighbour, ...] = ()
    """What burns beside it and is no part of this catalogue, as the fire engineer wrote it down."""
    chosen_by: Id
    """Role that chose the requirement set."""
    reason: Line
    reference: Line | None = None
    """The note in which the fire engineer chose; without it, its day and its file, the choice is asked about."""
    on: Day | None = None
    evidence: Evidence | None = None
    exemption: FireExemption | None = None
    """Left out, test results are needed."""

    @model_validator(mode="after")
    def _says_one_thing(self) -> Self:
        if (self.requirement_set is None) == (self.asks_nothing is None) or (self.asks_nothing and self.further_sets):
            raise Unfit("set or nothing")
        if self.further_sets and len({self.requirement_set, *self.further_sets}) <= len(self.further_sets):
            raise Unfit("set twice")
        thinnest, thickest = self.thinnest_wall_mm, self.thickest_section_mm
        if thinnest is not None and thickest is not None and thinnest > thickest:
            raise Unfit("thin and thick")
        return self

    @property
    def sets(self) -> tuple[str, ...]:
        """Every set that must be answered."""
        return (self.requirement_set, *self.further_sets) if self.requirement_set else ()
