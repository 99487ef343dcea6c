"""The ways in for those who cannot name the part: by vehicle and place, and by stage."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from itertools import islice
from string import ascii_uppercase

from markupsafe import Markup

from generator.pages.around import Around
from generator.pages.cards import Card, card, off_scale
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.carried import vehicles_at
from generator.pages.outline import Target, outline_of, outline_targets
from generator.pages.outputs import Page
from generator.pages.part.story import stage_since
from generator.pages.seen import thumb_of
from generator.pages.true_size import CommonScale
from generator.pages.verdict_lines import vehicle_words
from generator.pages.wording import Wording
from generator.records.fleets import Fleet, Place
from generator.rules.history import Holder, Stage
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Verdict

# The order in which a reader looks for them: what may be fitted, what needs a push, what is over.
STAGES = (
    Stage.APPROVED, Stage.CHANGED, Stage.LAPSED, Stage.TAKEN_OVER, Stage.AUTHORITY_REVIEW, Stage.TECHNICAL_REVIEW,
    Stage.DOCUMENTS, Stage.ACCEPTANCE, Stage.PROTOTYPE, Stage.DESIGN, Stage.UNREAD, Stage.SUPERSEDED, Stage.WITHDRAWN,
)  # fmt: skip


_THUMBS = 4  # on a door


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """A large button that leads on: what it says, how many parts lie behind it and how they look, and where."""

    says: str
    count: str
    page: str
    thumbs: tuple[str, ...] = ()
    """Paths of a few small pictures of what is there."""
    letter: str = ""
    """Of the place on the outline of its fleet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FleetView:
    id: str
    name: str
    vehicles: str
    outline: Markup | None
    """The drawing with its places, as HTML."""
    doors: tuple[Door, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StageRow:
    card: Card
    since: str
    holder: str


def vehicle_pages(around: Around, sheets: tuple[Sheet, ...]) -> tuple[Page, ...]:
    """One page with every fleet and its places, and one for each place with pictures of its parts."""
    w, catalogue = around.w, around.catalogue
    by_place = _by_place(sheets)
    views, pages = [], []
    for fleet in catalogue.fleets.values():
        here = [
            (place, sorted(by_place[fleet.id, place.id], key=_by_size))
            for place in fleet.places
            if by_place[fleet.id, place.id]
        ]
        letters = _letters(fleet, [place for place, _ in here])
        doors = tuple(
            Door(
                says=place.name,
                count=w.count("browse.parts", len(found)),
                page=_place_page(fleet, place),
                thumbs=_thumbs(found, around),
                letter=letters.get(place.id, ""),
            )
            for place, found in sorted(here, key=lambda each: _in_sight(letters.get(each[0].id)))
        )
        outline = outline_targets(fleet, _on_outline(fleet, here, letters, w), outline_of(fleet, catalogue.outlines), w)
        views.append(FleetView(id=fleet.id, name=fleet.name, vehicles=vehicle_words(fleet.vehicles), outline=outline, doors=doors))
        pages += [_page_of_place(fleet, place, found, around) for place, found in here]
    lost = tuple(card(sheet, around.found, w) for sheet in sheets if _is_lost(sheet, around))
    title = w("vehicles.title")
    text = rendered("browse/vehicles.md.j2", w=w, title=front_matter(title), fleets=views, lost=lost, carried=bool(catalogue.production.fitted), recalls=bool(catalogue.production.recalls))
    return (Page(path="vehicles.md", title=title, template=None, text=text), *pages)


def _letters(fleet: Fleet, places: Iterable[Place]) -> dict[str, str]:
    """A letter for each place that is on the outline, from the front end on; after Z come AA, AB…"""
    shown = [place for place in places if place.spot] if fleet.outline else []
    ordered = sorted(shown, key=lambda place: (place.spot.along_m if place.spot else 0.0, place.id))
    alphabet = (*ascii_uppercase, *(a + b for a in ascii_uppercase for b in ascii_uppercase))
    return {place.id: letter for place, letter in zip(ordered, alphabet, strict=False)}


def _in_sight(letter: str | None) -> tuple[bool, int, str]:
    """The order of the letters; what has none keeps its place behind them."""
    return (letter is None, len(letter or ""), letter or "")


def _on_outline(fleet: Fleet, here: Iterable[tuple[Place, list[Sheet]]], letters: Mapping[str, str], w: Wording) -> Iterator[Target]:
    for place, found in here:
        if place.id in letters:
            count = w.count("browse.parts", len(found))
            page = _place_page(fleet, place).replace(".md", ".html")
            yield Target(letter=letters[place.id], place=place, says=f"{letters[place.id]} {place.name}: {count}", count=len(found), href=page)


def _by_place(sheets: Iterable[Sheet]) -> defaultdict[tuple[str, str], list[Sheet]]:
    found: defaultdict[tuple[str, str], list[Sheet]] = defaultdict(list)
    for sheet in sheets:
        for place in sorted({(fit.fleet, fit.place) for fit in sheet.part.fits} if sheet.part else ()):
            found[place].append(sheet)
    return found


def _by_size(sheet: Sheet) -> tuple[float, str]:
    """The largest first: by what a front picture of the part has to show."""
    return (-sheet.pictures.front_mm_per_px if sheet.pictures else 0.0, sheet.number)


def _thumbs(sheets: list[Sheet], around: Around) -> tuple[str, ...]:
    shown = (thumb_of(sheet, around.found.by_folder[sheet.folder.folder]) for sheet in sheets)
    return tuple(islice(filter(None, shown), _THUMBS))


def _is_lost(sheet: Sheet, around: Around) -> bool:
    """Whether the part stands under no place: its record cannot be read, or names none that exists."""
    fits = sheet.part.fits if sheet.part else ()
    return not any(around.catalogue.place(fit.fleet, fit.place) for fit in fits)


def _place_page(fleet: Fleet, place: Place) -> str:
    return f"vehicles/{fleet.id}/at-{place.id}.md"


def _page_of_place(fleet: Fleet, place: Place, sheets: list[Sheet], around: Around) -> Page:
    w = around.w
    title = w("vehicles.place_title", place=place.name, fleet=fleet.id)
    scale = CommonScale.of(sheet.pictures for sheet in sheets if sheet.pictures)
    cards = [card_at(sheet, fleet, place, scale, around) for sheet in sheets]
    text = rendered(
        "browse/place.md.j2",
        w=w,
        title=front_matter(title),
        place=place,
        fleet=fleet,
        cards=cards,
        vehicles=vehicles_at(fleet, place.id, around, _day(sheets)),
        ruler=f"{w.number(scale.ruler_mm)} mm" if scale else None,
    )
    return Page(path=_place_page(fleet, place), title=title, template=None, text=text)


def _day(sheets: Iterable[Sheet]) -> date | None:
    """On which they are judged."""
    return next((judgement.facts.built_on for sheet in sheets for judgement in sheet.judgements), None)


def card_at(sheet: Sheet, fleet: Fleet, place: Place, scale: CommonScale | None, around: Around) -> Card:
    """The card of a part on the page of a place: at the common scale, with the verdict there."""
    w = around.w
    plain = card(sheet, around.found, w)
    there = [
        judgement.verdict
        for ground, judgement in zip(sheet.grounds, sheet.judgements, strict=True)
        if (ground.fleet, ground.place) == (fleet.id, place.id)
    ]
    stem = around.found.by_folder[sheet.folder.folder]
    front = f"assets/pictures/{stem}-front.webp"
    return replace(
        off_scale(plain, w) if scale and not sheet.pictures else plain,
        is_never_fit=all(verdict is Verdict.DO_NOT_FIT for verdict in there),
        fleet=fleet.id,
        place=place.name,
        true_size=scale.placed(sheet.pictures, front, w) if scale and sheet.pictures else None,
    )


def state_pages(around: Around, sheets: tuple[Sheet, ...]) -> tuple[Page, ...]:
    """One page with every stage and how many parts stand there, and one for each stage."""
    w = around.w
    by_stage: defaultdict[Stage, list[Sheet]] = defaultdict(list)
    for sheet in sheets:
        by_stage[sheet.stage].append(sheet)
    stages = [stage for stage in STAGES if by_stage[stage]]
    title = w("states.title")
    text = rendered("browse/states.md.j2", w=w, title=front_matter(title), doors=stage_doors(around, by_stage))
    pages = [_page_of_stage(stage, by_stage[stage], around) for stage in stages]
    return (Page(path="states.md", title=title, template=None, text=text), *pages)


def stage_doors(around: Around, by_stage: dict[Stage, list[Sheet]]) -> tuple[Door, ...]:
    w = around.w
    return tuple(
        Door(
            says=w.term("stage", stage),
            count=w.count("browse.parts", len(by_stage[stage])),
            page=_stage_page(stage),
        )
        for stage in STAGES
        if by_stage.get(stage)
    )


def _stage_page(stage: Stage) -> str:
    return f"states/{stage.value.replace(' ', '-')}.md"


def _page_of_stage(stage: Stage, sheets: list[Sheet], around: Around) -> Page:
    w = around.w
    title = w("states.stage_title", stage=w.term("stage", stage))
    rows = [
        StageRow(
            card=card(sheet, around.found, w),
            since=stage_since(sheet, w) or w("missing"),
            holder=w.term("holder", sheet.history.holder),
        )
        for sheet in sorted(sheets, key=lambda each: (each.history.since is None, each.history.since, each.number))
    ]
    text = rendered(
        "browse/stage.md.j2",
        w=w,
        title=front_matter(title),
        title_text=title,
        rows=rows,
        has_holder=any(sheet.history.holder is not Holder.NOBODY for sheet in sheets),
    )
    return Page(path=_stage_page(stage), title=title, template=None, text=text)
