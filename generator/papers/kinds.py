"""What is put on paper, as plain values: whoever has records makes these of them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum


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
class Wanted:
    """How many labels of one kind."""

    label: LabelText
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionCheck:
    """One critical dimension: what is measured, its limits as they are written, and with what."""

    name: str
    limits: str
    measured_with: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionSheet:
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
class Lying:
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
    instead: str = ""
    """What becomes of the vehicle meanwhile; left out, the depot's own instructions say so."""
    found_at: tuple[Whereabouts, ...]
    lying: tuple[Lying, ...] = ()
    unsure: tuple[Whereabouts, ...] = ()
    """Where one has to look since nobody can tell the batch."""
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
    sections: tuple[Section, ...]


class Why(StrEnum):
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

    why: Why
    facts: Mapping[str, str | int | float] = field(default_factory=dict)
