"""What is called back: a list, the open ones first, and for each recall the vehicles to visit, ticked off as pieces come off."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from generator.pages.addresses import stems
from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.alike import asking_rows, asking_sum, beside_words
from generator.pages.on_vehicles.carried import page_of_vehicle
from generator.pages.on_vehicles.contradicting import contradiction_words
from generator.pages.on_vehicles.incomplete import gap_words, suspect_rows
from generator.pages.on_vehicles.off_words import elsewhere_words, gone_words
from generator.pages.outputs import Page
from generator.pages.part.story import role_name
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.free_texts import is_void
from generator.records.recalls import Lifted, Recall
from generator.rules.production.asking_beside import beside_of
from generator.rules.production.finished import Finished, finished, is_open
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.recalling import Reach, Visit, first_call, reach_of, stopping_still
from generator.rules.production.saying_good import who_says_good
from generator.rules.production.states import called_back, is_end
from generator.rules.production.suspects import Suspects, suspects_in

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
    """What is still open comes first, by vehicle and by batch, as on the notice; what is done stands behind it."""

    id: str
    page: str
    what: str
    part_page: str | None
    is_open: bool
    state: str
    left: str
    """What has to be found, in one sentence; empty of a recall that is not open."""
    says: tuple[str, ...]
    why: str
    visits: tuple[VisitLine, ...]
    """Where something sits."""
    visited: tuple[VisitLine, ...]
    done: str
    batches: str
    elsewhere: tuple[str, ...]
    scrapped: tuple[str, ...]
    suspects: tuple[tuple[str, ...], ...]
    asking: tuple[tuple[str, ...], ...]
    """Pieces of lots that may be more of this one, each as a suspect is told."""
    asking_sum: str
    no_visits: str
    """That nothing is left to visit; empty where nobody knows which pieces these are, and where others ask."""
    incomplete: tuple[str, ...]
    command: str


def open_recalls(around: Around, day: date) -> int:
    catalogue = around.catalogue
    return sum(is_open(each, reach_of(each, catalogue.production), catalogue, day) for each in catalogue.production.recalls.values())


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


def _view(name: str, recall: Recall, page: str, around: Around, day: date) -> RecallView:
    w, catalogue = around.w, around.catalogue
    reach = reach_of(recall, catalogue.production)
    there_is = is_open(recall, reach, catalogue, day)
    suspects = suspects_in(recall, catalogue, reach.batches)
    call, beside = first_call(recall), beside_of(recall.lot, catalogue.production)
    part = around.found.page(recall.part) if recall.part else None
    visits = tuple(_visit(each, reach, around) for each in reach.visits)
    return RecallView(
        id=name,
        page=page,
        what=recalled_words(recall, w),
        part_page=f"../{part}" if part else None,
        is_open=there_is,
        state=_state(recall, reach, around, day, is_open=there_is),
        left=w("recalls.left", listed=list(_left(reach, suspects, w))) if there_is else "",
        says=(*_events(recall, around), *(() if called_back(recall, day) else still_words(name, recall, catalogue, day, w)), *beside_words(recall.lot, catalogue.production, w)),
        why=call.why if call else "",
        visits=tuple(each for each in visits if not each.is_off),
        visited=tuple(each for each in visits if each.is_off),
        done=_done(reach, w),
        batches=w("recalls.batches", batches=list(reach.batches)) if reach.batches else w("recalls.no_batches"),
        elsewhere=tuple(f"{w.number(each.count)} × {each.batch}: {elsewhere_words(each, catalogue, w)}" for each in reach.elsewhere),
        scrapped=tuple(gone_words(each, catalogue, w) for each in reach.scrapped),
        suspects=tuple(suspect_rows(suspects, catalogue, w)),
        asking=tuple(asking_rows(beside, catalogue, w)),
        asking_sum=asking_sum(beside, w),
        no_visits=w("recalls.no_visits") if reach.batches and beside.is_empty and not reach.sits else "",
        incomplete=gap_words(gaps_of(catalogue.production, recalls=False), w),
        command=f"spares notice {name} --to {name}.pdf",
    )


def _left(reach: Reach, suspects: Suspects, w: Wording) -> Iterator[str]:
    """Each kind of place where pieces are to be found."""
    if reach.sits:
        yield w.count("recalls.left_sits", reach.sits, vehicles=w.count("recalls.left_vehicles", len(reach.left)))
    if reach.shelf:
        yield w("recalls.left_shelf", n=w.number(reach.shelf))
    if reach.out:
        yield w("recalls.left_out", n=w.number(reach.out))
    if reach.off:
        yield w.count("recalls.left_off", reach.off)
    if not suspects.is_empty:
        yield w.count("recalls.left_unsure", suspects.count)
    if not reach.to_find and suspects.is_empty:
        yield w("recalls.left_unknown")


def _done(reach: Reach, w: Wording) -> str:
    """How many vehicles carry none of it any more, and what was scrapped of what came off; empty where nothing has been done yet."""
    gone = sum(each.came for each in reach.scrapped)
    told = [
        *([w("recalls.visited", visited=w.number(reach.visited), all=w.number(len(reach.vehicles)))] if reach.visited else ()),
        *([w("recalls.done_off", n=w.number(gone))] if gone else ()),
    ]
    return w("recalls.done", what=told) if told else ""


def recall_page(name: str, recalls: Iterable[str]) -> str:
    """The page of a recall."""
    return f"recalls/{stems(recalls)[name]}.md"


def recalled_words(recall: Recall, w: Wording) -> str:
    """What is called back."""
    if recall.part:
        return w("recalls.of_part", part=recall.part, revision=recall.revision)
    return w("recalls.of_lot", name=recall.lot) if recall.lot else w("recalls.of_batch", name=recall.batch)


def _state(recall: Recall, reach: Reach, around: Around, day: date, *, is_open: bool) -> str:
    w = around.w
    if is_open:
        return w("recalls.state_open")
    if found := finished(recall, reach, around.catalogue, day):
        return finished_words(found, around.catalogue, w)
    lifted = [each for each in recall.events if is_end(each)]
    return w("recalls.state_lifted", on=w.day(lifted[-1].on)) if lifted else w("missing")


def finished_words(found: Finished, catalogue: Catalogue, w: Wording) -> str:
    """That a recall is done, since which day, and by what."""
    if not found.was_about:
        return w("recalls.state_never", on=w.day(found.on))
    how = (
        w(f"recalls.ended.{each.how}", n=w.number(each.count), batch=each.batch, by=role_name(each.by, catalogue), why=each.why) for each in found.ended
    )
    return w("recalls.state_done", on=w.day(found.on), how="; ".join(how))


def _events(recall: Recall, around: Around) -> Iterator[str]:
    w = around.w
    for each in recall.events:
        by, on = role_name(each.by, around.catalogue), w.day(each.on)
        if is_void(each):
            continue
        if isinstance(each, Lifted):
            yield w("recalls.lifted", on=on, by=by, why=each.why)
        else:
            yield w("recalls.since", on=on, by=by)
        if each.reference:
            yield w("recalls.reference", reference=each.reference)


def _against(visit: Visit, reach: Reach, around: Around) -> tuple[str, ...]:
    """What speaks against pieces that sit there, with their position."""
    here = (each for each in reach.spots if each.spot[:3] == tuple(visit.site))
    told = ((each.spot.position, contradiction_words(around.contradictions.of(each), around.w)) for each in here)
    return tuple(f"{position}: {says}" if position else says for position, says in told if says)


def still_words(name: str, recall: Recall, catalogue: Catalogue, day: date, w: Wording) -> Iterator[str]:
    """What keeps its pieces from being fitted besides this recall, and what ends that: of one that is lifted."""
    roles = who_says_good(catalogue.depot)
    for stop, batches in stopping_still(name, recall, catalogue.production, day):
        if stop.recall:
            yield w("recall.still_called", recall=stop.recall, batches=list(batches), roles=roles)
        else:
            yield w("recall.still_blocked", lot=stop.lot, on=w.day(stop.on), why=stop.why, roles=roles)


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
        )
        + _against(each, reach, around),
        sat=w.number(each.sat),
        sits=w.number(each.sits),
        is_off=not each.sits,
    )
