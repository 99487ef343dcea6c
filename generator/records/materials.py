"""The materials: what they weigh, what they are certified for, and how they did in fire tests."""

from typing import Annotated, Final, Literal, Self

from pydantic import Field, model_validator

from generator.records.base import (
    Day,
    Line,
    Name,
    NotNegative,
    Positive,
    Record,
    RelativeFile,
    Sha256,
    each_once,
)
from generator.records.fire import FireTest
from generator.records.inspection import InspectionDocument, SpeaksOf
from generator.records.machines import CouponProperty
from generator.records.makers import Process
from generator.records.problems import Unfit
from generator.records.proof import Proof

UNCOLOURED: Final = "#9eadbd"
"""The colour, in pictures, of what has no material, or one that names none."""


class Certificate(Record):
    """A material certificate."""

    type: InspectionDocument
    speaks_of: SpeaksOf = SpeaksOf.FEEDSTOCK
    """What was inspected: the feedstock, or coupons printed of it."""
    issued_by: Name | None = None
    """Who inspected it; of printed coupons it has to be said."""
    reference: Line
    issued_on: Day
    valid_until: Day | None = None
    """Last day that it counts. Left out only with `open_ended: true`."""
    open_ended: bool = False
    """True where the certificate names no end, as one of a single delivery does not."""
    file: RelativeFile
    sha256: Sha256


class Properties(Record):
    """Typical values; None is unknown."""

    tensile_strength_mpa: Positive | None = None
    tensile_strength_z_mpa: Positive | None = None
    tensile_modulus_mpa: Positive | None = None
    heat_deflection_c: float | None = None
    limiting_oxygen_index_percent: NotNegative | None = None
    """As the supplier's data sheet tells it: approvals bind it, and pages show it. It proves nothing of fire: what the fire standard
    asks of the index (EN ISO 4589-2) is a result of a report."""


class Required(Record):
    """What coupons of a machine have to show before prints of this material count. It judges machines, so no approval binds it."""

    property: CouponProperty
    least: float | None = None
    """In the unit that the property names."""
    most: float | None = None
    coverage_percent: Literal[90, 95, 99] = 90
    """How many of a hundred pieces are to reach it, with 95 % confidence."""
    source: Line
    """Where the figure is from, such as a specification and its table."""

    @model_validator(mode="after")
    def _asks_something(self) -> Self:
        if self.least is None and self.most is None:
            raise Unfit("required of nothing")
        if self.least is not None and self.most is not None and self.least > self.most:
            raise Unfit("required of nothing")
        return self


class LastOrder(Record):
    """The supplier makes it no longer."""

    on: Day
    """Last day on which an order is taken."""
    needed_until: Day
    """Until when parts are to be printed of it: the vehicles go, or another material is approved by then."""
    reference: Line
    """Where it says so, such as a letter of the supplier."""

    @model_validator(mode="after")
    def _is_needed_after(self) -> Self:
        if self.needed_until <= self.on:
            raise Unfit("needed no longer", until=self.needed_until.isoformat())
        return self


class Material(Record):
    """materials/<id>.yml; the file's name is the material's id."""

    name: Name
    family: Name
    """The polymer, such as PETG or PA12."""
    grade: Line | None = None
    """The supplier's own name of what is bought, such as 'FR-PETG 1.75 natural, type 4'."""
    supplier: Line | None = None
    """Whom it is bought from."""
    last_order: LastOrder | None = None
    """Left out: it can be had as long as anybody knows."""
    density_g_cm3: Positive
    colour: Annotated[str, Field(pattern=r"^#[0-9a-f]{6}$")] = UNCOLOURED
    """Colour for the pictures."""
    solid_density_g_cm3: Positive | None = None
    """Of the polymer without pores, for what burns of it, where prints are lighter."""
    colouring: Line | None = None
    """As fire reports name the colour, such as 'natural'."""
    lot_family: Line | None = None
    """Which formulation it is, as the supplier and fire reports name it."""
    combustible: bool = True
    """False of a metal, glass or ceramic, of which the fire standard asks nothing."""
    processes: Annotated[tuple[Process, ...], Field(min_length=1)]
    properties: Properties = Properties()
    certificates: tuple[Certificate, ...] = ()
    fire_tests: tuple[FireTest, ...] = ()
    proof: tuple[Proof, ...] = ()
    """What was tested of it besides fire, against what places ask (`environment` in fleets.yml)."""
    required: Annotated[tuple[Required, ...], each_once("property")] = ()
    """What coupons of each machine have to show that prints of it; left out, being qualified by its days is enough."""
