"""The page of all papers of materials, linked from every part, every material and the overview of approvals."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.pages.around import Around
from generator.pages.fire.papers import Paper, RestLine, paper_words, rest_lines
from generator.pages.fire.row_lines import last_words
from generator.pages.fire.section import paper_line
from generator.pages.fire.statements import statement_lines
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Page
from generator.pages.part.offered import offered_papers
from generator.pages.part.story import FileLine
from generator.planning.overview import LAPSE_WINDOWS_DAYS
from generator.rules.lasting import FOR_EVER
from generator.rules.sheet import Sheet

_GROUPS = ("over", "soon", "later", "open", "unknown")
_SHOWN = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperLine:
    """A paper with what rests on it; what is more than a few lines is folded."""

    file: FileLine
    is_kept: bool
    material: str
    material_page: str
    last_day: str
    rests: tuple[RestLine, ...]
    folded: str
    """Words of the fold; empty where all is shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperGroup:
    heading: str
    lines: tuple[PaperLine, ...]


def evidence_page(around: Around, found: Iterable[Paper], sheets: Iterable[Sheet], day: date) -> Page:
    w, listed = around.w, tuple(found)
    title = w("evidence.title")
    groups = (
        PaperGroup(heading=w(f"evidence.{name}"), lines=paper_lines((each for each in listed if ends_in(each, day) == name), around))
        for name in _GROUPS
    )
    by_name = sorted(around.catalogue.materials.items(), key=lambda each: w.sort_key(each[1].name))
    materials = ((name, each.name, around.found.material(name) or "") for name, each in by_name)
    text = rendered(
        "fire/evidence.md.j2",
        w=w,
        title=front_matter(title),
        day=w.day(day),
        groups=tuple(each for each in groups if each.lines),
        statements=statement_lines(sheets, around),
        materials=tuple(materials),
    )
    return Page(path="evidence.md", title=title, template=None, text=text)


def ends_in(paper: Paper, day: date) -> str:
    """Which heading of the evidence page it stands under."""
    if paper.last is None:
        return "unknown"
    if paper.last == FOR_EVER:
        return "open"
    if paper.last < day:
        return "over"
    return "soon" if (paper.last - day).days <= LAPSE_WINDOWS_DAYS[-1] else "later"


def paper_lines(every: Iterable[Paper], around: Around) -> tuple[PaperLine, ...]:
    offered, w = offered_papers(around.catalogue), around.w
    return tuple(
        PaperLine(
            file=_from_the_top(paper_line(paper_words(each.record, w), each.record.file, offered, w)),
            is_kept=each.is_kept,
            material=around.catalogue.materials[each.material].name,
            material_page=(around.found.material(each.material) or "").replace(".md", ".html"),
            last_day=last_words(each.record, w),
            rests=rest_lines(each, around),
            folded=w.count("evidence.more", len(each.rests)) if len(each.rests) > _SHOWN else "",
        )
        for each in every
    )


def _from_the_top(line: FileLine) -> FileLine:
    """A file as seen from a page that lies beside the folders, not in one of them."""
    href = line.href.removeprefix("../") if line.href else None
    return FileLine(title=line.title, name=line.name, size=line.size, href=href, is_saved=line.is_saved)
