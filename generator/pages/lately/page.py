"""What changed lately: the page, a few lines for the home page, and the section of a part's page."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby, islice

from generator.pages.around import Around
from generator.pages.lately.told import LatelyTold, Subject, ToldDay, ToldLine
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Page
from generator.pages.printed.views import batch_page, lot_page, machine_page
from generator.rules.lately import BATCH, LOT, MACHINE, MATERIAL, PART, RECALL

PATH = "lately.md"
_MOST_LINES, _MOST_OF_PART, _MOST_AT_HOME = 200, 30, 4
_MOST_OPEN = 20
_MOST_NAMED, _NAMED_AT_HOME = 12, 3


@dataclass(frozen=True, slots=True)
class Named:
    says: str
    beside: str
    """What it is called besides, where it is a part."""
    page: str | None


@dataclass(frozen=True, slots=True)
class LineView:
    says: str
    named: tuple[Named, ...]
    more: str


@dataclass(frozen=True, slots=True)
class DayView:
    heading: str
    lines: tuple[LineView, ...]
    on: date | None = None
    """None of what is dated later than the copy."""
    folded: tuple[LineView, ...] = ()
    """What else there is of a day of very many, such as the one on which a depot's list came in."""
    says: str = ""
    """How many these are."""


@dataclass(frozen=True, slots=True)
class WeekView:
    """A week before the newest, folded."""

    says: str
    """Which week, and how many lines."""
    days: tuple[DayView, ...]


@dataclass(frozen=True, slots=True)
class LatelyView:
    """The section of a part's page."""

    says: str
    """By what it is told."""
    days: tuple[DayView, ...]
    is_cut: bool


def lately_page(around: Around) -> tuple[Page, ...]:
    """All of it, as far as a page goes; none where nobody looked for it."""
    w, told = around.w, around.lately
    if told is None:
        return ()
    every = _as_far_as(told.days, _MOST_LINES, lambda line: _view(line, around, _MOST_NAMED))
    newest = next((_monday(each.on) for each in every if each.on), None)
    days = [_folded(each, around) for each in every if each.on is None or _monday(each.on) == newest]
    weeks = tuple(_weeks((each for each in every if each.on and _monday(each.on) != newest), around))
    is_cut = told.is_cut or _count(told.days) > _MOST_LINES
    text = rendered("lately/lately.md.j2", w=w, title=front_matter(w("lately.title")), days=days, weeks=weeks, is_cut=is_cut, says=_says(told, around, "says"))
    return (Page(path=PATH, title=w("lately.title"), template=None, text=text),)


def _monday(on: date) -> date:
    return on - timedelta(days=on.weekday())


def _weeks(days: Iterable[DayView], around: Around) -> Iterator[WeekView]:
    for monday, some in groupby(days, key=lambda each: _monday(each.on) if each.on else date.max):
        listed = tuple(some)
        yield WeekView(around.w.count("lately.week", sum(len(each.lines) for each in listed), day=around.w.day(monday)), listed)


def _folded(day: DayView, around: Around) -> DayView:
    """A day that would take screens is folded behind its first lines: what may stop somebody stands first (rules/lately.py)."""
    rest = day.lines[_MOST_OPEN:]
    if len(rest) <= 1:
        return day
    return replace(day, lines=day.lines[:_MOST_OPEN], folded=rest, says=around.w("lately.folded", n=around.w.number(len(rest))))


def lines_at_home(around: Around) -> tuple[tuple[str, LineView], ...]:
    """The newest lines, each with its day; events of approvals stand there already. Pieces that were fitted, and days to come, are no news."""
    told = around.lately
    days = (each for each in (told.days if told else ()) if not (each.is_later and told and (told.by_days or told.until)))
    lines = ((each.heading, line) for each in days for line in each.lines if not (line.is_news or line.is_daily))
    return tuple((heading, _view(line, around, _NAMED_AT_HOME)) for heading, line in islice(lines, _MOST_AT_HOME))


def lately_of_part(number: str, around: Around) -> LatelyView | None:
    """None where nothing is told of the part."""
    days = around.lately.of_parts.get(number, ()) if around.lately else ()
    if around.lately is None or not days:
        return None
    shown = _as_far_as(days, _MOST_OF_PART, lambda line: _of_own(line, number, around))
    return LatelyView(_says(around.lately, around, "here"), shown, around.lately.is_cut or _count(days) > _MOST_OF_PART)


def _says(told: LatelyTold, around: Around, of: str) -> str:
    """By what it is told: commits, the records' own days, or these until a day."""
    if told.until:
        return around.w("lately.since", until=around.w.day(told.until))
    return around.w(f"lately.{of}_days" if told.by_days else f"lately.{of}")


def _count(days: tuple[ToldDay, ...]) -> int:
    return sum(len(each.lines) for each in days)


def _as_far_as(days: tuple[ToldDay, ...], most: int, view: Callable[[ToldLine], LineView]) -> tuple[DayView, ...]:
    found = []
    for each in days:
        lines = each.lines[:most]
        most -= len(lines)
        if lines:
            found.append(DayView(each.heading, tuple(map(view, lines)), each.on))
    return tuple(found)


def _view(line: ToldLine, around: Around, most: int) -> LineView:
    named = tuple(_named(each, around) for each in line.subjects[:most])
    rest = len(line.subjects) - most
    return LineView(line.says, named, around.w("lately.more", n=around.w.number(rest)) if rest > 0 else "")


def _of_own(line: ToldLine, number: str, around: Around) -> LineView:
    """As the others, but that the part is not named on its own page."""
    others = tuple(each for each in line.subjects if (each.about, each.name) != (PART, number))
    return _view(replace(line, subjects=others), around, _MOST_NAMED)


def _named(subject: Subject, around: Around) -> Named:
    name, production = subject.name, around.catalogue.production
    if subject.about == PART:
        sheet = around.sheets.get(name)
        return Named(subject.says, sheet.name if sheet else "", around.found.page(name))
    pages = {
        BATCH: batch_page(name) if name in production.batches else None,
        LOT: lot_page(name) if name in production.lots else None,
        MACHINE: machine_page(name) if name in production.machines else None,
        RECALL: "recalls.md" if name in production.recalls else None,
        MATERIAL: around.found.material(name),
    }
    return Named(subject.says, "", pages.get(subject.about))
