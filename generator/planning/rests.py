"""What rests on a fire report or a certificate: which places would no longer be answered, were it to end today?

Nothing is guessed from names: everything is judged again with the paper at its end, and what is worse then rests on it. A
place that names it and has another that answers as well loses nothing.
"""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from typing import TypeVar

from generator.planning.fire_cases import FIRE_STEPS, fire_word
from generator.records.catalogue import Catalogue
from generator.records.fire import FireTest
from generator.records.materials import Certificate, Material
from generator.rules.binding import bound_by
from generator.rules.facts.case import Copy
from generator.rules.facts.fields import Facts, PaperFacts
from generator.rules.grounds import Ground, grounds
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Verdict, judged_together

_STEPS = FIRE_STEPS | {"certificate"}
P = TypeVar("P", Certificate, FireTest)
_PAPER_FACTS = tuple(each.name for each in fields(PaperFacts))


@dataclass(frozen=True, slots=True)
class Rest:
    """Vehicles at a place, and what they would lose."""

    sheet: Sheet
    ground: Ground
    names_it: bool
    """Whether the paper stands among what answers now."""
    papers_now: Verdict
    """What the questions of certificate and fire say, all else left aside."""
    papers_then: Verdict
    now: Verdict
    then: Verdict

    @property
    def lapses(self) -> bool:
        """Whether it is answered worse then; the verdict may be as bad already for another reason."""
        return self.papers_then > self.papers_now


def rests_on_papers(sheets: Iterable[Sheet], catalogue: Catalogue, copy: Copy) -> dict[str, tuple[Rest, ...]]:
    """For each paper of any material, by its SHA-256, what names it or would lose by its end; a paper alone is there too."""
    without = {sha256: _at_an_end(catalogue, (sha256,), copy.built_on) for sha256 in _papers(catalogue.materials.values())}
    found: dict[str, list[Rest]] = {sha256: [] for sha256 in without}
    for sheet in sheets:
        bound = bound_by(sheet.history.permits, catalogue, sheet.folder)
        for sha256, materials in _of_part(sheet, catalogue).items():
            then = grounds(sheet.folder, without[sha256], sheet.history, bound, copy, problems=sheet.problems, walls=sheet.walls)
            found[sha256] += [each for each in _compared(sheet, then, materials, copy) if each.names_it or each.lapses]
    return {sha256: tuple(listed) for sha256, listed in found.items()}


def _papers(materials: Iterable[Material]) -> dict[str, None]:
    return {paper.sha256: None for material in materials for paper in _papers_of(material)}


def _papers_of(material: Material) -> tuple[Certificate | FireTest, ...]:
    return (*material.certificates, *material.fire_tests)


def _of_part(sheet: Sheet, catalogue: Catalogue) -> dict[str, frozenset[str]]:
    """The papers that the part may rest on, each with its files: of its materials, and with older labels of any."""
    if sheet.part is None:
        return {}
    names = tuple(catalogue.materials) if _has_older_labels(sheet) else sheet.part.materials
    papers = _papers(catalogue.materials[name] for name in names if name in catalogue.materials)
    return {sha256: frozenset(f"materials/{file}" for file in _files(catalogue, (sha256,))) for sha256 in papers}


def _files(catalogue: Catalogue, papers: Collection[str]) -> Iterator[str]:
    for material in catalogue.materials.values():
        yield from (paper.file for paper in _papers_of(material) if paper.sha256 in papers)


def _has_older_labels(sheet: Sheet) -> bool:
    return any(ground.label_revision for ground in sheet.grounds)


def _at_an_end(catalogue: Catalogue, papers: Collection[str], day: date) -> Catalogue:
    """The catalogue with papers that ended the day before."""
    return replace(catalogue, materials={name: _material_then(each, papers, day) for name, each in catalogue.materials.items()})


def _material_then(material: Material, papers: Collection[str], day: date) -> Material:
    if not any(paper in papers for paper in _papers((material,))):
        return material
    certificates = tuple(_ended(each, day) if each.sha256 in papers else each for each in material.certificates)
    tests = tuple(_ended(each, day) if each.sha256 in papers else each for each in material.fire_tests)
    return material.model_copy(update={"certificates": certificates, "fire_tests": tests})


def _ended(paper: P, day: date) -> P:
    yesterday = day - timedelta(days=1)
    end = min(paper.valid_until or yesterday, yesterday)
    return paper.model_copy(update={"valid_until": end, "open_ended": False})


def _compared(sheet: Sheet, then: tuple[Ground, ...], files: Collection[str], copy: Copy) -> Iterator[Rest]:
    """Each ground as it is and as it would be; what a permit binds and what else is asked stays as it is."""
    for own, other in zip(sheet.grounds, then, strict=True):
        facts = tuple(_with_papers_of(here, there) for here, there in zip(own.permits, other.permits, strict=True))
        yield Rest(
            sheet=sheet,
            ground=own,
            names_it=any(file in files for each in own.permits for file in (*each.fire_files, *each.certificate_files)),
            papers_now=_papers_word(own.permits, copy),
            papers_then=_papers_word(facts, copy),
            now=own.on(copy.built_on).verdict,
            then=judged_together(facts, copy.built_on).verdict,
        )


def _with_papers_of(here: Facts, there: Facts) -> Facts:
    return replace(here, **{name: getattr(there, name) for name in _PAPER_FACTS})


def _papers_word(permits: tuple[Facts, ...], copy: Copy) -> Verdict:
    """Of the permit that is answered worst: each binds papers of its own."""
    return max(fire_word(each, copy, _STEPS) for each in permits)
