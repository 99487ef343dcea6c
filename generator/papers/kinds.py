"""What is put on paper, as plain values: whoever has records makes these of them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import Enum, StrEnum


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelText:
    """What one label says. Number, revision and batch are never cut, the name is."""

    number: str
    revision: str
    batch: str | None = None
    name: str
    code: str
    """What the QR code holds: an address, or plain text where there is none."""
    stop: str = ""
    """Why the piece is not fitted: the label then says so before all else; empty of an ordinary one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelCount:
    """How many labels of one kind."""

    label: LabelText
    count: int = 1


class SampleRule(Enum):
    """Why a dimension is measured on so many pieces; each has its sentence in the words of papers."""

    SAMPLE = "sample"
    """The part's record says how many."""
    EVERY = "every"
    FIRST = "first"
    ASKED = "asked"
    """More were asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionCheck:
    """One critical dimension: what is measured, its limits as they are written, and with what."""

    name: str
    limits: str
    measured_with: str = ""
    pieces: int | None = None
    """On how many pieces it is to be measured, the first ones; None: on all that have a column."""
    why: SampleRule | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankInspectionSheet:
    """What of a batch is measured before its release, to be filled in by hand at the bench."""

    number: str
    revision: str
    batch: str
    name: str
    material: str
    lots: tuple[str, ...]
    machine: str
    started: str
    """Day and hour, as they are written."""
    count: int
    """How many pieces stood on the plate."""
    left: int
    """How many of them are not scrapped."""
    pieces: tuple[str, ...]
    """What the columns are called, one for each piece that is measured."""
    checks: tuple[InspectionCheck, ...]
    code: str
    """What its QR code holds: the address of the batch's page, or plain text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Whereabouts:
    """Where pieces that are called back are, or were when this was written."""

    vehicle: str
    place: str
    position: str = ""
    part: str = ""
    """Number and revision, as on its label."""
    batch: str = ""
    count: str
    """As it is written, for not always is it known."""
    why: str = ""
    """Why one has to look there, where nobody knows that it is one of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OffVehicle:
    """Pieces that are called back and are on no vehicle."""

    where: str
    """Such as 'on the shelf, cupboard 3' or 'came off TR4 401, saloon'."""
    part: str
    batch: str
    count: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecallNotice:
    """What is called back, why, and where it is."""

    number: str
    """Of the recall, such as RC-0001: it stands at the foot of each page."""
    stand: str = ""
    """Of which day and which records the list is: two papers that say the same here are the same list."""
    what: tuple[str, ...]
    """A line for each thing, such as 'TV-0417 Window-latch knob, batch B-0147'."""
    why: str
    by: str
    """The role that calls back."""
    on: date
    reference: str = ""
    look_for: tuple[str, ...]
    """What the labels of these pieces say, one a line: 'TV-0417 Rev. C B-0147'."""
    beside: tuple[str, ...] = ()
    """Which lots may be more of the one that is called back, so that their pieces ask."""
    instead: str = ""
    """What becomes of the vehicle meanwhile; left out, the depot's own instructions say so."""
    found_at: tuple[Whereabouts, ...]
    lying: tuple[OffVehicle, ...] = ()
    unsure: tuple[Whereabouts, ...] = ()
    """Where one has to look since nobody can tell the batch."""
    asking: tuple[Whereabouts, ...] = ()
    """Pieces of lots that may be more of the one that is called back: to look at, no part of it."""
    done: str = ""
    """Of one that is finished: since when, and by what."""
    incomplete: tuple[str, ...] = ()
    """What could not be read, so that the lists are short of it."""
    code: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A heading, sentences below it, and a table where `columns` has names. Each row has as many cells as there are columns."""

    heading: str
    sentences: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """A paper of sentences and tables, such as the report of a month."""

    title: str
    subtitle: str = ""
    incomplete: tuple[str, ...] = ()
    """What could not be read, so that it is short of it."""
    sections: tuple[Section, ...]


class PaperRefusal(StrEnum):
    """Why a paper cannot be had as it was asked for."""

    NOTHING = "nothing"
    """No label is asked for."""
    TOO_MANY = "too_many"
    """More than `most` in one file."""
    OFF_THE_PAGE = "off_the_page"
    """The fields do not lie on the page."""
    NO_FIELD = "no_field"
    """It begins at a field that the sheet does not have."""
    CODE_TOO_FINE = "code_too_fine"
    """The QR code's modules would be finer than `least_mm`."""
    CODE_TOO_LONG = "code_too_long"
    """No QR code holds so much text."""
    LETTERS_TOO_SMALL = "letters_too_small"
    """Number, revision and batch would be smaller than can be read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NotPrinted:
    """The answer in place of a PDF; its sentence is `papers.not_printed.<why>` of the words files."""

    why: PaperRefusal
    facts: Mapping[str, str | int | float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToPrint:
    """Pieces of one part on a plate."""

    part: str
    """How many, number, revision and name."""
    pose: str
    """How it stands, as its settings say it and as the model's axis."""
    code: str
    """What the code on its labels holds, until a batch has its number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnSketch:
    """A piece seen from above: its corner and its sides, in mm, and which of the plate's parts it is, from 0."""

    x: float
    y: float
    wide: float
    deep: float
    part: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintPlate:
    """One run of a printer."""

    heading: str
    says: str
    """Time and material."""
    parts: tuple[ToPrint, ...]
    sketch: tuple[OnSketch, ...]
    wide_mm: float
    deep_mm: float
    """Of the plate itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintGroup:
    """All plates of one printer with one material and layer."""

    heading: str
    sentences: tuple[str, ...]
    plates: tuple[PrintPlate, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintSheet:
    """What is printed next in house, to take to the printers."""

    title: str
    subtitle: str
    sentences: tuple[str, ...]
    groups: tuple[PrintGroup, ...]
