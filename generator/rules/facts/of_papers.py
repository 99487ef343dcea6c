"""Which certificate of the material counts, and what answers the fire standard at a place?"""

from generator.records.fire import FireTest
from generator.records.materials import Certificate
from generator.records.parts import Fit
from generator.rules.basis import Basis
from generator.rules.facts.case import Case
from generator.rules.facts.fields import OPEN, Files, LastDay, PaperFacts
from generator.rules.facts.of_fire import fire_found
from generator.rules.kept import paper_is_kept
from generator.rules.lasting import FOR_EVER, Paper, last_day, longest


def paper_facts(case: Case, fit: Fit, basis: Basis) -> PaperFacts:
    certificate = _certificate(case, basis)
    fire = fire_found(case, fit, basis)
    return PaperFacts(
        certificate=f"{certificate.reference} (type {certificate.type})" if certificate else None,
        certificate_until=until(certificate),
        certificate_files=of_material(certificate),
        fire_set="known" if fire.need else None,
        fire_need=fire.need_told,
        fire_kind=fire.kind,
        fire_report=fire.told,
        fire_until=fire.until,
        fire_failed=fire.failed,
        fire_asked=fire.asked,
        fire_files=fire.files,
    )


def _certificate(case: Case, basis: Basis) -> Certificate | None:
    listed = basis.material.certificates if basis.material else ()
    return longest(each for each in listed if paper_is_kept(case.catalogue, case.contested, each) and each.issued_on <= case.copy.built_on)


def until(paper: Paper | None) -> LastDay:
    """Until when a paper counts; None where there is none or its end is unknown."""
    last = last_day(paper) if paper else None
    return OPEN if last == FOR_EVER else last


def of_material(paper: Certificate | FireTest | None) -> Files:
    return (f"materials/{paper.file}",) if paper else ()
