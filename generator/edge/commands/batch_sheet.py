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
from generator.papers.kinds import InspectionCheck, InspectionSheet
from generator.records.batches import Batch
from generator.records.catalogue import Catalogue
from generator.rules.production.checked import Limited, limits_of
from generator.rules.production.doubts import material_of


def sheet(options: argparse.Namespace) -> int:
    """Writes it, with a column for each piece that is to be measured. Raises Refusal."""
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    may_be_written(options.to, root)
    depot = depot_now(root, asking.today())
    catalogue, name = depot.catalogue, named("batch", options.batch, depot)
    w = wording(catalogue.language)
    made = sheet_of(name, catalogue.production.batches[name], options.pieces, catalogue, w)
    write_paper(options.to, inspection_sheet(made, w), force=options.force)
    tell_lacking(terminal, made)
    terminal.say(w("commands.printed.sheet_written", file=str(options.to), batch=name, pieces=w.number(len(made.pieces))), "bold")
    return Ending.CLEAN


def sheet_of(name: str, batch: Batch, pieces: int | None, catalogue: Catalogue, w: Wording) -> InspectionSheet:
    """The limits are those of what was printed, not of a part.yml that has changed since. pieces: every one by default."""
    folder = catalogue.folder(batch.part)
    material = material_of(batch)
    made_of = catalogue.materials.get(material) if material else None
    machine = catalogue.production.machines.get(batch.machine)
    stem = addresses(catalogue.parts).by_folder[folder.folder] if folder else None
    page = page_on_site(catalogue.depot.address, stem) if catalogue.depot and stem else None
    called = folder.name if folder else batch.part
    return InspectionSheet(
        number=batch.part,
        revision=batch.revision,
        batch=name,
        name=called,
        material=made_of.name if made_of else material or w("missing"),
        lots=batch.lots,
        machine=machine.name if machine else batch.machine,
        started=f"{w.day(batch.started.date())}, {batch.started:%H:%M}",
        count=batch.count,
        pieces=tuple(map(w.number, range(1, min(pieces or batch.count, batch.count) + 1))),
        checks=tuple(_check(each, w) for each in limits_of(batch.printed_as).values()),
        code=label_text(number=batch.part, revision=batch.revision, batch=name, name=called, page=page).code,
    )


def _check(limited: Limited, w: Wording) -> InspectionCheck:
    least, most = (w.measure(float(each)) for each in (limited.least, limited.most))
    return InspectionCheck(name=limited.name, limits=f"{least} – {most} mm", measured_with=limited.measured_with or "")
