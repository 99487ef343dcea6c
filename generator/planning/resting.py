"""What rests on each paper of a material: vehicles at their places, and what happens there when the paper ends."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from generator.records.materials import Material
from generator.rules.facts.fields import OPEN, LastDay
from generator.rules.fire.rows import Answer, Row
from generator.rules.grounds import Ground
from generator.rules.lasting import FOR_EVER, last_day
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Judgement, Verdict


class Then(StrEnum):
    """What happens to a place when the paper ends."""

    ENDS = "ends"  # it is not to be fitted from the next day on, unless another paper answers
    BEFORE = "before"  # the permit or another paper ends sooner
    UNFIT = "unfit"  # it is not to be fitted there as it is
    NEVER = "never"  # the paper says that it has no end
    AGAINST = "against"  # a result of the paper fails there


@dataclass(frozen=True, slots=True, kw_only=True)
class Rests:
    """One place of a part that rests on a paper; for a fire report with the tests that it answers there."""

    sheet: Sheet
    ground: Ground
    rows: tuple[Row, ...]
    then: Then
    on: date | None
    """The last day of what ends first there; None where nothing ends."""

    @property
    def asks(self) -> bool:
        """Whether it answers there only by asking."""
        return any(row.answer is Answer.ASKS for row in self.rows)


def resting(sheets: Iterable[Sheet], materials: Mapping[str, Material]) -> Mapping[str, tuple[Rests, ...]]:
    """By the paper's file, as its material names it; judged for the newest permit of each group of vehicles."""
    found: defaultdict[str, list[Rests]] = defaultdict(list)
    ends = {each.file: last_day(each) for material in materials.values() for each in material.certificates}
    for sheet in sheets:
        for ground, judgement in zip(sheet.grounds, sheet.judgements, strict=True):
            for file, rests in _of_ground(sheet, ground, judgement, ends):
                found[file].append(rests)
    return {file: tuple(each) for file, each in found.items()}


def _of_ground(
    sheet: Sheet, ground: Ground, judgement: Judgement, ends: Mapping[str, date | None]
) -> Iterator[tuple[str, Rests]]:
    """ends: the last day of every certificate, by its file."""
    for path in ground.permits[0].certificate_files:
        file = path.removeprefix("materials/")
        then, on = _then(ground, judgement, (), _open(ends.get(file)))
        yield file, Rests(sheet=sheet, ground=ground, rows=(), then=then, on=on)
    behind: defaultdict[str, list[Row]] = defaultdict(list)
    for row in ground.fire.rows:
        if row.report:
            behind[row.report.file].append(row)
    for file, rows in behind.items():
        then, on = _then(ground, judgement, rows, _last(rows))
        yield file, Rests(sheet=sheet, ground=ground, rows=tuple(rows), then=then, on=on)


def _last(rows: Sequence[Row]) -> LastDay:
    return _open(min((row.until for row in rows if row.until), default=None))


def _open(last: date | None) -> LastDay:
    return OPEN if last == FOR_EVER else last


def _then(ground: Ground, judgement: Judgement, rows: Sequence[Row], last: LastDay) -> tuple[Then, date | None]:
    """What happens when a paper ends on its last day, and when; nothing else that ends sooner is forgotten."""
    facts = ground.permits[0]
    ends = [each for each in (facts.permit_until, facts.certificate_until, facts.fire_until) if isinstance(each, date)]
    first = min(ends, default=None)
    if any(row.answer is Answer.FAILS for row in rows):
        return Then.AGAINST, None
    if judgement.verdict is Verdict.DO_NOT_FIT:
        return Then.UNFIT, None
    if first and (not isinstance(last, date) or first < last):
        return Then.BEFORE, first
    return (Then.ENDS, last) if isinstance(last, date) else (Then.NEVER, None)
