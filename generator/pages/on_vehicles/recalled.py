"""What is called back: a list, the open ones first, and for each recall the vehicles to visit, ticked off as pieces come off."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from generator.pages.addresses import stems
from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.carried import page_of_vehicle
from generator.pages.on_vehicles.incomplete import gap_words, suspect_rows
from generator.pages.outputs import Page
from generator.pages.part.story import role_name
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.production import Production
from generator.records.recalls import Lifted, Recall
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.recalling import Elsewhere, Reach, Visit, first_call, reach_of
from generator.rules.production.states import called_back
from generator.rules.production.suspects import suspects_of

LIST = "recalls.md"


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitLine:
    vehicle: str
    page: str | None
    place: str
    positions: tuple[str, ...]
    """Where it still sits there, with part and batch."""
    sat: str
    sits: str
    is_off: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RecallView:
    id: str
    page: str
    what: str
    part_page: str | None
    is_open: bool
    state: str
    says: tuple[str, ...]
    why: str
    visited: str
    visits: tuple[VisitLine, ...]
    batches: str
    shelf: str
    elsewhere: tuple[str, ...]
    suspects: tuple[tuple[str, ...], ...]
    incomplete: tuple[str, ...]
    command: str


def open_recalls(around: Around, day: date) -> int:
    production = around.catalogue.production
    return sum(_is_open(each, reach_of(each, production), production, day) for each in production.recalls.values())


def recall_pages(around: Around, day: date) -> Iterator[Page]:
    """None where the depot has never called anything back."""
    w, recalls = around.w, around.catalogue.production.recalls
    if not recalls:
        return
    found = stems(recalls)
    views = [_view(name, recall, f"recalls/{found[name]}.md", around, day) for name, recall in recalls.items()]
    for view in views:
        title = f"{view.id}: {view.what}"
        text = rendered("on_vehicles/recall.md.j2", w=w, title=front_matter(title), heading=title, view=view)
        yield Page(path=view.page, title=title, template=None, text=text)
    title = w("recalls.title")
    newest = sorted(views, key=lambda each: each.id, reverse=True)
    text = rendered("on_vehicles/recalls.md.j2", w=w, title=front_matter(title), views=sorted(newest, key=lambda each: not each.is_open))
    yield Page(path=LIST, title=title, template=None, text=text)


def _is_open(recall: Recall, reach: Reach, production: Production, day: date) -> bool:
    """Whether there is anything left to do; where nothing is known of the pieces, nobody can say that there is not."""
    if called_back(recall, day) is None:
        return False
    return not reach.batches or bool(gaps_of(production)) or bool(reach.sits or reach.shelf or reach.out)


def _view(name: str, recall: Recall, page: str, around: Around, day: date) -> RecallView:
    w, catalogue = around.w, around.catalogue
    reach = reach_of(recall, catalogue.production)
    is_open = _is_open(recall, reach, catalogue.production, day)
    call = first_call(recall)
    part = around.found.page(recall.part) if recall.part else None
    return RecallView(
        id=name,
        page=page,
        what=recalled_words(recall, w),
        part_page=f"../{part}" if part else None,
        is_open=is_open,
        state=_state(recall, day, w, is_open=is_open),
        says=tuple(_events(recall, around)),
        why=call.why if call else "",
        visited=w("recalls.visited", visited=w.number(reach.visited), all=w.number(len(reach.vehicles))),
        visits=tuple(_visit(each, reach, around) for each in reach.visits),
        batches=w("recalls.batches", batches=list(reach.batches)) if reach.batches else w("recalls.no_batches"),
        shelf=w("recalls.shelf", shelf=w.number(reach.shelf), out=w.number(reach.out)),
        elsewhere=tuple(f"{w.number(each.count)} × {each.batch}: {elsewhere_words(each, catalogue, w)}" for each in reach.elsewhere),
        suspects=tuple(suspect_rows(suspects_of(catalogue, reach.batches), catalogue, w)),
        incomplete=gap_words(gaps_of(catalogue.production, recalls=False), w),
        command=f"spares notice {name} --to {name}.pdf",
    )


def recall_page(name: str, recalls: Iterable[str]) -> str:
    """The page of a recall."""
    return f"recalls/{stems(recalls)[name]}.md"


def elsewhere_words(each: Elsewhere, catalogue: Catalogue, w: Wording) -> str:
    """Where pieces lie that are on no vehicle."""
    if each.kind == "came_off" and each.spot:
        place = catalogue.place_name(each.spot.fleet, each.spot.place, each.spot.position)
        return w("papers.recall.came", vehicle=f"{each.spot.fleet} {each.spot.vehicle}", place=place, on=w.day(each.on) if each.on else None)
    if each.kind == "out":
        return w("papers.recall.handed", to=each.to)
    batch = catalogue.production.batches.get(each.batch)
    folder = catalogue.folder(batch.part) if batch else None
    stock = folder.part.stock if folder and folder.part else None
    return w("papers.recall.on_shelf", place=stock.place if stock else None)


def recalled_words(recall: Recall, w: Wording) -> str:
    """What is called back."""
    if recall.part:
        return w("recalls.of_part", part=recall.part, revision=recall.revision)
    return w("recalls.of_lot", name=recall.lot) if recall.lot else w("recalls.of_batch", name=recall.batch)


def _state(recall: Recall, day: date, w: Wording, *, is_open: bool) -> str:
    if is_open:
        return w("recalls.state_open")
    if called_back(recall, day):
        return w("recalls.state_done")
    lifted = [each for each in recall.events if isinstance(each, Lifted)]
    return w("recalls.state_lifted", on=w.day(lifted[-1].on)) if lifted else w("missing")


def _events(recall: Recall, around: Around) -> Iterator[str]:
    w = around.w
    for each in recall.events:
        by, on = role_name(each.by, around.catalogue), w.day(each.on)
        if isinstance(each, Lifted):
            yield w("recalls.lifted", on=on, by=by, why=each.why)
        else:
            yield w("recalls.since", on=on, by=by)
        if each.reference:
            yield w("recalls.reference", reference=each.reference)


def _visit(each: Visit, reach: Reach, around: Around) -> VisitLine:
    """Its positions in one line a batch: a car has a dozen of some."""
    there: dict[tuple[str, str], list[str]] = {}
    for spot in reach.spots:
        if spot.spot[:3] == tuple(each.site):
            count = f"{spot.count} × " if spot.count > 1 else ""
            there.setdefault((f"{spot.part} {spot.revision}" if spot.part else "", spot.batch), []).append(f"{count}{spot.spot.position}".strip(" ×"))
    w, fleet = around.w, around.catalogue.fleets.get(each.site.fleet)
    page = page_of_vehicle(fleet, each.site.vehicle) if fleet else None
    return VisitLine(
        vehicle=f"{each.site.fleet} {each.site.vehicle}",
        page=f"../{page}" if page else None,
        place=around.catalogue.place_name(each.site.fleet, each.site.place),
        positions=tuple(
            w("recalls.at", part=part, batch=batch, positions=[position for position in found if position]) for (part, batch), found in there.items()
        ),
        sat=w.number(each.sat),
        sits=w.number(each.sits),
        is_off=not each.sits,
    )
