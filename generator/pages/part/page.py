"""A judged part → its page: picture and verdicts first, then everything that is known about it."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from markupsafe import Markup

from generator.pages.addresses import anchor
from generator.pages.around import Around
from generator.pages.cards import Card, card, size_of
from generator.pages.drawing.page import DrawingView, drawing_view
from generator.pages.evidence import open_files
from generator.pages.fire.section import FireView, fire_view
from generator.pages.holding.section import holds_view
from generator.pages.lately.page import lately_of_part
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.carried import where_it_sits
from generator.pages.outline import outline_marked, outline_of
from generator.pages.outputs import Page
from generator.pages.part.asks import SiteAsks, asks
from generator.pages.part.figures import Figures, figures
from generator.pages.part.getting import Getting, getting
from generator.pages.part.notes import cleaned
from generator.pages.part.printing import printing_rows, reckoned
from generator.pages.part.replaces import Replaces, replaces
from generator.pages.part.screening import ScreeningView, screening_view
from generator.pages.part.shelf import LaterCount, Shelf, shelf, shelf_label
from generator.pages.part.story import (
    ChangeLine,
    EventLine,
    FileLine,
    changes,
    documents,
    events,
    file_links,
    photos,
    stage_since,
    superseding,
)
from generator.pages.part.turnable import ModelView, model_view
from generator.pages.printed.batch import stopped_words
from generator.pages.problems.said import Said, said
from generator.pages.seen import instead_of_model
from generator.pages.verdict_lines import VerdictLines, verdict_lines
from generator.pages.wording import Wording
from generator.planning.offers import offers_for
from generator.planning.printing import printing_of
from generator.planning.saving.ahead import ahead
from generator.planning.stock.known import went_since
from generator.records.parts import Part
from generator.records.problems import Problem, Severity
from generator.rules.grounds import Ground
from generator.rules.history import Stage
from generator.rules.production.counted_twice import whole_count
from generator.rules.production.states import stops_of
from generator.rules.production.stock import BatchStock, stock_of
from generator.rules.sheet import Sheet
from generator.rules.unlike import unlike_batches
from generator.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class NotesView:
    """The fitting notes as cleaned HTML; an empty text is missing."""

    cautions: Markup
    tools: Markup
    steps: Markup
    check: Markup
    more: Markup
    photos: tuple[tuple[str, str], ...]
    """Those that the text does not show itself."""
    is_accepted: bool
    """Whether whoever approved the part has seen them as they stand here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sits:
    """Where the part sits on a fleet: the places in words, and the fleet from its side with them marked."""

    where: str
    drawing: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class PartView:
    """Everything on the page of a part whose record can be read."""

    record: Part
    replaces: Replaces
    size: str
    has_silhouettes: bool
    sits: tuple[Sits, ...]
    hands: tuple[Card, ...]
    """This part and its mirror image, the left one on the left; none where it has no other hand."""
    look_alikes: tuple[Card, ...]
    similar: tuple[Card, ...]
    """Near in shape, as computed, and not named by the record itself."""
    shelf: Shelf
    getting: Getting
    notes: NotesView | None
    figures: Figures
    printing: tuple[tuple[str, str], ...]
    reckoned: str
    drawing: DrawingView | None
    asks: tuple[SiteAsks, ...]
    fire: FireView
    changes: tuple[ChangeLine, ...]
    screening: ScreeningView | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The first screen, also of a part whose record cannot be read."""

    number: str
    name: str
    revision: str | None
    stage: str
    """Empty where it is approved: only the verdict, judged anew each day, says whether that still holds."""
    stem: str
    has_pictures: bool
    model: ModelView | None
    """To turn and measure."""
    front_mm_per_px: str
    """Of its front picture; empty where there is none."""
    instead: str | None
    """The picture that stands in their place where there is no model, as seen from the part's page."""
    no_model: str
    """Why there is none; empty where there is one, or should be."""
    verdicts: tuple[VerdictLines, ...]
    may_be_ordered: bool
    """False where no newly made part was to be fitted anywhere; stock of an earlier revision does not count."""
    superseded_by: tuple[str, str | None] | None
    errors: tuple[Said, ...]
    warnings: tuple[Said, ...]


def part_page(sheet: Sheet, around: Around) -> Page:
    """The page of one part, also of one whose record cannot be read."""
    stem = around.found.by_folder[sheet.folder.folder]
    head = _head(sheet, stem, around)
    title = f"{sheet.number} {head.name}"
    text = rendered(
        "part/part.md.j2",
        w=around.w,
        title=front_matter(title),
        anchor=anchor,
        jumps=_jumps(around.w),
        head=head,
        view=_view(sheet, sheet.part, stem, around) if sheet.part else None,
        carried=where_it_sits(sheet.number, around),
        holds=holds_view(around.holds.get(sheet.number), around.w, _stopped(sheet, around)),
        lately=lately_of_part(sheet.number, around),
        events=_events(sheet, stem, around),
        documents=_documents(sheet, stem, around),
        contact=around.catalogue.depot.contact if around.catalogue.depot else "",
        currency=around.catalogue.depot.currency if around.catalogue.depot else "",
    )
    return Page(path=f"parts/{stem}.md", title=title, template="part.html", text=text)


def _jumps(w: Wording) -> list[str]:
    """The headings that the first screen leads to."""
    return [w(f"{section}.heading") for section in ("identify", "getting", "fitting", "figures")]


def _events(sheet: Sheet, stem: str, around: Around) -> tuple[EventLine, ...]:
    return events(sheet.folder, around.catalogue, stem, around.w)


def _documents(sheet: Sheet, stem: str, around: Around) -> tuple[FileLine, ...]:
    return documents(sheet.folder, stem, around.w)


def _sits(part: Part, around: Around) -> Iterator[Sits]:
    """Of each fleet whose outline tells it, in the order of the fleets."""
    for fleet in around.catalogue.fleets.values():
        here = {fit.place for fit in part.fits if fit.fleet == fleet.id}
        places = [place for place in fleet.places if place.id in here]
        drawing = outline_marked(fleet, places, outline_of(fleet, around.catalogue.outlines), around.w, "../")
        if drawing:
            yield Sits(where=around.w("identify.sits_at", fleet=fleet.id, places=tuple(place.name for place in places if place.spot)), drawing=drawing)


def _head(sheet: Sheet, stem: str, around: Around) -> Head:
    w, part, problems = around.w, sheet.part, sheet.problems
    stage, since = w.term("stage", sheet.stage), stage_since(sheet, w)
    holder = sheet.history.holder.value
    return Head(
        number=sheet.number,
        name=part.name if part else w("broken.no_name"),
        revision=part.revision if part else None,
        stage=""
        if sheet.stage is Stage.APPROVED
        else w(
            "part.stage",
            stage=stage,
            since=since,
            holder=None if holder == "nobody" else w.term("holder", holder),
        ),
        stem=stem,
        has_pictures=sheet.pictures is not None,
        model=model_view(sheet, stem),
        front_mm_per_px=f"{sheet.pictures.front_mm_per_px:.6g}" if sheet.pictures else "",
        instead=instead_of_model(sheet, stem),
        no_model=w(f"part.no_model.{part.no_model.because}") if part and part.no_model else "",
        verdicts=_verdicts(sheet, stem, around),
        may_be_ordered=_may_be_ordered(sheet),
        superseded_by=superseding(sheet, around.found),
        errors=_told(problems, Severity.ERROR, w),
        warnings=_told(problems, Severity.WARNING, w),
    )


def _told(problems: tuple[Problem, ...], severity: Severity, w: Wording) -> tuple[Said, ...]:
    return tuple(said(each, w) for each in problems if each.severity is severity)


def _may_be_ordered(sheet: Sheet) -> bool:
    judged = zip(sheet.grounds, sheet.judgements, strict=True)
    return any(each.verdict is not Verdict.DO_NOT_FIT for ground, each in judged if not ground.label_revision)


def _verdicts(sheet: Sheet, stem: str, around: Around) -> tuple[VerdictLines, ...]:
    w = around.w
    if not sheet.grounds:
        key = Verdict.DO_NOT_FIT.key
        fixed = VerdictLines(
            ground=None,
            fleet=w("static.everywhere"),
            vehicles="",
            place="",
            label_revision=None,
            label_note="",
            key=key,
            word=w(f"verdict.{key}"),
            reason=w("steps.record.unknown"),
        )
        return (fixed,)
    judged = zip(sheet.grounds, sheet.judgements, strict=True)
    every = (facts for ground in sheet.grounds for facts in ground.permits)
    files = open_files(every, sheet.folder, stem, around.catalogue, w)
    lines = [
        verdict_lines(index, ground, judgement, around.catalogue, w, files=files)
        for index, (ground, judgement) in enumerate(judged)
    ]
    if sheet.part:
        own = w("part.own_label", revision=sheet.part.revision)
        lines = [line if line.label_revision else replace(line, label_note=own) for line in lines]
        lines = [replace(line, question=_question(line, sheet.part, w)) for line in lines]
    lies = shelf_label(sheet.part) if sheet.part and sheet.part.stock and sheet.part.stock.on_shelf else None
    return tuple(sorted(lines, key=lambda line: lies is not None and line.label_revision != lies))


def _question(line: VerdictLines, part: Part, w: Wording) -> str:
    return w(
        "part.question",
        number=part.number,
        name=part.name,
        revision=line.label_revision or part.revision,
        fleet=line.fleet,
        vehicles=line.vehicles or None,
        place=line.place,
    )


def _stopped(sheet: Sheet, around: Around) -> dict[str, str]:
    """What is said of its batches that are not to be fitted, by their numbers."""
    day = next((judgement.facts.built_on for judgement in sheet.judgements), None)
    production = around.catalogue.production
    stops = {name: stops_of(name, each, production, day) for name, each in production.of_part(sheet.number).items()} if day else {}
    return {name: stopped_words(found[0], around.w) for name, found in stops.items() if found}


def _view(sheet: Sheet, part: Part, stem: str, around: Around) -> PartView:
    catalogue, w = around.catalogue, around.w
    listed, demand = offers_for(sheet, catalogue), around.demands.get(sheet.number)
    printed = printing_of(sheet, catalogue, around.print_models)
    return PartView(
        record=part,
        replaces=replaces(ahead(sheet, catalogue, demand, around.fitted.get(sheet.number)), part, around.depot, w),
        size=size_of(sheet, w),
        has_silhouettes=sheet.views is not None,
        sits=tuple(_sits(part, around)),
        hands=_hands(sheet, part, around),
        look_alikes=tuple(each for number in part.look_alikes if (each := _card(number, around))),
        similar=tuple(_similar(sheet, part, around)),
        shelf=shelf(sheet, part, around.beside(part), _stocks(sheet, part, around), w, whole=_later_count(sheet, part, around)),
        getting=getting(sheet, part, listed, around),
        notes=_notes(sheet, stem),
        figures=figures(sheet, part, around),
        printing=printing_rows(printed, w) if printed else (),
        reckoned=reckoned(around.print_models, printed, w) if printed else "",
        drawing=drawing_view(sheet, stem),
        asks=asks(sheet, part, stem, catalogue, w),
        fire=fire_view(sheet, stem, around),
        changes=changes(sheet, w),
        screening=screening_view(sheet, around),
    )


def _stocks(sheet: Sheet, part: Part, around: Around) -> tuple[BatchStock, ...]:
    day = next((judgement.facts.built_on for judgement in sheet.judgements), None)
    return stock_of(part.number, around.catalogue, day, unlike_batches(sheet)) if day else ()


def _later_count(sheet: Sheet, part: Part, around: Around) -> LaterCount | None:
    day = next((judgement.facts.built_on for judgement in sheet.judgements), None)
    count = whole_count(part, around.catalogue, day) if day else None
    return LaterCount(count, went_since(part.number, around.catalogue, count.on, day, count.batches)) if count and day else None


def _card(number: str | None, around: Around) -> Card | None:
    other = around.sheets.get(number) if number else None
    return card(other, around.found, around.w) if other else None


def _similar(sheet: Sheet, part: Part, around: Around) -> Iterator[Card]:
    said_already, w = {*part.look_alikes, part.other_hand}, around.w
    for each in sheet.alike:
        other = around.sheets.get(each.number)
        if other and each.number not in said_already:
            kind = w(f"related.similar_kind.{each.kind.value}", ratio=w.measure(each.ratio))
            yield card(other, around.found, w, ", ".join(filter(None, (kind, size_of(other, w)))))


def _hands(sheet: Sheet, part: Part, around: Around) -> tuple[Card, ...]:
    other = around.sheets.get(part.other_hand) if part.other_hand else None
    if other is None:
        return ()
    w = around.w
    this = card(sheet, around.found, w, w("related.this_one"))
    both = (this, card(other, around.found, w))
    return both if _side(sheet, w) <= _side(other, w) else both[::-1]


def _side(sheet: Sheet, w: Wording) -> int:
    """-1 for a left hand, 1 for a right one, 0 where its name does not say."""
    words = set(re.findall(r"\w+", sheet.name.casefold()))
    is_left, is_right = (bool(words & set(w(f"related.{side}").split())) for side in ("left", "right"))
    return is_right - is_left


def _notes(sheet: Sheet, stem: str) -> NotesView | None:
    notes = sheet.folder.fitting
    if notes is None:
        return None
    links = file_links(sheet.folder, stem)
    texts = (notes.cautions, notes.tools, notes.steps, notes.check_after_fitting, notes.more)
    cautions, tools, steps, check, more = (cleaned(text, links) if text else Markup() for text in texts)
    shown = f"{cautions}{tools}{steps}{check}{more}"
    return NotesView(
        cautions=cautions,
        tools=tools,
        steps=steps,
        check=check,
        more=more,
        photos=tuple(each for each in photos(sheet.folder, stem) if f'src="{each[0]}"' not in shown),
        is_accepted=not any(_are_other_notes(ground) for ground in sheet.grounds if not ground.label_revision),
    )


def _are_other_notes(ground: Ground) -> bool:
    return any(line.startswith("fitting ") for facts in ground.permits for line in facts.asked_about)
