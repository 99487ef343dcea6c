"""The materials: what they weigh, what they are certified for, and how they did in fire tests."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from generator.records.base import Day, Line, Name, NotNegative, Positive, Record, RelativeFile, Sha256
from generator.records.makers import Process


class InspectionDocument(StrEnum):
    """Types of inspection document of EN 10204:2004, used for plastics by analogy."""

    DECLARATION = "2.1"
    TEST_REPORT = "2.2"
    CERTIFICATE_3_1 = "3.1"
    CERTIFICATE_3_2 = "3.2"


class HazardLevel(StrEnum):
    """Hazard level of EN 45545-2."""

    HL1 = "HL1"
    HL2 = "HL2"
    HL3 = "HL3"


RequirementSet = Annotated[str, Field(pattern=r"^R([1-9]|1[0-9]|2[0-8])$")]


# Common practice, no source: plaques are moulded or printed from about half a millimetre; what is given as thinner
# than this was typed in other units.
THINNEST_SPECIMEN_MM = 0.1


class Certificate(Record):
    """A material certificate."""

    type: InspectionDocument
    reference: Line
    issued_on: Day
    valid_until: Day | None = None
    """Last day that it counts. Left out only with `open_ended: true`."""
    open_ended: bool = False
    """True where the certificate names no end, as one of a single delivery does not."""
    file: RelativeFile
    sha256: Sha256


class FireTest(Record):
    """A report that the material passed a requirement set of the fire standard."""

    standard: Line
    """Edition in full, such as EN 45545-2:2020+A1:2023."""
    requirement_set: RequirementSet
    hazard_level: HazardLevel
    """The highest hazard level that the report says is met."""
    report: Line
    laboratory: Name
    tested_on: Day
    valid_until: Day | None = None
    """Last day that the report is accepted. Left out only with `open_ended: true`."""
    open_ended: bool = False
    """True where whoever accepts the report has said that it has no end."""
    thickness_mm: Annotated[float, Field(ge=THINNEST_SPECIMEN_MM)]
    """Thickness of the specimen; a thinner part is not covered."""
    file: RelativeFile
    sha256: Sha256


class Properties(Record):
    """Typical values; None is unknown."""

    tensile_strength_mpa: Positive | None = None
    tensile_strength_z_mpa: Positive | None = None
    tensile_modulus_mpa: Positive | None = None
    heat_deflection_c: float | None = None
    limiting_oxygen_index_percent: NotNegative | None = None


class Material(Record):
    """materials/<id>.yml; the file's name is the material's id."""

    name: Name
    family: Name
    """The polymer, such as PETG or PA12."""
    grade: Line | None = None
    """The supplier's own name of what is bought, such as 'FR-PETG 1.75 natural, type 4'."""
    supplier: Line | None = None
    """Whom it is bought from."""
    density_g_cm3: Positive
    colour: Annotated[str, Field(pattern=r"^#[0-9a-f]{6}$")] = "#9eadbd"
    """Colour for the pictures."""
    processes: Annotated[tuple[Process, ...], Field(min_length=1)]
    properties: Properties = Properties()
    certificates: tuple[Certificate, ...] = ()
    fire_tests: tuple[FireTest, ...] = ()
