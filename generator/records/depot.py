"""The depot itself: who it is, its language and money, how old a copy may get, its roles and its words."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from generator.records.base import Id, Line, Name, Record, each_once


class Language(StrEnum):
    """Language of the pages. A language is offered once its words file exists."""

    ENGLISH = "en"
    DANISH = "da"
    GERMAN = "de"


class ActsAs(StrEnum):
    """For whom a role may speak in an approval record."""

    CUSTOMER = "customer"
    """The keeper or operator of the vehicles."""
    AUTHORITY = "authority"
    FIRE_ENGINEER = "fire engineer"
    SAFETY_MANAGER = "safety manager"


class Role(Record):
    """A role, never a person."""

    id: Id
    name: Name
    acts_as: tuple[ActsAs, ...] = ()
    """For whom it may accept, approve, waive or choose; left out, it only tells what it did."""


class Depot(Record):
    """depot.yml"""

    railway: Name
    depot: Name
    language: Language = Language.ENGLISH
    """Language of the pages, dates and decimals (en, da, de)."""
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")]
    """ISO 4217 code."""
    max_copy_age_days: Annotated[int, Field(ge=1, le=366)]
    """A copy of the catalogue older than this says 'Ask first' where it said 'Fit it'."""
    contact: Line
    """Whom a mechanic asks, such as an office and its extension."""
    roles: Annotated[tuple[Role, ...], each_once("id")]


class Words(Record):
    """words.yml: the depot's own words for the same thing."""

    synonyms: tuple[tuple[Name, ...], ...] = ()
    """Groups of words that mean the same, such as [cover, lid, cap]."""
    spellings: dict[str, Name] = Field(default_factory=dict)
    """A common misspelling or abbreviation and what is meant by it."""
