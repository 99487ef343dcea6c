"""The section of a part's page on fire: one table for each place, with the need above it and what could be meant below."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from generator.pages.around import Around
from generator.pages.fire.could_lines import Could, could_lines, fit_at
from generator.pages.fire.need_lines import Hazard, asked_words, hazard, kind_words, need_lines
from generator.pages.fire.of_standard import standard_words
from generator.pages.fire.row_lines import RowLine, row_line
from generator.pages.fire.swap_lines import SwapLine, swap_lines
from generator.pages.part.offered import Offered, offered, offered_papers
from generator.pages.part.story import FileLine, evidence_line, file_line
from generator.pages.verdict_lines import vehicle_words
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.evidence import Evidence
from generator.records.parts import Part
from generator.records.standards import FireStandard
from generator.rules.grounds import Ground
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    line: RowLine
    material_page: str | None
    report_file: FileLine | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceFire:
    """What is asked at places that stand alike, and what answers it."""

    where: tuple[str, ...]
    need: tuple[tuple[str, str, FileLine | None], ...]
    says: str
    """What answers in place of results, or that nobody has said what is asked."""
    asked: tuple[str, ...]
    hazard: Hazard | None
    rows: tuple[TableRow, ...]
    wants_rows: bool
    could: Could | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceLines:
    says: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapsView:
    says: str
    lines: tuple[tuple[SwapLine, str | None], ...]
    """Each with the page of its material."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FireView:
    places: tuple[PlaceFire, ...]
    swaps: SwapsView | None
    """Only of a part that is not answered somewhere."""
    sources: SourceLines | None


def fire_view(sheet: Sheet, stem: str, around: Around) -> FireView:
    """Every place of the part; what stands alike is told once."""
    papers = offered_papers(around.catalogue)
    folded: dict[PlaceFire, list[str]] = {}
    for ground in sheet.grounds:
        view = _place(sheet, ground, stem, papers, around)
        folded.setdefault(view, []).append(where_words(ground, around.catalogue, around.w))
    places = tuple(replace(view, where=tuple(where)) for view, where in folded.items())
    return FireView(places=places, swaps=_swaps(sheet, around), sources=sources(around.catalogue.standard, around.w))


def where_words(ground: Ground, catalogue: Catalogue, w: Wording) -> str:
    """Such as TR4 401–412 · Saloon window, of old stock with its label."""
    vehicles = vehicle_words(ground.vehicles)
    told = [f"{ground.fleet} {vehicles}".strip(), catalogue.place_name(ground.fleet, ground.place)]
    told += [w("fire.only_label", revision=ground.label_revision)] if ground.label_revision else []
    return " · ".join(told)


def _place(sheet: Sheet, ground: Ground, stem: str, papers: Mapping[str, Offered], around: Around) -> PlaceFire:
    catalogue, w = around.catalogue, around.w
    found, fleet = ground.fire, catalogue.fleets.get(ground.fleet)
    says = kind_words(found, w)
    return PlaceFire(
        where=(),
        need=tuple(
            (label, told, _own_paper(file, sheet, stem, w) if file else None)
            for label, told, file in need_lines(found, fleet, catalogue, w)
        ),
        says=says,
        asked=asked_words(found, w),
        hazard=hazard(fleet, w) if fleet and not (found.need and found.need.is_older_rule) else None,
        rows=tuple(_row(row_line(row, catalogue, w), papers, around) for row in found.rows),
        wants_rows=not says,
        could=_could(sheet.part, ground, around) if sheet.part else None,
    )


def _own_paper(evidence: Evidence, sheet: Sheet, stem: str, w: Wording) -> FileLine:
    found = offered(sheet.folder, stem).get(evidence.file)
    line = evidence_line(evidence, sheet.folder, stem, w)
    return replace(line, href=found.href) if found else line


def _could(part: Part, ground: Ground, around: Around) -> Could | None:
    """Of what is made now; nobody chooses anew for old stock."""
    fit = fit_at(part, ground.fleet, ground.place)
    return could_lines(part, fit, around.catalogue, around.meshes, around.w) if fit and not ground.label_revision else None


def _swaps(sheet: Sheet, around: Around) -> SwapsView | None:
    found = swap_lines(sheet, around.catalogue, around.w)
    return SwapsView(says=found.says, lines=tuple((each, _page(each.material_id, around)) for each in found.lines)) if found else None


def _page(material: str, around: Around) -> str | None:
    page = around.found.material(material)
    return f"../{page.removesuffix('.md')}.html" if page else None


def _row(line: RowLine, papers: Mapping[str, Offered], around: Around) -> TableRow:
    return TableRow(
        line=line,
        material_page=_page(line.material_id, around),
        report_file=paper_line(line.report, line.file, papers, around.w) if line.file else None,
    )


def paper_line(title: str, file: str, papers: Mapping[str, Offered], w: Wording) -> FileLine:
    """A paper of a material to open, or as missing; `href` is an address in HTML."""
    found = papers.get(f"materials/{file}")
    if found is None:
        return FileLine(title=title, name=file, size="", href=None, is_saved=False)
    return replace(file_line(title, found, w), href=found.href)


def sources(standard: FireStandard | None, w: Wording) -> SourceLines | None:
    """Where the figures come from, as the file of the standard says."""
    if standard is None:
        return None
    editions = ", ".join(standard.limits_of)
    return SourceLines(
        says=w("fire.sources.says", standard=standard.standard, editions=editions, clause=standard_words(standard.clause, w), note=standard_words(standard.note, w)),
        lines=tuple(w("fire.sources.line", name=name, source=told) for name, told in standard.sources.items()),
    )
