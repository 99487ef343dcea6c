"""Does it hold? All parts that were fitted, those first of which something holds worse, and all trials."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from generator.pages.around import Around
from generator.pages.holding.lines import (
    compared_words,
    counts_words,
    out_words,
    rate_words,
    short_words,
    trial_head,
    trial_words,
    years_words,
)
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.incomplete import incomplete_words
from generator.pages.outputs import Page
from generator.pages.wording import Wording
from generator.planning.holding.pieces import fitted_pieces
from generator.planning.holding.trials import Course
from generator.planning.holding.whole import Holds, worst_first


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLine:
    number: str
    name: str
    page: str
    fitted: str
    years: str
    rate: str
    hints: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidLine:
    """Sentences on one part, or on one of its trials."""

    number: str
    name: str
    page: str
    head: str
    says: tuple[str, ...]


def holds_page(around: Around, day: date) -> Page:
    """The page of all parts on `day`."""
    w, every = around.w, around.holds
    parts = worst_first(every)
    since = fitted_pieces(around.catalogue.production, day).since
    title = w("holds.title")
    text = rendered(
        "holding/holds.md.j2",
        w=w,
        title=front_matter(title),
        incomplete=incomplete_words(around.catalogue, w),
        says=w("holds.says", day=w.day(day), since=w.day(since) if since else None),
        compared=compared_words(parts, w),
        out=tuple(_said(every[part.number], around, "", out_words(part, w)) for part in parts if part.is_worse),
        trials=tuple(trial_lines(around, tuple(Course))),
        parts=tuple(_part_line(every[part.number], around) for part in parts),
    )
    return Page(path="holds.md", title=title, template=None, text=text)


def trial_lines(around: Around, courses: tuple[Course, ...]) -> Iterator[SaidLine]:
    """The trials that stand so, those that run first, then the newest."""
    found = [(each, trial) for each in around.holds.values() for trial in each.trials if trial.course in courses]
    found.sort(key=lambda pair: (pair[1].course is not Course.RUNNING, -pair[1].first_day.toordinal(), pair[0].number))
    for each, trial in found:
        yield _said(each, around, trial_head(trial, around.w), trial_words(trial, around.w))


def _said(holds: Holds, around: Around, head: str, says: tuple[str, ...]) -> SaidLine:
    return SaidLine(number=holds.number, name=holds.name, page=f"parts/{around.found.by_number[holds.number]}.html", head=head, says=says)


def _part_line(holds: Holds, around: Around) -> PartLine:
    part, w = holds.part, around.w
    if part is None:
        raise ValueError(f"of {holds.number} nothing was fitted")
    return PartLine(
        number=holds.number,
        name=holds.name,
        page=f"parts/{around.found.by_number[holds.number]}.html",
        fitted=counts_words(part.figures, w),
        years=years_words(part.figures, w),
        rate=rate_words(part.figures, w),
        hints=_hints(holds, w),
    )


def _hints(holds: Holds, w: Wording) -> tuple[str, ...]:
    advice = holds.advice
    if advice is None:
        return ()
    symptoms = w("holds.advice.no_symptoms") if advice.no_symptoms else None
    return tuple(said for said in (short_words(advice, w), symptoms) if said)
