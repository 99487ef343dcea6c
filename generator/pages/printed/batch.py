"""The page of a batch: what was printed against what is approved, from which lots, what was measured, where its pieces are."""

from collections.abc import Iterator
from datetime import date

from generator.pages.around import Around
from generator.pages.holding.lines import batch_words, beside_words, counts_words, said_words
from generator.pages.inspection_form.form import form_of, waits
from generator.pages.on_vehicles.alike import doubt_words
from generator.pages.on_vehicles.carried import page_of_vehicle
from generator.pages.on_vehicles.contradicting import contradiction_words
from generator.pages.on_vehicles.off_words import between_words, counted_words, fate_words
from generator.pages.on_vehicles.recalled import recall_page
from generator.pages.outputs import Page
from generator.pages.part.story import role_name
from generator.pages.printed.machine_lines import held_section
from generator.pages.printed.views import (
    Cell,
    PrintedSection,
    batch_page,
    events,
    head,
    known_values,
    link,
    lot_page,
    machine_page,
    opened,
    page,
)
from generator.pages.problems.said import said
from generator.pages.wording import Wording
from generator.records.batches import Batch, Measured, MeasuredCheck
from generator.records.inspection import InspectionDocument
from generator.records.lots import Lot, LotDocument
from generator.rules.canonical import from_record
from generator.rules.production.checked import count_of, limits_of
from generator.rules.production.doubts import counts, machine_on, would_count
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.ledger import ledger
from generator.rules.production.naming import naming
from generator.rules.production.printed import differences
from generator.rules.production.releasing import BatchStanding, standing
from generator.rules.production.states import Stopped, stops_of
from generator.rules.production.taken_off import fates_of
from generator.rules.production.tracing import of_batch


def page_of_batch(name: str, batch: Batch, around: Around, day: date) -> Page:
    """As it stands on `day`."""
    w, catalogue = around.w, around.catalogue
    word = standing(name, batch, catalogue, day)
    machine = machine_on(batch, catalogue)
    is_measured_here = waits(batch, word, around)
    forms = (form_of(name, batch, around),) if is_measured_here else ()
    sections = (
        _verdict(name, batch, word, around, day),
        known_values(_facts(name, batch, around), w),
        PrintedSection(heading=w("inspection_form.title"), drawings=forms),
        _printed(batch, around),
        _lots(batch, around),
        held_section(machine, w, w("printed.machine_then")),
        _measured(batch, around),
        events(batch.events, "batch_event", w, around.catalogue),
        _whereabouts(name, around),
        _holding(name, batch, around),
    )
    frame, gaps = "inspection.html" if is_measured_here else None, gaps_of(catalogue.production, parts={batch.part})
    return page(batch_page(name), w("printed.batch", name=name), sections, around, template=frame, gaps=gaps)


def state_words(word: BatchStanding, around: Around) -> str:
    w = around.w
    state = w.term("piece_released", word.word)
    return f"{state[:1].upper()}{state[1:]}" if word.event is None else w("printed.state", state=state, on=w.day(word.event.on), by=role_name(word.event.by, around.catalogue))


def stands(name: str, batch: Batch, around: Around, day: date, *, above: str = "../") -> Cell:
    """In a list: what stops it before all else, for a released batch that is called back is not to be fitted.

    above: how the page with the list leads to the uppermost folder.
    """
    w = around.w
    stops = stops_of(name, batch, around.catalogue.production, day)
    word = state_words(standing(name, batch, around.catalogue, day), around)
    if not stops:
        return Cell(word)
    first = stops[0]
    recalls = around.catalogue.production.recalls
    page = above + recall_page(first.recall, recalls).replace(".md", ".html") if first.recall else None
    return Cell(stopped_words(first, w), page, more=(word,), is_strong=True)


def stopped_words(stopped: Stopped, w: Wording) -> str:
    """That a batch is called back, or a lot of it blocked, and since when."""
    if stopped.recall:
        return w("printed.called_back", on=w.day(stopped.on), recall=stopped.recall)
    return w("printed.lot_blocked", on=w.day(stopped.on), lot=stopped.lot)


def _verdict(name: str, batch: Batch, word: BatchStanding, around: Around, day: date) -> PrintedSection:
    w, catalogue = around.w, around.catalogue
    against = [said(each, w) for each in word.objections]
    found = stops_of(name, batch, catalogue.production, day)
    stops = [w("printed.stopped", on=w.day(each.on), why=each.why, recall=each.recall, lot=each.lot) for each in found]
    asked = [w("printed.ask", about=each) for each in doubt_words(name, batch, catalogue, w)]
    state = state_words(word, around)
    lead, below = (stopped_words(found[0], w), (state,)) if found else (state, ())
    return PrintedSection(lead=lead, lines=(*below, *(f"{each.says}; {each.fix}" for each in against), *stops, *asked))


def _facts(name: str, batch: Batch, around: Around) -> Iterator[tuple[str, str | Cell | None]]:
    w = around.w
    part = around.found.page(batch.part)
    yield "part", Cell(f"{batch.part} {batch.revision}", link(part) if part else None)
    yield "label", f"{name} · {batch.part} · {batch.revision}"
    yield "count", w.number(batch.count)
    known = batch.machine in around.catalogue.production.machines
    yield "machine", Cell(batch.machine, link(machine_page(batch.machine)) if known else None)
    yield "printed_by", role_name(batch.printed_by, around.catalogue)
    yield "started", w("printed.moment", day=w.day(batch.started.date()), time=f"{batch.started:%H:%M}")
    yield "ended", w("printed.moment", day=w.day(batch.ended.date()), time=f"{batch.ended:%H:%M}")
    yield "grams", w("printed.grams", grams=w.measure(batch.grams)) if batch.grams else None
    yield "settings_file", Cell("", files=(opened("batches", batch.settings_file.file, around.catalogue),)) if batch.settings_file else None
    yield "up", batch.up.value if batch.up else None
    yield "note", batch.note


def _printed(batch: Batch, around: Around) -> PrintedSection:
    """Where it differs from the newest approval, line by line."""
    w, folder = around.w, around.catalogue.folder(batch.part)
    texts = [text for each in (folder.approval.events if folder and folder.approval else ()) if (text := getattr(each, "approved_as", None))]
    if not texts:
        return PrintedSection(heading=w("printed.against"), lines=(w("printed.no_approval"),))
    found = differences(from_record(batch.printed_as), from_record(texts[-1]))
    rows = tuple((Cell(each.what), Cell(each.approved or "–"), Cell(each.now or "–", more=(w.term("means", each.means),))) for each in found)
    lines = () if rows else (w("printed.as_approved"),)
    return PrintedSection(heading=w("printed.against"), lines=lines, head=head(w, "line", "approved", "as_printed"), rows=rows)


def _lots(batch: Batch, around: Around) -> PrintedSection:
    w, catalogue = around.w, around.catalogue
    folder = catalogue.folder(batch.part)
    least = catalogue.inspection_of(folder.approval.route).least if folder and folder.approval else InspectionDocument.CERTIFICATE_3_2
    rows = []
    for name in batch.lots:
        lot = catalogue.production.lots.get(name)
        if lot is None:
            rows.append((Cell(name), Cell(w.term("piece_asked", "lot unknown")), Cell("–")))
            continue
        files = tuple(opened("materials/lots", each.file, catalogue) for each in lot.inspection_documents)
        papers = tuple(
            w("printed.paper", type=each.type, reference=each.reference, counts=_counts(each, lot, least, around))
            for each in lot.inspection_documents
        )
        rows.append((Cell(name, link(lot_page(name))), Cell(lot.material, more=(lot.supplier_lot,)), Cell(w("printed.asked_type", least=least), more=papers or (w("printed.no_paper"),), files=files)))
    return PrintedSection(heading=w("printed.lots"), head=head(w, "lot", "material", "papers"), rows=tuple(rows))


def _counts(paper: LotDocument, lot: Lot, least: InspectionDocument, around: Around) -> str:
    w, catalogue = around.w, around.catalogue
    if counts(paper, lot, least, catalogue):
        return w("printed.counts.yes")
    if would_count(paper, lot, least, catalogue):
        return w(f"printed.counts.{naming(paper, lot, catalogue.production)}")
    return w("printed.counts.no")


def _measured(batch: Batch, around: Around) -> PrintedSection:
    w, rows = around.w, list[tuple[Cell, ...]]()
    for event in batch.events:
        for each in event.checks if isinstance(event, Measured) else ():
            calibrated = w("printed.calibrated", until=w.day(each.calibrated_until))
            rows.append((Cell(each.check, more=(w.day(event.on), role_name(event.by, around.catalogue))), *_figures(each, batch, w), Cell(each.gauge, more=(calibrated,))))
    return PrintedSection(heading=w("printed.measured"), head=head(w, "check", "limits", "found", "gauge"), rows=tuple(rows))


def _figures(each: MeasuredCheck, batch: Batch, w: Wording) -> tuple[Cell, Cell]:
    limited = limits_of(batch.printed_as).get(each.check)
    limits = Cell(w("printed.between", least=w.measure(float(limited.least), 3), most=w.measure(float(limited.most), 3)) if limited else "–")
    if not each.values_mm:
        return limits, Cell(w("printed.gauged", passed=str(each.passed or 0), failed=str(each.failed or 0)))
    values = w("list_separator").join(w.measure(value, 3) for value in each.values_mm)
    margins = [limited.margin(value) for value in each.values_mm] if limited else []
    out = sum(margin < 0 for margin in margins)
    more = [w.count("printed.values", count_of(each))]
    more += [w("printed.out", n=str(out))] if out else [w("printed.margin", margin=w.measure(min(margins), 3))] if margins else []
    return limits, Cell(values, more=tuple(more))


def _whereabouts(name: str, around: Around) -> PrintedSection:
    w, catalogue = around.w, around.catalogue
    balance = ledger(catalogue.production).balances[name]
    keys = ("printed", "scrapped", "shelf", "out", "on_vehicles", "removed")
    traced = of_batch(catalogue.production, name)
    told, off = (between_words(name, balance, w), counted_words(name, balance, w)), fates_of(traced).get(name, ())
    lines = (
        w("printed.balance", **{key: w.number(getattr(balance, key)) for key in keys}),
        *([w.count("contradicts.less", -balance.left)] if balance.left < 0 else ()),
        *filter(None, told),
        *([fate_words(name, off, w)] if off else ()),
    )
    rows = []
    for each in traced.carried:
        spot, fleet = each.spot, catalogue.fleets.get(each.spot.fleet)
        told_there = (*filter(None, (spot.position, contradiction_words(around.contradictions.of(each), w))),)
        own = page_of_vehicle(fleet, spot.vehicle) if fleet else None
        vehicle = Cell(f"{fleet.name if fleet else spot.fleet} {spot.vehicle}", link(own) if own else None)
        rows.append((vehicle, Cell(catalogue.place_name(spot.fleet, spot.place), more=told_there), Cell(w.number(each.count))))
    return PrintedSection(heading=w("printed.where"), lines=lines, head=head(w, "vehicle", "place", "pieces"), rows=tuple(rows))


def _holding(name: str, batch: Batch, around: Around) -> PrintedSection:
    """How its fitted pieces hold, alone and beside the rest of their revision; nothing where none was fitted."""
    w, holds = around.w, around.holds.get(batch.part)
    revisions = holds.part.revisions if holds and holds.part else ()
    found = next(((revision, each) for revision in revisions for each in revision.batches if each.name == name), None)
    if found is None:
        return PrintedSection()
    revision, own = found
    beside = own.beside_rest
    told = batch_words(own, revision.revision, beside, w) if own.stands_out and beside else f"{w('holds.beside')}: {beside_words(own, w)}"
    lines = (counts_words(own.figures, w), said_words(own.figures, w), told, w("holds.small"))
    return PrintedSection(heading=w("holds.title"), lines=lines)
