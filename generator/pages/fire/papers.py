"""The evidence page: every report and certificate of a material, when it ends, what rests on it and what happens then."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from generator.pages.around import Around
from generator.pages.fire.section import where_words
from generator.pages.wording import Wording
from generator.planning.endings import Then, ending, rows_of
from generator.planning.rests import Rest, rests_on_papers
from generator.records.catalogue import Catalogue
from generator.records.fire import FireTest
from generator.records.materials import Certificate
from generator.rules.contested import contested
from generator.rules.facts.case import Copy
from generator.rules.kept import paper_is_kept
from generator.rules.lasting import last_day
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A report or certificate as a material records it."""

    material: str
    record: Certificate | FireTest
    is_kept: bool
    rests: tuple[Rest, ...]

    @property
    def last(self) -> date | None:
        return last_day(self.record)


@dataclass(frozen=True, slots=True, kw_only=True)
class RestLine:
    """One place that rests on a paper, in words."""

    number: str
    name: str
    page: str
    where: str
    then: str


def papers(catalogue: Catalogue, sheets: Iterable[Sheet], copy: Copy) -> tuple[Paper, ...]:
    """Every paper of every material, the soonest end first; one whose end is not said comes last."""
    behind, twice = rests_on_papers(sheets, catalogue, copy), contested(catalogue.materials)
    found = tuple(_papers(catalogue, behind, twice))
    return tuple(sorted(found, key=lambda each: (each.last is None, each.last or date.max, each.material, each.record.file)))


def _papers(catalogue: Catalogue, behind: Mapping[str, tuple[Rest, ...]], twice: Iterable[str]) -> Iterator[Paper]:
    contested_sums = frozenset(twice)
    for name, material in catalogue.materials.items():
        every: tuple[Certificate | FireTest, ...] = (*material.certificates, *material.fire_tests)
        for record in every:
            yield Paper(
                material=name,
                record=record,
                is_kept=paper_is_kept(catalogue, contested_sums, record),
                rests=behind.get(record.sha256, ()),
            )


def paper_words(record: Certificate | FireTest, w: Wording) -> str:
    if isinstance(record, FireTest):
        return w("evidence.report", report=record.report, laboratory=record.laboratory)
    return w("evidence.certificate", reference=record.reference, type=record.type)


def rest_lines(paper: Paper, around: Around) -> tuple[RestLine, ...]:
    return tuple(
        RestLine(
            number=each.sheet.number,
            name=each.sheet.name,
            page=f"parts/{around.found.by_folder[each.sheet.folder.folder]}.html",
            where=rest_where(each, paper, around.catalogue, around.w),
            then=then_words(each, paper, around.w),
        )
        for each in paper.rests
    )


def rest_where(each: Rest, paper: Paper, catalogue: Catalogue, w: Wording) -> str:
    """The place, with the sets and tests that the paper answers there."""
    tests: dict[str, dict[str, None]] = {}
    for row in rows_of(each, paper.record):
        tests.setdefault(row.asked.set, {}).update({row.wanted.method.test: None} if row.wanted.method else {})
    told = tuple(f"{number} {', '.join(of_set)}".strip() for number, of_set in tests.items())
    return w("evidence.where", where=where_words(each.ground, catalogue, w), tests=told)


def then_words(each: Rest, paper: Paper, w: Wording) -> str:
    """What happens when the paper ends."""
    then, last = ending(each, paper.record)
    day = last + timedelta(days=1) if last and then in (Then.UNFIT, Then.ASK) else last
    return w(f"evidence.lapses.{then}", day=w.day(day) if day else None)
