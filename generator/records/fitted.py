"""What sits on the vehicles: which batch was fitted where, what came off, and why."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Literal

from generator.records.base import as_compared

COLUMNS = ("day", "fleet", "vehicle", "place", "position", "batch", "count", "removed_batch", "removed", "why", "by", "row")
"""The head of fitted/<year>.csv."""
AS_FOUND = "as_found"
"""A column behind these, in the files of years that need it; a line that lacks it leaves it empty."""
FOUND = "yes"
"""What stands in that column of a line that was found so on the vehicle, whatever the other records say against it."""


class Why(StrEnum):
    """Why a piece came off."""

    WORN = "worn"
    BROKEN = "broken"
    WRONG = "wrong"
    """It was the wrong part, or did not fit."""
    CAMPAIGN = "campaign"
    """It was called back, or changed as planned."""

    @property
    def is_failure(self) -> bool:
        return self in (Why.WORN, Why.BROKEN)


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedRow:
    """One line: what went onto a place of a vehicle, what came off it, or both."""

    day: date
    fleet: str
    vehicle: str
    place: str
    position: str
    """Such as 'left, third window'; empty where nobody said."""
    batch: str
    """Empty where nothing went on."""
    count: int
    removed_batch: str
    """Empty where what came off carries no batch: an original, or one from before."""
    removed: int
    why: Why | None
    by: str
    row: str
    """What tells this line from one alike, as the tablet wrote it; empty in lines by hand."""
    file: str
    line: int
    """Where it stands."""
    as_found: bool = False
    """Somebody has seen on the vehicle that it is so, although it must not be, or cannot be by what else is written down."""

    @property
    def alike(self) -> tuple[object, ...]:
        """What it says, so that white space and letters' case of the position make no difference: a line alike is the same line,
        whether or not somebody says that it was found so.
        """
        return (*self._moved[:4], as_compared(self.position), *self._moved[5:])

    @property
    def said(self) -> tuple[object, ...]:
        """All that it says as it was typed, without where it stands; of a line that was not found so as ever before."""
        return (*self._moved, AS_FOUND) if self.as_found else self._moved

    @property
    def _moved(self) -> tuple[object, ...]:
        return (
            self.day, self.fleet, self.vehicle, self.place, self.position, self.batch, self.count,
            self.removed_batch, self.removed, self.why, self.by, self.row,
        )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class FileGap:
    """What of a file could not be read or cannot be relied on, so that whoever lists what it tells knows that something is missing."""

    file: str
    lines: tuple[int, ...] = ()
    from_line: int | None = None
    """From this line on all of it; 1: the whole file."""
    why: Literal["unread", "less", "missing", "changed", "astray", "to come", "mistakes", "gone", "contradicts"] = "unread"
    """less: it says less or something else than it did; missing: a file that batches speak of; changed: of a batch's record; astray: a recall of what there is not;
    to come: lines of days to come, which took nothing off yet; gone: a record that others name; mistakes: a record of another kind, of which nobody knows what it would say;
    contradicts: lines that cannot be by other records, and that count all the same, here as in every list."""
