"""What happened in a month: approvals, prints, scrap, what was fitted and came off, and what that saved.

Counted is what is dated in the month, up to the day of the report where the month is not over. A lapse counts in the month of
the first day without the permission, as the stage does. What came off without a batch, or of one that nobody knows, is counted
by itself and is no part's failure: it may have been an original.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import Final

from generator.planning.month_recalls import MonthRecall, month_recalls
from generator.planning.months import Month
from generator.planning.saving.rows import Savings, savings
from generator.records.approvals import Approval
from generator.records.base import as_compared
from generator.records.batches import Batch, Rejected, Released, Scrapped
from generator.records.catalogue import Catalogue
from generator.records.fitted import FittedRow, Why
from generator.records.production import Production
from generator.records.vehicles import vehicles_in
from generator.rules.history import history
from generator.rules.permits import Permit
from generator.rules.production.releasing import judged_releases
from generator.rules.sheet import Sheet

GIVEN: Final = ("approved", "trial opened", "taken over", "take-over confirmed", "renewed", "change accepted")
REFUSED: Final = ("approval refused", "customer acceptance refused")
ENDED: Final = ("withdrawn", "superseded", "trial closed")


@dataclass(frozen=True, slots=True, kw_only=True)
class ApprovalStep:
    """Something that happened to an approval; of a lapse the first day without it."""

    on: date
    number: str
    what: str
    by: str = ""
    reference: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MachinePrints:
    """What a machine finished, whatever has become of it since."""

    machine: str
    batches: int
    pieces: int
    grams: float
    """Of the batches whose weight is known."""
    unweighed: int
    """Batches of which nobody wrote the weight."""
    minutes: float
    """From start to end of each run."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scrap:
    on: date
    batch: str
    number: str
    count: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A batch that was released or rejected."""

    on: date
    batch: str
    number: str
    count: int
    released: bool
    holds: bool
    """False of a release that may not be (rules/production/releasing.py): it is none."""
    by: str
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedCount:
    """Pieces of one part that went onto vehicles; number: None where nobody knows their batch."""

    number: str | None
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Removed:
    """Pieces that came off for one reason."""

    number: str | None
    """None of what carried no batch, or one that nobody knows."""
    has_batch: bool
    why: Why
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthReport:
    """All that is dated in a month."""

    month: Month
    until: date
    """Last day that is counted."""
    given: tuple[ApprovalStep, ...]
    refused: tuple[ApprovalStep, ...]
    lapsed: tuple[ApprovalStep, ...]
    ended: tuple[ApprovalStep, ...]
    prints: tuple[MachinePrints, ...]
    scrap: tuple[Scrap, ...]
    judged: tuple[Judged, ...]
    fitted: tuple[FittedCount, ...]
    removed: tuple[Removed, ...]
    recalls: tuple[MonthRecall, ...]
    savings: Savings

    @property
    def is_over(self) -> bool:
        return self.until >= self.month.last

    @property
    def is_empty(self) -> bool:
        lists = (self.given, self.refused, self.lapsed, self.ended, self.prints, self.scrap, self.judged, self.fitted, self.removed, self.recalls)
        return not any(lists)

    @property
    def failures(self) -> dict[str, int]:
        """Pieces that came off worn or broken, by part, the most first; only of batches that are known."""
        found: Counter[str] = Counter()
        for each in self.removed:
            if each.number is not None and each.why.is_failure:
                found[each.number] += each.count
        return dict(sorted(found.items(), key=lambda pair: (-pair[1], pair[0])))

    @property
    def scrap_by_reason(self) -> dict[str, int]:
        """Scrapped pieces by reason, as it was first written; capital or small letters are no difference."""
        names: dict[str, str] = {}
        found: Counter[str] = Counter()
        for each in self.scrap:
            found[names.setdefault(as_compared(each.why), each.why)] += each.count
        return dict(sorted(found.items(), key=lambda pair: (-pair[1], pair[0])))


def months(catalogue: Catalogue, day: date) -> tuple[Month, ...]:
    """Every month from the first thing that is dated to that of `day`, newest first."""
    days = [each for each in _days(catalogue) if each <= day]
    month, found = Month.of(min(days, default=day)), []
    while month <= Month.of(day):
        found.append(month)
        month = month.following
    return tuple(reversed(found))


def _days(catalogue: Catalogue) -> Iterator[date]:
    for folder in catalogue.parts:
        yield from (event.on for event in (folder.approval.events if folder.approval else ()))
    production = catalogue.production
    yield from (each.ended.date() for each in production.batches.values())
    yield from {row.day for row in production.fitted}
    yield from (event.on for recall in production.recalls.values() for event in recall.events)


def month_report(month: Month, sheets: Iterable[Sheet], catalogue: Catalogue, day: date) -> MonthReport:
    """What is dated in the month, up to `day`; savings by the prices of now."""
    listed, production = tuple(sheets), catalogue.production
    until = min(month.last, day)
    rows = [row for row in _by_month(production).get(month, ()) if row.day <= until]
    steps = [step for sheet in listed for step in _steps(sheet.number, sheet.folder.approval, month, until)]
    events = [(name, batch, event) for name, batch in production.batches.items() for event in batch.events if month.first <= event.on <= until]
    return MonthReport(
        month=month,
        until=until,
        given=_of(steps, GIVEN),
        refused=_of(steps, REFUSED),
        lapsed=_in_order(step for sheet in listed for step in _lapses(sheet.number, sheet.folder.approval, month, until)),
        ended=_of(steps, ENDED),
        prints=_prints(production, month, until),
        scrap=tuple(
            Scrap(on=event.on, batch=name, number=batch.part, count=event.count, why=event.why)
            for name, batch, event in sorted(events, key=lambda each: (each[2].on, each[0]))
            if isinstance(event, Scrapped)
        ),
        judged=tuple(
            _judged(name, batch, event, catalogue)
            for name, batch, event in sorted(events, key=lambda each: (each[2].on, each[0]))
            if isinstance(event, Released | Rejected)
        ),
        fitted=_fitted(rows, production),
        removed=_removed(rows, production),
        recalls=month_recalls(production, month.first, until),
        savings=savings(_with_past(rows, production), listed, catalogue, asked=lambda row: month.first <= row.day <= until),
    )


def _with_past(rows: list[FittedRow], production: Production) -> Iterable[FittedRow]:
    """Where something came off as wrong, all that was fitted before too: it says of which visit it was."""
    if all(row.why is not Why.WRONG for row in rows):
        return rows
    last = max(row.day for row in rows)
    return (row for row in production.fitted if row.day <= last)


@lru_cache(4)
def _by_month(production: Production) -> dict[Month, list[FittedRow]]:
    """The fitted lines, sorted out once for all months."""
    found: defaultdict[Month, list[FittedRow]] = defaultdict(list)
    for row in production.fitted:
        found[Month.of(row.day)].append(row)
    return found


def _of(steps: Iterable[ApprovalStep], kinds: tuple[str, ...]) -> tuple[ApprovalStep, ...]:
    return _in_order(step for step in steps if step.what in kinds)


def _in_order(steps: Iterable[ApprovalStep]) -> tuple[ApprovalStep, ...]:
    return tuple(sorted(steps, key=lambda step: (step.on, step.number, step.what)))


def _steps(number: str, approval: Approval | None, month: Month, until: date) -> Iterator[ApprovalStep]:
    for event in approval.events if approval else ():
        if month.first <= event.on <= until:
            yield ApprovalStep(on=event.on, number=number, what=event.what, by=event.by, reference=event.reference or "")


def _lapses(number: str, approval: Approval | None, month: Month, until: date) -> Iterator[ApprovalStep]:
    """Permits as they stood on their last day: one that was renewed by then does not lapse, one renewed later did."""
    if approval is None:
        return
    before, last = month.first - timedelta(days=1), until - timedelta(days=1)
    ends = {getattr(event, "valid_until", None) for event in approval.events}
    for end in sorted(each for each in ends if each and before <= each <= last):
        for permit in history(approval.model_copy(update={"events": tuple(event for event in approval.events if event.on <= end)}), end).permits:
            if permit.valid_until == end and _still_speaks(permit):
                what = "trial" if permit.is_trial else "approval"
                yield ApprovalStep(on=end + timedelta(days=1), number=number, what=what, reference=permit.event.reference or "")


def _still_speaks(permit: Permit) -> bool:
    """Whether no newer approval has taken its place everywhere."""
    return any(
        permit.speaks_of(scope.fleet, place, vehicle) for scope in permit.event.scope for place in scope.places for vehicle in vehicles_in(scope.vehicles)
    )


def _prints(production: Production, month: Month, until: date) -> tuple[MachinePrints, ...]:
    """By machine, of the batches that ended in the month."""
    by_machine: defaultdict[str, list[Batch]] = defaultdict(list)
    for batch in production.batches.values():
        if month.first <= batch.ended.date() <= until:
            by_machine[batch.machine].append(batch)
    return tuple(
        MachinePrints(
            machine=machine,
            batches=len(listed),
            pieces=sum(each.count for each in listed),
            grams=sum(each.grams or 0.0 for each in listed),
            unweighed=sum(each.grams is None for each in listed),
            minutes=sum(max((each.ended - each.started).total_seconds(), 0.0) for each in listed) / 60,
        )
        for machine, listed in sorted(by_machine.items())
    )


def _judged(name: str, batch: Batch, event: Released | Rejected, catalogue: Catalogue) -> Judged:
    released = isinstance(event, Released)
    why = event.accepts if isinstance(event, Released) else event.why
    at = next(at for at, each in enumerate(batch.events) if each is event)
    holds = not judged_releases(name, batch, catalogue)[at] if released else True
    return Judged(on=event.on, batch=name, number=batch.part, count=batch.count, released=released, holds=holds, by=event.by, why=why or "")


def _fitted(rows: Iterable[FittedRow], production: Production) -> tuple[FittedCount, ...]:
    found: Counter[str | None] = Counter()
    for row in rows:
        if row.count:
            found[_part(row.batch, production)] += row.count
    return tuple(FittedCount(number=number, count=count) for number, count in sorted(found.items(), key=_known_first))


def _removed(rows: Iterable[FittedRow], production: Production) -> tuple[Removed, ...]:
    found: Counter[tuple[str | None, bool, Why]] = Counter()
    for row in rows:
        if row.removed and row.why:
            found[_part(row.removed_batch, production), bool(row.removed_batch), row.why] += row.removed
    order = list(Why)
    return tuple(
        Removed(number=number, has_batch=has_batch, why=why, count=count)
        for (number, has_batch, why), count in sorted(
            found.items(), key=lambda pair: (pair[0][0] is None, pair[0][0] or "", not pair[0][1], order.index(pair[0][2]))
        )
    )


def _part(batch: str, production: Production) -> str | None:
    found = production.batches.get(batch)
    return found.part if found else None


def _known_first(pair: tuple[str | None, int]) -> tuple[bool, str]:
    return pair[0] is None, pair[0] or ""
