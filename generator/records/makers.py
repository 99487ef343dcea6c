"""How parts are made: printers in house and bureaus that parts are ordered from."""

from enum import StrEnum
from typing import Annotated, Self

from pydantic import Field, model_validator

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
from generator.records.problems import Unfit


class Process(StrEnum):
    """Process categories by their names in ISO/ASTM 52900."""

    MATERIAL_EXTRUSION = "material extrusion"
    POWDER_BED_FUSION = "powder bed fusion"
    VAT_PHOTOPOLYMERIZATION = "vat photopolymerization"
    MATERIAL_JETTING = "material jetting"


class MakerKind(StrEnum):
    IN_HOUSE = "in-house"
    BUREAU = "bureau"


class PriceBreak(Record):
    """From so many pieces of one part in an order on, each of them costs less."""

    from_count: Annotated[int, Field(ge=2, le=100_000)]
    less_percent: Annotated[float, Field(gt=0, le=99)]
    """Off the price of each piece, of all pieces of the order; what is asked per order stays."""


class PriceRule(Record):
    """Price of n parts = per_order + n × (per_part + per_gram × mass), in the depot's currency, less what a price break takes off."""

    per_order: NotNegative = 0.0
    per_part: NotNegative = 0.0
    per_gram: NotNegative
    price_breaks: tuple[PriceBreak, ...] = ()
    """Rising: each from more pieces on than the one before, and with more off."""

    @model_validator(mode="after")
    def _breaks_rise(self) -> Self:
        for before, after in zip(self.price_breaks, self.price_breaks[1:], strict=False):
            if after.from_count <= before.from_count or after.less_percent <= before.less_percent:
                raise Unfit("breaks do not rise", before=before.from_count, after=after.from_count)
        return self


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
    set_up: NotNegative | None = None
    """What one order or run costs the depot itself besides, however many pieces: written, set up, taken in. Left out, nobody has said."""
    rules: PrintRules = PrintRules()
    """What it prints well, by its own word."""
    order_at: Line
    """Where an order goes: a counter, a mailbox, an order form."""


class Makers(Record):
    """makers.yml"""

    makers: Annotated[tuple[Maker, ...], each_once("id"), MAY_BE_EMPTY]
