"""Where every approval stands: what lapses soon, who holds what for how long, what is missing, when it may come."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.pages.approvals.mends import MendLine, lack_lines, who_words
from generator.pages.around import Around
from generator.pages.holding.page import trial_lines
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Page
from generator.pages.submissions.family import FamilyLines, family_lines
from generator.pages.wording import Wording
from generator.planning.families import Family, families
from generator.planning.forecast import Forecast
from generator.planning.holding.trials import Course
from generator.planning.overview import LAPSE_WINDOWS_DAYS, Lapse, OverviewRow, is_waiting, overview
from generator.planning.submitting import asked_of
from generator.rules.history import Stage
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class ApprovalLine:
    """A row of the overview in words."""

    number: str
    name: str
    page: str
    route: str
    stage: str
    waited: str
    stands: str
    """Stage, route and how long it has been there, in one line."""
    holder: str
    missing: str
    question: str | None
    forecast: str
    own_history: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class UnfitLine:
    """A part that is approved or tried and not to be fitted all the same."""

    number: str
    name: str
    page: str
    where: tuple[str, ...]
    mends: tuple[MendLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberLine:
    """A part of a family, and what is asked of it."""

    number: str
    name: str
    page: str
    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyLine:
    members: tuple[MemberLine, ...]
    told: FamilyLines


@dataclass(frozen=True, slots=True, kw_only=True)
class LapseLine:
    number: str
    name: str
    page: str
    what: str
    last_day: str
    left: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LapseGroup:
    heading: str
    lines: tuple[LapseLine, ...]


def approvals_page(around: Around, sheets: tuple[Sheet, ...], day: date) -> Page:
    """The specialist's overview of all approvals on `day`."""
    w = around.w
    rows = overview(sheets, day)
    title = w("approvals.title")
    text = rendered(
        "approvals/approvals.md.j2",
        w=w,
        title=front_matter(title),
        day=w.day(day),
        count=len(sheets),
        unfit=tuple(unfit_line(row, around) for row in unfit_first(rows)),
        lapses=lapse_groups(rows, around),
        trials=tuple(trial_lines(around, (Course.AHEAD, Course.RUNNING))),
        waiting=tuple(approval_line(row, around) for row in rows if is_waiting(row)),
        families=tuple(family_line(each, around) for each in families(sheets, around.catalogue, day)),
        settled=tuple(approval_line(row, around) for row in rows if not row.lacks and not is_waiting(row)),
    )
    return Page(path="approvals.md", title=title, template=None, text=text)


def unfit_first(rows: Iterable[OverviewRow]) -> list[OverviewRow]:
    """What is approved or tried and not to be fitted all the same: the worst first."""
    return sorted((row for row in rows if row.lacks), key=lambda row: -_worst(row))


def _worst(row: OverviewRow) -> Verdict:
    """Of a record that cannot be read nothing is kinder than "Do not fit"."""
    return max((lack.judgement.verdict if lack.judgement else Verdict.DO_NOT_FIT) for lack in row.lacks)


def unfit_line(row: OverviewRow, around: Around) -> UnfitLine:
    return UnfitLine(
        number=row.sheet.number,
        name=row.sheet.name if row.sheet.part else around.w("broken.no_name"),
        page=_page(row.sheet, around),
        where=tuple(who_words(lack, around.catalogue, around.w) for lack in row.lacks),
        mends=lack_lines(row.sheet, row.lacks, around.catalogue, around.w),
    )


def family_line(family: Family, around: Around) -> FamilyLine:
    members = tuple(
        MemberLine(number=each.number, name=each.name, page=_page(each, around), step=around.w(f"submission.step.{asked_of(each).value}")) for each in family.members
    )
    return FamilyLine(members=members, told=family_lines(family, around.catalogue, around.w))


def approval_line(row: OverviewRow, around: Around) -> ApprovalLine:
    w, sheet = around.w, row.sheet
    stage, route = w.term("stage", row.stage), w.term("route", sheet.history.route)
    waited = w.count("approvals.days", row.waited_days) if row.waited_days is not None else None
    return ApprovalLine(
        number=sheet.number,
        name=sheet.name if sheet.part else w("broken.no_name"),
        page=_page(sheet, around),
        route=route,
        stage=stage,
        waited=waited or w("missing"),
        stands=stands_line(row, w),
        holder=w.term("holder", row.holder),
        missing=missing_words(row, w),
        question=row.question,
        forecast=forecast_words(row, w),
        own_history=w("approvals.own_share", percent=own_history_words(row.forecast, w))
        if row.forecast
        else None,
    )


def stands_line(row: OverviewRow, w: Wording) -> str:
    """As stands_words, and for how long."""
    if row.stage is Stage.UNREAD:
        return w("approvals.stands_unread")
    waited = w.count("approvals.days", row.waited_days) if row.waited_days is not None else None
    return w("approvals.stands", stage=w.term("stage", row.stage), route=w.term("route", row.sheet.history.route), waited=waited)


def stands_words(row: OverviewRow, w: Wording) -> str:
    """Stage and route; of a record that cannot be read, that nobody can say them."""
    if row.stage is Stage.UNREAD:
        return w("approvals.stands_unread")
    return f"{w.term('stage', row.stage)} ({w.term('route', row.sheet.history.route)})"


def missing_words(row: OverviewRow, w: Wording) -> str:
    """What the next step lacks, joined into one line."""
    listed = [w.term("missing_step", what.name.lower()) for what in row.missing]
    return w("list_separator").join(listed) or w("missing")


def forecast_words(row: OverviewRow, w: Wording) -> str:
    """The median day with the days that four times in five enclose it; open where the history ends before, and of a record with mistakes why not."""
    forecast = row.forecast
    if row.sheet.is_broken:
        return w("approvals.unforeseen")
    if forecast is None:
        return w("missing")
    if forecast.median is None:
        return w("approvals.beyond")
    late = w.day(forecast.late) if forecast.late else w("approvals.open")
    early = w.day(forecast.early) if forecast.early else w("approvals.open")
    return w("approvals.forecast", median=w.day(forecast.median), early=early, late=late)


def own_history_words(forecast: Forecast | None, w: Wording) -> str:
    if forecast is None:
        return w("missing")
    return w("approvals.percent", percent=w.number(100 * forecast.own_share))


def lapse_groups(rows: Iterable[OverviewRow], around: Around) -> tuple[LapseGroup, ...]:
    """What has ended or ends within 30, 90 and 180 days, the soonest first."""
    w = around.w
    every = [(row, lapse) for row in rows for lapse in row.lapses]
    every.sort(key=lambda pair: (pair[1].last_day, pair[0].sheet.number, pair[1].what))
    over = [pair for pair in every if pair[1].days_left < 0]
    groups = [LapseGroup(heading=w("approvals.over"), lines=_lapse_lines(over, around))]
    for window in LAPSE_WINDOWS_DAYS:
        inside = [pair for pair in every if pair[1].days_left >= 0 and pair[1].window_days == window]
        heading = w("approvals.within", days=w.number(window))
        groups.append(LapseGroup(heading=heading, lines=_lapse_lines(inside, around)))
    return tuple(group for group in groups if group.lines)


def _lapse_lines(pairs: Iterable[tuple[OverviewRow, Lapse]], around: Around) -> tuple[LapseLine, ...]:
    w = around.w
    return tuple(
        LapseLine(
            number=row.sheet.number,
            name=row.sheet.name,
            page=_page(row.sheet, around),
            what=w.term("lapsing", lapse.what.name.lower()),
            last_day=w.day(lapse.last_day),
            left=w.count("approvals.days" if lapse.days_left >= 0 else "approvals.ago", abs(lapse.days_left)),
        )
        for row, lapse in pairs
    )


def _page(sheet: Sheet, around: Around) -> str:
    return f"parts/{around.found.by_folder[sheet.folder.folder]}.html"
