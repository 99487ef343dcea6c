"""Today: what the specialist does next, what fits into three quarters of an hour, and what gets done by when."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Final

from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.incomplete import incomplete_words
from generator.pages.outputs import Page
from generator.pages.printed.views import batch_page
from generator.pages.today.plan_svg import MOST_WEEKS, PlanWords, TaskBar, plan_svg
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
from generator.planning.today.tasks import Task, TaskKind
from generator.rules.facts.case import Copy
from generator.rules.sheet import Sheet

SHOWN_MINUTES: Final = 45
"""What fits before the next meeting: the page shows one stretch, the command any."""
_MOST_OPEN: Final = 12
"""So many of the whole order stand open: what some two weeks hold; the rest is folded."""
_MINUTES_A_HOUR: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownTask:
    """A task on the page, by its place in the order, with the page that tells more."""

    at: int
    line: TaskLine
    page: str | None
    more: tuple[str, ...] = ()
    """What is told besides of why it stands there, and what to do."""


def today_page(around: Around, sheets: Iterable[Sheet], day: date) -> Page:
    w, catalogue, listed = around.w, around.catalogue, tuple(sheets)
    tasks = todays(listed, catalogue, day, fire_plan(listed, catalogue, Copy(day, around.depot.max_copy_age_days)))
    told = today_told(tasks, catalogue, day, w)
    fits = fitting_told(told, SHOWN_MINUTES, w)
    places = {id_of(line): at for at, line in enumerate(told.lines, start=1)}
    picked = {id_of(line) for line in fits.lines}
    order = [_shown(at, line, told, around, is_told=id_of(line) in picked) for at, line in enumerate(told.lines, start=1)]
    title = w("today.title")
    text = rendered(
        "today/today.md.j2",
        w=w,
        title=front_matter(title),
        incomplete=incomplete_words(around.catalogue, w),
        day=w.day(day),
        minutes=w.number(SHOWN_MINUTES),
        used=w("today.used", used=w.number(fits.chosen.minutes), minutes=w.number(SHOWN_MINUTES)),
        now=[_shown(places[id_of(line)], line, told, around) for line in fits.lines],
        skipped=skipped_words(fits, w),
        left=[_shown(places[id_of(line)], line, told, around) for line in fits.skipped],
        waiting=waiting_words(fits, w),
        order=order[:_MOST_OPEN],
        later=order[_MOST_OPEN:],
        kinds=tuple(_of_kinds(told, w)),
        is_planned=bool(told.hours),
        plan=plan_words(told, w),
        chart=_chart(told, w),
        beyond=w("today.chart_more", weeks=w.number(MOST_WEEKS)) if any(_weeks(each.ends, told) > MOST_WEEKS for each in told.plan) else None,
        method=method_words(catalogue, w),
    )
    return Page(path="today.md", title=title, template=None, text=text)


def _of_kinds(told: Today, w: Wording) -> Iterator[str]:
    """How many there are of each kind, and how much work; the kind whose turn is first comes first."""
    every = list(enumerate(told.tasks, start=1))
    for kind in dict.fromkeys(task.kind for task in told.tasks):
        own = [(at, task) for at, task in every if task.kind is kind]
        minutes = w.number(sum(task.minutes.minutes for _, task in own))
        yield w.count("today.of_kind", len(own), kind=w(f"today.kinds.{kind.name.lower()}"), minutes=minutes, first=w.number(own[0][0]))


def id_of(line: TaskLine) -> tuple[str, str]:
    return line.subject, line.what


def _shown(at: int, line: TaskLine, told: Today, around: Around, *, is_told: bool = False) -> ShownTask:
    """is_told: more of it stands on the page already."""
    page, reason = _page_of(told.tasks[at - 1], line, around), line.reason
    more = (*((line.found,) if line.found else ()), *(each for each in line.why if each != reason), line.do)
    return ShownTask(at=at, line=line, page=page.removesuffix(".md") + ".html" if page else None, more=() if is_told else more)


def _page_of(task: Task, line: TaskLine, around: Around) -> str | None:
    """The page that tells more of it: of the part, batch or material, else the list that it stands in."""
    if task.number in around.catalogue.production.batches and not task.row:
        return batch_page(task.number)
    lists = {TaskKind.TEST: "fire-tests.md", TaskKind.REQUEST: "requests.md", TaskKind.RECORD: "catalogue.md"}
    own = around.found.page(line.part) if line.part and task.kind is not TaskKind.TEST else around.found.material(task.number)
    return own or lists.get(task.kind)


def _weeks(minutes: int, told: Today) -> float:
    return minutes / (told.hours * _MINUTES_A_HOUR) if told.hours else 0.0


def _short_name(task: Task, w: Wording) -> str:
    """Its number, or its kind where it is of many parts or of a file."""
    has_number = task.row or task.kind in (TaskKind.REQUEST, TaskKind.BATCH, TaskKind.REMIND)
    return task.number if has_number else w(f"today.kinds.{task.kind.name.lower()}")


def _chart(told: Today, w: Wording) -> str | None:
    """None where the depot states no hours."""
    if not told.hours:
        return None
    bars = [
        TaskBar(
            name=" ".join(filter(None, (str(at), _short_name(task, w), w("today.chart_late") if missed else None))),
            begins=_weeks(plan.begins, told),
            ends=_weeks(plan.ends, told),
            is_pressing=task.is_pressing,
            told=f"{line.short} · {line.done_on}",
        )
        for at, (task, line, plan, missed) in enumerate(zip(told.tasks, told.lines, told.plan, told.missed, strict=True), start=1)
    ]
    words = PlanWords(label=w("today.chart"), weeks=w("today.chart_days", day=w.day(told.day)), pressing=w("today.pressing"))
    return plan_svg(bars, words)
