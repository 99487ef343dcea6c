"""What one row tells of a part, before it is written: what the list says and what it leaves to a person."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from generator.records.problems import Problem
from generator.writing.yaml_text import Value

TODO = "TODO"


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """An approval that a row tells whole, with its letter as a file."""

    reference: str
    letter_of: date
    approved_by: str
    approver: str
    valid_until: date | None
    """None where the letter has no end."""
    file: str
    """Its path in the folder of files."""
    scope: Mapping[str, Value]
    revision: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """One part of a list."""

    row: int
    number: str
    name: str
    told: Mapping[str, Value]
    """Keys of part.yml as the list tells them; what it does not tell is left out."""
    measured: tuple[str, ...] = ()
    """Sizes that the list tells and no key of the record can hold, as they are said in a comment."""
    size_mm: tuple[float, ...] = ()
    besides: tuple[str, ...] = ()
    """What columns say that are left out, each with its heading; it is kept as a comment."""
    because: str | None = None
    """Why there is no model."""
    mesh: str | None = None
    """The model's path in the folder of files, as are the next."""
    documents: tuple[str, ...] = ()
    photos: tuple[str, ...] = ()
    letter: Letter | None = None
    letter_file: str | None = None
    """The letter's path, also where its approval cannot be taken over."""
    approval: tuple[str, ...] = ()
    """What the columns of its approval say, as lines with their headings; a comment where none is taken over."""
    lacks: tuple[str, ...] = ()
    """What is missing of an approval that the row tells something of; empty where it tells nothing or all."""
    doubts: tuple[Problem, ...] = ()

    @property
    def route(self) -> str | None:
        return self.letter.approver if self.letter else None
