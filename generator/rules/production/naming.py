"""Who says that an inspection document is of this lot: its own text, a role that held the two side by side, or nobody?

The record says which lot the document names, and whoever filed the wrong one wrote that down too. So it counts where a program finds
the number in its text, or a role has compared it; as with letters of before this record, what no program reads is for eyes alone.
"""

from enum import StrEnum
from typing import Final

from generator.records.base import as_compared
from generator.records.catalogue import Fault
from generator.records.free_texts import is_void
from generator.records.lots import Compared, Lot, LotDocument
from generator.records.problems import Problem, doubt
from generator.records.production import Production

DOCUMENTS: Final = "materials/lots"
"""Where the files lie that records of lots name."""


class Naming(StrEnum):
    """What speaks for it that a document names the lot."""

    READ = "read"
    COMPARED = "compared"
    OTHER = "other"
    """Its text can be read, and the number is not in it."""
    UNREAD = "unread"
    LOCKED = "locked"
    """Whatever the record says: what does not open, nobody has compared."""

    @property
    def is_said(self) -> bool:
        return self in (Naming.READ, Naming.COMPARED)


def comparison_of(paper: LotDocument, lot: Lot) -> Compared | None:
    """Who compared this very file with the lot."""
    return next((each for each in lot.events if isinstance(each, Compared) and each.sha256 == paper.sha256 and not is_void(each)), None)


def is_locked(paper: LotDocument, production: Production) -> bool:
    kept = production.files.get(f"{DOCUMENTS}/{paper.file}")
    return kept is not None and kept.fault is Fault.LOCKED


def naming(paper: LotDocument, lot: Lot, production: Production) -> Naming:
    if is_locked(paper, production):
        return Naming.LOCKED
    if comparison_of(paper, lot):
        return Naming.COMPARED
    is_named = production.named.get((f"{DOCUMENTS}/{paper.file}", paper.lot))
    return Naming.UNREAD if is_named is None else Naming.READ if is_named else Naming.OTHER


def unnamed(name: str, lot: Lot, production: Production) -> list[Problem]:
    """Documents that are kept as they were recorded, and of which nobody and nothing says that they name the lot."""
    found = []
    for at, paper in enumerate(lot.inspection_documents):
        if as_compared(paper.lot) != as_compared(lot.supplier_lot):
            continue  # the record itself says that it is another's (LOT01)
        kept = production.files.get(f"{DOCUMENTS}/{paper.file}")
        word = naming(paper, lot, production)
        if kept and kept.sha256 == paper.sha256 and not word.is_said:
            key = "locked" if word is Naming.LOCKED else "not compared" if word is Naming.UNREAD else "not named"
            found.append(doubt("LOT03", key, path=("inspection_documents", at, "file"), file=paper.file, lot=paper.lot, name=name))
    return found
