"""Batches: what was printed in one go, from which lots, what was measured of it, and whether it may be fitted."""

from typing import Annotated, Literal

from pydantic import Field

from generator.records.base import (
    Count,
    Day,
    Id,
    Line,
    LongText,
    Name,
    OwnMinutes,
    PartNumber,
    Record,
    RelativeFile,
    Revision,
    Sha256,
    Text,
    each_once,
)
from generator.records.machines import SettingsFile
from generator.records.moments import Moment
from generator.records.print_rules import Up

BATCH_NAME = r"[A-Z]{1,4}-[0-9]{1,8}"
BatchId = Annotated[str, Field(pattern=f"^{BATCH_NAME}$")]
"""The number of a batch as labels carry it, such as B-0147; the file's name, too."""
MOST_PIECES = 1000
Pieces = Annotated[int, Field(ge=1, le=MOST_PIECES)]


class _BatchEvent(Record):
    on: Day
    by: Id
    """Role that did it."""
    note: Line | None = None
    minutes: OwnMinutes | None = None
    """How long it took that role: own work alone."""


class Scrapped(_BatchEvent):
    what: Literal["scrapped"]
    count: Pieces
    why: Line
    """Such as 'corner lifted'."""


class MeasuredCheck(Record):
    """One critical dimension, measured on some or all pieces."""

    check: Name
    """As part.yml names it."""
    values_mm: Annotated[tuple[float, ...], Field(min_length=1, max_length=1000)] = ()
    passed: Count | None = None
    """Of a gauge without figures: how many pieces it found good, with `failed`."""
    failed: Count | None = None
    gauge: Line
    """Which one, such as 'caliper C-07'."""
    calibrated_until: Day


class Measured(_BatchEvent):
    what: Literal["measured"]
    checks: Annotated[tuple[MeasuredCheck, ...], each_once("check"), Field(min_length=1)]
    sheet: RelativeFile | None = None
    """The filled inspection sheet, in batches/documents/."""
    sha256: Sha256 | None = None


class Released(_BatchEvent):
    what: Literal["released"]
    accepts: Line | None = None
    """Why it is released in spite of a doubt; only a role that acts as quality says so."""


class Rejected(_BatchEvent):
    what: Literal["rejected"]
    why: Text


class Counted(_BatchEvent):
    """What lay on the shelf."""

    what: Literal["counted"]
    on_shelf: Count


class Issued(_BatchEvent):
    """Taken off the shelf; what is fitted without a word of this counts as issued all the same."""

    what: Literal["issued"]
    count: Pieces
    to: Line | None = None


class Returned(_BatchEvent):
    """Issued, not fitted, back on the shelf."""

    what: Literal["returned"]
    count: Pieces


class ReleaseReminded(_BatchEvent):
    """Whoever releases it was reminded: it changes nothing of the batch, and only its task rests."""

    what: Literal["reminder sent"]


BatchEvent = Annotated[
    Scrapped | Measured | Released | Rejected | Counted | Issued | Returned | ReleaseReminded, Field(discriminator="what")
]


class Batch(Record):
    """batches/<id>.yml; the file's name is the batch's number."""

    part: PartNumber
    revision: Revision
    printed_as: LongText
    """What was printed, line by line, as `spares batch new` wrote it; compared with what is approved."""
    fingerprint: Sha256
    """SHA-256 of that text."""
    count: Pieces
    """How many pieces stood on the plate."""
    machine: Id
    printed_by: Id
    """Role that printed; another one releases."""
    settings_file: SettingsFile | None = None
    """In batches/documents/."""
    lots: Annotated[tuple[Id, ...], Field(min_length=1, max_length=20)]
    up: Up | None = None
    """Which axis of the model pointed up, where it was another than the part's settings say."""
    started: Moment
    ended: Moment
    grams: Annotated[float, Field(gt=0, le=1_000_000)] | None = None
    """Of all pieces together, with what supported them."""
    note: Line | None = None
    events: tuple[BatchEvent, ...] = ()
