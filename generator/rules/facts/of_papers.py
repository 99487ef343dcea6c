"""Which certificate of the material counts, and what answers the fire standard at a place?"""

from generator.records.catalogue import KeptFile
from generator.records.evidence import Evidence
from generator.records.materials import Certificate, FireTest
from generator.records.parts import FireExemption
from generator.rules.basis import Basis
from generator.rules.facts.case import Case
from generator.rules.facts.fields import OPEN, Files, LastDay, PaperFacts
from generator.rules.fire import FireNeed, fire_need, report_for
from generator.rules.lasting import FOR_EVER, Paper, last_day, longest


def paper_facts(case: Case, fleet: str, basis: Basis) -> PaperFacts:
    certificate = _certificate(case, basis)
    need = _need(case, fleet, basis)
    report = _report(case, need, basis)
    stated = _statement(case, basis)
    return PaperFacts(
        certificate=f"{certificate.reference} (type {certificate.type})" if certificate else None,
        certificate_until=_until(certificate),
        fire_set="known" if need else None,
        fire_need=_need_words(need),
        fire_kind="statement" if stated else ("report" if report else None),
        fire_report=stated.reference if stated else _report_words(report),
        fire_until=_until(stated if need and stated else report),
        certificate_files=_of_material(certificate),
        fire_files=case.files_of((stated.evidence,)) if stated else _of_material(report),
    )


def _certificate(case: Case, basis: Basis) -> Certificate | None:
    listed = basis.material.certificates if basis.material else ()
    return longest(each for each in listed if _is_kept(case, each) and each.issued_on <= case.copy.built_on)


def _need(case: Case, fleet: str, basis: Basis) -> FireNeed | None:
    there = case.catalogue.fleets.get(fleet)
    return fire_need(basis.fire, there) if there else None


def _report(case: Case, need: FireNeed | None, basis: Basis) -> FireTest | None:
    listed = basis.material.fire_tests if basis.material else ()
    kept = (each for each in listed if _is_kept(case, each) and each.tested_on <= case.copy.built_on)
    return report_for(need, kept) if need else None


def _is_kept(case: Case, paper: Certificate | FireTest) -> bool:
    """Whether the evidence file of the material is there, not empty, the file that was recorded, and of one kind and material."""
    kept = is_file(case.catalogue.material_files.get(paper.file), paper.sha256)
    return kept and paper.sha256 not in case.contested


def _statement(case: Case, basis: Basis) -> FireExemption | None:
    """The fire engineer's statement, where it is kept as recorded and of a day that has come."""
    stated = basis.fire.exemption if basis.fire else None
    if stated is None or stated.on > case.copy.built_on:
        return None
    evidence: Evidence = stated.evidence
    return stated if is_file(case.folder.files.get(evidence.file), evidence.sha256) else None


def is_file(file: KeptFile | None, sha256: str) -> bool:
    """Whether it is there, not empty, and the file that was recorded."""
    return file is not None and file.size_bytes > 0 and file.sha256 == sha256


def _need_words(need: FireNeed | None) -> str | None:
    return f"{need.requirement_set}, {need.hazard_level}, {need.thinnest_wall_mm:g} mm" if need else None


def _report_words(report: FireTest | None) -> str | None:
    return f"{report.report} ({report.standard})" if report else None


def _until(paper: Paper | None) -> LastDay:
    """Until when a paper counts; None where there is none or its end is unknown."""
    last = last_day(paper) if paper else None
    return OPEN if last == FOR_EVER else last


def _of_material(paper: Certificate | FireTest | None) -> Files:
    return (f"materials/{paper.file}",) if paper else ()
