"""What the parts of one submission share, what stays of each, and what it saves: in words."""

from collections.abc import Sequence
from dataclasses import dataclass

from generator.pages.around import Around
from generator.pages.submissions.kinds import Block
from generator.pages.wording import Wording
from generator.planning.families import (
    FURTHER_PART_MINUTES,
    SUBMISSION_MINUTES,
    Family,
    Shared,
    papers_of,
    shared_by,
)
from generator.planning.submitting import asked_of
from generator.records.catalogue import Catalogue
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyLines:
    """A family as page and command tell it."""

    share: str
    desk: str
    parts: tuple[str, ...]
    """Number and name, and what is asked of each."""
    saves: tuple[str, ...]
    command: str


def family_lines(family: Family, catalogue: Catalogue, w: Wording) -> FamilyLines:
    return FamilyLines(
        share=share_words(family.shared, catalogue, w),
        desk=w.term("stage", family.desk),
        parts=tuple(w("submission.family.part", part=sheet.title, step=w(f"submission.step.{asked_of(sheet).value}")) for sheet in family.members),
        saves=tuple(_saves(family, w)),
        command=f"spares submission {' '.join(sheet.number for sheet in family.members)}",
    )


def _saves(family: Family, w: Wording) -> list[str]:
    n, hours = len(family.members), w.measure(family.guessed_minutes / 60, 1)
    told = [
        w("submission.family.reviews", n=w.number(n), saved=w.number(family.fewer)),
        w.count("submission.family.papers", family.papers),
        w("submission.family.minutes", hours=hours, each=w.measure(SUBMISSION_MINUTES / 60, 1), more=w.measure(FURTHER_PART_MINUTES / 60, 1)),
    ]
    if family.guessed_days is not None and family.step_days is not None:
        told.append(w("submission.family.waits", days=w.number(family.guessed_days), each=w.number(family.step_days)))
    return told


def share_words(shared: Shared, catalogue: Catalogue, w: Wording) -> str:
    names = ", ".join(catalogue.materials[each].name if each in catalogue.materials else each for each in shared.materials)
    processes = ", ".join(w.term("process", each) for each in shared.processes)
    return w("submission.family.share", route=w.term("route", shared.route), process=processes, material=names)


def shared_blocks(sheets: Sequence[Sheet], around: Around) -> tuple[Block, ...]:
    """What stands on the first page of a submission of several parts; where they are no family, that they are none."""
    w, catalogue = around.w, around.catalogue
    found = [shared_by(sheet, catalogue) for sheet in sheets]
    known = [each for each in found if each]
    first = known[0] if known else None
    if first is None or len(known) < len(sheets) or any(each != first for each in known):
        return (Block(says=(w("submission.family.differs", what=_differing(known, w)),)),)
    papers = w.count("submission.family.papers", papers_of(first.materials, catalogue))
    return (Block(says=(share_words(first, catalogue, w), papers, w("submission.family.same"), w("submission.family.own"))),)


def _differing(known: Sequence[Shared], w: Wording) -> str:
    counts = {
        "route": len({each.route for each in known}),
        "material": len({each.materials for each in known}),
        "process": len({each.processes for each in known}),
    }
    return w("list_separator").join(w(f"submission.family.{key}") for key, count in counts.items() if count != 1)
