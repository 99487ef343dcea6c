"""Which certificate of the material counts, and what answers the fire standard at a place?"""

from collections.abc import Iterable
from datetime import date

from generator.records.materials import Certificate
from generator.rules.basis import Basis
from generator.rules.facts.case import Case
from generator.rules.facts.fields import OPEN, LastDay, PaperFacts
from generator.rules.facts.of_fire import FireFound
from generator.rules.inspection import Inspected, Unfitting, inspected
from generator.rules.kept import paper_is_kept
from generator.rules.lasting import FOR_EVER


def paper_facts(case: Case, basis: Basis, fire: FireFound) -> PaperFacts:
    """fire: what is asked at the place, and what answers it (rules/facts/of_fire.py)."""
    documents = _documents(case, basis)
    return PaperFacts(
        certificate=_joined(_named(documents.counting)),
        certificate_until=_last(documents.until),
        certificate_asked=case.catalogue.inspection_of(case.history.route).least,
        lacks_coupons=_named(documents.counting) if documents.lacks_coupons else (),
        certificates_lower=_why(documents, Unfitting.LOWER_TYPE),
        certificates_not_kept=_why(documents, Unfitting.NOT_KEPT),
        certificates_not_asked=_why(documents, Unfitting.NOT_ASKED),
        certificates_by_nobody=_why(documents, Unfitting.ISSUER),
        certificate_files=tuple(f"materials/{each.file}" for each in documents.counting),
        fire_set="known" if fire.need else None,
        fire_need=fire.need_told,
        fire_kind=fire.kind,
        fire_report=fire.told,
        fire_until=fire.until,
        fire_failed=fire.failed,
        fire_asked=fire.asked,
        fire_files=fire.files,
    )


def _documents(case: Case, basis: Basis) -> Inspected:
    """The inspection documents of the material by what the part's route asks."""
    listed = basis.material.certificates if basis.material else ()
    day = case.copy.built_on
    kept = ((each, paper_is_kept(case.catalogue, case.contested, each) and each.issued_on <= day) for each in listed)
    supplier = basis.material.supplier if basis.material else None
    return inspected(kept, case.catalogue.inspection_of(case.history.route), supplier)


def _why(documents: Inspected, reason: Unfitting) -> tuple[str, ...]:
    return _named(each for each, why in documents.unfitting if why is reason)


def _named(papers: Iterable[Certificate]) -> tuple[str, ...]:
    return tuple(f"{each.reference} (EN 10204 {each.type})" for each in papers)


def _joined(names: tuple[str, ...]) -> str | None:
    return ", ".join(names) or None


def _last(day: date | None) -> LastDay:
    """Until when it counts; None where the end is unknown."""
    return OPEN if day == FOR_EVER else day
