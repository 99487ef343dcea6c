"""Lots of material: what was delivered with which inspection document, and what has become of it."""

from typing import Annotated, Literal

from pydantic import Field

from generator.records.base import Day, Id, Line, Name, Positive, Record, RelativeFile, Sha256, Text
from generator.records.inspection import InspectionDocument

Celsius = Annotated[float, Field(ge=0, le=300)]


class LotDocument(Record):
    """An inspection document (EN 10204) that speaks of this lot."""

    type: InspectionDocument
    lot: Line
    """The lot that it names, as it writes it; it counts where that is the supplier's number of this lot."""
    issued_by: Name | None = None
    reference: Line
    issued_on: Day
    file: RelativeFile
    """In materials/lots/documents/, such as documents/L-0007.pdf."""
    sha256: Sha256


class _LotEvent(Record):
    on: Day
    by: Id
    """Role that did it."""
    note: Line | None = None


class Received(_LotEvent):
    what: Literal["received"]
    grams: Positive
    """How much was delivered, without spools and bags."""


class Opened(_LotEvent):
    """The bag or drum was opened: from here on it takes up water."""

    what: Literal["opened"]


class Dried(_LotEvent):
    what: Literal["dried"]
    hours: Positive
    celsius: Celsius


class Blocked(_LotEvent):
    """Nothing is printed from it, and nothing that was printed from it is fitted, until it is unblocked."""

    what: Literal["blocked"]
    why: Text


class Unblocked(_LotEvent):
    what: Literal["unblocked"]
    why: Text


class UsedUp(_LotEvent):
    what: Literal["used up"]


class Compared(_LotEvent):
    """Somebody held an inspection document against the spool or drum: it names this lot. Needed where no program can read that."""

    what: Literal["compared"]
    reference: Line
    """Number of the document."""
    sha256: Sha256
    """Of its file, so that of another file nothing is said."""


LotEvent = Annotated[Received | Opened | Dried | Blocked | Unblocked | UsedUp | Compared, Field(discriminator="what")]


class Lot(Record):
    """materials/lots/<id>.yml; the file's name is the lot's id."""

    material: Id
    supplier_lot: Line
    """The supplier's number of the lot, as it stands on the spool or drum."""
    supplier: Line | None = None
    use_by: Day | None = None
    """Last day on which anything is printed from it; left out, the supplier names none."""
    inspection_documents: tuple[LotDocument, ...] = ()
    events: tuple[LotEvent, ...] = ()
