"""Which parts rest on the fire engineer's word that no test is asked, and until when?"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from generator.pages.around import Around
from generator.pages.fire.row_lines import last_words
from generator.pages.fire.section import where_words
from generator.pages.part.story import role_name
from generator.records.fire import FireExemption
from generator.rules.lasting import last_day
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementLine:
    """A statement at the places of one part."""

    told: str
    last_day: str
    part: str
    page: str
    where: str


def statement_lines(sheets: Iterable[Sheet], around: Around) -> tuple[StatementLine, ...]:
    """The soonest end first; what says no end that can count comes last."""
    found = [each for sheet in sheets for each in _of_part(sheet, around)]
    return tuple(line for _, line in sorted(found, key=lambda each: (each[0], each[1].part, each[1].where)))


def _of_part(sheet: Sheet, around: Around) -> Iterator[tuple[date, StatementLine]]:
    resting: dict[FireExemption, list[str]] = {}
    for ground in sheet.grounds:
        stated = ground.fire.need.fire.exemption if ground.fire.need and ground.fire.kind == "statement" else None
        if stated and not ground.label_revision:
            resting.setdefault(stated, []).append(where_words(ground, around.catalogue, around.w))
    for stated, where in resting.items():
        yield last_day(stated) or date.max, _line(sheet, stated, where, around)


def _line(sheet: Sheet, stated: FireExemption, where: Iterable[str], around: Around) -> StatementLine:
    by = role_name(stated.by, around.catalogue)
    return StatementLine(
        told=around.w("fire.paper", reference=f"{stated.reference}, {by}", day=around.w.day(stated.on)),
        last_day=last_words(stated, around.w),
        part=f"{sheet.number} {sheet.name}",
        page=f"parts/{around.found.by_folder[sheet.folder.folder]}.html",
        where="; ".join(where),
    )
