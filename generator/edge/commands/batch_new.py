"""`spares batch new`: what was printed becomes a record, with the text that a release is judged by."""

import argparse
import difflib
from pathlib import Path

from generator.edge.commands.at_stopped import may_be_printed
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.print_records import DepotNow, PrintRecordChange, as_new, free_number
from generator.edge.disk.recording import attached
from generator.edge.one_part import folder_of
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.pages.on_vehicles.alike import doubt_words
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.machines import Machine
from generator.records.parts import Part
from generator.rules.binding import part_text
from generator.rules.canonical import fingerprint
from generator.rules.production.printed import printed_text
from generator.rules.production.releasing import is_approved
from generator.writing.yaml_text import Value


def new_change(options: argparse.Namespace, depot: DepotNow, terminal: Terminal) -> PrintRecordChange | None:
    """The new record; None where the same print is written down already. Raises Refusal where it cannot be so."""
    catalogue, root = depot.catalogue, depot.root
    folder = folder_of(catalogue, options.part, root)
    if folder.part is None:
        raise refused("part_unread")
    machine = _machine(options.machine, catalogue, root)
    _refuse_maker(folder.part, machine, options.machine, catalogue)
    lots = [each.strip() for each in options.lots.split(",") if each.strip()]
    if twin := _twin(options, folder, lots, catalogue):
        terminal.say(words()("commands.printed.batch_there", name=twin))
        return None
    text = _text(folder.part, folder, machine.maker, catalogue)
    settings = attached([options.settings_file], root / "batches") if options.settings_file else []
    content: dict[str, Value] = {"part": folder.number, "revision": folder.part.revision}
    content |= {"printed_as": text, "fingerprint": fingerprint(text), "count": options.count}
    content |= {"machine": options.machine, "printed_by": options.by}
    content |= {"settings_file": settings[0].as_evidence} if settings else {}
    content |= {"lots": lots} | ({"up": options.up} if options.up else {})
    content |= {"started": options.started, "ended": options.ended}
    content |= {"grams": options.grams} if options.grams is not None else {}
    content |= {"note": options.note} if options.note else {}
    number = options.number or free_number("batch", "B", root)
    change = as_new("batch", number, content, depot, settings)
    may_be_printed(number, change.judged.catalogue.production.batches[number], options, depot, terminal)
    _warn(change, terminal)
    return change


def _machine(given: str, catalogue: Catalogue, root: Path) -> Machine:
    known = catalogue.production.machines
    if given in known:
        return known[given]
    broken = [each for each in catalogue.problems if each.where.file == f"machines/{given}.yml"]
    if broken:
        raise refused("print_mistakes", problems=broken, below=root, name=given)
    close = difflib.get_close_matches(given, known, n=3, cutoff=0.5)
    raise refused("no_machine", Ending.MISUSE, near=close, given=given, root=str(root))


def _refuse_maker(part: Part, machine: Machine, name: str, catalogue: Catalogue) -> None:
    """Whoever runs the machine makes the part, has its material, and prints it by a process that suits it."""
    maker, material = catalogue.makers.get(machine.maker), catalogue.materials.get(part.material)
    if maker is None or material is None:
        raise refused("unsayable")
    if machine.maker not in part.makers:
        raise refused("not_its_maker", machine=name, maker=machine.maker, number=part.number, makers=", ".join(part.makers))
    if part.material not in maker.materials or maker.process not in material.processes:
        raise refused("not_its_material", machine=name, maker=machine.maker, number=part.number, material=part.material)


def _text(part: Part, folder: PartFolder, maker: str, catalogue: Catalogue) -> str:
    text = part_text(part, catalogue, folder)
    if text is None:
        raise refused("unsayable")
    return printed_text(text, maker)


def _twin(options: argparse.Namespace, folder: PartFolder, lots: list[str], catalogue: Catalogue) -> str | None:
    """The same print, written down before; with a number of its own only where it has that one."""
    for name, each in catalogue.production.batches.items():
        told = (each.part, each.machine, list(each.lots), each.count, f"{each.started:%Y-%m-%d %H:%M}", f"{each.ended:%Y-%m-%d %H:%M}")
        asked = (folder.number, options.machine, lots, options.count, options.started.replace("T", " "), options.ended.replace("T", " "))
        if told == asked and options.number in {None, name}:
            return name
    return None


def _warn(change: PrintRecordChange, terminal: Terminal) -> None:
    """What its pieces will be asked about, and whether anybody has approved what was printed: said while it can be mended."""
    w, catalogue = words(), change.judged.catalogue
    batch = catalogue.production.batches[change.name]
    asked = tuple(doubt_words(change.name, batch, catalogue, w))
    if asked:
        terminal.note(w("commands.printed.asks_first", reasons="; ".join(asked)), "yellow")
    if not is_approved(batch, catalogue):
        terminal.note(w("commands.printed.not_approved", number=batch.part), "yellow")
