"""How parts are made: printers in house and bureaus that parts are ordered from."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from generator.records.base import (
    MAY_BE_EMPTY,
    Id,
    Line,
    Name,
    NotNegative,
    Positive,
    Record,
    each_once,
)
from generator.records.print_rules import PrintRules


class Process(StrEnum):
    """Process categories by their names in ISO/ASTM 52900."""

    MATERIAL_EXTRUSION = "material extrusion"
    POWDER_BED_FUSION = "powder bed fusion"
    VAT_PHOTOPOLYMERIZATION = "vat photopolymerization"
    MATERIAL_JETTING = "material jetting"


class MakerKind(StrEnum):
    IN_HOUSE = "in-house"
    BUREAU = "bureau"


class PriceRule(Record):
    """Price of n parts = per_order + n × (per_part + per_gram × mass), in the depot's currency."""

    per_order: NotNegative = 0.0
    per_part: NotNegative = 0.0
    per_gram: NotNegative


class Maker(Record):
    id: Id
    name: Name
    kind: MakerKind
    process: Process
    machine_model: Line | None = None
    """Which model of machine it is; two of one model make parts that are alike."""
    build_volume_mm: tuple[Positive, Positive, Positive]
    materials: Annotated[tuple[Id, ...], Field(min_length=1)]
    lead_time_days: Annotated[int, Field(ge=0, le=366)]
    price: PriceRule
    rules: PrintRules = PrintRules()
    """What it prints well, by its own word."""
    order_at: Line
    """Where an order goes: a counter, a mailbox, an order form."""


class Makers(Record):
    """makers.yml"""

    makers: Annotated[tuple[Maker, ...], each_once("id"), MAY_BE_EMPTY]
