"""What an approval says besides its scope: what it takes over, what its reviewer had changed, what becomes of old stock."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from generator.records.base import Day, Id, Line, LongText, Record, Revision, Sha256, Text
from generator.records.evidence import Evidence


class WayStep(StrEnum):
    """A step of the way that a changed part walks anew."""

    PROTOTYPE = "prototype"
    ACCEPTANCE = "acceptance"
    DOCUMENTS = "documents"
    REVIEW = "review"


class CarriesOver(Record):
    """Which steps of an earlier approval's way count for a changed part too, and who says so for the approver."""

    steps: Annotated[tuple[WayStep, ...], Field(min_length=1)]
    why: Text
    by: Id
    reference: Line
    evidence: Evidence


class ChangesAsked(Record):
    """The reviewer's letter that asked for the change between what was submitted and what is approved."""

    reference: Line
    evidence: Evidence


class Becomes(StrEnum):
    """What becomes of stock with the label of an earlier revision."""

    USE_UP = "use up"
    STOP = "stop"
    CALL_BACK = "call back"


class OlderStock(Record):
    revision: Revision
    becomes: Becomes
    until: Day | None = None
    """Last day on which what is used up may be fitted."""


class Submitted(Record):
    """What a submission carries; left out in records of the older form."""

    revision: Revision | None = None
    submitted_as: LongText | None = None
    """What was submitted, line by line, as `spares record` wrote it; do not edit."""
    fingerprint: Sha256 | None = None
    """SHA-256 of submitted_as."""
