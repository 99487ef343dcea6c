"""The depot itself: who it is, its language and money, how old a copy may get, its roles and its words."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from generator.records.base import (
    MAY_BE_EMPTY,
    Day,
    Id,
    Line,
    Name,
    NotNegative,
    Record,
    RelativeFile,
    SiteAddress,
    Text,
    each_once,
)
from generator.records.inspection import USUAL, InspectionDocuments
from generator.records.law import UNION, Law
from generator.records.problems import Problem
from generator.records.stocking import Stocking


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
    ASSESSMENT_BODY = "assessment body"
    """Independent of whoever makes and approves; Regulation (EU) 402/2013 Art. 6 (from memory)."""
    QUALITY = "quality"
    """Answers for the records: it alone may say why one no longer says what it said."""


class Role(Record):
    """A role, never a person."""

    id: Id
    name: Name
    acts_as: tuple[ActsAs, ...] = ()
    """For whom it may accept, approve, waive or choose; left out, it only tells what it did."""


class SignatureRule(StrEnum):
    """Whether events carry signatures."""

    NONE = "none"
    ADVISED = "advised"
    """What is not signed is told."""
    REQUIRED = "required"
    """A part with an event that is not signed, or not by a key of its role, is not fitted."""


class Signatures(Record):
    """Whether events are signed with SSH keys, by whose, and from which day on."""

    rule: SignatureRule
    allowed_signers: RelativeFile = "allowed_signers"
    """The list of keys and roles, in the form of OpenSSH's allowed-signers file; see ssh-keygen(1)."""
    since: Day | None = None
    """Events before this day need no signature; left out, all do."""


class RecordsKeptSince(Record):
    """Until which day committed records do not count as said; for a depot whose git holds trials from before."""

    day: Day
    why: Text
    by: Id


class Projection(StrEnum):
    """How the views of a drawing lie beside each other (ISO 5456-2)."""

    FIRST_ANGLE = "first angle"
    """The view from above lies below the front, that from the left to its right; usual in Europe."""
    THIRD_ANGLE = "third angle"
    """The other way round."""


class GeneralTolerance(StrEnum):
    """A class of ISO 2768-1: what holds for every size without limits of its own."""

    FINE = "f"
    MEDIUM = "m"
    COARSE = "c"
    VERY_COARSE = "v"


class DrawingRule(Record):
    """How the parts' drawings are laid out, and what stands in their title block."""

    projection: Projection = Projection.FIRST_ANGLE
    general_tolerance: GeneralTolerance | None = None
    """Left out, a drawing says class m, and that this is the default."""


NEWEST_CATALOGUE = 2
"""It says of a catalogue that its depot.yml names its format and that no approval record is of an older form."""


class Depot(Record):
    """depot.yml"""

    format: Annotated[int, Field(ge=1)] = 1
    """The form of the whole catalogue, as `spares migrate` writes it; left out, it is the oldest."""
    railway: Name
    depot: Name
    language: Language = Language.ENGLISH
    """Language of the pages, dates and decimals (en, da, de)."""
    floor_languages: tuple[Language, ...] = ()
    """Languages spoken on the floor: the finder understands them besides English and the language of the pages."""
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")]
    """ISO 4217 code."""
    max_copy_age_days: Annotated[int, Field(ge=1, le=366)]
    """A copy of the catalogue older than this says 'Ask first' where it said 'Fit it'."""
    contact: Line
    """Whom a mechanic asks, such as an office and its extension."""
    address: SiteAddress | None = None
    """Where the site is served, such as https://parts.example: the codes on labels lead there; left out, they hold text alone."""
    roles: Annotated[tuple[Role, ...], each_once("id")]
    signatures: Signatures | None = None
    """Left out: events are not signed."""
    law: Law = UNION
    """The law of the vehicles; left out, the Union's."""
    inspection_documents: InspectionDocuments = USUAL
    """What each route asks of a material's inspection documents (EN 10204); left out, customer 2.2 and authority 3.1."""
    drawing: DrawingRule = DrawingRule()
    """Left out: first angle, and class m of ISO 2768-1 as the default."""
    stocking: Stocking = Stocking()
    """How much stock is kept; left out, the usual."""
    costs_per_hour: NotNegative | None = None
    """What an hour of the depot's own work costs, in its currency; left out, minutes are told as minutes."""
    records_kept_since: RecordsKeptSince | None = None
    """Leaves older commits out when records are compared with their own past; `spares check` says so on every run."""
    hours_per_week: Annotated[float, Field(ge=0, le=168)] | None = None
    """How many hours a week the specialist has for approvals and requests; left out, `spares today` plans no weeks."""
    stop_worth: NotNegative | None = None
    """What a piece that lacks costs beside its saving where a request says what stops without it, in the currency; left out, 100."""


class LaterFormatError(Exception):
    """The catalogue is of a format that came after this program: what it means cannot be known, so nothing of it is judged."""

    def __init__(self, problem: Problem, folder: str, language: Language) -> None:
        super().__init__(str(problem.where))
        self.problem, self.folder, self.language = problem, folder, language


NO_CURRENCY = "XXX"
"""ISO 4217's code where no currency is meant."""


def blanks(depot: Depot) -> tuple[str, ...]:
    """The keys that still say what the starter put there: texts in square brackets, and no currency."""
    texts = {"railway": depot.railway, "depot": depot.depot, "contact": depot.contact}
    found = [key for key, text in texts.items() if text.startswith("[") and text.endswith("]")]
    return (*found, *(["currency"] if depot.currency == NO_CURRENCY else []))


class Words(Record):
    """words.yml: the depot's own words for the same thing."""

    synonyms: Annotated[tuple[tuple[Name, ...], ...], MAY_BE_EMPTY] = ()
    """Groups of words that mean the same, such as [cover, lid, cap]."""
    spellings: dict[str, Name] = Field(default_factory=dict)
    """A common misspelling or abbreviation and what is meant by it."""
