"""What is put on paper, as plain values: whoever has records makes these of them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """How many labels of one kind."""

    label: LabelText
    count: int = 1


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
