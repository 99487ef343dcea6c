"""What was printed: the list of batches, lots and machines, and a page for each."""

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from generator.pages.around import Around
from generator.pages.on_vehicles.alike import alike_words, beside_words
from generator.pages.on_vehicles.recalled import recall_page
from generator.pages.outputs import Page
from generator.pages.part.story import role_name
from generator.pages.printed.batch import page_of_batch, stands
from generator.pages.printed.machine_lines import charts_section, held_section, outside, standing_words
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
from generator.records.batches import BATCH_NAME, Batch
from generator.records.lots import Lot, LotDocument
from generator.records.machines import Machine, Qualification
from generator.records.materials import Required
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.ledger import ledger
from generator.rules.production.naming import comparison_of, naming
from generator.rules.production.qualifying import by_qualification, qualified
from generator.rules.production.states import lot_word, stops_of_lot

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,39}")


def printed_pages(around: Around, day: date) -> Iterator[Page]:
    """The list, and a page for each whose name can be one; a depot that keeps none of it has the list alone."""
    production = around.catalogue.production
    yield _list(around, day)
    for name, batch in production.batches.items():
        if re.fullmatch(BATCH_NAME, name):
            yield page_of_batch(name, batch, around, day)
    for name in _once(production.lots):
        yield _lot(name, production.lots[name], around, day)
    for name in _once(production.machines):
        yield _machine(name, production.machines[name], around, day)


def _once(names: Iterable[str]) -> list[str]:
    """Names of which no two are one where capital letters make no difference."""
    return list({name.casefold(): name for name in sorted(names, reverse=True) if _ID.fullmatch(name)}.values())


def _list(around: Around, day: date) -> Page:
    w, catalogue = around.w, around.catalogue
    production, balances = catalogue.production, ledger(catalogue.production).balances
    lot_pages, machine_pages = _once(production.lots), _once(production.machines)
    newest = sorted(production.batches.items(), key=lambda pair: (pair[1].started, pair[0]), reverse=True)
    batches = tuple(
        (
            Cell(name, _here(batch_page(name), re.fullmatch(BATCH_NAME, name) is not None), is_strong=True),
            Cell(f"{each.part} {each.revision}", more=(w.day(each.started.date()), each.machine)),
            stands(name, each, around, day, above=""),
            Cell(w("printed.left_of", left=w.number(balances[name].left), printed=w.number(each.count))),
        )
        for name, each in newest
    )
    lots = tuple(
        (Cell(name, _here(lot_page(name), name in lot_pages)), Cell(each.material, more=(each.supplier_lot,)), lot_state(name, each, around, day, above=""))
        for name, each in sorted(production.lots.items())
    )
    machines = tuple(
        (Cell(name, _here(machine_page(name), name in machine_pages), more=(each.name,)), Cell(each.maker), Cell("", more=tuple(_stands(each, around, day))))
        for name, each in sorted(production.machines.items())
    )
    nothing = () if batches or lots or machines else (w("printed.nothing"),)
    sections = (
        PrintedSection(lines=nothing),
        PrintedSection(heading=w("printed.batches"), head=head(w, "batch", "part", "state", "left"), rows=batches),
        PrintedSection(heading=w("printed.lots"), head=head(w, "lot", "material", "state"), rows=lots),
        PrintedSection(heading=w("printed.machines"), head=head(w, "machine", "maker", "state"), rows=machines),
    )
    return page("printed.md", w("printed.title"), sections, around, says=w("printed.says", day=w.day(day)), gaps=gaps_of(production))


def _here(path: str, there_is: bool) -> str | None:  # noqa: FBT001  of one list alone
    return f"{path.removesuffix('.md')}.html" if there_is else None


def lot_state(name: str, lot: Lot, around: Around, day: date, *, above: str = "../") -> Cell:
    """That it is called back, with the way to the recall; that it is blocked; or whether anything is left of it."""
    w, recalls = around.w, around.catalogue.production.recalls
    stops = stops_of_lot(name, around.catalogue.production, day)
    if stops and (recall := stops[0].recall):
        page = above + recall_page(recall, recalls).replace(".md", ".html")
        return Cell(w("printed.lot_called_back", on=w.day(stops[0].on), recall=recall), page, is_strong=True)
    if stops:
        return Cell(w("printed.blocked", on=w.day(stops[0].on), why=stops[0].why))
    return Cell(w.term("lot_state", lot_word(name, lot, around.catalogue.production, day)))


def _stands(machine: Machine, around: Around, day: date) -> Iterator[str]:
    for material in dict.fromkeys(each.material for each in machine.qualifications):
        found = qualified(machine, material, _required(material, around), day)
        yield f"{_material(material, around)}: {standing_words(found, around.w)}"


def _required(material: str, around: Around) -> tuple[Required, ...]:
    known = around.catalogue.materials.get(material)
    return known.required if known else ()


def _material(name: str, around: Around) -> str:
    known = around.catalogue.materials.get(name)
    return known.name if known else name


def _lot(name: str, lot: Lot, around: Around, day: date) -> Page:
    w, production = around.w, around.catalogue.production
    papers = tuple(
        (Cell(each.type, more=(each.reference,)), Cell(each.lot, more=(_says_whose(each, lot, around),)), Cell(w.day(each.issued_on), more=(each.issued_by,) if each.issued_by else ()), Cell("", files=(opened("materials/lots", each.file, around.catalogue),)))
        for each in lot.inspection_documents
    )
    printed = {number: each for number, each in sorted(production.batches.items()) if name in each.lots}
    material = around.found.material(lot.material)
    facts: tuple[tuple[str, str | Cell | None], ...] = (
        *(("recall", Cell(each.recall, link(recall_page(each.recall, production.recalls)))) for each in stops_of_lot(name, production, day) if each.recall),
        ("material", Cell(_material(lot.material, around), link(material) if material else None)),
        ("supplier_lot", lot.supplier_lot),
        ("supplier", lot.supplier),
        ("use_by", w.day(lot.use_by) if lot.use_by else None),
    )
    sections = (
        PrintedSection(lead=lot_state(name, lot, around, day).text, lines=(*_stopped_lines(name, around, day), *alike_words([name], production, w), *beside_words(name, production, w))),
        known_values(facts, w),
        PrintedSection(heading=w("printed.papers"), lines=() if papers else (w("printed.no_paper"),), head=head(w, "type", "of_lot", "issued", "file"), rows=papers),
        events(lot.events, "lot_event", w, around.catalogue),
        _batches(printed, around, day),
    )
    return page(lot_page(name), w("printed.lot", name=name), sections, around, gaps=gaps_of(production))


def _stopped_lines(name: str, around: Around, day: date) -> Iterator[str]:
    """Why it is called back; a block that stands besides stands among its events."""
    w = around.w
    for each in stops_of_lot(name, around.catalogue.production, day):
        if each.recall:
            yield w("printed.stopped", on=w.day(each.on), why=each.why, recall=each.recall)


def _says_whose(paper: LotDocument, lot: Lot, around: Around) -> str:
    """Who or what says that a document names the lot that the record says it names."""
    w, by = around.w, comparison_of(paper, lot)
    if by:
        return w("printed.naming.compared", on=w.day(by.on), by=role_name(by.by, around.catalogue))
    return w(f"printed.naming.{naming(paper, lot, around.catalogue.production)}")


def _batches(printed: Mapping[str, Batch], around: Around, day: date) -> PrintedSection:
    w = around.w
    rows = []
    for name, each in printed.items():
        href = link(batch_page(name)) if re.fullmatch(BATCH_NAME, name) else None
        rows.append((Cell(name, href), Cell(f"{each.part} {each.revision}", more=(w.day(each.started.date()),)), stands(name, each, around, day)))
    return PrintedSection(heading=w("printed.batches"), head=head(w, "batch", "part", "state"), rows=tuple(rows))


def _replaced(each: Qualification, machine: Machine, around: Around, day: date) -> Iterator[str]:
    """Since when a later one counts in its place."""
    later = [other.qualified_on for other in machine.qualifications if other.material == each.material and each.qualified_on < other.qualified_on <= day]
    if later:
        yield around.w("printed.replaced", on=around.w.day(min(later)))


def _files_of(each: Qualification, around: Around) -> PrintedSection:
    """Its settings file and the records of its coupons, each once."""
    named = dict.fromkeys((*((each.settings.file,) if each.settings else ()), *(one.file for one in each.coupons if one.file)))
    files = tuple(opened("machines", file, around.catalogue) for file in named)
    return known_values((("machine_files", Cell("", files=files) if files else None),), around.w)


def _machine(name: str, machine: Machine, around: Around, day: date) -> Page:
    w = around.w
    sections: list[PrintedSection] = [known_values((("name", machine.name), ("maker", machine.maker)), w)]
    for each in machine.qualifications:
        found = by_qualification(each, _required(each.material, around), day)
        sections.append(held_section(found, w, w("printed.qualified_for", material=_material(each.material, around))))
        sections.append(_files_of(each, around))
        sections.append(PrintedSection(lines=(*_replaced(each, machine, around, day), *outside(found, w))))
        sections.append(charts_section(found, w, w("printed.charts", material=_material(each.material, around))))
    printed = {number: each for number, each in sorted(around.catalogue.production.batches.items()) if each.machine == name}
    return page(machine_page(name), w("printed.machine", name=name), [*sections, _batches(printed, around, day)], around, gaps=gaps_of(around.catalogue.production))
