"""Today: what the specialist does next, what fits into three quarters of an hour, and what gets done by when."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final

from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Page
from generator.pages.today.plan_svg import MOST_WEEKS, Bar, PlanWords, plan_svg
from generator.pages.today.told import (
    TaskLine,
    Today,
    fitting_told,
    method_words,
    plan_words,
    skipped_words,
    today_told,
    waiting_words,
)
from generator.pages.wording import Wording
from generator.planning.fire_plan import fire_plan
from generator.planning.today.drawn import todays
from generator.planning.today.tasks import Kind
from generator.rules.facts.case import Copy
from generator.rules.sheet import Sheet

SHOWN_MINUTES: Final = 45
"""What fits before the next meeting: the page shows one stretch, the command any."""
_MINUTES_A_HOUR: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A task on the page, by its place in the order, with the page that tells more."""

    at: int
    line: TaskLine
    page: str | None


def today_page(around: Around, sheets: Iterable[Sheet], day: date) -> Page:
    w, catalogue, listed = around.w, around.catalogue, tuple(sheets)
    tasks = todays(listed, catalogue, day, fire_plan(listed, catalogue, Copy(day, around.depot.max_copy_age_days)))
    told = today_told(tasks, catalogue, day, w)
    fits = fitting_told(told, SHOWN_MINUTES, w)
    places = {id_of(line): at for at, line in enumerate(told.lines, start=1)}
    title = w("today.title")
    text = rendered(
        "today/today.md.j2",
        w=w,
        title=front_matter(title),
        day=w.day(day),
        minutes=w.number(SHOWN_MINUTES),
        used=w("today.used", used=w.number(fits.chosen.minutes), minutes=w.number(SHOWN_MINUTES)),
        now=[_shown(places[id_of(line)], line, around) for line in fits.lines],
        skipped=skipped_words(fits, w),
        waiting=waiting_words(fits, w),
        all=[_shown(at, line, around) for at, line in enumerate(told.lines, start=1)],
        is_planned=bool(told.hours),
        plan=plan_words(told, w),
        chart=_chart(told, w),
        beyond=w("today.chart_more", weeks=w.number(MOST_WEEKS)) if any(_weeks(each.ends, told) > MOST_WEEKS for each in told.plan) else None,
        method=method_words(catalogue, w),
    )
    return Page(path="today.md", title=title, template=None, text=text)


def id_of(line: TaskLine) -> tuple[str, str]:
    return line.subject, line.what


def _shown(at: int, line: TaskLine, around: Around) -> Shown:
    page = around.found.page(line.part) if line.part else None
    return Shown(at=at, line=line, page=page.removesuffix(".md") + ".html" if page else None)


def _weeks(minutes: int, told: Today) -> float:
    return minutes / (told.hours * _MINUTES_A_HOUR) if told.hours else 0.0


def _chart(told: Today, w: Wording) -> str | None:
    """None where the depot states no hours."""
    if not told.hours:
        return None
    bars = [
        Bar(
            name=f"{at} {task.number}" if task.row or task.kind in (Kind.REQUEST, Kind.BATCH, Kind.REMIND) else f"{at}",
            begins=_weeks(plan.begins, told),
            ends=_weeks(plan.ends, told),
            is_pressing=task.is_pressing,
            told=f"{line.short} · {line.done_on}",
        )
        for at, (task, line, plan) in enumerate(zip(told.tasks, told.lines, told.plan, strict=True), start=1)
    ]
    words = PlanWords(label=w("today.chart"), weeks=w("today.chart_days", day=w.day(told.day)), pressing=w("today.pressing"))
    return plan_svg(bars, words)
