"""A page for each vehicle: what sits on it and since when, and what came off; and a list of all vehicles."""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from generator.pages.addresses import stems
from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.contradicting import contradiction_words
from generator.pages.on_vehicles.incomplete import gap_words
from generator.pages.outputs import Page
from generator.pages.printed.views import batch_page
from generator.pages.wording import Wording
from generator.records.batches import BATCH_NAME
from generator.records.fleets import Fleet
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.not_good import Against, NotGood
from generator.rules.production.tracing import CameOff, Carried, of_all, of_part, of_vehicle

LIST = "carried.md"
BATCH = re.compile(BATCH_NAME)
_MOST_OFF = 300
_SHOWN_OFF = 5
"""The newest of what came off stand open; what is older is folded, a year at a time."""
_MOST_LINKS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """Pieces of one batch at one place."""

    on: str
    place: str
    positions: str
    """Which ones there; empty where nobody said."""
    part: str
    name: str
    page: str | None
    """Of the part, as a page of a vehicle links to it."""
    count: str
    batch: str
    batch_page: str | None
    """The same of the batch, where there is a record of it."""
    recall: tuple[str, str | None] | None = None
    """What stops it, and the page of the recall."""
    why: str = ""
    contradicts: tuple[str, ...] = ()
    """What speaks against it by the records, each sentence once."""
    is_asked: bool = False
    """Whether nobody can say if it may sit there; `recall` then tells why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPlace:
    """What sits at one place of a vehicle."""

    name: str
    page: str | None
    """Of the place, as a page of a vehicle of its fleet links to it."""
    lines: tuple[PieceLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """What came off within one year, without what stands open."""

    says: str
    lines: tuple[PieceLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class VehicleLine:
    number: str
    page: str
    count: str
    is_recalled: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FleetLines:
    name: str
    vehicles: tuple[VehicleLine, ...]


def carried_pages(around: Around) -> Iterator[Page]:
    """None where the depot writes down nothing of its vehicles."""
    production = around.catalogue.production
    if not production.fitted:
        return
    fleets = []
    for fleet in around.catalogue.fleets.values():
        found = _stems(fleet.numbers)
        lines = []
        for number in fleet.numbers:
            path = _page(fleet, found[number])
            page, line = _of_vehicle(fleet, number, path, around)
            lines.append(line)
            yield page
        fleets.append(FleetLines(name=fleet.name, vehicles=tuple(lines)))
    w = around.w
    title = w("on_vehicles.list")
    text = rendered("on_vehicles/carried.md.j2", w=w, title=front_matter(title), fleets=fleets, incomplete=gap_words(gaps_of(production), w))
    yield Page(path=LIST, title=title, template=None, text=text)


@lru_cache(64)
def _stems(numbers: tuple[str, ...]) -> dict[str, str]:
    return stems(numbers)


def page_of_vehicle(fleet: Fleet, number: str) -> str | None:
    found = _stems(fleet.numbers)
    return _page(fleet, found[number]) if number in found else None


def _page(fleet: Fleet, stem: str) -> str:
    return f"vehicles/{fleet.id}/no-{stem}.md"


def _of_vehicle(fleet: Fleet, number: str, path: str, around: Around) -> tuple[Page, VehicleLine]:
    w = around.w
    traced = of_vehicle(around.catalogue.production, fleet.id, number)
    places = tuple(_at_place(fleet, place, alike, around) for place, alike in _together(traced.carried).items())
    sits = [line for each in places for line in each.lines]
    newest = traced.came_off[::-1]
    title = w("on_vehicles.title", vehicle=f"{fleet.id} {number}")
    text = rendered(
        "on_vehicles/vehicle.md.j2",
        w=w,
        title=front_matter(title),
        heading=title,
        incomplete=gap_words(gaps_of(around.catalogue.production), w),
        summary=w("on_vehicles.summary", pieces=w.count("on_vehicles.where_pieces", traced.on_vehicles), places=w.count("on_vehicles.places", len(places))),
        places=places,
        fleet=fleet,
        recalled=[each for each in sits if each.recall and not each.is_asked],
        asked=[each for each in sits if each.is_asked],
        against=[each for each in sits if each.contradicts and not each.recall],
        off=[_off(each, around) for each in newest[:_SHOWN_OFF]],
        folded=_folded(newest[_SHOWN_OFF:_MOST_OFF], around),
        more=w.count("on_vehicles.more", len(newest) - _MOST_OFF) if len(newest) > _MOST_OFF else None,
    )
    count = w.count("on_vehicles.where_pieces", traced.on_vehicles) if traced.on_vehicles else w("missing")
    line = VehicleLine(number=number, page=path, count=count, is_recalled=any(each.recall and not each.is_asked for each in sits))
    return Page(path=path, title=title, template=None, text=text), line


def _together(carried: Iterable[Carried]) -> dict[str, list[tuple[Carried, ...]]]:
    """By place. Pieces of one batch at one place stand in one line, wherever they sit there: a car has a hundred of some."""
    found: dict[str, dict[tuple[str | None, str], list[Carried]]] = {}
    for each in carried:
        found.setdefault(each.spot.place, {}).setdefault((each.part, each.batch), []).append(each)
    return {
        place: [tuple(alike) for _, alike in sorted(there.items(), key=lambda pair: (pair[0][0] is None, pair[0][0] or "", pair[0][1]))]
        for place, there in found.items()
    }


def _at_place(fleet: Fleet, place: str, listed: Iterable[tuple[Carried, ...]], around: Around) -> AtPlace:
    has_page = bool(around.catalogue.place(fleet.id, place) and around.catalogue.fitting(fleet.id, place))
    return AtPlace(
        name=around.catalogue.place_name(fleet.id, place),
        page=f"at-{place}.html" if has_page else None,
        lines=tuple(_sits(each, around) for each in listed),
    )


def _folded(older: Iterable[CameOff], around: Around) -> tuple[Folded, ...]:
    by_year: dict[int, list[CameOff]] = {}
    for each in older:
        by_year.setdefault(each.on.year, []).append(each)
    return tuple(
        Folded(says=around.w.count("on_vehicles.older", len(lines), year=str(year)), lines=tuple(_off(each, around) for each in lines))
        for year, lines in by_year.items()
    )


def _sits(alike: tuple[Carried, ...], around: Around) -> PieceLine:
    each = alike[0]
    first_day, last_day = min(one.since for one in alike), max(one.since for one in alike)
    positions = [one.spot.position if one.count == 1 else f"{one.count} × {one.spot.position}" for one in alike if one.spot.position]
    w, production = around.w, around.catalogue.production
    speaks = around.speaking[each.batch]
    recalls = stems(production.recalls)
    return PieceLine(
        on=w.day(first_day) if first_day == last_day else w("on_vehicles.days", first=w.day(first_day), last=w.day(last_day)),
        place=around.catalogue.place_name(each.spot.fleet, each.spot.place),
        positions=w("list_separator").join(positions),
        part=f"{each.part} {each.revision}" if each.part else w("missing"),
        name=_name(each.part, around),
        page=_part_page(each.part, around),
        count=w.number(sum(one.count for one in alike)),
        batch=each.batch,
        batch_page=_batch_page(each.batch, around),
        recall=(why_words(speaks, w), f"../../recalls/{recalls[speaks.recall]}.html" if speaks.recall else None) if speaks else None,
        is_asked=speaks is not None and not speaks.is_stopped,
        contradicts=_against(alike, around),
    )


def _against(alike: Iterable[Carried | CameOff], around: Around) -> tuple[str, ...]:
    told = (contradiction_words(around.contradictions.of(each), around.w) for each in alike)
    return tuple(dict.fromkeys(filter(None, told)))


def _off(each: CameOff, around: Around) -> PieceLine:
    w = around.w
    return PieceLine(
        on=w.day(each.on),
        place=around.catalogue.place_name(each.spot.fleet, each.spot.place),
        positions=each.spot.position,
        part=each.part or "",
        name=_name(each.part, around),
        page=_part_page(each.part, around),
        count=w.number(each.count),
        batch=each.batch or w("on_vehicles.no_batch"),
        batch_page=_batch_page(each.batch, around),
        why=w.term("off_why", each.why) if each.why else w("missing"),
        contradicts=_against((each,), around),
    )


def _name(number: str | None, around: Around) -> str:
    sheet = around.sheets.get(number) if number else None
    return sheet.name if sheet else ""


def _part_page(number: str | None, around: Around) -> str | None:
    page = around.found.page(number) if number else None
    return f"../../{page.removesuffix('.md')}.html" if page else None


def _batch_page(name: str, around: Around) -> str | None:
    is_there = name in around.catalogue.production.batches and BATCH.fullmatch(name)
    return f"../../{batch_page(name).removesuffix('.md')}.html" if is_there else None


def vehicles_at(fleet: Fleet, place: str, around: Around, day: date | None) -> tuple[tuple[str, str, bool], ...]:
    """Those of a fleet that carry anything at a place: number, page as seen from its folder, and whether any of it is called back."""
    production = around.catalogue.production
    found: dict[str, bool] = {}
    for each in of_all(production).carried if production.fitted else ():
        if (each.spot.fleet, each.spot.place) == (fleet.id, place):
            speaks = around.speaking[each.batch] if day else None
            is_stopped = speaks is not None and speaks.is_stopped
            found[each.spot.vehicle] = found.get(each.spot.vehicle, False) or is_stopped
    pages = _stems(fleet.numbers)
    return tuple((number, f"no-{pages[number]}.html", stopped) for number, stopped in found.items() if number in pages)[:_MOST_LINKS]


def why_words(speaks: Against, w: Wording) -> str:
    """What speaks against pieces that sit on a vehicle, and what to do."""
    return w(f"working.not_good.why.{speaks.why}")


def sitting_told(number: str, around: Around) -> list[list[str | int]]:
    """For the scripts of a part's page, one a spot: fleet, vehicle, place, position, how many, batch, what speaks against it, recall,
    and the page of the vehicle as the site has it.
    """
    return [_told(each, around) for each in around.not_good.get(number, ())]


def _told(each: NotGood, around: Around) -> list[str | int]:
    spot, speaks = each.carried.spot, each.against
    fleet = around.catalogue.fleets.get(spot.fleet)
    page = page_of_vehicle(fleet, spot.vehicle) if fleet else None
    place = around.catalogue.place_name(spot.fleet, spot.place)
    address = f"{page.removesuffix('.md')}.html" if page else ""
    return [spot.fleet, spot.vehicle, place, spot.position, each.carried.count, each.carried.batch, speaks.why, speaks.recall or "", address]


def where_it_sits(number: str, around: Around) -> tuple[str, ...] | None:
    """A line for each fleet that carries the part; None where the depot writes down nothing of its vehicles."""
    production, w = around.catalogue.production, around.w
    if not production.fitted:
        return None
    pieces: Counter[str] = Counter()
    vehicles: defaultdict[str, set[str]] = defaultdict(set)
    for each in of_part(production, number).carried:
        pieces[each.spot.fleet] += each.count
        vehicles[each.spot.fleet].add(each.spot.vehicle)
    return tuple(_of_fleet(fleet, pieces[fleet], len(vehicles[fleet]), w) for fleet in sorted(pieces))


def _of_fleet(fleet: str, pieces: int, vehicles: int, w: Wording) -> str:
    return w(
        "on_vehicles.where_fleet",
        fleet=fleet,
        pieces=w.count("on_vehicles.where_pieces", pieces),
        vehicles=w.count("on_vehicles.where_vehicles", vehicles),
    )

