"""What has been asked for: open requests by demand, each with its photo and a way to say "I need this too"."""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.addresses import link
from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import CopiedFile, Page, StoredAsset
from generator.pages.part.story import role_name
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.requests import Request
from generator.rules.answering import answer, worked_on
from generator.rules.asked_alike import AskedShape, Resembled


@dataclass(frozen=True, slots=True, kw_only=True)
class LikeView:
    """A part or another request, its address, and how the model lies on it, in words."""

    name: str
    address: str | None
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeView:
    """A model: its picture and size, what it is like, and it beside the first of these."""

    picture: str
    size: str
    like: tuple[LikeView, ...]
    beside: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RequestView:
    id: str
    name: str
    on: str
    voices: str
    """Day and role of each voice, so that a tablet sees whether its own is there."""
    what_it_does: str
    in_link: str
    """Its id as it stands in a link."""
    rows: tuple[tuple[str, str], ...]
    photo: str | None
    """Its address in the site."""
    answer: tuple[str, str | None] | None
    """Number and page of the part that answers it, or that is being worked on to answer it."""
    shape: ShapeView | None = None
    """Its model, where it has one that can be read."""


def open_requests(catalogue: Catalogue) -> list[tuple[str, Request]]:
    """Requests that no part answers yet, the most wanted first."""
    waiting = [(name, request) for name, request in catalogue.requests.items() if answer(request, catalogue) is None]
    return sorted(waiting, key=lambda each: (-yearly_demand(each[1]), each[0]))


def yearly_demand(request: Request) -> float:
    """What everybody together asks for in a year."""
    return request.yearly_demand + sum(voice.yearly_demand for voice in request.also_wanted)


def requests_page(around: Around) -> Page:
    """Open requests by demand, and those that a part answers."""
    w, catalogue = around.w, around.catalogue
    answered = sorted((name, each) for name, each in catalogue.requests.items() if answer(each, catalogue))
    title = w("requests.title")
    text = rendered(
        "requests/requests.md.j2",
        w=w,
        title=front_matter(title),
        waiting=[_request(name, each, around) for name, each in open_requests(catalogue)],
        answered=[_request(name, each, around) for name, each in answered],
        looked_for=bool(catalogue.queries),
    )
    return Page(path="requests.md", title=title, template="requests.html", text=text)


def request_photos(catalogue: Catalogue) -> Iterator[CopiedFile]:
    """The photos of open requests."""
    for name, request in open_requests(catalogue):
        path = _photo(name, request, catalogue)
        if path and request.photo:
            yield CopiedFile(path=path, source=catalogue.request_files[request.photo].path)


def _photo(name: str, request: Request, catalogue: Catalogue) -> str | None:
    if request.photo not in catalogue.request_files:
        return None
    return f"requests/{name}.{request.photo.lower().rpartition('.')[2]}"


def _request(name: str, request: Request, around: Around) -> RequestView:
    number, photo = answer(request, around.catalogue) or worked_on(request, around.catalogue), _photo(name, request, around.catalogue)
    return RequestView(
        id=name,
        name=request.name,
        on=request.on.isoformat(),
        voices=" ".join(f"{voice.on.isoformat()}:{voice.by}" for voice in request.also_wanted),
        what_it_does=request.what_it_does,
        in_link=link(name),
        rows=_request_rows(request, around.catalogue, around.w),
        photo=link(photo) if photo else None,
        answer=(number, around.found.page(number)) if number else None,
        shape=_shape(name, around.asked[name], around) if name in around.asked else None,
    )


def request_pictures(around: Around) -> Iterator[StoredAsset]:
    """The model of each open request, and it beside what it is like."""
    for name, shape in around.asked.items():
        yield StoredAsset(path=_picture(name), kept=shape.pictures.front)
        if shape.beside:
            yield StoredAsset(path=_beside(name), kept=shape.beside)


def _picture(name: str) -> str:
    return f"requests/{name}-model.webp"


def _beside(name: str) -> str:
    return f"requests/{name}-beside.png"


def _shape(name: str, shape: AskedShape, around: Around) -> ShapeView:
    w = around.w
    return ShapeView(
        picture=link(_picture(name)),
        size=" × ".join(w.measure(side) for side in shape.size_mm) + " mm",
        like=tuple(_like(each, around) for each in shape.like),
        beside=link(_beside(name)) if shape.beside else None,
    )


def _like(each: Resembled, around: Around) -> LikeView:
    w, lies = around.w, each.compared
    request, sheet = around.catalogue.requests.get(each.number), around.sheets.get(each.number)
    name = request.name if each.is_request and request else sheet.name if sheet else ""
    how = w(
        "requests.lies",
        how=w(f"related.similar_kind.{lies.kind.value}", ratio=w.measure(lies.ratio)),
        distance=w.number(lies.distance_mm, 2),
        covered=w.number(lies.covered * 100),
    )
    page = around.found.page(each.number)
    part = f"{page.removesuffix('.md')}.html" if page else None
    address = f"#{link(each.number)}" if each.is_request else part
    return LikeView(name=f"{each.number} {name}".strip(), address=address, how=how)


def _request_rows(request: Request, catalogue: Catalogue, w: Wording) -> tuple[tuple[str, str], ...]:
    place = catalogue.place(request.fleet, request.place) if request.place else None
    voices = 1 + len(request.also_wanted)
    values = {
        "demand": w.count("requests.demand_words", voices, demand=w.measure(yearly_demand(request))),
        "stops": request.stops_without,
        "vehicle": " ".join((request.fleet, ", ".join(request.vehicles))).strip(),
        "place": place.name if place else request.place,
        "sizes": " × ".join(w.measure(side) for side in request.sizes_mm) + " mm" if request.sizes_mm else None,
        "numbers": ", ".join(request.numbers),
        "asked": f"{role_name(request.by, catalogue)}, {w.day(request.on)}",
        "note": "; ".join(voice.note for voice in request.also_wanted if voice.note),
    }
    return tuple((w(f"requests.{key}"), value) for key, value in values.items() if value)
