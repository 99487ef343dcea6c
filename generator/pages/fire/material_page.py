"""The page of a material: what it is, its reports with each result, its certificates, and where it is used."""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.around import Around
from generator.pages.fire.evidence_page import PaperLine, paper_lines
from generator.pages.fire.material_lines import (
    Failing,
    Line,
    ResultLine,
    data_lines,
    failing,
    report_lines,
    result_lines,
)
from generator.pages.fire.papers import Paper, RestLine
from generator.pages.fire.row_lines import last_words
from generator.pages.fire.section import paper_line, where_words
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Page
from generator.pages.part.asks import proof_words
from generator.pages.part.offered import offered_papers
from generator.pages.part.story import FileLine
from generator.records.fire import FireTest
from generator.records.materials import Certificate, Material
from generator.records.proof import Proof
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportView:
    name: str
    file: FileLine
    is_kept: bool
    lines: tuple[Line, ...]
    results: tuple[ResultLine, ...]
    rests: tuple[RestLine, ...]
    counted: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CertificateView:
    name: str
    file: FileLine
    is_kept: bool
    issued: str
    last_day: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofView:
    property: str
    told: str
    file: FileLine


@dataclass(frozen=True, slots=True, kw_only=True)
class UseLine:
    number: str
    name: str
    page: str
    where: tuple[str, ...]


def material_pages(around: Around, sheets: tuple[Sheet, ...], papers: tuple[Paper, ...]) -> Iterator[Page]:
    against = failing(sheets)
    for name, material in sorted(around.catalogue.materials.items()):
        yield material_page(name, material, around, sheets, tuple(each for each in papers if each.material == name), against=against)


def material_page(
    name: str, material: Material, around: Around, sheets: tuple[Sheet, ...], papers: tuple[Paper, ...], *, against: Failing
) -> Page:
    text = rendered(
        "fire/material.md.j2",
        w=around.w,
        title=front_matter(material.name),
        name=material.name,
        data=data_lines(material, around.w),
        certificates=tuple(_certificate(each, each.record, around) for each in papers if isinstance(each.record, Certificate)),
        reports=tuple(
            _report(each, each.record, line, against, around)
            for each, line in zip(papers, paper_lines(papers, around), strict=True)
            if isinstance(each.record, FireTest)
        ),
        proofs=tuple(_proof(each, around) for each in material.proof),
        uses=tuple(_uses(name, around, sheets)),
    )
    return Page(path=around.found.material(name) or "", title=material.name, template=None, text=text)


def _certificate(paper: Paper, record: Certificate, around: Around) -> CertificateView:
    w = around.w
    speaks_of = w(f"material.speaks_of.{record.speaks_of}")
    title = w("material.type", reference=record.reference, type=record.type, speaks_of=speaks_of, by=record.issued_by)
    return CertificateView(
        name=title,
        file=paper_line(title, record.file, offered_papers(around.catalogue), w),
        is_kept=paper.is_kept,
        issued=w.day(record.issued_on),
        last_day=last_words(record, w),
    )


def _report(paper: Paper, record: FireTest, line: PaperLine, against: Failing, around: Around) -> ReportView:
    w = around.w
    return ReportView(
        name=w("material.report", report=record.report),
        file=paper_line(record.file.rsplit("/", 1)[-1], record.file, offered_papers(around.catalogue), w),
        is_kept=paper.is_kept,
        lines=report_lines(record, around.catalogue, w),
        results=tuple(result_lines(record, around.catalogue.standard, against, w)),
        rests=line.rests,
        counted=w.count("evidence.more", len(line.rests)),
    )


def _proof(proof: Proof, around: Around) -> ProofView:
    w = around.w
    file = paper_line(proof.file.rsplit("/", 1)[-1], proof.file, offered_papers(around.catalogue), w)
    return ProofView(property=w.term("property", proof.property), told=proof_words(proof, w), file=file)


def _uses(name: str, around: Around, sheets: tuple[Sheet, ...]) -> Iterator[UseLine]:
    for sheet in sheets:
        if sheet.part and name in sheet.part.materials:
            yield UseLine(
                number=sheet.number,
                name=sheet.name,
                page=f"parts/{around.found.by_folder[sheet.folder.folder]}.html",
                where=tuple(where_words(each, around.catalogue, around.w) for each in sheet.grounds if not each.label_revision),
            )
