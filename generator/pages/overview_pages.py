"""The pages about the whole: home, open requests, and what is wrong with the catalogue."""

from collections import Counter, defaultdict
from dataclasses import dataclass
from datetime import date

from generator.pages.browse_pages import stage_doors
from generator.pages.marks import rendered
from generator.pages.outputs import Page
from generator.pages.part_page import Around, front_matter
from generator.pages.story import role_name
from generator.pages.wording import Wording
from generator.records.approvals import Event
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem, Severity
from generator.records.requests import Request
from generator.sheets import Sheet

_NEWS = ("approved", "trial opened", "withdrawn", "superseded", "condition added", "renewed")
_NEWS_LINES = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class NewsLine:
    day: str
    what: str
    number: str
    name: str
    page: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RequestView:
    id: str
    name: str
    what_it_does: str
    rows: tuple[tuple[str, str], ...]
    answer: tuple[str, str | None] | None
    """Number and page of the part that answers it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemGroup:
    """The problems of one part, or of the files that belong to no part."""

    number: str | None
    page: str | None
    problems: tuple[Problem, ...]


def home_page(around: Around, sheets: tuple[Sheet, ...], problems: tuple[Problem, ...]) -> Page:
    """The finder's place, the ways in, and how the catalogue stands."""
    w, depot = around.w, around.catalogue.depot
    title = w("home.title")
    by_stage = defaultdict(list)
    for sheet in sheets:
        by_stage[sheet.stage].append(sheet)
    text = rendered(
        "home.md.j2",
        w=w,
        title=front_matter(title),
        depot=depot,
        parts=w.count("home.parts", len(sheets)),
        requests=w.count("home.requests", len(open_requests(around.catalogue))),
        errors=sum(problem.severity is Severity.ERROR for problem in problems),
        doors=stage_doors(around, by_stage),
        news=_news(around, sheets),
    )
    return Page(path="index.md", title=title, template="home.html", text=text)


def _news(around: Around, sheets: tuple[Sheet, ...]) -> tuple[NewsLine, ...]:
    """The latest events that change what a mechanic may do."""
    told: list[tuple[date, str, Event, Sheet]] = []
    for sheet in sheets:
        approval = sheet.folder.approval
        told += [
            (each.on, sheet.number, each, sheet)
            for each in (approval.events if approval else ())
            if each.what in _NEWS
        ]
    told.sort(key=lambda each: each[:2], reverse=True)
    return tuple(
        NewsLine(
            day=around.w.day(on),
            what=around.w.term("event", event.what),
            number=number,
            name=sheet.name,
            page=f"parts/{around.found.by_folder[sheet.folder.folder]}.md",
        )
        for on, number, event, sheet in told[:_NEWS_LINES]
    )


def open_requests(catalogue: Catalogue) -> list[tuple[str, Request]]:
    """Requests that no part answers yet, the most wanted first."""
    waiting = [(name, request) for name, request in catalogue.requests.items() if request.answered_by is None]
    return sorted(waiting, key=lambda each: (-yearly_demand(each[1]), each[0]))


def yearly_demand(request: Request) -> float:
    """What everybody together asks for in a year."""
    return request.yearly_demand + sum(voice.yearly_demand for voice in request.also_wanted)


def requests_page(around: Around) -> Page:
    """Open requests by demand, and those that a part answers."""
    w, catalogue = around.w, around.catalogue
    answered = sorted((name, each) for name, each in catalogue.requests.items() if each.answered_by)
    title = w("requests.title")
    text = rendered(
        "requests.md.j2",
        w=w,
        title=front_matter(title),
        waiting=[_request(name, each, around) for name, each in open_requests(catalogue)],
        answered=[_request(name, each, around) for name, each in answered],
        contact=catalogue.depot.contact if catalogue.depot else "",
    )
    return Page(path="requests.md", title=title, template=None, text=text)


def _request(name: str, request: Request, around: Around) -> RequestView:
    number = request.answered_by
    return RequestView(
        id=name,
        name=request.name,
        what_it_does=request.what_it_does,
        rows=_request_rows(request, around.catalogue, around.w),
        answer=(number, around.found.page(number)) if number else None,
    )


def _request_rows(request: Request, catalogue: Catalogue, w: Wording) -> tuple[tuple[str, str], ...]:
    place = catalogue.place(request.fleet, request.place) if request.place else None
    voices = 1 + len(request.also_wanted)
    values = {
        "vehicle": " ".join((request.fleet, ", ".join(request.vehicles))).strip(),
        "place": place.name if place else request.place,
        "demand": w.count("requests.demand_words", voices, demand=w.measure(yearly_demand(request))),
        "stops": request.stops_without,
        "sizes": " × ".join(w.measure(side) for side in request.sizes_mm) + " mm"
        if request.sizes_mm
        else None,
        "numbers": ", ".join(request.numbers),
        "asked": f"{role_name(request.by, catalogue)}, {w.day(request.on)}",
    }
    return tuple((w(f"requests.{key}"), value) for key, value in values.items() if value)


def problems_page(around: Around, sheets: tuple[Sheet, ...], problems: tuple[Problem, ...]) -> Page:
    """Everything that is wrong or doubtful, by part, errors first."""
    w = around.w
    groups, of_parts = [], Counter[Problem]()
    for sheet in sheets:
        of_parts.update(sheet.folder.problems)
        if sheet.folder.problems:
            page = f"parts/{around.found.by_folder[sheet.folder.folder]}.md"
            groups.append(
                ProblemGroup(number=sheet.number, page=page, problems=_worst_first(sheet.folder.problems))
            )
    rest = _worst_first(tuple(problem for problem in problems if problem not in of_parts))
    if rest:
        groups.insert(0, ProblemGroup(number=None, page=None, problems=rest))
    counts = Counter(problem.severity for problem in problems)
    title = w("problems.title")
    text = rendered(
        "problems.md.j2",
        w=w,
        title=front_matter(title),
        errors=w.count("problems.errors", counts[Severity.ERROR]),
        warnings=w.count("problems.warnings", counts[Severity.WARNING]),
        groups=groups,
    )
    return Page(path="catalogue.md", title=title, template=None, text=text)


def _worst_first(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    return tuple(sorted(problems, key=lambda each: (each.severity is not Severity.ERROR, each.order)))
