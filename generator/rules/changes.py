"""A line of a canonical text that is other than it was, and what follows from it."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Means(StrEnum):
    """What a changed line means for what was approved, from best to worst."""

    FREE = "free"
    ASK = "ask"
    VOID = "void"


@dataclass(frozen=True, slots=True)
class Change:
    """One line that is no longer as it was approved; None is "had no such line".

    `means` and `reason` come from the table of consequences (rules/consequences.py); a line that the table does not
    know is void.
    """

    what: str
    approved: str | None
    now: str | None
    means: Means = Means.VOID
    reason: str = "unknown line"


def differing(before: Mapping[str, str], after: Mapping[str, str]) -> tuple[Change, ...]:
    """The lines that differ, by their keys, in the order of the newer text; then what it no longer has."""
    keys = [*after, *(key for key in before if key not in after)]
    return tuple(
        Change(key, before.get(key), after.get(key)) for key in keys if before.get(key) != after.get(key)
    )
