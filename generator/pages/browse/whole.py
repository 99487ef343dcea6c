"""The pages about the whole: home, and what is wrong with the catalogue."""

from collections import Counter, defaultdict
from dataclasses import dataclass
from datetime import date
from itertools import islice

from generator.pages.addresses import anchor
from generator.pages.around import Around
from generator.pages.browse.ways_in import Door, stage_doors
from generator.pages.lately.page import lines_at_home
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Page
from generator.pages.problems.said import Said, said
from generator.pages.requests.asked import open_requests
from generator.pages.seen import thumb_of
from generator.pages.wording import Wording
from generator.records.approvals import Event
from generator.records.depot import blanks
from generator.records.problems import Problem, Severity
from generator.rules.sheet import Sheet

_NEWS = (
    "approved", "taken over", "take-over confirmed", "trial opened", "withdrawn", "superseded", "condition added", "renewed", "older stock settled", "question asked",
)  # fmt: skip
_NEWS_LINES = 6
_FLEET_THUMBS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class NewsLine:
    day: str
    what: str
    number: str
    name: str
    page: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemGroup:
    """The problems of one part, or of the files that belong to no part."""

    number: str | None
    page: str | None
    problems: tuple[Said, ...]


def home_page(around: Around, sheets: tuple[Sheet, ...], problems: tuple[Problem, ...], open_recalls: int = 0) -> Page:
    """The finder's place, the ways in, and how the catalogue stands."""
    w, depot = around.w, around.catalogue.depot
    title = w("home.title")
    by_stage = defaultdict(list)
    for sheet in sheets:
        by_stage[sheet.stage].append(sheet)
    text = rendered(
        "browse/home.md.j2",
        w=w,
        title=front_matter(title),
        heading=title if depot is None or "depot" in blanks(depot) else depot.depot,
        count=len(sheets),
        blanks=blanks(depot) if depot else (),
        has_fleets=bool(around.catalogue.fleets),
        parts=w.count("home.parts", len(sheets)),
        requests=w.count("home.requests", len(open_requests(around.catalogue))),
        errors=sum(problem.severity is Severity.ERROR for problem in problems),
        recalls=w.count("recalls.open", open_recalls) if open_recalls else None,
        fleets=_fleets(around, sheets),
        anchor=anchor,
        doors=stage_doors(around, by_stage),
        news=_news(around, sheets),
        lately=lines_at_home(around),
        has_lately=around.lately is not None,
    )
    return Page(path="index.md", title=title, template="home.html", text=text)


def _fleets(around: Around, sheets: tuple[Sheet, ...]) -> tuple[Door, ...]:
    """A door for each fleet, to its places."""
    found = []
    for fleet in around.catalogue.fleets.values():
        here = [sheet for sheet in sheets if any(ground.fleet == fleet.id for ground in sheet.grounds)]
        shown = (thumb_of(sheet, around.found.by_folder[sheet.folder.folder]) for sheet in here)
        found.append(
            Door(
                says=fleet.name,
                count=around.w.count("browse.parts", len(here)),
                page="vehicles.md",
                thumbs=tuple(islice(filter(None, shown), _FLEET_THUMBS)),
            )
        )
    return tuple(found)


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


def problems_page(around: Around, sheets: tuple[Sheet, ...], problems: tuple[Problem, ...]) -> Page:
    """Everything that is wrong or doubtful, by part, errors first."""
    w = around.w
    groups, of_parts = [], Counter[Problem]()
    for sheet in sheets:
        of_parts.update(sheet.problems)
        if sheet.problems:
            page = f"parts/{around.found.by_folder[sheet.folder.folder]}.md"
            groups.append(
                ProblemGroup(number=sheet.number, page=page, problems=_worst_first(sheet.problems, w))
            )
    rest = _worst_first(tuple(problem for problem in problems if problem not in of_parts), w)
    if rest:
        groups.insert(0, ProblemGroup(number=None, page=None, problems=rest))
    counts = Counter(problem.severity for problem in problems)
    title = w("problems.title")
    text = rendered(
        "browse/problems.md.j2",
        w=w,
        title=front_matter(title),
        errors=w.count("problems.errors", counts[Severity.ERROR]),
        warnings=w.count("problems.warnings", counts[Severity.WARNING]),
        groups=groups,
    )
    return Page(path="catalogue.md", title=title, template=None, text=text)


def _worst_first(problems: tuple[Problem, ...], w: Wording) -> tuple[Said, ...]:
    ordered = sorted(problems, key=lambda each: (each.severity is not Severity.ERROR, each.order))
    return tuple(said(each, w) for each in ordered)
