"""Which inspection documents of a material count on a part's route, and why the others do not?

EN 10204:2004, for plastics by analogy: 2.1 and 2.2 rest on no inspection of the delivery, 3.1 and 3.2 do. Whoever makes
the feedstock inspects the feedstock; what was printed of it only an inspection of printed coupons can tell.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from generator.records.base import as_compared
from generator.records.inspection import Asked, InspectionDocument, SpeaksOf
from generator.records.materials import Certificate
from generator.records.placeholders import names_nothing
from generator.rules.lasting import last_day, longest

_TYPES = tuple(InspectionDocument)


class Unfitting(StrEnum):
    """Why a document does not count."""

    NOT_KEPT = "not kept"
    """Its file is missing, empty or another, recorded as another paper too, or of a day to come."""
    LOWER_TYPE = "lower type"
    ISSUER = "issuer"
    """On printed coupons, by nobody who is named or by whom the feedstock is bought from."""
    NOT_ASKED = "not asked"
    """On printed coupons, where none are asked: it says nothing of the feedstock."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspected:
    """The documents that answer a route, and those that were looked at and do not count."""

    feedstock: Certificate | None
    coupons: Certificate | None
    """None where none counts, or none is asked."""
    lacks_coupons: bool
    unfitting: tuple[tuple[Certificate, Unfitting], ...]

    @property
    def counting(self) -> tuple[Certificate, ...]:
        return tuple(each for each in (self.feedstock, self.coupons) if each)

    @property
    def until(self) -> date | None:
        """The earlier of the ends; None, which is unknown, where one is missing or says no end that can be."""
        if self.feedstock is None or self.lacks_coupons:
            return None
        ends = [last_day(each) for each in self.counting]
        return None if None in ends else min(end for end in ends if end)


def inspected(listed: Iterable[tuple[Certificate, bool]], asked: Asked, supplier: str | None) -> Inspected:
    """listed: every document of the material, and whether it is kept as recorded and of a day that has come."""
    judged = [(each, _unfitting(each, asked, supplier, is_kept=is_kept)) for each, is_kept in listed]
    fitting = [each for each, why in judged if why is None]
    coupons = longest(each for each in fitting if each.speaks_of is SpeaksOf.COUPONS)
    return Inspected(
        feedstock=longest(each for each in fitting if each.speaks_of is SpeaksOf.FEEDSTOCK),
        coupons=coupons,
        lacks_coupons=asked.printed_coupons and coupons is None,
        unfitting=tuple((each, why) for each, why in judged if why),
    )


def _unfitting(paper: Certificate, asked: Asked, supplier: str | None, *, is_kept: bool) -> Unfitting | None:
    if not is_kept:
        return Unfitting.NOT_KEPT
    if _TYPES.index(paper.type) < _TYPES.index(asked.least):
        return Unfitting.LOWER_TYPE
    if paper.speaks_of is SpeaksOf.COUPONS:
        if not asked.printed_coupons:
            return Unfitting.NOT_ASKED
        is_by_who_can_tell = is_signed(paper) and not is_by_the_supplier(paper, supplier)
        return None if is_by_who_can_tell else Unfitting.ISSUER
    return None


def is_signed(paper: Certificate) -> bool:
    """Whether it says who inspected."""
    return paper.issued_by is not None and not names_nothing(paper.issued_by)


def is_by_the_supplier(paper: Certificate, supplier: str | None) -> bool:
    """Whether it is by the one from whom the feedstock is bought, who cannot know what was printed (common practice, no source)."""
    return bool(paper.issued_by and supplier) and as_compared(str(paper.issued_by)) == as_compared(str(supplier))
