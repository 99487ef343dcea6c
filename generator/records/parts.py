"""A part: what it is, what it replaces, where it fits, what it is made of and how it is checked."""

import re
from collections.abc import Mapping
from enum import StrEnum
from typing import Annotated, Any, Final, Literal, Self

from pydantic import AfterValidator, ConfigDict, Field, ValidationInfo, field_validator, model_validator
from pydantic_core import PydanticKnownError

from generator.records.base import (
    Count,
    Day,
    Id,
    Line,
    Name,
    NotNegative,
    PartNumber,
    Positive,
    Record,
    Revision,
    Text,
    each_once,
)
from generator.records.fire import Fire
from generator.records.mesh_units import MeshUnits
from generator.records.placeholders import says_nothing
from generator.records.print_rules import Up
from generator.records.problems import Unfit
from generator.records.vehicles import VehicleRange

# What a tape finds on something that is carried to a vehicle.
HandMeasured = Annotated[float, Field(gt=0, le=20_000)]


# A figure of roughness tells nothing without its parameter (Ra, Rz, ...: ISO 21920-2), for the same surface has a value of each.
_FIGURE_ALONE = re.compile(r"[\d\s.,/<>=≤≥~±+-]*\d[\d\s.,/<>=≤≥~±+-]*(?:[µμun]m|mm|microns?)?", re.IGNORECASE)


def _stated(text: str) -> str:
    """The text as it is; Unfit where it only keeps a place free, for a reviewer would read it as an answer."""
    if says_nothing(text):
        raise Unfit("states nothing")
    return text


Stated = Annotated[Line, AfterValidator(_stated)]
"""What was agreed, in a line."""


class NumberKind(StrEnum):
    """Whose number an old number is."""

    OLD = "old number"
    MAKER = "maker's number"
    DRAWING = "drawing number"
    STORES = "stores number"


class OldNumber(Record):
    number: Name
    kind: NumberKind = NumberKind.OLD
    note: Line | None = None
    price: NotNegative | None = None
    """Last price of one piece, where it could be bought alone, in the depot's currency."""


class Assembly(Record):
    """The assembly that had to be bought whole before this part could be printed."""

    name: Name
    number: Name | None = None
    price: NotNegative | None = None
    """Last price of the whole assembly in the depot's currency."""


MOST_ON_A_VEHICLE = 10_000


class Fit(Record):
    """Where the part fits: fleet, vehicles (all by default), place, and how many on one vehicle."""

    fleet: Id
    vehicles: tuple[VehicleRange, ...] = ()
    place: Id
    per_vehicle: Annotated[int, Field(ge=1, le=MOST_ON_A_VEHICLE)]
    fire: Fire | None = None
    """What the fire standard asks at this place alone; the part's own `fire` by default."""


class Settings(Record):
    """How the part is printed and what a good piece is; what stands here is bound by the approval.

    The last three are items that a purchaser of printed parts states when ordering (ISO/ASTM 52901:2017), by its names for them.
    """

    orientation: Line
    """How it stands on the plate, such as 'flat, hook side up'."""
    up: Up | None = None
    """The same as a program reads it: which axis of the model points up."""
    layer_mm: Positive | None = None
    wall_mm: Positive | None = None
    """Thickness of the solid walls; None is printed solid."""
    infill_percent: Annotated[float, Field(ge=0, le=100)] | None = None
    support: Line | None = None
    after_print: Line | None = None
    """What is done after printing, such as 'dried 8 h at 80 °C; bore reamed'."""
    surface_texture: Stated | None = None
    """The surface that is ordered, such as 'as printed' or 'Ra 12.5 µm or smoother at the seat'."""
    repair: Stated | None = None
    """Which repair of a piece is permitted, such as 'none'."""
    acceptable_imperfections: Stated | None = None
    """What a good piece may have, such as 'layer lines; no gap between walls'."""

    @field_validator("surface_texture")
    @classmethod
    def _names_a_parameter(cls, value: str | None) -> str | None:
        if value and _FIGURE_ALONE.fullmatch(value):
            raise Unfit("figure of nothing")
        return value


class WithoutModel(StrEnum):
    """Why a part has no model."""

    BOUGHT = "bought"
    DRAWING_ONLY = "drawing only"
    SCAN_TO_COME = "scan to come"


class NoModel(Record):
    """In place of a model file; the part is asked about first, whatever else is known of it."""

    because: WithoutModel
    size_mm: tuple[HandMeasured, HandMeasured, HandMeasured] | None = None
    """Length, width and height as somebody measured them."""
    buy_at: Line | None = None
    """Where one gets it and under which number, such as 'central stores, 40.1187'."""


class SafetyRole(StrEnum):
    """Whether the part carries or affects a safety function of the vehicle."""

    NONE = "none"
    SAFETY = "safety"


class Stock(Record):
    place: Name
    on_shelf: Count
    counted_on: Day | None = None
    """On which day somebody counted; batches that are counted tell it by themselves (`spares batch count`)."""
    revision: Revision | None = None
    """Revision on the labels of the parts on the shelf; the part's own by default."""


class FeatureKind(StrEnum):
    """What kind of feature a size is of. A size that is asked for is held only against those of its kind."""

    SQUARE = "square"
    D_BORE = "d-bore"
    BORE = "bore"
    """Runs or is keyed on a shaft."""
    SEAT = "seat"
    """Of a bearing."""
    SHANK = "shank"
    """Or a journal: outside, in a hole."""
    PIN = "pin"
    PIN_HOLE = "pin-hole"
    """For a pin or a wire: an eye, a clip."""
    SCREW_HOLE = "screw-hole"
    PANEL_HOLE = "panel-hole"
    """For a switch or a button."""
    RING = "ring"
    """Or a cradle: round a tube, a rail, a hose."""
    GRIP = "grip"
    """Round a cable."""
    PLUG = "plug"
    """Springs into a tube."""
    SLOT = "slot"
    """For a bolt; its width."""
    STRAP_SLOT = "strap-slot"
    KEYWAY = "keyway"
    THREAD = "thread"
    FLATS = "flats"
    SPACING = "spacing"
    """From hole to hole, slot to slot, eye to eye."""
    TEETH = "teeth"
    """How many."""
    MODULE = "module"
    TIPS = "tips"
    """Over the tips of the teeth."""
    WIDTH_INSIDE = "width-inside"
    """Of a window, a duct, a chute."""
    LENGTH = "length"
    WIDTH = "width"
    HEIGHT = "height"
    THICKNESS = "thickness"
    OUTSIDE = "outside"
    """A collar, flange, hub, head: nothing goes into it or round it."""


class Check(Record):
    """A critical dimension, checked on every part before it is fitted."""

    name: Name
    nominal_mm: Positive
    plus_mm: NotNegative
    minus_mm: NotNegative
    measured_with: Name = "caliper"
    feature: FeatureKind | None = None
    """What kind of feature it measures; left out, it is read from the name. The finder asks it; no approval binds it."""
    sample: Literal["every", "first"] | Annotated[int, Field(ge=1, le=1000)] | None = None
    """On how many pieces of a batch it is measured before release; left out: every piece of a safety part, else the first
    (common practice, no source)."""

    @model_validator(mode="after")
    def _measures_something(self) -> Self:
        if self.minus_mm >= self.nominal_mm:
            raise Unfit("size of nothing")
        return self


class Side(StrEnum):
    """On which side a thread is."""

    OUTSIDE = "outside"
    INSIDE = "inside"


class Feature(Record):
    """A feature by which the part is found, of which no check tells: a thread, teeth, a module. Nothing is checked by it."""

    feature: FeatureKind
    name: Name
    size: Positive
    """Millimetres; of teeth how many, of a thread its nominal diameter."""
    pitch_mm: Positive | None = None
    """Of a thread."""
    side: Side | None = None
    """Of a thread."""


def _made_or_said(schema: dict[str, Any]) -> None:
    """In the JSON Schema, too, only a part without a model leaves out how it is made."""
    schema["anyOf"] = [{"required": ["no_model"]}, {"required": ["makers", "settings"]}]


class Part(Record):
    """part.yml"""

    model_config = ConfigDict(json_schema_extra=_made_or_said)

    number: PartNumber
    revision: Revision
    name: Name
    other_names: tuple[Name, ...] = ()
    purpose: Text
    """What it does on the vehicle, in a sentence."""
    symptoms: tuple[Line, ...] = ()
    """How the old part fails, as a mechanic would say it."""
    replaces: tuple[OldNumber, ...] = ()
    assembly: Assembly | None = None
    fits: Annotated[tuple[Fit, ...], Field(min_length=1)]
    safety_role: SafetyRole
    material: Id
    further_materials: tuple[Id, ...] = ()
    """What else it is made of, such as a window or an insert; each answers the fire standard for itself."""
    no_model: NoModel | None = None
    """In place of a model: why there is none, and the size by hand."""
    makers: Annotated[tuple[Id, ...], Field(validate_default=True)] = ()
    settings: Annotated[Settings | None, Field(validate_default=True)] = None
    """How it is printed. Like the makers, only a part without a model leaves it out."""
    mesh_units: MeshUnits | None = None
    fire: Fire | None = None
    """What the fire standard asks at every place that says nothing of its own."""
    checks: Annotated[tuple[Check, ...], each_once("name")] = ()
    features: Annotated[tuple[Feature, ...], each_once("name")] = ()
    """What else it is found by; no approval binds them."""
    looks: tuple[Name, ...] = ()
    """What one sees, in a word or a few: 'with two ears', 'L-shaped'. Colour and simple forms are found without."""
    other_hand: PartNumber | None = None
    """The mirror-image part."""
    look_alikes: tuple[PartNumber, ...] = ()
    """Parts that are easily taken for this one."""
    yearly_demand: NotNegative | None = None
    stock: Stock | None = None
    what_changed: Text | None = None
    """What differs from the original part, such as 'rib added at the root of the hook'."""

    @field_validator("makers", "settings")
    @classmethod
    def _is_made_somehow(cls, value: Any, info: ValidationInfo) -> Any:
        # A `no_model` with a mistake of its own is told by that mistake.
        if not value and info.data.get("no_model", ...) is None:
            raise PydanticKnownError("missing")
        return value

    def fire_at(self, fleet: str, place: str) -> Fire | None:
        """What the fire standard asks there, None while nobody has said."""
        own = next((fit.fire for fit in self.fits if (fit.fleet, fit.place) == (fleet, place)), None)
        return own or self.fire

    def has_own_fire(self, fleet: str, place: str) -> bool:
        """Whether that was chosen for this place alone."""
        return any(fit.fire for fit in self.fits if (fit.fleet, fit.place) == (fleet, place))

    @property
    def is_bought(self) -> bool:
        return self.no_model is not None and self.no_model.because is WithoutModel.BOUGHT

    @property
    def materials(self) -> tuple[str, ...]:
        """Every material that it is made of, each once."""
        return tuple(dict.fromkeys((self.material, *self.further_materials)))


SUBJECTS: Final[Mapping[str, tuple[str, ...]]] = {
    "revision": ("revision",),
    "name": ("name",),
    "fits": ("fits",),
    "safety": ("safety_role",),
    "material": ("material", "further_materials"),
    "making": ("makers", "settings", "no_model", "mesh_units"),
    "fire": ("fire",),
    "checks": ("checks",),
    "replaces": ("replaces", "assembly", "other_hand", "look_alikes"),
    "stock": ("stock",),
    "demand": ("yearly_demand",),
    "words": ("other_names", "purpose", "symptoms", "features", "looks", "what_changed"),
}
"""By the word for it: the fields of part.yml that are of it. A change of what stands nowhere is one of `details`."""
