"""`spares batch sheet`: the inspection sheet of a batch as a PDF, to be filled in by hand where there is no tablet."""

import argparse

from generator.edge.commands import options as asking
from generator.edge.commands.lettered import tell_lacking
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.paper_files import may_be_written, write_paper
from generator.edge.disk.print_records import depot_now, named
from generator.edge.refusals import Ending
from generator.pages.addresses import addresses, page_on_site
from generator.pages.wording import Wording, wording
from generator.papers.coded import label_text
from generator.papers.inspection import inspection_sheet
from generator.papers.kinds import BlankInspectionSheet, InspectionCheck, SampleRule
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.rules.production.checked import Limited, found, in_order, wanted_of
from generator.rules.production.doubts import material_of
from generator.rules.production.releasing import is_of_safety


def sheet(options: argparse.Namespace) -> int:
    """Writes it, with a column for each piece that is to be measured. Raises Refusal."""
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    may_be_written(options.to, root)
    depot = depot_now(root, asking.today())
    catalogue, name = depot.catalogue, named("batch", options.batch, depot)
    asking.tell_meant(terminal, options.batch, name)
    w = wording(catalogue.language)
    made = sheet_of(name, catalogue.production.batches[name], options.pieces, catalogue, w)
    write_paper(options.to, inspection_sheet(made, w), force=options.force)
    tell_lacking(terminal, made)
    terminal.say(w("commands.printed.sheet_written", file=str(options.to), batch=name, pieces=w.number(len(made.pieces))), "bold")
    return Ending.CLEAN


def sheet_of(name: str, batch: Batch, pieces: int | None, catalogue: Catalogue, w: Wording) -> BlankInspectionSheet:
    """The limits are those of what was printed, not of a part.yml that has changed since, whose order they keep.

    pieces: on how many each is measured, where that is more than the part's record asks for.
    """
    folder = catalogue.folder(batch.part)
    material = material_of(batch)
    made_of = catalogue.materials.get(material) if material else None
    machine = catalogue.production.machines.get(batch.machine)
    stem = addresses(catalogue.parts).by_folder[folder.folder] if folder else None
    page = page_on_site(catalogue.depot.address, stem) if catalogue.depot and stem else None
    called = folder.name if folder else batch.part
    checks, left = _checks(batch, pieces or 1, catalogue, w)
    columns = max((each.pieces or 1 for each in checks), default=left)
    return BlankInspectionSheet(
        number=batch.part,
        revision=batch.revision,
        batch=name,
        name=called,
        material=made_of.name if made_of else material or w("missing"),
        lots=batch.lots,
        machine=machine.name if machine else batch.machine,
        started=f"{w.day(batch.started.date())}, {batch.started:%H:%M}",
        count=batch.count,
        left=left,
        pieces=tuple(map(w.number, range(1, columns + 1))),
        checks=checks,
        code=label_text(number=batch.part, revision=batch.revision, batch=name, name=called, page=page).code,
    )


def _checks(batch: Batch, least: int, catalogue: Catalogue, w: Wording) -> tuple[tuple[InspectionCheck, ...], int]:
    """In the order of the part's record, each with how many pieces it is measured on; and how many pieces are left."""
    folder = catalogue.folder(batch.part)
    names = [each.name for each in folder.part.checks] if folder and folder.part else []
    left, is_safety = max(found(batch).left, 1), is_of_safety(batch, catalogue)
    wanted = ((each, wanted_of(each, left, is_safety=is_safety)) for each in in_order(batch.printed_as, names))
    return tuple(_check(each, min(max(pieces, least), left), _why(each, pieces, least, is_safety=is_safety), w) for each, pieces in wanted), left


def _why(limited: Limited, wanted: int, asked: int, *, is_safety: bool) -> SampleRule:
    """By which rule it is measured on so many (rules/production/checked.py)."""
    if asked > wanted:
        return SampleRule.ASKED
    return SampleRule.SAMPLE if limited.sample else SampleRule.EVERY if is_safety else SampleRule.FIRST


def _check(limited: Limited, pieces: int, why: SampleRule, w: Wording) -> InspectionCheck:
    least, most = (w.measure(float(each), 3) for each in (limited.least, limited.most))
    return InspectionCheck(name=limited.name, limits=f"{least} – {most}", measured_with=limited.measured_with or "", pieces=pieces, why=why)
